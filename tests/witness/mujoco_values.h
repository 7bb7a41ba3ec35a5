// Values on their way between the project and MuJoCo, and a model compiled from memory: what the MuJoCo witnesses
// share.
#pragma once
#include <fmt/format.h>
#include <mujoco/mujoco.h>

#include <cstddef>
#include <cstring>
#include <memory>
#include <stdexcept>
#include <string>

#include "sim/base/pose.h"

namespace sidehill {

inline Vec3 vec(const mjtNum* x) { return {x[0], x[1], x[2]}; }
inline Quat quat(const mjtNum* q) { return {q[0], q[1], q[2], q[3]}; }

// Where the row `i` begins in a table of `wide` numbers a row.
constexpr std::size_t row(int i, std::size_t wide) { return static_cast<std::size_t>(i) * wide; }

inline std::string text(const Vec3& v) { return fmt::format("{:.17g} {:.17g} {:.17g}", v.x, v.y, v.z); }
inline std::string text(const Quat& q) { return fmt::format("{:.17g} {:.17g} {:.17g} {:.17g}", q.w, q.x, q.y, q.z); }

// Owned by the caller (mj_deleteModel). Throws std::runtime_error with MuJoCo's words for a text it cannot read.
inline mjModel* compiled(const std::string& xml) {
  const auto files = std::make_unique<mjVFS>();
  mj_defaultVFS(files.get());
  if (mj_makeEmptyFileVFS(files.get(), "model.xml", static_cast<int>(xml.size())) != 0)
    throw std::runtime_error("MuJoCo takes no file from memory");
  std::memcpy(files->filedata[0], xml.data(), xml.size());
  char why[500] = "";
  mjModel* model = mj_loadXML("model.xml", files.get(), why, sizeof why);
  mj_deleteVFS(files.get());
  if (!model) throw std::runtime_error(why);
  return model;
}

}  // namespace sidehill

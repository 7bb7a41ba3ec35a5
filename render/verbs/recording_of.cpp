#include "render/verbs/recording_of.h"

#include <fmt/format.h>

#include "sim/base/errors.h"
#include "sim/motion/recording_file.h"
#include "sim/motion/run.h"
#include "sim/scene/scene_file.h"

namespace sidehill {

Recording recording_of(const std::string& verb, const std::string& file, const std::vector<std::string>& changes) {
  if (file.ends_with(".run")) {
    if (changes.empty()) return load_recording(file);
    throw InputError(
        fmt::format("{}: --set {}: {} is a recording, what is in it cannot be changed", verb, changes.front(), file));
  }
  const Scene scene = load_scene(file, changes);
  try {
    return run(scene);
  } catch (const InputError& error) {  // an impossible machine is refused by its key alone
    throw InputError(file + ": " + error.what());
  }
}

}  // namespace sidehill

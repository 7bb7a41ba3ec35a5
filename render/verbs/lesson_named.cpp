#include "render/verbs/lesson_named.h"

#include <fmt/format.h>

#include "sim/base/errors.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene.h"

namespace sidehill {

Lesson lesson_named(const std::string& name) {
  if (name.ends_with(".toml")) return load_lesson(name);
  const std::string now = present_lesson(name);
  std::string known;
  for (const Lesson& lesson : shipped_lessons()) {
    if (lesson.file.stem() == now || fmt::format("{:g}", lesson.number) == name) return lesson;
    known += (known.empty() ? "" : ", ") + lesson.file.stem().string();
  }
  if (known.empty()) throw InputError("lesson " + name + ": no lessons: " + data_sought());
  throw InputError("lesson " + name + ": there is none of that name or number, allowed " + known +
                   ", or a lesson file (.toml)");
}

}  // namespace sidehill

#include "sim/scene/machine_mark.h"

#include <fmt/format.h>

#include <cstdint>

#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"

namespace sidehill {

std::string machine_mark(const Scene& scene) {
  std::uint64_t sum = 14695981039346656037u;
  const Scene usual = default_scene();
  for (const Field& field : scene_fields()) {
    const std::string_view key = field.key;
    if (!key.starts_with("vehicle.") || key == "vehicle.name" || key == "vehicle.note" ||
        key.ends_with(".tyre.pressure_kpa") || key.ends_with(".track_m"))
      continue;
    const std::string value = text_in_file(field, scene);
    if (value == text_in_file(field, usual)) continue;
    for (const char c : std::string(key) + "=" + value + "\n")
      sum = (sum ^ static_cast<unsigned char>(c)) * 1099511628211u;
  }
  return fmt::format("{:016x}", sum);
}

bool is_of_other_machine(const Scene& scene) {
  return !scene.plan.machine_mark.empty() && scene.plan.machine_mark != machine_mark(scene);
}

}  // namespace sidehill

#include "render/page/provenance.h"

#include <fmt/format.h>

#include <cstdint>

#include "render/text/words/words.h"
#include "sim/scene/file_format.h"
#include "sim/scene/scene_file.h"

namespace sidehill::page {

std::string scene_hash(const Scene& scene) {
  std::uint64_t sum = 14695981039346656037u;  // FNV-1a
  Scene data = scene;
  data.vehicle_file.clear();  // where the machine was read from is no datum
  std::string text = write_scene(data);
  text.erase(text.find(format_line()), format_line().size());  // nor is how the data are written
  for (const char c : text) sum = (sum ^ static_cast<unsigned char>(c)) * 1099511628211u;
  return fmt::format("{:016x}", sum);
}

std::string made_by(const Scene& scene) {
  return fmt::format("Sidehill {}, scene {}", SIDEHILL_VERSION, scene_hash(scene));
}

std::string scene_words(const Scene& scene) {
  return fmt::format("{}: {}, on {}; slope {}, {} ({}).", scene.title.empty() ? "Scene" : scene.title,
                     scene.vehicle.name, scene.terrain.soil.name, degrees_and_percent(scene.terrain.slope),
                     heading_words(scene.start.heading), signed_degrees(scene.start.heading));
}

}  // namespace sidehill::page

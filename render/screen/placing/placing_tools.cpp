#include "render/screen/placing/placing_tools.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/enum_table.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

constexpr std::array kTools = {
    ToolInfo{Tool::look, U'0', "Look", "The mouse turns the picture and touches nothing. Key: 0"},
    ToolInfo{Tool::move, U'1', "Move",
             "Drag the machine or a thing on the ground to another place, its knobs to change it, the ring round the "
             "machine to turn it. Key: 1"},
    ToolInfo{Tool::bump, U'2', "Bump", "A rounded bump to drive over. Key: 2"},
    ToolInfo{Tool::hole, U'3', "Hole", "A round hole. Key: 3"},
    ToolInfo{Tool::ditch, U'4', "Ditch", "A ditch to drive through. Key: 4"},
    ToolInfo{Tool::stump, U'5', "Stump", "A tree stump: small and steep. Key: 5"},
    ToolInfo{Tool::ridge, U'6', "Ridge", "A long ridge that both sides drive over. Key: 6"},
    ToolInfo{Tool::ramp, U'7', "Ramp", "A gentle rise under the wheels of one side, up and down again. Key: 7"},
    ToolInfo{Tool::kerb, U'8', "Kerb", "A kerb: level on top, with steep edges. Key: 8"},
    ToolInfo{Tool::rough, U'9', "Rough", "A strip of rough ground. Key: 9"},
};
static_assert(is_whole(kTools, &ToolInfo::tool));

// Every number field of an object into its range.
template <class T>
void clamp_fields(std::span<const FieldOf<T>> fields, T& object) {
  T usual;
  for (const FieldOf<T>& field : fields) {
    const auto* number = std::get_if<NumberFieldOf<T>>(&field.kind);
    if (!number) continue;
    double value = file_value(*number, object);
    if (!std::isfinite(value)) value = file_value(*number, usual);
    const double kept = std::clamp(value, number->min, number->max);
    if (kept != file_value(*number, object)) set_file_value(*number, object, kept);
  }
}

// A direction without an arrow, into (-90, 90] degrees.
double half_turn(double angle) {
  double a = std::remainder(angle, kPi);
  if (a <= -kPi / 2 + 1e-12) a += kPi;
  return a;
}

}  // namespace

std::span<const ToolInfo> tools() { return kTools; }

const ToolInfo& info(Tool tool) { return kTools[static_cast<std::size_t>(tool)]; }

std::optional<Tool> tool_of_key(char32_t letter) {
  for (const ToolInfo& tool : kTools)
    if (tool.key == letter) return tool.tool;
  return {};
}

Feature usual_feature(Tool tool, double heading) {
  Feature f;
  f.angle = half_turn(heading + kPi / 2);  // u along the way the machine drives
  const auto size = [&](FeatureKind kind, double length, double width, double height) {
    f.kind = kind, f.length = length, f.width = width, f.height = height;
  };
  switch (tool) {
    case Tool::look:
    case Tool::move:
    case Tool::bump:
      size(FeatureKind::bump, 1.0, 2.0, 0.25);
      break;
    case Tool::hole:
      size(FeatureKind::hole, 1.2, 1.2, 0.25);
      break;
    case Tool::ditch:
      size(FeatureKind::ditch, 1.0, 5.0, 0.30);
      break;
    case Tool::stump:
      size(FeatureKind::stump, 0.4, 0.4, 0.30);
      break;
    case Tool::ridge:
      size(FeatureKind::bump, 1.5, 8.0, 0.30);
      f.name = "Ridge";
      break;
    case Tool::ramp:
      size(FeatureKind::bump, 5.0, 1.4, 0.40);
      f.name = "Ramp";
      break;
    case Tool::kerb:
      size(FeatureKind::kerb, 0.4, 5.0, 0.12);
      break;
    case Tool::rough:
      size(FeatureKind::rough, 10.0, 6.0, 0.15);
      break;
  }
  if (is_round(f)) f.angle = 0;
  return f;
}

Tool tool_of(const Feature& feature) {
  switch (feature.kind) {
    case FeatureKind::bump:
      return feature.name == "Ridge" ? Tool::ridge : feature.name == "Ramp" ? Tool::ramp : Tool::bump;
    case FeatureKind::ditch:
      return Tool::ditch;
    case FeatureKind::hole:
      return Tool::hole;
    case FeatureKind::stump:
      return Tool::stump;
    case FeatureKind::rough:
      return Tool::rough;
    case FeatureKind::kerb:
      return Tool::kerb;
  }
  return Tool::bump;
}

std::string place_words(const Scene& scene, glm::dvec2 p_G) {
  const glm::dvec2 d = p_G - glm::dvec2(scene.start.x, scene.start.y);
  const glm::dvec2 f = forward_G(scene.start.heading), l = left_G(scene.start.heading);
  const double ahead = d.x * f.x + d.y * f.y, left = d.x * l.x + d.y * l.y;
  return fmt::format("{} {} the rear axle, {} to the {}", metres(std::abs(ahead)),
                     ahead >= -0.005 ? "ahead of" : "behind", metres(std::abs(left)),
                     left >= -0.005 ? "left" : "right");
}

Feature within_limits(Feature feature) {
  clamp_fields(feature_fields(), feature);
  return feature;
}

Start within_limits(Start start) {
  if (std::isfinite(start.heading) && std::abs(start.heading) > kPi)
    start.heading = std::remainder(start.heading, 2 * kPi);
  Scene scene;
  scene.start = start;
  for (const Field& field : scene_fields()) {
    if (!field.key.starts_with("start.")) continue;
    if (const auto* number = std::get_if<NumberField>(&field.kind)) {
      const double value = file_value(*number, scene);
      const double kept = std::isfinite(value) ? std::clamp(value, number->min, number->max) : 0.0;
      if (kept != value) set_file_value(*number, scene, kept);
    }
  }
  return scene.start;
}

Scene with_feature(const Scene& scene, const Feature& feature) {
  Scene edited = scene;
  if (edited.terrain.features.size() < kMostListEntries) edited.terrain.features.push_back(within_limits(feature));
  return edited;
}

Scene with_feature_changed(const Scene& scene, int index, const Feature& feature) {
  Scene edited = scene;
  if (index >= 0 && index < static_cast<int>(edited.terrain.features.size()))
    edited.terrain.features[static_cast<std::size_t>(index)] = within_limits(feature);
  return edited;
}

Scene without_feature(const Scene& scene, int index) {
  Scene edited = scene;
  if (index >= 0 && index < static_cast<int>(edited.terrain.features.size()))
    edited.terrain.features.erase(edited.terrain.features.begin() + index);
  return edited;
}

Scene with_start(const Scene& scene, const Start& start) {
  Scene edited = scene;
  edited.start = within_limits(start);
  return edited;
}

glm::dvec2 forward_G(double heading) { return {-std::sin(heading), std::cos(heading)}; }
glm::dvec2 left_G(double heading) { return {-std::cos(heading), -std::sin(heading)}; }

glm::dvec2 machine_middle_G(const Scene& scene) {
  return glm::dvec2(scene.start.x, scene.start.y) + scene.vehicle.wheelbase / 2 * forward_G(scene.start.heading);
}

std::optional<bool> left_is_uphill(double heading) {
  const double uphill = left_G(heading).y;  // y rises
  if (!(std::abs(uphill) > std::sin(7.5 * kDegree))) return {};
  return uphill > 0;
}

Feature before_wheel(const Scene& scene, Tool tool, int wheel, double ahead) {
  const Vehicle& v = scene.vehicle;
  const Axle& axle = is_front(wheel) ? v.front : v.rear;
  Feature f = usual_feature(tool, scene.start.heading);
  // Half the plateau each side of a wheel that leans or steers a little, and nothing under the other side's.
  const double most = std::max(0.1, std::floor(0.7 * axle.track * 20) / 20);  // a whole number of 5 cm
  double& across = is_round(f) ? f.length : f.width;
  across = std::min(across, most);
  const double along = v.wheelbase + ahead + f.length / 2, side = (is_left(wheel) ? 0.5 : -0.5) * axle.track;
  const glm::dvec2 p = glm::dvec2(scene.start.x, scene.start.y) + along * forward_G(scene.start.heading) +
                       side * left_G(scene.start.heading);
  f.x = p.x, f.y = p.y;
  return within_limits(f);
}

}  // namespace sidehill::screen

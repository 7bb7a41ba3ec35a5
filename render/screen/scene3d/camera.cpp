#include "render/screen/scene3d/camera.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <glm/ext/matrix_clip_space.hpp>
#include <glm/ext/matrix_transform.hpp>

#include "sim/base/constants.h"
#include "sim/base/enum_table.h"

namespace sidehill::screen {
namespace {

constexpr double kNear = 0.3, kFar = 400;  // [m]
constexpr std::array kPresets{KeyOf<CameraPreset>{CameraPreset::three_quarter, "three_quarter"},
                              KeyOf<CameraPreset>{CameraPreset::front, "front"},
                              KeyOf<CameraPreset>{CameraPreset::rear, "rear"},
                              KeyOf<CameraPreset>{CameraPreset::left, "left"},
                              KeyOf<CameraPreset>{CameraPreset::right, "right"},
                              KeyOf<CameraPreset>{CameraPreset::downhill, "downhill"},
                              KeyOf<CameraPreset>{CameraPreset::top, "top"}};
static_assert(is_whole(kPresets, &KeyOf<CameraPreset>::value));

double downhill_yaw() { return -kPi / 2; }  // the slope rises along +y

}  // namespace

std::string_view to_string(CameraPreset preset) { return kPresets[static_cast<std::size_t>(preset)].key; }

std::optional<CameraPreset> camera_preset_of(std::string_view name) {
  const auto found = std::ranges::find(kPresets, name, &KeyOf<CameraPreset>::key);
  return found == kPresets.end() ? std::nullopt : std::optional(found->value);
}

Camera camera_at(CameraPreset preset, const Drawing& drawing) {
  Camera camera;
  camera.target =
      drawing.focus - Vec3(0, 0, 0.06 * drawing.size);  // a little low: labels and arrows stand on the ground
  camera.pitch = 0.15;
  camera.distance = drawing.size / std::sin(camera.field_of_view / 2) * 0.5;
  switch (preset) {
    case CameraPreset::three_quarter: {
      // Ahead of the machine, turned towards the side that lies lower, so that the slope shows and nothing hides the
      // lower wheels.
      const double to_downhill = std::remainder(downhill_yaw() - drawing.heading, kTwoPi);
      camera.yaw = drawing.heading + (to_downhill <= 0 ? -0.72 : 0.72);
      break;
    }
    case CameraPreset::front:
      camera.yaw = drawing.heading;
      break;
    case CameraPreset::rear:
      camera.yaw = drawing.heading + kPi;
      break;
    case CameraPreset::left:
      camera.yaw = drawing.heading + kPi / 2;
      break;
    case CameraPreset::right:
      camera.yaw = drawing.heading - kPi / 2;
      break;
    case CameraPreset::downhill:
      camera.yaw = downhill_yaw();
      break;
    case CameraPreset::top:
      camera.yaw = downhill_yaw();
      camera.pitch = 1.45;
      break;
  }
  keep_above_ground(camera, drawing);
  // Back off until all of the machine is in view, with a border for labels.
  const auto in_view = [&](const Vec3& p) {
    const auto spot = project(camera, p, 1.5, 1);
    return spot && spot->x > 0.09 && spot->x < 1.41 && spot->y > 0.06 && spot->y < 0.90;
  };
  for (int tries = 0; tries < 40 && !std::all_of(drawing.extent.begin(), drawing.extent.end(), in_view); ++tries) {
    camera.distance *= 1.04;
    keep_above_ground(camera, drawing);
  }
  return camera;
}

void orbit(Camera& camera, double dx, double dy) {
  constexpr double kTurn = 3.6;  // [rad] for a drag over the whole height: our choice
  camera.yaw = std::remainder(camera.yaw - kTurn * dx, kTwoPi);
  camera.pitch = std::clamp(camera.pitch + kTurn * dy, -0.2, 1.5);
}

void pan(Camera& camera, double dx, double dy) {
  const double metres = 2 * camera.distance * std::tan(camera.field_of_view / 2);
  const Vec3 right{-std::sin(camera.yaw), std::cos(camera.yaw), 0};
  const Vec3 back = glm::normalize(eye(camera) - camera.target);
  const Vec3 up = glm::cross(back, right);
  camera.target += metres * (-dx * right + dy * up);
}

void zoom(Camera& camera, double steps) {
  camera.distance = std::clamp(camera.distance * std::pow(0.88, steps), 2.0, 80.0);
}

void follow(Camera& camera, const Drawing& drawing) {
  camera.target = drawing.focus - Vec3(0, 0, 0.06 * drawing.size);
  keep_above_ground(camera, drawing);
}

void keep_above_ground(Camera& camera, const Drawing& drawing) {
  const double clearance =
      0.3 + 0.08 * camera.distance;  // the farther off, the higher: a grazing look shows nothing [m]
  for (int tries = 0; tries < 60; ++tries) {
    const Vec3 eye_W = eye(camera);
    if (eye_W.z > eye_W.y * std::tan(drawing.ground.slope) + clearance || camera.pitch >= 1.5) return;
    camera.pitch += 0.03;
  }
}

Vec3 eye(const Camera& camera) {
  const double c = std::cos(camera.pitch);
  return camera.target +
         camera.distance * Vec3(c * std::cos(camera.yaw), c * std::sin(camera.yaw), std::sin(camera.pitch));
}

glm::dmat4 view_matrix(const Camera& camera) { return glm::lookAt(eye(camera), camera.target, Vec3(0, 0, 1)); }

glm::dmat4 projection_matrix(const Camera& camera, double aspect) {
  // A narrow view is opened so that the machine stays whole.
  const double height =
      aspect < 1.25 ? 2 * std::atan(std::tan(camera.field_of_view / 2) * 1.25 / aspect) : camera.field_of_view;
  return glm::perspective(height, aspect, kNear, kFar);
}

std::optional<glm::dvec2> project(const Camera& camera, Vec3 p_W, double width, double height) {
  const glm::dvec4 clip = projection_matrix(camera, width / height) * view_matrix(camera) * glm::dvec4(p_W, 1.0);
  if (!(clip.w > 1e-6)) return {};
  return glm::dvec2((clip.x / clip.w + 1) / 2 * width, (1 - clip.y / clip.w) / 2 * height);
}

}  // namespace sidehill::screen

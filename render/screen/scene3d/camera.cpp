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
constexpr double kNarrow = 1.25;           // a view narrower than this is opened [width / height]
constexpr std::array kPresets{KeyOf<CameraPreset>{CameraPreset::scene, "scene"},
                              KeyOf<CameraPreset>{CameraPreset::three_quarter, "three_quarter"},
                              KeyOf<CameraPreset>{CameraPreset::front, "front"},
                              KeyOf<CameraPreset>{CameraPreset::rear, "rear"},
                              KeyOf<CameraPreset>{CameraPreset::left, "left"},
                              KeyOf<CameraPreset>{CameraPreset::right, "right"},
                              KeyOf<CameraPreset>{CameraPreset::downhill, "downhill"},
                              KeyOf<CameraPreset>{CameraPreset::top, "top"}};
static_assert(is_whole(kPresets, &KeyOf<CameraPreset>::value));

double downhill_yaw() { return -kPi / 2; }  // the slope rises along +y

CameraPreset side_of(ViewFrom from) {  // not of `free`
  switch (from) {
    case ViewFrom::front:
      return CameraPreset::front;
    case ViewFrom::rear:
      return CameraPreset::rear;
    case ViewFrom::left:
      return CameraPreset::left;
    case ViewFrom::right:
      return CameraPreset::right;
    case ViewFrom::downhill:
      return CameraPreset::downhill;
    case ViewFrom::top:
      return CameraPreset::top;
    case ViewFrom::three_quarter:
    case ViewFrom::free:
      break;
  }
  return CameraPreset::three_quarter;
}

// Narrow views are opened as projection_matrix does it.
double opened(const Camera& camera, double aspect) {
  return aspect < kNarrow ? 2 * std::atan(std::tan(camera.field_of_view / 2) * kNarrow / aspect) : camera.field_of_view;
}

Vec3 right_of(const Camera& camera) { return {-std::sin(camera.yaw), std::cos(camera.yaw), 0}; }
Vec3 up_of(const Camera& camera) { return glm::cross(glm::normalize(eye(camera) - camera.target), right_of(camera)); }

void shift_by(Camera& camera, const Vec3& way) {
  camera.target += way;
  camera.shift += way;
}

// Looks at the middle of the places and goes as near as they all stay in view, with a border for words.
void hold(Camera& camera, const std::vector<Vec3>& places, const Drawing& drawing, double aspect) {
  aspect = std::clamp(aspect, kNarrow, 2.5);
  constexpr double kSide = 0.08, kAbove = 0.06, kBelow = 0.12;  // shares of width and height
  constexpr double kNearest = 2.5, kFarthest = 80;              // [m]
  const double pitch = camera.pitch;
  struct Box {
    double left = 1e9, right = -1e9, top = 1e9, low = -1e9;
    bool whole = true;  // nothing behind the eye
  };
  const auto box_at = [&](double distance) {
    camera.distance = distance;
    camera.pitch = pitch;
    keep_above_ground(camera, drawing);
    Box box;
    for (const Vec3& p : places) {
      const auto spot = project(camera, p, 1, 1);
      if (!spot) {
        box.whole = false;
        continue;
      }
      box.left = std::min(box.left, spot->x), box.right = std::max(box.right, spot->x);
      box.top = std::min(box.top, spot->y), box.low = std::max(box.low, spot->y);
    }
    return box;
  };
  // project() above takes a square view; wider ones show more to the sides.
  const double wide = std::tan(opened(camera, 1) / 2) / (aspect * std::tan(camera.field_of_view / 2));
  const double tall = std::tan(opened(camera, 1) / 2) / std::tan(camera.field_of_view / 2);
  for (int round = 0; round < 4; ++round) {
    double near = kNearest, far = kFarthest;
    for (int halved = 0; halved < 40; ++halved) {
      const double middle = (near + far) / 2;
      const Box box = box_at(middle);
      const bool fits = box.whole && (box.right - box.left) * wide < 1 - 2 * kSide &&
                        (box.low - box.top) * tall < 1 - kAbove - kBelow;
      (fits ? far : near) = middle;
    }
    const Box box = box_at(far);
    const double metres = 2 * camera.distance * std::tan(opened(camera, 1) / 2);
    const double x = (box.left + box.right) / 2 - 0.5;
    const double y = (box.top + box.low) / 2 - 0.5 + (kBelow - kAbove) / 2 / tall;
    shift_by(camera, metres * (x * right_of(camera) - y * up_of(camera)));
  }
}

}  // namespace

std::string_view to_string(CameraPreset preset) { return kPresets[static_cast<std::size_t>(preset)].key; }

std::optional<CameraPreset> camera_preset_of(std::string_view name) {
  const auto found = std::ranges::find(kPresets, name, &KeyOf<CameraPreset>::key);
  return found == kPresets.end() ? std::nullopt : std::optional(found->value);
}

std::optional<CameraPreset> lower_side(double heading) {
  constexpr double kSame = 5 * kDegree;
  const double nose = heading + kPi / 2;  // a heading of 0 points up the slope
  constexpr std::pair<CameraPreset, double> kSides[] = {{CameraPreset::front, 0},
                                                        {CameraPreset::left, kPi / 2},
                                                        {CameraPreset::rear, kPi},
                                                        {CameraPreset::right, -kPi / 2}};
  for (const auto& [side, yaw] : kSides)
    if (std::abs(std::remainder(downhill_yaw() - nose - yaw, kTwoPi)) < kSame) return side;
  return std::nullopt;
}

Camera camera_at(CameraPreset preset, const Drawing& drawing, double aspect) {
  Camera camera;
  camera.shift = Vec3(0, 0, 1);
  camera.target = drawing.stand + camera.shift;
  camera.pitch = 0.16;
  const SceneView& asked = drawing.view;
  const bool own = preset == CameraPreset::scene;
  if (own && asked.from != ViewFrom::free) preset = side_of(asked.from);
  switch (preset) {
    case CameraPreset::scene:
      camera.yaw = drawing.heading + asked.yaw;
      camera.pitch = std::clamp(asked.pitch, -0.2, 1.5);
      break;
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
  std::vector<Vec3> places = drawing.held;
  if (own) places.insert(places.end(), drawing.wanted.begin(), drawing.wanted.end());
  hold(camera, places, drawing, aspect);
  return camera;
}

void orbit(Camera& camera, double dx, double dy) {
  constexpr double kTurn = 3.6;  // [rad] for a drag over the whole height: our choice
  camera.yaw = std::remainder(camera.yaw - kTurn * dx, kTwoPi);
  camera.pitch = std::clamp(camera.pitch + kTurn * dy, -0.2, 1.5);
}

void pan(Camera& camera, double dx, double dy) {
  const double metres = 2 * camera.distance * std::tan(camera.field_of_view / 2);
  shift_by(camera, metres * (-dx * right_of(camera) + dy * up_of(camera)));
}

void zoom(Camera& camera, double steps, glm::dvec2 at, double aspect) {
  const double before = camera.distance;
  camera.distance = std::clamp(before * std::pow(0.88, steps), 2.0, 80.0);
  const double half = before * std::tan(opened(camera, aspect) / 2);
  const Vec3 seen = at.x * aspect * half * right_of(camera) + at.y * half * up_of(camera);  // from the target
  shift_by(camera, (1 - camera.distance / before) * seen);
}

void follow(Camera& camera, const Drawing& drawing) {
  camera.target = drawing.stand + camera.shift;
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

double height_at_1(const Camera& camera, double aspect) { return 2 * std::tan(opened(camera, aspect) / 2); }

glm::dmat4 projection_matrix(const Camera& camera, double aspect) {
  return glm::perspective(opened(camera, aspect), aspect, kNear, kFar);
}

std::optional<glm::dvec2> project(const Camera& camera, Vec3 p_W, double width, double height) {
  const glm::dvec4 clip = projection_matrix(camera, width / height) * view_matrix(camera) * glm::dvec4(p_W, 1.0);
  if (!(clip.w > 1e-6)) return {};
  return glm::dvec2((clip.x / clip.w + 1) / 2 * width, (1 - clip.y / clip.w) / 2 * height);
}

}  // namespace sidehill::screen

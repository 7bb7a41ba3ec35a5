// What lies under a pixel: the ray of sight through it, where that meets the ground, whether it meets the machine.
// Knows the camera and sim's values; no GL, no ImGui, no window.
#pragma once
#include <glm/vec2.hpp>
#include <optional>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/scene3d/camera.h"
#include "sim/motion/state.h"
#include "sim/scene/scene.h"
#include "terrain/terrain.h"

namespace sidehill::screen {

struct Ray {
  Vec3 from{0.0};       // in W [m]
  Vec3 along{1, 0, 0};  // unit, in W
};

// Through a pixel of a view of width x height pixels, y down: the inverse of project(). Empty unless all numbers are
// finite and the view has an area.
std::optional<Ray> ray_through(const Camera& camera, glm::dvec2 pixel, double width, double height);

struct GroundHit {
  glm::dvec2 place_G{0.0};  // [m]
  double distance = 0;      // from the ray's start [m]
};

// Where the ray first meets the ground tilted by `slope` [rad], features included, to better than 1 mm; empty if it
// does not within `farthest` [m], or starts below ground.
std::optional<GroundHit> ground_under(const Terrain& terrain, double slope, const Ray& ray, double farthest = 120);

// Boxes that hold a machine roughly: its length between the outer tyre walls up to the bonnet, and cab or frame above.
struct MachineBox {
  Vec3 low{0.0}, high{0.0};  // corners, in V [m]
};
std::vector<MachineBox> machine_boxes(const Scene& scene);

// How far along the ray [m] it meets the machine standing as `state` says; empty if it misses.
std::optional<double> machine_under(const std::vector<MachineBox>& boxes, const State& state, const Ray& ray);

}  // namespace sidehill::screen

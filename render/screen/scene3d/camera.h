// Where the picture is seen from: a point looked at, two angles, a distance. It rests on the ground under the machine,
// never on the centre of gravity: what is loaded, raised or filled moves in the picture, and the picture stays. Knows
// no GL, no window; only numbers. Frame W (z up).
#pragma once
#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <optional>
#include <string_view>

#include "render/namespaces.h"
#include "render/screen/scene3d/drawing.h"

namespace sidehill::screen {

struct Camera {
  Vec3 target{0, 0, 1};        // point looked at [m]
  double yaw = -0.6;           // direction from target to eye, seen from above, from +x anticlockwise [rad]
  double pitch = 0.3;          // eye over the horizontal [rad], -0.2 to 1.5
  double distance = 9;         // eye from target [m], > 0
  double field_of_view = 0.6;  // vertical [rad]
  Vec3 shift{0.0};             // of the target from the ground under the machine (Drawing::stand) [m]
};

// `scene`: as the scene asks (SceneView), with its obstacles in view. The others show the machine alone.
enum class CameraPreset { scene, three_quarter, front, rear, left, right, downhill, top };

// "scene", "three_quarter" ... ; and back, empty if there is none of that name.
std::string_view to_string(CameraPreset preset);
std::optional<CameraPreset> camera_preset_of(std::string_view name);

// The side of the machine that lies downhill, where that is one of the four (to 5 degrees): seen from there and from
// downhill it is the same picture. `heading` as in the scene [rad].
std::optional<CameraPreset> lower_side(double heading);

// A view of the whole machine from one side of it. three_quarter: from ahead and from the side that lies downhill. As
// near as it can be with Drawing::held in view, and with Drawing::wanted for `scene`; `aspect` is the view's width over
// its height.
Camera camera_at(CameraPreset preset, const Drawing& drawing, double aspect = 1.25);

// Mouse movements. `dx`, `dy` in fractions of the view's height, right and down positive.
void orbit(Camera& camera, double dx, double dy);
void pan(Camera& camera, double dx, double dy);
// Positive = nearer; one wheel click = 1. What is seen at `at` (a place on a view of aspect width / height, from -1, -1
// at the lower left to 1, 1) stays there: the eye moves along the line of sight through it.
void zoom(Camera& camera, double steps, glm::dvec2 at = {0.0, 0.0}, double aspect = 1.5);

// Moves the target so that the camera travels with the ground under the machine, shifted as far as it is.
void follow(Camera& camera, const Drawing& drawing);
// Lifts the eye over the even slope if it would be under ground.
void keep_above_ground(Camera& camera, const Drawing& drawing);

Vec3 eye(const Camera& camera);
glm::dmat4 view_matrix(const Camera& camera);
// Height of a view at distance 1 in front of the eye; narrow views are opened so that the machine stays whole.
double height_at_1(const Camera& camera, double aspect);
glm::dmat4 projection_matrix(const Camera& camera, double aspect);

// Place of a point on a view of width x height pixels, y down; empty behind the eye. May lie outside the view.
std::optional<glm::dvec2> project(const Camera& camera, Vec3 p_W, double width, double height);

}  // namespace sidehill::screen

// The machine's part of a Drawing: which pieces there are and where. Knows no GL, no overlay.
#pragma once
#include "render/namespaces.h"
#include "render/screen/scene3d/drawing.h"

namespace sidehill::screen {

// Adds parts, liquids and contact places to `drawing` and sets its focus, heading and size.
void add_machine(Drawing& drawing, const Scene& scene, const Model& model, const State& state,
                 const Overlays& overlays);

TyreMeasures tyre_measures(const Vehicle& vehicle, int wheel);

// Pose of the ground's frame G in W.
Pose X_WG(double slope);

// A cart with two wheels behind the hitch; it stands on the ground whatever the tractor does. How large it is follows
// from its mass: our choice.
struct CartPlace {
  Pose X_GT;
  double size = 1, radius = 0.5;
  glm::dvec2 hitch{0};  // x, z of the drawbar's eye, frame T
};
CartPlace cart_place(const Scene& scene, const Model& model, const State& state);

// Where the stake stands that the machine is tied to, or will be by its programme, in G; none if it never is.
std::optional<Vec3> stake_of(const Scene& scene, const Model& model, const State& state);

// Outermost places, their middle and the sphere round them; and what cameras go by.
void add_extent(Drawing& drawing, const Scene& scene, const Model& model, const State& state, const Pose& X_WV);

double to_2_cm(double length);  // rounded: fewer lengths, fewer meshes [m]

}  // namespace sidehill::screen

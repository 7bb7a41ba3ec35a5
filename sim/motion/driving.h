// Who drives: the programme's actions in their order turned into what hands and feet do in one step, and driving by
// hand in their place. Knows Model and State; no engine, no force, no file.
#pragma once
#include <optional>

#include "sim/motion/machine_state.h"
#include "sim/motion/state.h"

namespace sidehill {

// By hand, from the keyboard. In place of what the programme says of the same thing.
struct ByHand {
  double speed = 0;                  // wanted, negative backwards [m/s]
  double steer = 0;                  // left positive, -1 to 1 of the most there is
  double brake = 0;                  // 0 to 1
  std::optional<double> boom_angle;  // wanted [rad]
  bool operator==(const ByHand&) const = default;
};

// What the driver is at. Copyable; with a MachineState it is all a run's future depends on.
struct Driving {
  std::size_t next = 0;                         // action to come
  bool moves = false;                           // has been asked to drive; before that the machine is parked
  double speed = 0, since = 0, eased_from = 0;  // wanted [m/s], from when on [s], wanted then [m/s]
  bool dropped = false, coasting = false, keeps_line = true, front_drive = false, stuck = false;
  double brake = 0, radius = 0, boom_angle = 0, rope = -1;
  Vec3 line_from{0.0}, line_along{1, 0, 0};               // in G
  bool deaf_to_steering = false, deaf_to_loader = false;  // the programme's orders for these are not followed any more
  std::optional<ByHand> hand;
};

Driving driving_at_start(const Model& model, const State& state);

// Of the step that starts at `state`. Slope of the ground included.
Input drive(const Model& model, const State& state, Driving& driving);

// Angle of the boom with the bucket pin at that height above level ground, as people measure it [m], [rad].
double boom_angle_at(const Model& model, double pin_height);

// Ground slope of the programme at a time [s], [rad].
double slope_at(const Model& model, double time);

}  // namespace sidehill

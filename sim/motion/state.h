// One moment of a moving machine, as plain values: copyable, comparable, hashable. Knows no Bullet.
// Everything is in G, the ground's frame; R_WG(slope) (terrain/terrain.h) turns it into the world.
#pragma once
#include <array>
#include <cstdint>

#include "sim/base/pose.h"
#include "vehicles/vehicle.h"

namespace sidehill {

struct WheelState {
  Vec3 centre_G{0.0};       // wheel centre [m]
  Vec3 axle_G{0, 1, 0};     // unit, along the axle to the left
  double spin_angle = 0;    // about the axle, rolling forward positive [rad]
  double spin_rate = 0;     // [rad/s]
  double load = 0;          // normal force [N]
  double penetration = 0;   // of the free tyre's lowest point below the ground; negative = clearance [m]
  Vec3 contact_G{0.0};      // where the tyre meets the ground; below the wheel if it is in the air [m]
  Vec3 force_G{0.0};        // of the ground on the wheel [N]
  bool sliding = false;     // adhesion used up
  double liquid_swing = 0;  // angle of the hanging liquid about the axle from "straight down in V" [rad]
  Vec3 liquid_G{0.0};       // its centroid [m]
};

struct State {
  double time = 0;          // [s]
  double slope = 0;         // of the even slope now [rad]
  Pose X_GV;                // chassis
  Vec3 v_G{0.0};            // velocity of V's origin [m/s]
  Vec3 w_G{0.0};            // angular velocity of the chassis [rad/s]
  double axle_angle = 0;    // [rad], left side up positive
  double axle_rate = 0;     // [rad/s]
  double boom_angle = 0;    // [rad]
  double bucket_angle = 0;  // of the bucket against level in V, up positive [rad]
  double steer = 0;         // of the front wheels, mean, left positive [rad]
  double articulation = 0;  // of an articulated machine's joint, left positive [rad]
  Vec3 hanging_G{0.0};      // the load on the rope [m]
  Vec3 tank_G{0.0};         // the liquid in a round tank [m]
  double engine_speed = 0;  // of the engine, as the speed of the rear tyres' tread without clutch slip [m/s]
  bool tied = false;        // by a rope from the hitch to a stake
  Vec3 stake_G{0.0};        // where that stands, while tied [m]
  double pull = 0;          // of rope or trailer on the hitch, backwards positive [N]
  Vec3 hitch_G{0.0}, hitch_force_G{0.0};  // where it pulls, and all it does to the machine there [m], [N]
  std::array<WheelState, kWheels> wheels;
  Vec3 centre_of_gravity_G{0.0};       // of everything [m]
  bool on_stop = false;                // axle against its stop
  bool hull_touches = false;           // any hull or frame point on the ground
  bool frame_touches = false;          // a point of the protective frame on the ground
  double hull_ago = 0, frame_ago = 0;  // as in MachineState, for events; not recorded, not in the hash [s]
  double kinetic_energy = 0;           // [J]
};

std::uint64_t hash(const State& state);  // of the bits of every value (FNV-1a)

}  // namespace sidehill

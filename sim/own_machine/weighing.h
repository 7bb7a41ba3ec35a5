// Centre of gravity of a whole machine from wheel loads: weighed level, then with one axle raised, as ISO 789-6 does.
// Corrected for tyres that give more or less and for liquid that stays under its axle. Knows no file, no Model.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/pose.h"

namespace sidehill {

// What a scale, a tape and a look at the tyres give. Static loaded radii: wheel centre over the ground, level.
struct Weighing {
  double wheelbase = 0;                          // between the wheel centres, level [m]
  double front_radius = 0, rear_radius = 0;      // level [m]
  std::array<std::optional<double>, 4> wheel{};  // level: front left, front right, rear left, rear right [kg]
  double front = 0, rear = 0;                    // level: axles; sums of the wheels where those are given [kg]
  double front_track = 0, rear_track = 0;        // between the tyres' mid-planes [m]; needed for the lateral place
  bool front_raised = true;                      // which axle was raised
  double height = 0;                             // its wheel centres rose by so much [m], > 0
  std::optional<double> front_then, rear_then;   // axle loads then [kg]; at least one
  std::optional<double> standing_radius_then;    // of the axle left on the ground, then [m]; none = as level
  double front_liquid = 0, rear_liquid = 0;      // in both tyres of the axle [kg]
  double front_liquid_depth = 0, rear_liquid_depth = 0;  // centroid under the wheel centre [m]
};

// What is in one tyre, from its free radius, rim radius and section width [m], fill [-] and density [kg/m3]: mass [kg]
// and how far its centroid lies under the wheel centre [m], whatever the machine's pitch: the tyre is round and the
// surface stays level. Source: vehicles/cavity.h; room from the dimensions, vehicles/tyre_size.h.
struct TyreLiquid {
  double mass = 0, depth = 0;
};
TyreLiquid liquid_in_tyre(double free_radius, double rim_radius, double section_width, double fill, double density);

struct WeighedCentre {
  double mass = 0;          // [kg]
  double x = 0;             // ahead of the rear axle [m]
  std::optional<double> y;  // to the left [m]; none without wheel loads and tracks
  double z = 0;             // over level ground, tyres as they stood [m]
  double angle = 0;         // how far it was pitched, nose up positive [rad]
};

// Balance of moments, level and raised, about the standing wheels. The liquid of a tyre hangs under its own wheel
// centre and does not pitch with the machine; a raised wheel is borne under its centre (stand or sling). No error for
// good data; an angle of nothing gives no height: NaN, which find_weighing_conflict keeps out. Source: statics, derived
// in tests/sim/own_machine/weighing_test.cpp; terms of ISO 789-6.
WeighedCentre centre_of_gravity_of(const Weighing& weighing);

struct WeighingConflict {
  std::string key, message;  // the file's key
};
std::optional<WeighingConflict> find_weighing_conflict(const Weighing& weighing);

// How well it was measured, +- at two standard deviations.
struct WeighingTolerance {
  double scale = 0.005;     // of a load over the load [-]
  double scale_least = 10;  // but at least [kg]
  double length = 0.005;    // wheelbase, tracks, radii, raised height [m]
  double liquid = 0.1;      // of the liquid's mass over it [-]
  double depth = 0.03;      // of its place [m]
};

struct WeighingDoubt {
  std::string what;
  double tolerance = 0;  // [kg] or [m]
  bool length = false;
  Vec3 change{0.0};  // what it does to x, y, z [m]
};

struct WeighingError {
  Vec3 centre{0.0};                   // +- of x, y, z at two standard deviations [m]
  double mass = 0;                    // [kg]
  std::vector<WeighingDoubt> doubts;  // largest in z first
};
WeighingError error_of(const Weighing& weighing, const WeighingTolerance& tolerance);

// Least height to raise an axle by for the height of the centre of gravity to be known to `wanted` [m], by the same
// differences; none up to a pitch of 25 deg, where a lift gets dangerous (our estimate). The machine as in `weighing`,
// the same axles' loads read when raised; their values are worked out from `z` [m].
std::optional<double> least_raise(const Weighing& weighing, const WeighingTolerance& tolerance, double z,
                                  double wanted);

// The loads that a machine with its centre of gravity there would show, raised: the way back of centre_of_gravity_of.
// `weighing.front_then` and `rear_then` are filled in.
Weighing weighed_at(const Weighing& weighing, double z);

}  // namespace sidehill

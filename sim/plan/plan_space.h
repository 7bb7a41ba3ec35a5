// What can be changed on a machine with what its job has on hand: the parts of its ballast, each with the states it can
// be in. A plan is one state of each part. Knows no goal, no words, no file.
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "sim/base/enum_table.h"
#include "sim/scene/scene.h"

namespace sidehill {

enum class PlanPart {
  front_fill,
  rear_fill,
  front_weights,
  rear_weights,
  front_wheel_weights,
  rear_wheel_weights,
  pressure,
  track,
  front_tyres,
  rear_tyres,
};
inline constexpr std::size_t kPlanParts = count_of<PlanPart>();

// Where the parts that there are of each axle (0 front, 1 rear) or place (of WeightPlace) stand in a choice.
constexpr std::size_t part(PlanPart what) { return static_cast<std::size_t>(what); }
constexpr std::size_t fill_part(std::size_t axle) { return part(PlanPart::front_fill) + axle; }
constexpr std::size_t weights_part(std::size_t place) { return part(PlanPart::front_weights) + place; }
constexpr std::size_t wheels_part(std::size_t axle) { return part(PlanPart::front_tyres) + axle; }

// A state's place in each part's list; 0 = as it is today.
using PlanChoice = std::array<std::uint8_t, kPlanParts>;

// Weights of one place: as BallastPlan keeps them (on wheels of each wheel), and how many pieces of each entry of
// job.weights they are; no pieces = taken off, or, as state 0, what is on today.
struct WeightState {
  double mass = 0;  // [kg]
  std::vector<int> pieces;
};

// What kept states out, for those who wonder.
enum class PlanLimit {
  nothing_on_hand,       // the job lists neither a liquid nor a weight
  liquid_not_permitted,  // the makers of tyre and rim do not permit it
  no_place,              // weights are on hand for a place that the machine has not, or that is too weak for one piece
  thinned,               // more plans than kMostPlans: some states between were left out
  too_little_liquid,     // less on hand than the smallest filling takes
  wheels_do_not_fit,     // wheels are on hand that this machine cannot take, see kMostRadiusChange
};
inline constexpr std::size_t kPlanLimits = count_of<PlanLimit>();

inline constexpr std::size_t kMostPlans = 8000;  // what a few seconds are enough for
// Of other wheels over today's [-]: the heights of the machine and its front drive are taken as they are.
inline constexpr double kMostRadiusChange = 0.03;

// What stands on an axle: today's wheels, or with a pair of job.wheels.
struct WheelsState {
  Axle axle;  // its track as today
  std::optional<std::size_t> entry;

  bool is_exchanged(const Job& job) const { return entry && job.wheels[*entry].fit == WheelsFit::instead; }
};

struct PlanSpace {
  std::array<std::vector<TyreFill>, 2> fills;       // front, rear; both tyres of an axle alike. State 0 keeps today's
  std::array<std::vector<WeightState>, 4> weights;  // in the order of WeightPlace
  std::vector<double> pressures;                    // over today's [-]
  std::vector<std::array<double, 2>> tracks;        // front, rear [m]
  std::array<std::vector<WheelsState>, 2> wheels;   // front, rear
  std::array<bool, kPlanLimits> limits{};
  std::vector<std::size_t> left_out;  // of job.weights: what no plan hangs on, see PlanLimit::no_place

  std::size_t states(PlanPart part) const;
  std::size_t size() const;  // plans, with those that need more liquid than there is
};

// From scene.job; the scene's own ballast is state 0 of each part. At most kMostPlans. Levels of filling: a quarter,
// 40, 50, 60 and 75 % of the room behind, 40, 60 and 75 % in front; a filling that cures fills all of it. Pressure: as
// it is and 20 % less. Track: as it is and the widest setting, where it is given. Wheels: as they are, and each pair of
// job.wheels that fits; tyres that go on instead have what tyre_of_size gives.
PlanSpace plan_space(const Scene& scene);

// The plan at a place in the list of all, 0 to size() - 1; 0 is the machine as it is.
PlanChoice plan_at(const PlanSpace& space, std::size_t place);
std::size_t place_of(const PlanSpace& space, const PlanChoice& choice);  // and back

// The scene with this plan's ballast, pressures and tracks.
Scene scene_of(const Scene& scene, const PlanSpace& space, const PlanChoice& choice);

// Room inside both tyres of an axle that hold the liquid [m3]; axle 0 = front, 1 = rear.
double room_in(const PlanSpace& space, const PlanChoice& choice, std::size_t axle);

// What of a tyre's filling of today may stay in it in this plan, as a share of its room [-]: all of it where the same
// liquid is wanted in the same tyre, else nothing.
double kept_of_today(const Scene& scene, const PlanSpace& space, const PlanChoice& choice, std::size_t wheel);

// What is pumped in that is not in today, of each medium on hand [m3], in the order of job.media.
std::vector<double> liquid_taken(const Scene& scene, const PlanSpace& space, const PlanChoice& choice);

// No medium runs out; and no filling is asked to stay in a tyre that comes off.
bool is_in_stock(const Scene& scene, const PlanSpace& space, const PlanChoice& choice);

}  // namespace sidehill

// The slope at which the first wheel lifts, with the balanced machine there: what statics finds first and all else
// starts from. Knows the Model; no time, no file.
#pragma once
#include <array>
#include <optional>

#include "sim/base/constants.h"
#include "sim/rest/adhesion.h"
#include "sim/rest/landing.h"

namespace sidehill {

constexpr double kMarch = 5 * kDegree;           // of the slope while looking for the first lift-off
constexpr double kSteepestAsked = 85 * kDegree;  // nothing stands beyond; "never" from here on

// The first slope at which a load passes zero, with the balanced trial there.
struct Crossing {
  TrialPose trial;
  int wheel = -1;
  std::optional<std::array<double, kWheels>> rise;  // of the loads with the slope before it, where known [N/rad]
};

int least_loaded(const Rest& rest);                      // enum Wheel
bool uneven_somewhere(const EquilibriumSystem& system);  // a feature is near a wheel

// The machine on the level, before the ground is tilted. On even ground that is the balance at the start pose, with
// tyres that also pull; else, or where there is none, it is set down from the air.
Landing stand_on_level(EquilibriumSystem& system, TrialPose& trial);

// The first crossing, tilted on from a balance; the wheel that lifts has let go sideways. On features two ways are
// tried: with tyres that only press the machine is seen to stand up to there, with tyres that pull the digits are
// better. `failed`: no balance was found on the way.
std::optional<Crossing> first_crossing(EquilibriumSystem& system, const TrialPose& from, bool& failed);

// The first slope at which a wheel lifts, tilted from the level. `stands`: how it stands there; `failed`: no balance
// was found on the way, which is not the same as "never".
struct Lifting {
  Landing stands = Landing::lost;
  TrialPose level;
  std::optional<Crossing> crossing;
  bool failed = true;
};
Lifting find_lifting(EquilibriumSystem& system);

// The crossing of a heading from that of a heading near by: turned with it, then the same wheel's load brought to
// nothing again. Empty if that is not clearly the answer: then the long search decides.
std::optional<Crossing> near_by(EquilibriumSystem& system, const Crossing& before, double turned_by);

}  // namespace sidehill

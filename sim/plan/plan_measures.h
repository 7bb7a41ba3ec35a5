// What one plan gives and costs: where it gives way on the job's slope, which limits it breaks, slip, fuel, soil, money
// and effort. Knows no goal, no words.
#pragma once
#include <bitset>
#include <optional>
#include <stop_token>
#include <vector>

#include "sim/job/rules.h"
#include "sim/plan/plan_space.h"

namespace sidehill {

// The least slope at which it slides or lifts a wheel, of the headings looked at.
struct PlanStand {
  std::optional<double> gives_way;  // [rad]; none: it never does
  double heading = 0;               // of it [rad]
  bool by_slide = false;            // it slides there; else a wheel lifts
  bool known = false;               // it has been looked at
  bool at_all = false;              // all headings of the job have been looked at; else `gives_way` may lie lower
  bool lost = false;                // no balance was found somewhere: it is not known whether it stands
};

struct PlanMeasures {
  PlanStand stand;                          // where it is drained before the frost, of the worse of full and drained
  bool drained = false;                     // what is filled in freezes on the coldest night: it is let out before
  bool worse_drained = false;               // `stand` is that of the machine drained
  std::bitset<kRuleIds> broken, not_known;  // limits; frost is not broken where the plan drains
  std::bitset<kRuleIds> missed;             // targets: those of which no source is met
  double ballast = 0;                       // liquid and weights [kg]
  double mass = 0;                          // the whole machine [kg]
  std::optional<double> slip;  // of the rear wheels, at work, the worse of level and uphill [-]; none: not asked or not
                               // known
  bool cannot_pull = false;    // no slip gives the pull the job asks for, or it lifts an axle
  std::optional<double> fuel;  // of work and road together [L] a year; none: not known
  std::optional<double> soil;  // stress 30 cm below the worse axle [Pa]; none: not known
  std::optional<double> cost;  // of what is not on the machine today, highest price [EUR]; none: not given
  double effort = 0;           // to get there from today, and to drain it for one winter [s]; our estimate
};

// What does not change from plan to plan, worked out once.
struct PlanGround {
  Scene scene;
  PlanSpace space;
  std::vector<LiquidLump> lumps;  // of every filling of the space
  std::vector<double> headings;   // of the job [rad]
  std::vector<double>
      deciding;               // of those, where the machine as it is lifts soonest, and where it slides soonest [rad]
  std::vector<bool> freezes;  // of each medium in job.media: some ice on the coldest night
};

// A tenth of a second. Throws InputError for an impossible machine. Features are left out: plans are compared on even
// ground.
PlanGround plan_ground(const Scene& scene);

// Everything but `stand`: a fifth of a millisecond. Throws InputError for a machine that this ballast makes impossible.
PlanMeasures measure(const PlanGround& ground, const PlanChoice& choice);

// At the deciding headings, or at `all` of the job, as filled: half a millisecond for two headings.
PlanStand stand_of(const PlanGround& ground, const PlanChoice& choice, bool all, const std::stop_token& stop = {});

// The worse of two.
PlanStand worse_of(const PlanStand& a, const PlanStand& b);

// The same plan as it stands in the frost: on air where its filling freezes.
PlanChoice drained(const PlanGround& ground, PlanChoice choice);

// From today's machine to the plan, and a winter's draining [s]. Our estimates: 20 minutes to raise and block an axle,
// 30 L a minute in or out, 15 minutes to mix, 4 minutes a piece of up to 30 kg, 12 minutes a heavier one (two people or
// a hoist), 10 minutes to set pressures, an hour an axle for the track, 12 minutes a wheel that goes on.
double effort_of(const PlanGround& ground, const PlanChoice& choice);

// Of what the plan takes from the job's lists, at the highest price [EUR]; none where one has no price.
std::optional<double> cost_of_plan(const Scene& scene, const PlanSpace& space, const PlanChoice& choice);

}  // namespace sidehill

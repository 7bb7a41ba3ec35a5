// How much room a machine in motion has left: by the forces on its wheels, by energy, by time. Knows a Model and a
// State; no engine, no time step, no drawing.
#pragma once
#include <optional>
#include <vector>

#include "sim/model/model.h"
#include "sim/motion/state.h"
#include "sim/rest/margin.h"

namespace sidehill {

// The least angle [rad] by which the load on the machine's body could still turn about a support line before it points
// outside: negative once it does; empty while the wheels carry next to nothing (in the air) or the body lies on the
// ground. Support lines: each rear contact to the front axle's pin (or to the front contact on that side, axle fixed or
// on its stop), the two rear contacts, the two front contacts. The load is gravity less acceleration, that is the sum
// of the wheel forces turned round; sideways it acts on the centre of mass of what does not swing with the front axle,
// fore and aft on that of everything. At rest across the slope it is zero at exactly the slope of first lift-off; at
// other headings within a tenth of a degree, because the pin also passes on what the axle's own weight does lengthwise.
// Source: force-angle measure of Papadopoulos and Rey 1996, reduced to angles, with the line to the pivot pin instead
// of the wheel's contact; held to first_lift_off in tests/sim/motion/under_way_test.cpp.
std::optional<double> angle_left(const Model& model, const State& state);

// Energy and time to the point of no return, about the support line nearest to it.
struct Remaining {
  TipLine line = TipLine::right;
  double energy = 0;  // that must still be added to bring the weight over the line, the turning towards it counted in;
                      // negative: it goes over unless something stops it [J]
  std::optional<double> time;  // until the weight is over the line at the present turning, gravity and the line alone;
                               // empty = it comes back [s]
  bool over = false;           // it is beyond already
};

// A body that turns towards a support line and has more energy of turning than it takes to get its weight over it.
struct Toppling {
  double angle = 0;    // left to the line [rad]
  double inertia = 0;  // about the line [kg m2]
  double barrier = 0;  // energy that brings the weight over the line from here [J]
  double moving = 0;   // energy of its turning now, more than barrier - pulls * angle [J]
  double pulls = 0;    // moment towards the line that goes on all the way [N m]
};
// Until its weight is over the line [s]: the quadrature of dt = d(angle) / (rate of turning), to 1e-8 of itself.
double time_to_line(const Toppling& body);

// Empty while the wheels carry next to nothing or the body lies on the ground. What pulls at the hitch is taken as
// going on pulling so. Friction, tyres and what the driver does are left out. Source: energy stability of Messuri and
// Klein 1985 with the energy of turning taken off; time by quadrature of the same pendulum; derived in
// tests/sim/motion/under_way_test.cpp.
std::optional<Remaining> remaining(const Model& model, const State& state);

// The least of both over a run, and when; empty where it was never known. Only states of `from` to `until` [s] count,
// and none after the weight is over a line.
struct LeastMargins {
  std::optional<double> angle;   // [rad]
  double angle_at = 0;           // [s]
  std::optional<double> energy;  // [J]
  double energy_at = 0;          // [s]
  TipLine line = TipLine::right;
};
LeastMargins least_margins(const Model& model, const std::vector<State>& states, double from = 0, double until = 1e300);

}  // namespace sidehill

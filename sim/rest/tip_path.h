// What happens once the first wheel is in the air: the chassis is turned further, about the axis it starts to turn
// about, and at every turn it is asked at which slope the machine would balance there. That curve holds the snap of the
// front axle, the stop, the tip-over. No time in it.
#pragma once
#include <optional>
#include <vector>

#include "sim/rest/equilibrium.h"

namespace sidehill {

struct TipPoint {
  double tilt = 0;       // of the chassis about the tilt axis since lift-off, downhill positive [rad]
  bool on_stop = false;  // the axle is against its stop
  TrialPose trial;       // balanced there; trial.slope is the slope it balances at
  bool jumped = false;   // no rest between the point before and this one: a tyre let go its side force in between
};

struct TipPath {
  TiltAxis about;                       // the axis it starts to turn about, from lift-off on
  std::vector<TipPoint> points;         // from lift-off on, until it would balance on no slope any more
  std::optional<TipPoint> end_on_stop;  // steepest slope at which it rests with the axle on its stop
  std::optional<TipPoint> steepest;     // steepest slope at which it rests at all, lift-off included
  std::size_t let_go = 0;               // the point up to which it rests at every slope from lift-off on
};

// From a balanced trial in which one wheel's load has just vanished.
// The points are where a contact changes, each found by Newton's iteration, and where the slope peaks in between.
TipPath tip_path(const EquilibriumSystem& system, const TrialPose& lift_off);

// Where the path passes `slope` [rad] while the balanced slope rises, one guess for each such place, on its contacts.
std::vector<TrialPose> places_at(const TipPath& path, double slope);

// The slope at which the machine lets go [rad]: it rests at every slope from lift-off to here. What a tyre that lets go
// its side force leads to in one jump is not counted as rest.
double let_go_slope(const TipPath& path);

// True if the machine that lets go there, at that slope, arrives at the stop with enough speed to pass the
// balance beyond it. Energy along the path, friction and tyre damping left out (the cautious side); at the stop only
// the part of the motion that turns about the new axis survives: angular momentum about the contact that both axes
// share, n.I_c o w = n.I n w', so of the energy (n.I_c o)^2 / ((n.I n)(o.I_c o)) is kept, o and n the old and new axis,
// I_c of the chassis side, I of all. Source: derived here; held against the moving machine in
// tests/sim/rest/statics_test.cpp and against closed forms in tests/sim/motion/stop_energy_test.cpp. In snap.cpp.
bool snap_goes_over(const EquilibriumSystem& system, const TipPath& path);

}  // namespace sidehill

// Whether a run that ends badly could still have been saved, and until when: by stopping, by steering downhill, by
// lowering the loader. Found by running each from moment to moment. Knows no file, no text.
#pragma once
#include <optional>
#include <vector>

#include "sim/scene/scene.h"

namespace sidehill {

enum class RescueAct { stop, stop_gently, steer_downhill, lower_loader };  // full brake; half brake
constexpr RescueAct kRescueActs[] = {RescueAct::stop, RescueAct::stop_gently, RescueAct::steer_downhill,
                                     RescueAct::lower_loader};

enum class RescueEnd { on_its_wheels, wheel_up, goes_over };

struct Rescue {
  RescueAct act = RescueAct::stop;
  RescueEnd first = RescueEnd::goes_over;  // how it ends, begun at the first moment tried
  // The last moments of the grid up to which, from every one tried, it ends on all its wheels; and does not go over
  // [s]. Empty = not even from the first.
  std::optional<double> latest, latest_upright;
  bool stops = true;       // where it ends with a wheel up, it drives and slides no more, but may rock
  bool scattered = false;  // it ends on all its wheels again from some later moment
};
constexpr double kRescueStep = 0.1;  // [s]

struct Rescues {
  bool needed = false;                       // the run goes over
  std::optional<double> lift_off;            // first wheel that leaves the ground [s]
  std::optional<double> point_of_no_return;  // the moment of balance [s]
  double tried_from = 0, tried_to = 0;       // first and last moment tried [s]
  std::vector<Rescue> acts;                  // those this machine can do
};

// The act begins at that moment, at once: a driver takes about a second to see, decide and move, which is not in it.
// Clutch out and the brake pedal all or half the way down; or steering for straight downhill at the rate a driver turns
// the wheel; or the boom down at the loader's own speed. Every moment of the grid is tried from 4 s before first
// lift-off to the moment of balance, on every core; an act may fail early and work later, so only what works from every
// moment up to the one given counts. Each is watched until six seconds after the run goes over without it, or until the
// machine stands on all its wheels. Steering downhill is left out on less than 2 degrees. Throws InputError for a
// machine that cannot move.
Rescues rescues(const Scene& scene);

}  // namespace sidehill

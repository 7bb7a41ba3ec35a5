// Build, step, watch for events: a whole run, or one advanced in chunks (what the window does).
#pragma once
#include <optional>

#include "sim/recording.h"
#include "sim/watch.h"
#include "sim/world.h"

namespace sidehill {

class Runner {
 public:
  // Places the machine at the scene's start, `drop_height` above the ground (0: in its resting pose, its
  // side forces, brakes and liquid as they are at rest).
  // Throws InputError for a machine that cannot move.
  Runner(const Scene& scene, const Model& model);
  bool done() const;             // duration reached, at rest after a roll-over, or diverged
  void advance(double seconds);  // simulated time; the result does not depend on the chunk size
  const State& state() const;
  const Recording& recording() const;
  void override_speed(double speed);  // live driving: replaces the programme's wanted speed from now on [m/s]

 private:
  void step();
  void keep_frame();
  Model model_;
  World world_;
  Watch watch_;
  Recording recording_;
  std::optional<double> speed_;
  double wanted_time_ = 0;
  long steps_ = 0, steps_per_frame_ = 20;
  bool ended_ = false;
};

// Ground slope of the programme at a time [s], [rad].
double slope_at(const Model& model, double time);

// What driver and ground do in the step that starts at `state`: the programme, or a speed of one's own from the start
// on [m/s].
Input driven(const Model& model, const State& state, std::optional<double> live_speed = {});

Recording run(const Scene& scene);  // throws InputError for an impossible scene; divergence is an outcome

}  // namespace sidehill

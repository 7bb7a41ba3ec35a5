// Build, step, watch for events: a whole run, or one advanced in chunks (what the window does).
#pragma once
#include "sim/recording.h"
#include "sim/world.h"

namespace sidehill {

class Runner {
 public:
  Runner(const Scene& scene, const Model& model);
  bool done() const;                 // duration reached, or at rest after a roll-over, or diverged
  void advance(double seconds);      // simulated time; the result does not depend on the chunk size
  const State& state() const;
  const Recording& recording() const;
  void override_speed(double speed); // live driving: replaces the programme's wanted speed from now on [m/s]

 private:
  struct Watch;                      // what the event finder remembers
  Model model_;
  World world_;
  Recording recording_;
  std::shared_ptr<Watch> watch_;
};

Recording run(const Scene& scene);   // throws InputError for an impossible scene; divergence is an outcome

}  // namespace sidehill

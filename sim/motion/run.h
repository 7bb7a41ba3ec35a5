// Build, step, watch for events: a whole run, or one advanced in chunks (what the window does).
#pragma once
#include <optional>

#include "sim/motion/driving.h"
#include "sim/motion/recording.h"
#include "sim/motion/watch.h"
#include "sim/motion/world.h"

namespace sidehill {

// Where it starts.
struct StartPose {
  Pose X_GV;
  double axle_angle = 0;
  std::optional<Rest> rest;  // where it stands already
};

class Runner {
 public:
  // Places the machine at the scene's start, `drop_height` above the ground (0: in its resting pose, its
  // side forces, brakes and liquid as they are at rest).
  // Throws InputError for a machine that cannot move.
  Runner(const Scene& scene, const Model& model);
  // The same where `rest`, rest_at(model, its slope), is known already.
  Runner(const Scene& scene, const Model& model, const std::optional<Rest>& rest);
  bool done() const;             // duration reached, at rest after a roll-over, or diverged
  void advance(double seconds);  // simulated time; the result does not depend on the chunk size
  const State& state() const;
  const Recording& recording() const;
  void drive_by_hand(const ByHand& hand);      // from now on, in place of the programme's speed, steering and brake
  void follow(std::vector<HandOrder> orders);  // given by hand in another run
  // Lasts so long instead [s]; `scene` is the one it was made from. Call before it has ended.
  void prolong(Scene scene, double duration);
  const Driving& driving() const;
  const Watch& watch() const;
  const MachineState& moment() const;

 private:
  Runner(const Scene& scene, const Model& model, const StartPose& start);
  void step();
  void keep_frame();
  Model model_;
  World world_;
  Watch watch_;
  Recording recording_;
  Driving driving_;
  double wanted_time_ = 0;
  long steps_ = 0, steps_per_frame_ = 20;
  bool ended_ = false;
  std::vector<HandOrder> to_follow_;
  std::size_t followed_ = 0;
};

Recording run(
    const Scene& scene,
    const std::vector<HandOrder>& orders = {});  // throws InputError for an impossible scene; divergence is an outcome

}  // namespace sidehill

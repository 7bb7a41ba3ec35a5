#include "sim/motion/run.h"

#include <algorithm>
#include <cmath>

#include "sim/model/tyre_contact.h"
#include "sim/rest/equilibrium.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

// Without a height at rest, else in the air.
StartPose start_pose(const Model& model, const std::optional<Rest>& rest) {
  if (model.programme.drop_height <= 0 && rest) return {rest->X_GV, rest->axle_angle, rest};
  const EquilibriumSystem system = make_system(model);
  StartPose start{start_trial(system).X_GV, 0, {}};
  double deepest = 0;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const TyreContact contact =
        tyre_contact(model.terrain, start.X_GV * model.wheels[i].centre, start.X_GV.R[1], model.wheels[i].tyre.radius);
    deepest = std::max(deepest, contact.penetration);
  }
  start.X_GV.p.z += deepest;
  const double s = model.terrain.slope;
  start.X_GV.p += model.programme.drop_height *
                  Vec3(0, std::sin(s), std::cos(s));  // straight up in the world, so that it lands at its place
  return start;
}

World place(const Model& model, const StartPose& start) {
  World world(model, start.X_GV, start.axle_angle);
  if (start.rest) world.settle(*start.rest);
  return world;
}

}  // namespace

Runner::Runner(const Scene& scene, const Model& model)
    : Runner(scene, model,
             model.programme.drop_height > 0 ? std::optional<Rest>() : rest_at(model, model.terrain.slope)) {}

Runner::Runner(const Scene& scene, const Model& model, const std::optional<Rest>& rest)
    : Runner(scene, model, start_pose(model, rest)) {}

Runner::Runner(const Scene& scene, const Model& model, const StartPose& start)
    : model_(model),
      world_(place(model_, start)),
      watch_(model_, start.rest.has_value()),
      driving_(driving_at_start(model_, world_.state())) {
  recording_.scene_text = write_scene(scene);
  recording_.program_version = SIDEHILL_VERSION;
  steps_per_frame_ = std::max(1L, std::lround(recording_.frame_step / model_.time_step));
  keep_frame();
}

void Runner::keep_frame() {
  recording_.states.push_back(world_.state());
  recording_.moments.push_back(world_.moment());
}

bool Runner::done() const { return ended_; }

void Runner::step() {
  while (followed_ < to_follow_.size() && to_follow_[followed_].step <= steps_)
    drive_by_hand(to_follow_[followed_++].hand);
  const Input input = drive(model_, world_.state(), driving_);
  try {
    world_.step(input);
  } catch (const Diverged& error) {
    recording_.divergence = error.what();
    recording_.outcome = Outcome::diverged;
    ended_ = true;
    return;
  }
  ++steps_;
  watch_.look(world_.state(), recording_.events);
  if (steps_ % steps_per_frame_ == 0) keep_frame();
  recording_.outcome = watch_.outcome();
  ended_ = world_.state().time >= model_.programme.duration - 0.5 * model_.time_step || watch_.over();
  if (ended_) {
    if (steps_ % steps_per_frame_ != 0) keep_frame();
    std::stable_sort(recording_.events.begin(), recording_.events.end(),
                     [](const Event& a, const Event& b) { return a.time < b.time; });
  }
}

void Runner::advance(double seconds) {
  wanted_time_ += seconds;
  while (!ended_ && world_.state().time < wanted_time_ - 0.5 * model_.time_step) step();
}

const State& Runner::state() const { return world_.state(); }
const Recording& Runner::recording() const { return recording_; }
void Runner::drive_by_hand(const ByHand& hand) {
  if (driving_.hand == hand) return;
  driving_.hand = hand;
  recording_.orders.push_back({steps_, hand});
}

void Runner::prolong(Scene scene, double duration) {
  scene.programme.duration = model_.programme.duration = duration;
  recording_.scene_text = write_scene(scene);
}

void Runner::follow(std::vector<HandOrder> orders) { to_follow_ = std::move(orders); }
const Driving& Runner::driving() const { return driving_; }
const Watch& Runner::watch() const { return watch_; }
const MachineState& Runner::moment() const { return world_.moment(); }

Recording run(const Scene& scene, const std::vector<HandOrder>& orders) {
  const Model model = build(scene);
  Runner runner(scene, model);
  runner.follow(orders);
  runner.advance(model.programme.duration + 1);
  return runner.recording();
}

}  // namespace sidehill

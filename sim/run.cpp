#include "sim/run.h"

#include <algorithm>
#include <cmath>

#include "sim/equilibrium.h"
#include "sim/scene_file.h"
#include "sim/statics.h"
#include "sim/tyre_contact.h"

namespace sidehill {
namespace {

constexpr double kSteepest = 1.5533;  // 89 deg: a tilting ground stops there [rad]

struct StartPose {
  Pose X_GV;
  double axle_angle = 0;
  std::optional<Rest> rest;  // where it stands already
};

StartPose start_pose(const Model& model) {
  if (model.programme.drop_height <= 0) {
    if (const auto rest = solve_statics(model).rest) return {rest->X_GV, rest->axle_angle, rest};
  }
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

// A driver who keeps to the line the machine started on: steers against how far it has drifted off and how it is
// turned.
double steer_to_line(const Model& model, const State& state) {
  constexpr double kPerMetre = 0.35, kPerRadian = 1.4,
                   kLock = 0.6;  // our estimate of a calm driver [rad/m], [-], [rad]
  const Vec3 forward(-std::sin(model.start.heading), std::cos(model.start.heading), 0), left(-forward.y, forward.x, 0);
  const double aside = glm::dot(state.X_GV.p - Vec3(model.start.x, model.start.y, 0), left);
  const double turned = std::atan2(glm::dot(state.X_GV.R[0], left), glm::dot(state.X_GV.R[0], forward));
  return std::clamp(-kPerMetre * aside - kPerRadian * turned, -kLock, kLock);
}

// A driver who lets the clutch in gently: the wanted speed grows by so much a second.
double eased(double speed, double since) {
  constexpr double kGently = 1.0;  // our estimate [m/s2]
  return std::copysign(std::min(std::abs(speed), kGently * std::max(0.0, since)), speed);
}

World place(const Model& model) {
  const StartPose start = start_pose(model);
  World world(model, start.X_GV, start.axle_angle);
  if (start.rest) world.settle(*start.rest);
  return world;
}

}  // namespace

double slope_at(const Model& model, double time) {
  const Programme& p = model.programme;
  return std::clamp(model.terrain.slope + p.tilt_rate * std::max(0.0, time - p.drive_from), -kSteepest, kSteepest);
}

Input driven(const Model& model, const State& state, std::optional<double> live_speed) {
  Input input;
  const double speed = live_speed.value_or(model.programme.speed);
  const double from = live_speed ? 0.0 : model.programme.drive_from;
  const bool drives = speed != 0 && state.time >= from;
  input.hold = !drives;
  input.target_speed = drives ? eased(speed, state.time - from) : 0;
  if (drives) input.steer = speed > 0 ? steer_to_line(model, state) : 0;
  input.boom_angle = model.loader.angle;
  input.slope = slope_at(model, state.time);
  return input;
}

Runner::Runner(const Scene& scene, const Model& model) : model_(model), world_(place(model_)), watch_(model_) {
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
  const Input input = driven(model_, world_.state(), speed_);
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
void Runner::override_speed(double speed) { speed_ = speed; }

Recording run(const Scene& scene) {
  const Model model = build(scene);
  Runner runner(scene, model);
  runner.advance(model.programme.duration + 1);
  return runner.recording();
}

}  // namespace sidehill

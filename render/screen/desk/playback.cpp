#include "render/screen/desk/playback.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <glm/geometric.hpp>

#include "sim/motion/under_way.h"

namespace sidehill::screen {
namespace {

// From straight to full lock by key [s].
constexpr double kSteerTime = 0.3;
// Simulated time stepped between two looks at the clock [s].
constexpr double kChunk = 0.004;

double clock_now() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

void Playback::drop_run() {
  runner_.reset();
  kept_.reset();
  at_.reset();
  margins_.clear();
  owed_ = 0;
  keeping_up_ = 1;
}

void Playback::start(const Scene& scene, const Model& model, const std::optional<Rest>* rest) {
  runner_ = rest ? std::make_unique<Runner>(scene, model, *rest) : std::make_unique<Runner>(scene, model);
  scene_ = scene;
  model_ = model;
  if (by_hand_) lasts_by_hand();
  watch();
}

void Playback::keep(Recording recording, const Model& model) {
  kept_ = std::make_unique<Recording>(std::move(recording));
  model_ = model;
  watch();
  seek(0);
}

void Playback::watch() {
  const std::vector<State>& states = recording()->states;
  while (margins_.size() < states.size()) margins_.push_back(angle_left(*model_, states[margins_.size()]));
}

void Playback::lasts_by_hand() {
  runner_->prolong(scene_, kHandDuration);
  runner_->drive_by_hand(hand_);
}

void Playback::take_over() {
  const State& state = runner_->state();
  const double kmh = std::round(3.6 * glm::dot(state.v_G, state.X_GV.R[0]));
  forget_hands();
  const std::vector<HandOrder>& orders = runner_->recording().orders;
  if (!orders.empty()) hand_.boom_angle = orders.back().hand.boom_angle;  // the loader stays where it was left
  hand_.speed = std::clamp<double>(kmh, -kFastestBackByHand, kFastestByHand) / 3.6;
  lasts_by_hand();
}

void Playback::let_go() {
  drive(ByHand{0, 0, 0, hand_.boom_angle});
  by_hand_ = false;
  ++version_;
}

void Playback::drive(const ByHand& hand) {
  if (!by_hand_) return;
  hand_ = hand;
  if (runner_ && !runner_->done()) runner_->drive_by_hand(hand_);
  ++version_;
}

void Playback::change_speed(int steps) {
  const int kmh = static_cast<int>(std::lround(3.6 * hand_.speed)) + steps;
  ByHand hand = hand_;
  hand.speed = std::clamp(kmh, -kFastestBackByHand, kFastestByHand) / 3.6;
  drive(hand);
}

void Playback::hold_keys(const HandKeys& keys) {
  if (!by_hand_ || !runner_ || keys == keys_) return;
  ByHand hand = hand_;
  hand.brake = keys.brake ? 1 : 0;
  if (model_->loader.fitted) {
    const LoaderModel& loader = model_->loader;
    if (keys.raise != keys.lower)
      hand.boom_angle = keys.raise ? loader.max_angle : loader.min_angle;
    else if (keys_.raise != keys_.lower)
      hand.boom_angle = runner_->state().boom_angle;  // stays where it has come to
  }
  keys_ = keys;
  drive(hand);
}

// The hands turn the wheel while the machine moves on by so much; the brake takes the wanted speed down with it, so
// that nothing lurches off when it is let go.
void Playback::use_hands(double seconds) {
  if (!by_hand_) return;
  ByHand hand = hand_;
  const double wanted = (keys_.left ? 1 : 0) - (keys_.right ? 1 : 0), most = seconds / kSteerTime;
  hand.steer += std::clamp(wanted - hand.steer, -most, most);
  if (keys_.brake) {
    const State& state = runner_->state();
    const double kmh = std::round(std::abs(3.6 * glm::dot(state.v_G, state.X_GV.R[0])));
    hand.speed = std::copysign(std::min(std::abs(hand.speed), kmh / 3.6), hand.speed);
    if (hand.speed == 0) hand.speed = 0;  // no minus nought
  }
  if (!(hand == hand_)) drive(hand);
}

bool Playback::too_fast() const { return runner_ && glm::length(runner_->state().v_G) > kFastest; }

void Playback::set_rate(double rate) {
  rate_ = rate;
  keeping_up_ = 1;
  ++version_;
}

bool Playback::advance(double wall, double budget) {
  if (!playing_ || !started()) return false;
  if (at_) return look_on(wall);
  if (!runner_) return false;
  const double begun = clock_now();
  const double wanted = wall * rate_;
  owed_ += wanted;
  double stepped = 0;
  bool in_time = true;
  while (owed_ >= scene_.settings.time_step && !runner_->done()) {
    const double chunk = std::min(owed_, kChunk);
    use_hands(chunk);
    runner_->advance(chunk);
    owed_ -= chunk;
    stepped += chunk;
    if (clock_now() - begun > budget) {
      in_time = false;
      break;
    }
  }
  if (!in_time) owed_ = 0;
  if (wanted > 0) {
    const double now = in_time ? 1.0 : std::min(1.0, stepped / wanted);
    keeping_up_ += 0.2 * (now - keeping_up_);  // smoothed over about five pictures
  }
  watch();
  if (runner_->done() || too_fast()) playing_ = by_hand_ = false;
  if (loops_ && !by_hand_) {
    const auto span = loop_span();
    if (span && runner_->state().time >= span->second) {
      look(span->first);
      playing_ = true;
    }
  }
  ++version_;
  return true;
}

}  // namespace sidehill::screen

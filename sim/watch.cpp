#include "sim/watch.h"

#include <algorithm>
#include <cmath>

#include "terrain/terrain.h"

namespace sidehill {
namespace {

constexpr double kSettling = 1.5;       // how long after touch-down the machine is still landing [s]
constexpr double kRearm = 0.5;          // a slide or a stop hit counts anew after this long without [s]
constexpr double kHop = 0.01;           // a wheel is up once it has been in the air this long [s]
constexpr double kLandingHop = 0.3;     // the same while still landing [s]
constexpr double kGap = 0.03;           // sliding with shorter breaks is one slide [s]
constexpr double kLastingSlide = 0.15;  // a slide shorter than this is grip at work [s]
constexpr double kLyingCosine = 0.57;   // chassis turned more than 55 deg out of the ground's normal
constexpr double kStillEnergy = 2e-3;   // of the weight times a metre

}  // namespace

Watch::Watch(const Model& model, bool on_its_wheels)
    : gravity_(model.gravity),
      weight_(total_mass(model) * model.gravity),
      time_step_(model.time_step),
      landed_(on_its_wheels),
      stop_angle_(model.stop_angle),
      landed_at_(on_its_wheels ? -kSettling - 1 : 0) {}

// When a wheel that carries now, and did not before, met the ground: between the two steps by how deep it was in each.
double Watch::touched(const State& s, std::size_t wheel) const {
  const double now = s.wheels[wheel].penetration, before = wheels_[wheel].penetration, sank = now - before;
  const double part = before < 0 && sank > 0 ? std::clamp(now / sank, 0.0, 1.0) : 0.0;
  return std::max(0.0, s.time - time_step_ - part * time_step_);
}

void Watch::look(const State& s, std::vector<Event>& events) {
  time_ = s.time;
  const auto tell = [&](EventKind kind, double time, int wheel = -1) {
    events.push_back({kind, time, wheel, s.slope});
  };
  const bool any = std::any_of(s.wheels.begin(), s.wheels.end(), [](const WheelState& w) { return w.load > 0; });
  if (any && !landed_) {
    landed_ = true;
    landed_at_ = s.time;
    double first = s.time;
    for (std::size_t i = 0; i < kWheels; ++i)
      if (s.wheels[i].load > 0) first = std::min(first, touched(s, i));
    tell(EventKind::touch_down, first);
  }
  const bool settled = landed_ && s.time - landed_at_ > kSettling;
  std::array<bool, 2> loaded_axle{}, slides_axle{true, true};  // front, rear
  for (int i = 0; i < kWheels; ++i) {
    const WheelState& now = s.wheels[static_cast<std::size_t>(i)];
    WheelWatch& w = wheels_[static_cast<std::size_t>(i)];
    const bool loaded = now.load > 0;
    if (!loaded && w.loaded) {
      const double fall = w.before - w.load;
      const double part = fall > 0 ? std::clamp(w.load / fall, 0.0, 1.0) : 1.0;
      w.left_at =
          std::max(0.0, s.time - 2 * time_step_ + part * time_step_);  // a state's loads are of its step's start
      w.left_slope = s.slope;
    }
    if (!loaded && landed_ && !w.told_up && w.left_at > 0 && !rolled_ &&
        s.time - w.left_at > (settled ? kHop : kLandingHop)) {
      w.told_up = lifted_ = true;
      events.push_back({EventKind::lift_off, w.left_at, i, w.left_slope});
    }
    if (loaded && w.told_up && !rolled_) {
      w.told_up = false;
      tell(EventKind::lands, touched(s, static_cast<std::size_t>(i)), i);
    }
    w.loaded = loaded;
    const std::size_t axle = is_front(i) ? 0 : 1;
    if (loaded) loaded_axle[axle] = true;
    if (loaded && !now.sliding) slides_axle[axle] = false;
    if (now.sliding && loaded && now.load > 0.02 * weight_) {
      if (s.time - w.slid_at > kGap) w.slide_began = s.time;
      w.slid_at = s.time;
      if (settled && !rolled_ && s.time - w.slide_began > kLastingSlide && w.slide_began - w.slide_told > kRearm) {
        tell(EventKind::slide, w.slide_began, i);
        w.slide_told = s.time;
      } else if (s.time - w.slide_told < kRearm) {
        w.slide_told = s.time;
      }
    }
    w.before = w.load;
    w.load = now.load;
    w.penetration = now.penetration;
  }
  const bool all_down = std::all_of(s.wheels.begin(), s.wheels.end(), [](const WheelState& w) { return w.load > 0; });
  // As at rest: the machine slides once one axle has no grip left; front wheels that roll freely tell nothing for the
  // rear ones.
  const bool slides = (loaded_axle[0] && slides_axle[0]) || (loaded_axle[1] && slides_axle[1]);
  if (settled && slides && !rolled_ && glm::length(s.v_G) > 0.05) slid_ += time_step_;
  if (s.on_stop) {
    const double turned = axle_angle_ - axle_before_;
    const double part = turned > 0 ? std::clamp((stop_angle_ - axle_before_) / turned, 0.0, 1.0) : 1.0;
    if (s.time - on_stop_at_ > kRearm && settled && !rolled_)
      tell(EventKind::stop_hit, s.time - 2 * time_step_ + part * time_step_);
    on_stop_at_ = s.time;
  }
  axle_before_ = axle_angle_;
  axle_angle_ = std::abs(s.axle_angle);
  const double height = (R_WG(s.slope) * s.centre_of_gravity_G).z;
  if (all_down) highest_ = -1e30;
  if (!rolled_ && height > highest_) {
    highest_ = height;
    highest_at_ = s.time;
    highest_slope_ = s.slope;
  }
  if (lifted_ && !rolled_) nose_up_ = std::max(nose_up_, s.X_GV.R[0].z);
  const double upright = s.X_GV.R[2].z;
  const auto met = [&](double ago) { return std::max(0.0, s.time - time_step_ - std::min(ago, time_step_)); };
  if (s.hull_touches && !hull_) tell(EventKind::hull_touches, met(s.hull_ago));
  if (s.frame_touches && !frame_) tell(EventKind::frame_touches, met(s.frame_ago));
  hull_ = hull_ || s.hull_touches;
  frame_ = frame_ || s.frame_touches;
  if (hull_ && upright < kLyingCosine && !rolled_) {
    rolled_ = true;
    rolled_at_ = s.time;
    rear_ = nose_up_ > 0.7;
    if (!balance_told_ && lifted_) {
      balance_told_ = true;
      events.push_back({EventKind::point_of_no_return, highest_at_, -1, highest_slope_});
    }
  }
  if (upright < -0.35) upside_down_ = true;
  const bool still = rolled_ && s.kinetic_energy < kStillEnergy * weight_;
  if (!still) still_since_ = -1;
  if (still && still_since_ < 0) still_since_ = s.time;
  if (lies_still() && !rest_told_) {
    rest_told_ = true;
    tell(EventKind::at_rest, s.time);
  }
}

bool Watch::lies_still() const { return still_since_ >= 0 && time_ - still_since_ > 0.5; }

bool Watch::over() const { return lies_still() || (rolled_ && time_ - rolled_at_ > 6); }

Outcome Watch::outcome() const {
  if (rolled_) return rear_ ? Outcome::overturned_rear : upside_down_ ? Outcome::rolls_on : Outcome::on_frame;
  const bool up = std::any_of(wheels_.begin(), wheels_.end(), [](const WheelWatch& w) { return w.told_up; });
  if (up) return Outcome::wheel_up;
  if (lifted_) return Outcome::lifts_and_returns;
  if (slid_ > 0.3) return Outcome::slides;
  return Outcome::stands;
}

}  // namespace sidehill

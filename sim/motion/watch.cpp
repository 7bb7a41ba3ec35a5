#include "sim/motion/watch.h"

#include <algorithm>
#include <cmath>

#include "sim/motion/slip.h"
#include "terrain/terrain.h"

namespace sidehill {
namespace {

constexpr double kSettledEnergy = 5e-5;  // of the weight times a metre: 30 mm/s; below it the machine stands
constexpr double kSettledFor = 0.25;     // once it has stood so long [s]
constexpr double kRearm = 0.5;           // a slide or a stop hit counts anew after this long without [s]
constexpr double kBack = 0.05;           // a wheel is back once the ground has carried it so long without a break [s]
constexpr double kLate = 0.3;            // a wheel that meets no ground so long after the first one did is up [s]
constexpr double kGap = 0.03;            // sliding with shorter breaks is one slide [s]
constexpr double kLastingSlide = 0.15;   // a slide shorter than this is grip at work [s]
constexpr double kCreep = 0.01;          // a tyre at the end of its grip that is slower is no slide [m/s]
constexpr double kSlidesFor = 0.3;       // sliding on an axle for so long is how the run ends [s]
constexpr double kSlidesFar = 0.5;       // or so far [m]
constexpr double kSlidesOn = 0.1;        // it still slides if it did so long ago [s]
constexpr double kLyingCosine = 0.57;    // chassis turned more than 55 deg out of the ground's normal
constexpr double kStillEnergy = 2e-3;    // of the weight times a metre

}  // namespace

Watch::Watch(const Model& model, bool on_its_wheels)
    : weight_(total_mass(model) * model.gravity),
      time_step_(model.time_step),
      landed_(on_its_wheels),
      settled_(on_its_wheels),
      stop_angle_(model.stop_angle),
      landed_at_(on_its_wheels ? -kLate - 1 : 0) {}

// When a wheel that carries now, and did not before, met the ground: between the two steps by how deep it was in each.
double Watch::touched(const State& s, std::size_t wheel) const {
  const double now = s.wheels[wheel].penetration, before = wheels_[wheel].penetration, sank = now - before;
  const double part = before < 0 && sank > 0 ? std::clamp(now / sank, 0.0, 1.0) : 0.0;
  return std::max(0.0, s.time - time_step_ - part * time_step_);
}

// Touch-down, and the moment from which what happens counts.
void Watch::look_for_ground(const State& s, std::vector<Event>& events) {
  const bool any = std::any_of(s.wheels.begin(), s.wheels.end(), [](const WheelState& w) { return w.load > 0; });
  if (any && !landed_) {
    landed_ = true;
    landed_at_ = s.time;
    for (std::size_t i = 0; i < kWheels; ++i)
      if (s.wheels[i].load > 0) landed_at_ = std::min(landed_at_, touched(s, i));
    events.push_back({EventKind::touch_down, landed_at_, -1, s.slope});
  }
  if (settled_ || !landed_ || rolled_) return;
  const bool stands = any && s.kinetic_energy < kSettledEnergy * weight_;
  if (!stands) stands_since_ = -1;
  if (stands && stands_since_ < 0) stands_since_ = s.time;
  if (!stands || s.time - stands_since_ < kSettledFor) return;
  settled_ = true;
  events.push_back({EventKind::settled, stands_since_, -1, s.slope});
  lifted_ = std::any_of(wheels_.begin(), wheels_.end(), [](const WheelWatch& w) { return w.up; });
  nose_up_ = sliding_for_ = slid_ = 0;
}

void Watch::look_at_load(const State& s, std::size_t wheel, std::vector<Event>& events) {
  const WheelState& now = s.wheels[wheel];
  WheelWatch& w = wheels_[wheel];
  const bool loaded = now.load > 0;
  const auto lifts = [&](double time) {
    w.up = lifted_ = true;
    events.push_back({EventKind::lift_off, time, static_cast<int>(wheel), s.slope});
  };
  if (!loaded && !w.up && !rolled_) {
    if (w.loaded) {
      const double fall = w.before - w.load;
      const double part = fall > 0 ? std::clamp(w.load / fall, 0.0, 1.0) : 1.0;
      lifts(std::max(0.0, s.time - 2 * time_step_ + part * time_step_));  // a state's loads are of its step's start
    } else if (landed_ && s.time - landed_at_ > kLate) {
      lifts(std::max(0.0, landed_at_));
    }
  }
  if (loaded && w.up && !rolled_) {
    if (!w.loaded) w.down_since = s.time, w.back_at = touched(s, wheel), w.back_slope = s.slope;
    if (s.time - w.down_since >= kBack) {
      w.up = false;
      events.push_back({EventKind::lands, w.back_at, static_cast<int>(wheel), w.back_slope});
    }
  }
  w.loaded = loaded;
  w.before = w.load;
  w.load = now.load;
  w.penetration = now.penetration;
}

void Watch::look_at_slide(const State& s, std::size_t wheel, std::vector<Event>& events) {
  const WheelState& now = s.wheels[wheel];
  WheelWatch& w = wheels_[wheel];
  if (!looked_ || !now.sliding || !(now.load > 0.02 * weight_)) return;
  const Slip slip = slip_of(before_, s, wheel);
  if (std::hypot(slip.along, slip.across) < kCreep) return;
  if (s.time - w.slid_at > kGap) w.slide_began = s.time;
  w.slid_at = s.time;
  if (!rolled_ && s.time - w.slide_began > kLastingSlide && w.slide_began - w.slide_said > kRearm) {
    events.push_back({EventKind::slide, w.slide_began, static_cast<int>(wheel), s.slope});
    w.slide_said = s.time;
  } else if (s.time - w.slide_said < kRearm) {
    w.slide_said = s.time;
  }
}

// Axle stop, hull, frame, going over, lying.
void Watch::look_at_body(const State& s, std::vector<Event>& events) {
  const auto report = [&](EventKind kind, double time) { events.push_back({kind, time, -1, s.slope}); };
  if (s.on_stop) {
    const double turned = axle_angle_ - axle_before_;
    const double part = turned > 0 ? std::clamp((stop_angle_ - axle_before_) / turned, 0.0, 1.0) : 1.0;
    const bool from_the_start = !looked_ && settled_;
    if (s.time - on_stop_at_ > kRearm && landed_ && !from_the_start && !rolled_)
      report(EventKind::stop_hit, std::max(0.0, s.time - 2 * time_step_ + part * time_step_));
    on_stop_at_ = s.time;
  }
  axle_before_ = axle_angle_;
  axle_angle_ = std::abs(s.axle_angle);
  const bool all_down = std::all_of(s.wheels.begin(), s.wheels.end(), [](const WheelState& w) { return w.load > 0; });
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
  if (s.hull_touches && !hull_) report(EventKind::hull_touches, met(s.hull_ago));
  if (s.frame_touches && !frame_) report(EventKind::frame_touches, met(s.frame_ago));
  hull_ = hull_ || s.hull_touches;
  frame_ = frame_ || s.frame_touches;
  if (hull_ && upright < kLyingCosine && !rolled_) {
    rolled_ = true;
    rolled_at_ = s.time;
    rear_ = nose_up_ > 0.7;
    if (!balance_said_ && lifted_) {
      balance_said_ = true;
      events.push_back({EventKind::point_of_no_return, highest_at_, -1, highest_slope_});
    }
  }
  if (upright < -0.35) upside_down_ = true;
  const bool still = rolled_ && s.kinetic_energy < kStillEnergy * weight_;
  if (!still) still_since_ = -1;
  if (still && still_since_ < 0) still_since_ = s.time;
  if (lies_still() && !rest_said_) {
    rest_said_ = true;
    report(EventKind::at_rest, s.time);
  }
}

void Watch::look(const State& s, std::vector<Event>& events) {
  time_ = s.time;
  look_for_ground(s, events);
  for (std::size_t i = 0; i < kWheels; ++i) {
    look_at_load(s, i, events);
    look_at_slide(s, i, events);
  }
  if (looked_ && landed_ && !rolled_) {
    if (an_axle_slides(s) && glm::length(s.v_G) > 0.05) sliding_for_ += time_step_, slides_at_ = s.time;
    slid_ += slid_between(before_, s);
  }
  look_at_body(s, events);
  before_ = s;
  looked_ = true;
}

bool Watch::lies_still() const { return still_since_ >= 0 && time_ - still_since_ > 0.5; }

bool Watch::over() const { return lies_still() || (rolled_ && time_ - rolled_at_ > 6); }

Outcome Watch::outcome() const {
  if (rolled_) return rear_ ? Outcome::overturned_rear : upside_down_ ? Outcome::rolls_on : Outcome::on_frame;
  const bool up = std::any_of(wheels_.begin(), wheels_.end(), [](const WheelWatch& w) { return w.up && !w.loaded; });
  if (up) return Outcome::wheel_up;
  const bool slides = sliding_for_ > kSlidesFor || slid_ > kSlidesFar;
  if (slides && time_ - slides_at_ < kSlidesOn) return Outcome::slides;  // and has not come back from that
  if (lifted_) return Outcome::lifts_and_returns;
  if (slides) return Outcome::slides;
  return Outcome::stands;
}

}  // namespace sidehill

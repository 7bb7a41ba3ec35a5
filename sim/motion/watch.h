// Finds the events of a run by looking at one State after the other, and names its outcome. Knows no engine, no scene.
#pragma once
#include <array>
#include <vector>

#include "sim/model/model.h"
#include "sim/motion/recording.h"

namespace sidehill {

class Watch {
 public:
  // `on_its_wheels`: it starts at rest on the ground, not let go above it.
  explicit Watch(const Model& model, bool on_its_wheels = false);
  // Looks at the state after one more step and appends what happened to `events`, times between steps by extrapolating
  // the load.
  void look(const State& state, std::vector<Event>& events);
  Outcome outcome() const;  // of what has happened since it came to rest; if it never did, since touch-down
  bool settled() const { return settled_; }
  bool lies_still() const;  // after a roll-over
  bool over() const;        // nothing more to see: lies still, or has gone on tumbling or sliding down for 6 s

 private:
  struct WheelWatch {
    bool loaded = false, up = false;                            // up: between its lift_off and its lands
    double load = 0, before = 0;                                // of the last two steps [N]
    double penetration = 0;                                     // of the last step [m]
    double back_at = 0, back_slope = 0;                         // when it last met the ground while up [s], [rad]
    double down_since = 0;                                      // carried without a break since [s]
    double slid_at = -1e9, slide_began = 0, slide_said = -1e9;  // [s]
  };
  double touched(const State& state, std::size_t wheel) const;
  void look_for_ground(const State& state, std::vector<Event>& events);
  void look_at_load(const State& state, std::size_t wheel, std::vector<Event>& events);
  void look_at_slide(const State& state, std::size_t wheel, std::vector<Event>& events);
  void look_at_body(const State& state, std::vector<Event>& events);
  double weight_, time_step_;
  std::array<WheelWatch, kWheels> wheels_;
  bool landed_ = false, settled_ = false, hull_ = false, frame_ = false, lifted_ = false, rolled_ = false,
       upside_down_ = false, rear_ = false;
  double nose_up_ = 0;  // the furthest since a wheel lifted: sine of the turn backwards
  double stop_angle_, axle_angle_ = 0, axle_before_ = 0;  // of the last two steps, its size [rad]
  double on_stop_at_ = -1e9, rolled_at_ = 0;
  double landed_at_ = 0, stands_since_ = -1, still_since_ = -1, time_ = 0;
  double sliding_for_ = 0, slid_ = 0, slides_at_ = -1e9;         // without grip on an axle [s], how far [m], last [s]
  double highest_ = -1e30, highest_at_ = 0, highest_slope_ = 0;  // of the centre of gravity since the last lift-off
  bool balance_said_ = false, rest_said_ = false, looked_ = false;
  State before_;  // of the last step, once looked_
};

}  // namespace sidehill

#include "sim/motion/recording.h"

#include <algorithm>

namespace sidehill {

double counts_from(const std::vector<Event>& events) {
  for (EventKind kind : {EventKind::settled, EventKind::touch_down}) {
    const auto found = std::find_if(events.begin(), events.end(), [&](const Event& e) { return e.kind == kind; });
    if (found != events.end()) return found->time;
  }
  return 0;
}

const Event* first_lift_off(const std::vector<Event>& events) {
  const double from = counts_from(events);
  const Event* first = nullptr;
  for (const Event& event : events) {
    if (event.kind != EventKind::lift_off || (first && first->time <= event.time)) continue;
    const bool came_back = std::any_of(events.begin(), events.end(), [&](const Event& other) {
      return other.kind == EventKind::lands && other.wheel == event.wheel && other.time >= event.time &&
             other.time < from;
    });
    if (event.time >= from || !came_back) first = &event;
  }
  return first;
}

int wheels_up_at_end(const Recording& recording) {
  if (recording.states.empty()) return 0;
  return static_cast<int>(
      std::ranges::count_if(recording.states.back().wheels, [](const WheelState& w) { return !(w.load > 0); }));
}

const char* to_string(EventKind kind) {
  switch (kind) {
    case EventKind::touch_down:
      return "touch_down";
    case EventKind::settled:
      return "settled";
    case EventKind::lift_off:
      return "lift_off";
    case EventKind::lands:
      return "lands";
    case EventKind::stop_hit:
      return "stop_hit";
    case EventKind::slide:
      return "slide";
    case EventKind::point_of_no_return:
      return "point_of_no_return";
    case EventKind::hull_touches:
      return "hull_touches";
    case EventKind::frame_touches:
      return "frame_touches";
    case EventKind::at_rest:
      return "at_rest";
  }
  return "";
}

const char* to_string(Outcome outcome) {
  switch (outcome) {
    case Outcome::stands:
      return "stands";
    case Outcome::slides:
      return "slides";
    case Outcome::wheel_up:
      return "wheel_up";
    case Outcome::lifts_and_returns:
      return "lifts_and_returns";
    case Outcome::on_frame:
      return "on_frame";
    case Outcome::rolls_on:
      return "rolls_on";
    case Outcome::overturned_rear:
      return "overturned_rear";
    case Outcome::diverged:
      return "diverged";
  }
  return "";
}

}  // namespace sidehill

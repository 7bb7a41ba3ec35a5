#include "sim/insight/lesson_course.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "terrain/terrain.h"

namespace sidehill {
namespace {

const Event* first_of(const std::vector<Event>& events, EventKind kind) {
  const double from = counts_from(events);
  for (const Event& event : events)
    if (event.kind == kind && event.time >= from) return &event;
  return nullptr;
}

// The stored state at that time, or the last before it.
const State& state_at(const std::vector<State>& states, double time) {
  const auto after = std::ranges::upper_bound(states, time, {}, &State::time);
  return after == states.begin() ? states.front() : *(after - 1);
}

}  // namespace

Followed followed_in(Asked quantity) {
  switch (quantity) {
    case Asked::first_lift_off:
    case Asked::margin:
    case Asked::slide:
    case Asked::gives_way_first:
      return Followed::slope;
    case Asked::lift_off_time:
    case Asked::time_to_balance:
      return Followed::time;
    case Asked::greatest_lean:
      return Followed::lean;
    case Asked::speed_at_end:
      return Followed::speed;
    case Asked::outcome:
      break;
  }
  return Followed::tilt;
}

double lean_sideways(const State& state) {
  const Vec3 left_W = R_WG(state.slope) * state.X_GV.R[1];
  return std::asin(std::clamp(std::abs(left_W.z), 0.0, 1.0)) / kDegree;
}

double tilt_from_ground(const State& state) { return std::acos(std::clamp(state.X_GV.R[2].z, -1.0, 1.0)) / kDegree; }

std::optional<double> follow(Followed what, const State& state, const std::vector<Event>& events) {
  switch (what) {
    case Followed::slope:
      return state.slope / kDegree;
    case Followed::tilt:
      return tilt_from_ground(state);
    case Followed::lean:
      return lean_sideways(state);
    case Followed::speed:
      return glm::length(state.v_G) * 3.6;
    case Followed::time:
      break;
  }
  const Event* lift = first_lift_off(events);
  if (!lift || lift->time > state.time) return {};
  const Event* last = first_of(events, EventKind::point_of_no_return);
  const double until = last ? std::min(last->time, state.time) : state.time;
  return std::max(0.0, until - lift->time);
}

std::vector<AskedMoment> asked_moments(Asked quantity, const Recording& recording, bool ended) {
  std::vector<AskedMoment> moments;
  if (recording.states.empty()) return moments;
  const Followed what = followed_in(quantity);
  const auto add = [&](AskedMoment::Kind kind, const Event* event) {
    if (!event) return;
    std::optional<double> value;
    if (what == Followed::slope)
      value = event->slope / kDegree;  // between two stored states, too
    else if (what == Followed::time)
      value = std::max(0.0, event->time - first_lift_off(recording.events)->time);
    else
      value = follow(what, state_at(recording.states, event->time), recording.events);
    moments.push_back({kind, event->time, value});
  };
  const Event* lift = first_lift_off(recording.events);
  const Event* slide = first_of(recording.events, EventKind::slide);
  switch (quantity) {
    case Asked::first_lift_off:
    case Asked::margin:
    case Asked::lift_off_time:
      add(AskedMoment::lifts, lift);
      break;
    case Asked::slide:
      add(AskedMoment::slides, slide);
      break;
    case Asked::gives_way_first:
      if (slide && (!lift || slide->time <= lift->time))
        add(AskedMoment::slides, slide);
      else
        add(AskedMoment::lifts, lift);
      break;
    case Asked::outcome: {
      const Event* frame = first_of(recording.events, EventKind::frame_touches);
      const Event* hull = first_of(recording.events, EventKind::hull_touches);
      add(AskedMoment::lifts, lift);
      add(AskedMoment::touches, frame && (!hull || frame->time < hull->time) ? frame : hull);
      break;
    }
    case Asked::time_to_balance:
      add(AskedMoment::lifts, lift);
      if (lift) add(AskedMoment::no_return, first_of(recording.events, EventKind::point_of_no_return));
      break;
    case Asked::greatest_lean: {
      std::optional<AskedMoment> most;
      for (const State& state : recording.states)
        if (state.time >= counts_from(recording.events) && (!most || lean_sideways(state) > *most->value))
          most = AskedMoment{AskedMoment::most_lean, state.time, lean_sideways(state)};
      if (most) moments.push_back(*most);
      break;
    }
    case Asked::speed_at_end:
      if (ended) {
        const State& last = recording.states.back();
        moments.push_back({AskedMoment::end, last.time, follow(what, last, recording.events)});
      }
      break;
  }
  std::ranges::sort(moments, {}, &AskedMoment::time);
  return moments;
}

}  // namespace sidehill

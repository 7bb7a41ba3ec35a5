#include "render/screen/desk/asked_now.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

const char* name_of(Followed what) {
  switch (what) {
    case Followed::slope:
      return "Slope of the ground";
    case Followed::tilt:
      return "Tilted from the ground";
    case Followed::lean:
      return "Leans sideways";
    case Followed::speed:
      return "Speed";
    case Followed::time:
      break;
  }
  return "Since a wheel left the ground";
}

std::string value_words(Followed what, std::optional<double> value, Units units) {
  if (!value || !std::isfinite(*value)) return "-";
  switch (what) {
    case Followed::slope:
      return degrees_and_percent(*value * kDegree);
    case Followed::speed:
      return shown(Quantity::speed, *value / 3.6, units);
    case Followed::time:
      return fmt::format("{:.1f} s", *value);
    default:
      return degrees(*value * kDegree);
  }
}

// What the strip's numbers are multiplied by.
double factor_of(Followed what, Units units) {
  return what == Followed::speed ? shown_unit(Quantity::speed, units).factor / 3.6 : 1;
}
std::string unit_of(Followed what, Units units) {
  if (what == Followed::speed) return std::string(shown_unit(Quantity::speed, units).name);
  return what == Followed::time ? "s" : "°";
}

std::string moment_words(const AskedMoment& moment) {
  switch (moment.kind) {
    case AskedMoment::lifts:
      return "a wheel lifts";
    case AskedMoment::slides:
      return "it slides";
    case AskedMoment::no_return:
      return "nothing can stop it";
    case AskedMoment::touches:
      return "body on the ground";
    case AskedMoment::most_lean:
      return "leans most";
    case AskedMoment::end:
      break;
  }
  return "end";
}

std::vector<AskedMoment> moments_of(const Lesson& lesson, const Session& session) {
  return asked_moments(lesson.quantity, *session.recording(), session.finished());
}

std::vector<std::optional<double>> curve_of(Followed what, const Session& session, double factor) {
  std::vector<std::optional<double>> curve;
  curve.reserve(session.recording()->states.size());
  for (const State& state : session.recording()->states) {
    std::optional<double> value = follow(what, state, session.recording()->events);
    if (value) *value *= factor;
    curve.push_back(value);
  }
  return curve;
}

std::vector<AskedMark> marks_of(const Lesson& lesson, const Session& session, Units units) {
  std::vector<AskedMark> marks;
  for (const AskedMoment& moment : moments_of(lesson, session)) {
    const std::string value = moment.kind == AskedMoment::lifts && followed_in(lesson.quantity) == Followed::time
                                  ? fmt::format("at {:.1f} s", moment.time)
                                  : value_words(followed_in(lesson.quantity), moment.value, units);
    marks.push_back({moment.time, moment_words(moment) + ": " + value});
  }
  return marks;
}

}  // namespace

AskedNow asked_now(const Lesson& lesson, const Session& session, const Found* truth, Units units) {
  return asked_now(lesson, *session.recording(), session.shown(), session.finished(), truth, units);
}

AskedNow asked_now(const Lesson& lesson, const Recording& recording, const State& at, bool ended, const Found* truth,
                   Units units) {
  const Followed what = followed_in(lesson.quantity);
  AskedNow now;
  now.name = name_of(what);
  std::optional<double> value = follow(what, at, recording.events);
  std::vector<AskedMoment> past;
  for (const AskedMoment& moment : asked_moments(lesson.quantity, recording, ended))
    if (moment.time <= at.time + 1e-9) past.push_back(moment);

  if (what == Followed::lean) {
    double most = 0;
    for (const State& state : recording.states)
      if (state.time >= counts_from(recording.events) && state.time <= at.time + 1e-9)
        most = std::max(most, lean_sideways(state));
    most = std::max(most, *value);
    now.note = "most so far " + value_words(what, most, units);
  } else if (what == Followed::time) {
    // A run that still goes on does not know its point of no return; the lesson's own run, once worked out, does.
    const bool knows = truth && truth->lift_off_time && truth->balance_time && lesson.show.empty();
    const Event* lift = first_lift_off(recording.events);
    if (knows && value && at.time > *truth->balance_time) value = *truth->balance_time - *truth->lift_off_time;
    const bool lifted = lift && lift->time <= at.time;
    const bool lost =
        std::ranges::any_of(past, [](const AskedMoment& m) { return m.kind == AskedMoment::no_return; }) ||
        (knows && at.time >= *truth->balance_time);
    now.happened = lesson.quantity == Asked::time_to_balance ? lost : lifted;
    if (!lifted)
      now.note = "all wheels are on the ground";
    else if (lost)
      now.note = "from there on nothing could stop it";
    else if (knows)
      now.note = fmt::format("{:.1f} s left until nothing can stop it", *truth->balance_time - at.time);
    else
      now.note = "the clock runs";
  }
  if (!past.empty() && what != Followed::time) {
    const AskedMoment& last = past.back();
    const bool running_most = last.kind == AskedMoment::most_lean;  // said already
    now.happened = !running_most;
    if (!running_most) now.note = moment_words(last) + " at " + value_words(what, last.value, units);
    if (last.kind == AskedMoment::end) now.note = "at the end";
    if (what == Followed::slope) {  // the slope that was asked for stands, however far the ground goes on
      now.note = moment_words(last) + " there; now " + value_words(what, value, units);
      value = last.value;
    }
  }
  now.value = value_words(what, value, units);
  return now;
}

AskedCurve asked_curve(const Lesson& lesson, const Session& a, const Session* b, Units units) {
  const Followed what = followed_in(lesson.quantity);
  const double factor = factor_of(what, units);
  AskedCurve curve;
  curve.name = std::string(name_of(what)) + " [" + unit_of(what, units) + "]";
  curve.a = curve_of(what, a, factor);
  curve.marks_a = marks_of(lesson, a, units);
  if (b && b->recording()) {
    curve.b = curve_of(what, *b, factor);
    curve.marks_b = marks_of(lesson, *b, units);
  }
  double most = what == Followed::time ? 2 : what == Followed::speed ? 10 : 40;
  for (const auto* values : {&curve.a, &curve.b})
    for (const std::optional<double>& value : *values)
      if (value && std::isfinite(*value)) most = std::max(most, *value);
  curve.step = what == Followed::time ? std::max(1.0, std::ceil(most / 4)) : std::max(10.0, 10 * std::ceil(most / 40));
  if (what == Followed::speed && most <= 20) curve.step = 5;
  curve.high = curve.step * std::ceil(most / curve.step - 1e-9);
  return curve;
}

}  // namespace sidehill::screen

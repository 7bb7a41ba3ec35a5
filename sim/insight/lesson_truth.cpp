// The truth of a lesson: what its scene comes to, and which of the answers that is.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/insight/lesson.h"
#include "sim/insight/lesson_course.h"
#include "sim/insight/uncertainty.h"
#include "sim/insight/verdict.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

std::optional<double> in_degrees(std::optional<double> angle) {
  if (angle) *angle /= kDegree;
  return angle;
}

Found found_at_rest(const Scene& scene, Asked quantity, bool with_interval) {
  const Model model = build(scene);
  const StaticSolution statics = solve_statics(model);
  if (statics.status == RestStatus::unsolved)
    throw InputError("no balance was found on this ground, allowed a scene that can be answered at rest");
  Found found;
  found.wheel = statics.first_wheel;
  // The one verdict says what comes first.
  const StandVerdict verdict = verdict_on(scene, model, statics, nullptr);
  const GivesWay* first = verdict.gives_way.empty() ? nullptr : &verdict.gives_way.front().what;
  const bool slides = first && *first == GivesWay::slide;
  if (slides && quantity == Asked::first_lift_off) found.slides_before = in_degrees(statics.slide);
  const auto take = [&](std::optional<double> value, const std::optional<Interval> Uncertainty::*interval) {
    found.value = in_degrees(value);
    if (!value || !with_interval || !scene.terrain.features.empty()) return;
    const Uncertainty doubt = uncertainty(scene, model, statics);
    if (found.slides_before && doubt.slide && !doubt.slide->open)
      found.slide_interval = {doubt.slide->low / kDegree, doubt.slide->high / kDegree};
    if (!(doubt.*interval)) return;
    found.interval = {(doubt.*interval)->low / kDegree, (doubt.*interval)->high / kDegree};
    found.interval_open = (doubt.*interval)->open;
  };
  switch (quantity) {
    case Asked::margin:
      take(statics.margin, &Uncertainty::margin);
      break;
    case Asked::slide:
      take(statics.slide, &Uncertainty::slide);
      break;
    case Asked::gives_way_first:
      if (slides)
        take(statics.slide, &Uncertainty::slide);
      else
        take(statics.first_lift_off, &Uncertainty::first_lift_off);
      found.outcome = slides ? "slides" : first ? "lifts" : "neither";
      break;
    default:
      take(statics.first_lift_off, &Uncertainty::first_lift_off);
      break;
  }
  return found;
}

Found found_by_running(const Scene& scene, Asked quantity) {
  const Recording recording = run(scene);
  if (recording.outcome == Outcome::diverged)
    throw InputError("the simulation diverged (" + recording.divergence + "), allowed a scene that can be run");
  Found found;
  for (const Event& event : recording.events) {
    if (event.kind == EventKind::point_of_no_return) found.balance_time = event.time;
  }
  if (const Event* lift = first_lift_off(recording.events)) {
    found.lift_off_time = lift->time;
    found.wheel = lift->wheel;
  }
  for (const Event& event : recording.events) {
    const bool counts = event.kind == EventKind::lift_off && found.lift_off_time && event.time >= *found.lift_off_time;
    if (counts && (!found.balance_time || event.time <= *found.balance_time) &&
        std::ranges::find(found.lifted, event.wheel, &std::pair<int, double>::first) == found.lifted.end())
      found.lifted.push_back({event.wheel, event.time});
  }
  found.wheels_up = wheels_up_at_end(recording);
  switch (quantity) {
    case Asked::lift_off_time:
      found.value = found.lift_off_time;
      break;
    case Asked::time_to_balance:
      if (found.lift_off_time && found.balance_time) found.value = *found.balance_time - *found.lift_off_time;
      break;
    case Asked::greatest_lean:
      found.value = 0;
      for (const State& state : recording.states)
        if (state.time >= counts_from(recording.events)) found.value = std::max(*found.value, lean_sideways(state));
      break;
    case Asked::speed_at_end:
      found.value = glm::length(recording.states.back().v_G) * 3.6;
      break;
    default:
      break;
  }
  if (quantity == Asked::outcome) found.outcome = to_string(recording.outcome);
  return found;
}

Found find(const Scene& scene, Asked quantity, bool with_interval) {
  Found found = is_of_run(quantity) ? found_by_running(scene, quantity) : found_at_rest(scene, quantity, with_interval);
  found.slope = scene.terrain.slope;
  found.heading = scene.start.heading;
  return found;
}

struct Reply {
  std::optional<double> value;
  std::string outcome;
};
Reply asked(Of of, const Found& a, const std::optional<Found>& b) {
  if (of == Of::a) return {a.value, a.outcome};
  if (of == Of::b) return {b->value, b->outcome};
  if (!a.value || !b->value) return {};
  return {*b->value - *a.value, {}};
}

bool is_right(const LessonAnswer& answer, Asked quantity, const Reply& truth) {
  if (is_outcome(quantity)) return std::ranges::find(answer.outcomes, truth.outcome) != answer.outcomes.end();
  if (!truth.value) return answer.never;
  if (!answer.from && !answer.to) return false;
  return (!answer.from || *truth.value >= *answer.from) && (!answer.to || *truth.value < *answer.to);
}

// Empty unless exactly one is right.
std::optional<std::size_t> right_answer(const Lesson& lesson, const Reply& truth) {
  std::optional<std::size_t> right;
  for (std::size_t i = 0; i < lesson.answers.size(); ++i) {
    if (!is_right(lesson.answers[i], lesson.quantity, truth)) continue;
    if (right) return {};
    right = i;
  }
  return right;
}

std::optional<double> to_border(const LessonAnswer& answer, const Reply& truth) {
  if (!truth.value) return {};
  std::optional<double> least;
  for (const std::optional<double>& end : {answer.from, answer.to})
    if (end) least = std::min(least.value_or(1e300), std::abs(*truth.value - *end));
  return least;
}

void speed_up(Scene& scene, double factor) {
  scene.programme.speed *= factor;
  for (Action& action : scene.programme.actions) action.speed *= factor;
}

bool drives(const Scene& scene) {
  return scene.programme.speed != 0 ||
         std::ranges::any_of(scene.programme.actions, [](const Action& action) { return action.speed != 0; });
}

// Runs the neighbours of what was asked and counts those that come to the same answer.
void try_neighbours(const Lesson& lesson, LessonTruth& truth, const Scene& a, const Scene& b) {
  const auto look = [&](const auto& change) {
    const auto changed = [&](Scene scene) {
      change(scene);
      return find(scene, lesson.quantity, false);
    };
    Found near_a;
    std::optional<Found> near_b;
    if (lesson.of != Of::b) near_a = changed(a);
    if (lesson.of != Of::a) near_b = changed(b);
    const Reply near = asked(lesson.of, near_a, near_b);
    ++truth.tried;
    if (right_answer(lesson, near) == truth.right) ++truth.agreed;
    if (near.value && truth.spread)
      truth.spread = {std::min(truth.spread->first, *near.value), std::max(truth.spread->second, *near.value)};
  };
  if (truth.value) truth.spread = {*truth.value, *truth.value};
  const auto tilt = [](double by) { return [by](Scene& s) { s.terrain.slope += by; }; };
  const auto hurry = [](double factor) { return [factor](Scene& s) { speed_up(s, factor); }; };
  look(tilt(kNeighbourSlope));
  truth.tried_less_slope = std::min(a.terrain.slope, b.terrain.slope) >= kNeighbourSlope;
  if (truth.tried_less_slope) look(tilt(-kNeighbourSlope));
  truth.tried_speeds = drives(a);
  if (!truth.tried_speeds) return;
  look(hurry(1 - kNeighbourSpeed));
  look(hurry(1 + kNeighbourSpeed));
}

}  // namespace

LessonTruth judge(const Lesson& lesson) {
  const auto refuse = [&](const std::string& why) { return InputError(lesson.file.string() + ": " + why); };
  try {
    const bool has_b = !lesson.second.empty();
    const Scene a = scene_of(lesson, SetUp::a), b = has_b ? scene_of(lesson, SetUp::b) : a;
    LessonTruth truth;
    truth.a = find(a, lesson.quantity, true);
    if (has_b) truth.b = find(b, lesson.quantity, true);
    if (!lesson.third.empty()) truth.c = find(scene_of(lesson, SetUp::c), lesson.quantity, true);
    const Reply found = asked(lesson.of, truth.a, truth.b);
    truth.value = found.value;
    truth.outcome = found.outcome;
    const std::optional<std::size_t> right = right_answer(lesson, found);
    if (!right)
      throw refuse(
          fmt::format("answer: the scene comes to {}, and that is not in exactly one answer, allowed answers "
                      "that do not overlap and leave nothing out",
                      is_outcome(lesson.quantity) ? found.outcome
                      : found.value               ? fmt::format("{:.4g}", *found.value)
                                                  : "never"));
    truth.right = *right;
    if (!is_outcome(lesson.quantity)) truth.to_border = to_border(lesson.answers[*right], found);
    if (is_of_run(lesson.quantity)) try_neighbours(lesson, truth, a, b);
    return truth;
  } catch (const InputError& error) {
    const std::string what = error.what();
    throw what.starts_with(lesson.file.string()) ? error : refuse(what);
  }
}

}  // namespace sidehill

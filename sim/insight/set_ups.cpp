#include "sim/insight/set_ups.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "sim/base/errors.h"

namespace sidehill {
namespace {

SetUpAnswer answered(const NamedScene& set_up) {
  SetUpAnswer out{set_up.name, unanswered(set_up.scene), {}, {}, {}, {}, {}};
  constexpr Stage kStagesAsked[] = {Stage::rest,     Stage::loads, Stage::manoeuvres, Stage::limits,
                                    Stage::headings, Stage::worst, Stage::intervals};
  compute(kStagesAsked, out.answer);
  add_job(out);
  add_on_job(out);
  return out;
}

bool slides_first(const StaticSolution& statics) {
  return statics.slide && (!statics.first_lift_off || *statics.slide <= *statics.first_lift_off);
}

}  // namespace

void add_job(SetUpAnswer& set_up) {
  const Answer& answer = set_up.answer;
  set_up.rules = rules_on(answer.scene, answer.model);
  set_up.work = at_work(answer.scene, answer.model, set_up.rules);
  set_up.soil = soil_under(answer.scene, answer.model, set_up.rules);
}

void add_on_job(SetUpAnswer& set_up, const std::stop_token& stop) {
  const Scene& scene = set_up.answer.scene;
  set_up.on_job.reset(), set_up.on_job_range.reset();
  if (scene.job.work == Work::none || !(scene.job.slope > 0)) return;
  set_up.on_job = weakest_in_job(set_up.answer.by_heading, scene.job.headings);
  if (set_up.on_job) set_up.on_job_range = range_at(scene, set_up.on_job->heading, stop);
}

bool ballast_is_no_answer(std::span<const SetUpAnswer* const> set_ups) {
  if (set_ups.size() < 2) return false;
  if (!std::ranges::all_of(set_ups, [](const SetUpAnswer* one) { return slides_first(one->answer.statics); }))
    return false;
  const auto slide = [](const SetUpAnswer* one) { return *one->answer.statics.slide; };
  const auto ballast = [](const SetUpAnswer* one) { return one->work.ballast; };
  const auto [least, most] = std::ranges::minmax_element(set_ups, {}, slide);
  const auto [light, heavy] = std::ranges::minmax_element(set_ups, {}, ballast);
  return slide(*most) - slide(*least) <= kSlideAlike &&
         ballast(*heavy) - ballast(*light) >= kMuchBallast * total_mass(set_ups.front()->answer.model);
}

Scene with_weights_for_liquid(const Scene& scene) {
  const Model model = build(scene);
  Scene out = scene;
  for (TyreFill& fill : out.ballast.fill) fill.fill_fraction = 0;
  out.ballast.front_wheel_weights += 0.5 * fill_mass(model, true);
  out.ballast.rear_wheel_weights += 0.5 * fill_mass(model, false);
  return out;
}

SetUpComparison compare_set_ups(const std::vector<NamedScene>& set_ups) {
  SetUpComparison out;
  std::vector<std::optional<SetUpAnswer>> answers(set_ups.size());
  std::vector<std::string> errors(set_ups.size());
  tbb::parallel_for(std::size_t{0}, set_ups.size(), [&](std::size_t i) {
    try {
      answers[i] = answered(set_ups[i]);
    } catch (const InputError& error) {
      errors[i] = error.what();
    }
  });
  for (std::size_t i = 0; i < set_ups.size(); ++i)
    if (!errors[i].empty()) throw InputError(set_ups[i].name + ": " + errors[i]);
  for (auto& one : answers) out.set_ups.push_back(*std::move(one));
  const Answer& first = out.set_ups.front().answer;
  for (std::size_t i = 1; i < out.set_ups.size(); ++i) {
    const Answer& other = out.set_ups[i].answer;
    out.differences.push_back(difference(first.scene, *first.uncertainty, other.scene, *other.uncertainty));
  }
  std::vector<const SetUpAnswer*> all;
  for (const SetUpAnswer& one : out.set_ups) all.push_back(&one);
  out.ballast_is_no_answer = ballast_is_no_answer(all);
  return out;
}

}  // namespace sidehill

#include "sim/insight/answer.h"

#include <algorithm>
#include <utility>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

// What a stage found, put where it belongs unless nobody wants it any more.
template <class Member, class Found>
bool keep(Member& member, Found found, const std::stop_token& stop) {
  if (stop.stop_requested()) return false;
  member = std::move(found);
  return true;
}

bool compute_headings(Answer& a, int headings, const std::stop_token& stop) {
  return keep(a.by_heading, envelope(a.model, headings, true, stop), stop);
}

}  // namespace

std::array<Stage, kStages> in_order(const Model& model) {
  using enum Stage;
  if (model.terrain.features.empty())
    return {rest, loads, manoeuvres, limits, rules, causes, masses, headings, worst, stiffening, intervals};
  return {rest, loads, manoeuvres, limits, rules, causes, masses, stiffening, intervals, headings, worst};
}

Answer unanswered(const Scene& scene) { return unanswered(scene, build(scene)); }

Answer unanswered(const Scene& scene, const Model& model) {
  Answer a;
  a.scene = scene;
  a.model = model;
  return a;
}

bool compute(Stage stage, Answer& a, const std::stop_token& stop) {
  if (stop.stop_requested()) return false;
  switch (stage) {
    case Stage::rest:
      return keep(a.statics, solve_statics(a.model, stop), stop);
    case Stage::loads:
      return keep(a.loads, check_loads(a.scene, a.model, a.statics, stop), stop);
    case Stage::manoeuvres:
      return keep(a.manoeuvres, manoeuvres(a.scene, a.model, stop), stop);
    case Stage::limits:
      return keep(a.limits, load_limits(a.scene, a.model, a.statics.first_lift_off, stop), stop);
    case Stage::rules:
      return keep(a.rules, rules_on(a.scene, a.model).rules, stop);
    case Stage::causes:
      return keep(a.breakdown, breakdown(a.model, stop), stop);
    case Stage::masses:
      return keep(a.mass_cases, mass_cases(a.scene, a.model, stop), stop);
    case Stage::headings:
      return compute_headings(a, kUsualHeadings, stop);
    case Stage::worst:
      return keep(a.worst, worst_heading(a.model, a.by_heading, a.scene.start.heading, stop), stop);
    case Stage::stiffening:
      if (!a.model.terrain.features.empty()) return true;
      return keep(a.stiffening_doubt, stiffening_doubt(a.model, stop), stop);
    case Stage::intervals:
      return keep(a.uncertainty, uncertainty(a.scene, a.model, a.statics, stop), stop);
  }
  return true;
}

bool compute(std::span<const Stage> stages, Answer& answer, const std::stop_token& stop) {
  return std::ranges::all_of(in_order(answer.model), [&](Stage stage) {
    return std::ranges::find(stages, stage) == stages.end() || compute(stage, answer, stop);
  });
}

bool compute_heading(Answer& a, int i, int headings, const std::stop_token& stop) {
  if (stop.stop_requested()) return false;
  const auto all = static_cast<std::size_t>(headings);
  if (a.by_heading.size() != all) {
    EnvelopePoint not_known;
    not_known.failed = true;
    a.by_heading.assign(all, not_known);
  }
  return keep(a.by_heading[static_cast<std::size_t>(i)], point_at_heading(a.model, -kPi + kTwoPi * i / headings, stop),
              stop);
}

Answer answer(const Scene& scene, int headings) {
  Answer a = unanswered(scene);
  for (const Stage stage : in_order(a.model)) {
    if (stage == Stage::rules || stage == Stage::causes || stage == Stage::intervals) continue;
    if (stage == Stage::headings)
      compute_headings(a, headings, {});
    else
      compute(stage, a);
  }
  return a;
}

Answer with_uncertainty(Answer answer) {
  compute(Stage::intervals, answer);
  return answer;
}

Answer with_reasons(Answer answer) {
  compute(Stage::causes, answer);
  return answer;
}

StandVerdict verdict_on(const Answer& a) {
  return verdict_on(a.scene, a.model, a.statics, a.loads ? &*a.loads : nullptr,
                    a.uncertainty ? &*a.uncertainty : nullptr, &a.limits, a.manoeuvres);
}

Vec3 centre_of_gravity_at_rest(const Model& model, const StaticSolution& statics) {
  if (!statics.rest) return centre_of_gravity(model);
  const Vec3 p_V = inverse(statics.rest->X_GV) * statics.rest->centre_of_gravity_G;
  return p_V + Vec3(0, 0, model.wheels[kRearLeft].tyre.radius);
}

}  // namespace sidehill

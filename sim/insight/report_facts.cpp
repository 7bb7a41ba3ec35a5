#include "sim/insight/report_facts.h"

#include <algorithm>

#include "sim/job/implement_here.h"
#include "sim/motion/run.h"
#include "sim/scene/machine_mark.h"

namespace sidehill {
namespace {

bool is_carried(RuleId id) { return id >= RuleId::front_axle && id <= RuleId::rear_tyres; }

bool bars_signing(StandCause cause) { return cause < StandCause::interval_reaches_slope; }

// The low end of its interval stands as well.
bool is_sure(const JobSlope& job) { return !job.range || job.range->low >= job.slope; }

std::vector<SignBar> bars_of(const Answer& answer, const ReportFacts& facts) {
  std::vector<SignBar> out;
  const auto add = [&](BarKind kind, StandCause cause = StandCause::stands) -> SignBar& {
    out.push_back({kind, cause, {}, 0});
    return out.back();
  };
  if (is_of_other_machine(answer.scene)) add(BarKind::other_machine);
  const StandVerdict verdict = verdict_on(answer);
  if (bars_signing(verdict.headline)) add(BarKind::cause, verdict.headline);
  for (const StandCause cause : verdict.also)
    if (bars_signing(cause)) add(BarKind::cause, cause);
  if (facts.run) {
    const StandCause moving = cause_of(facts.run->outcome, cut_off(answer.model, *facts.run));
    if (bars_signing(moving)) add(BarKind::run, moving);
  }
  if (std::ranges::any_of(answer.by_heading,
                          [&](const EnvelopePoint& point) {
                            return !point.failed && point.gives_way() &&
                                   *point.gives_way() < answer.scene.terrain.slope;
                          }) &&
      !bars_signing(verdict.headline))
    add(BarKind::other_heading);
  if (implement_here(answer.scene) != ImplementHere::all) add(BarKind::without_implement);
  if (const auto& job = facts.job_slope; job && !(job->stands() && job->lost == 0 && is_sure(*job)))
    add(BarKind::job_slope);
  const bool over = verdict.holds(StandCause::over_limit) || verdict.holds(StandCause::may_be_over_limit);
  for (const RuleState state : {RuleState::not_met, RuleState::not_known})
    for (const RuleAnswer& rule : worst_first(facts.rules.rules)) {
      if (!rule.limit || rule.state != state) continue;
      if (state == RuleState::not_met && over && is_carried(rule.id)) continue;  // the verdict says it with its numbers
      const bool said = std::ranges::any_of(out, [&](const SignBar& bar) {
        return (bar.kind == BarKind::limit_broken || bar.kind == BarKind::limit_unknown) && bar.rule.id == rule.id;
      });
      if (said) continue;
      add(state == RuleState::not_met ? BarKind::limit_broken : BarKind::limit_unknown).rule = rule;
    }
  for (int axle = 0; axle < 2; ++axle) {
    const TyreCheck* tyres = &facts.rules.loads.tyres[axle == 0 ? kFrontLeft : kRearLeft];
    if (tyres[0].rating == Rating::typical || tyres[1].rating == Rating::typical)
      add(BarKind::typical_rating).axle = axle;
  }
  if (answer.scene.tolerances.empty()) add(BarKind::not_measured);
  return out;
}

}  // namespace

bool moves(const Scene& scene) {
  const Programme& p = scene.programme;
  return p.drop_height > 0 || p.speed != 0 || p.tilt_rate != 0 || !p.actions.empty();
}

ReportFacts report_facts(const Answer& answer, bool with_run) {
  ReportFacts out;
  out.rules = rules_on(answer.scene, answer.model);
  out.job_slope = slope_of_job(answer.scene, answer.model);
  if (answer.scene.vehicle.loader.fitted) out.loader = loader_grid(answer.scene, kLoaderSteps);
  out.moves = moves(answer.scene);
  if (out.moves && with_run) out.run = run(answer.scene);
  out.bars = bars_of(answer, out);
  return out;
}

}  // namespace sidehill

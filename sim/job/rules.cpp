#include "sim/job/rules.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "sim/job/rules_parts.h"

namespace sidehill {
namespace {

// The machine as the maker delivers it: no ballast, no load, nobody on it, loader off.
AxleShare unladen_of(const Model& model) {
  AxleShare all;
  for (const LedgerLine& line : model.ledger)
    if (line.item == LedgerItem::machine || line.item == LedgerItem::tank) all += axle_share(line, model.wheelbase);
  return all;
}

// A mass at `x` ahead of the rear axle. Source: lever rule.
AxleShare share_at(double mass, double x, double wheelbase) {
  return {mass * x / wheelbase, mass * (1 - x / wheelbase)};
}

// What the job hangs on the machine, where the scene hangs nothing there.
AxleShare hung_by_job(const Scene& scene, const Model& model) {
  const Job& job = scene.job;
  if (job.hitch == JobHitch::linkage && !(scene.ballast.implement.mass > 0))
    return share_at(job.implement_mass, job.implement_x, model.wheelbase);
  if (job.hitch == JobHitch::drawbar && !(scene.ballast.trailer.mass > 0))
    return share_at(job.implement_mass, scene.vehicle.hitch.x, model.wheelbase);
  return {};
}

// Of both tyres of an axle, in proportion to what they carry without the job's implement.
std::array<double, kWheels> loads_on(const Model& model, const AxleShare& axles) {
  std::array<double, kWheels> load = level_loads(model);
  for (const std::size_t left : {std::size_t{0}, std::size_t{2}}) {
    const double before = load[left] + load[left + 1];
    const double now = (left == 0 ? axles.front : axles.rear) * model.gravity;
    for (const std::size_t i : {left, left + 1}) load[i] = before > 0 ? load[i] * now / before : now / 2;
  }
  return load;
}

int urgency(const RuleAnswer& rule) {
  if (rule.state == RuleState::met) return 3;
  if (rule.state == RuleState::not_met) return rule.limit ? 0 : 2;
  return rule.limit ? 1 : 3;
}

}  // namespace

std::optional<double> margin_of(const RuleAnswer& rule) {
  if (!rule.there || (!rule.low && !rule.high)) return std::nullopt;
  double margin = rule.low ? *rule.there - *rule.low : *rule.high - *rule.there;
  if (rule.high) margin = std::min(margin, *rule.high - *rule.there);
  return margin;
}

std::optional<double> weight_for_share(const AxleShare& axles, double wheelbase, double x, double share) {
  if (!(wheelbase > 0)) return std::nullopt;
  const double gain = x / wheelbase - share;
  if (std::abs(gain) < 1e-9) return std::nullopt;
  return (share * (axles.front + axles.rear) - axles.front) / gain;
}

RuleReport rules_on(const Scene& scene, const Model& model) {
  RuleReport report;
  const AxleShare hung = hung_by_job(scene, model);
  report.axles = axle_share(model) + hung;
  report.tractor = axle_share(model) - drawbar_share(model);
  report.tractor -= share_at(scene.ballast.implement.mass, scene.ballast.implement.x, model.wheelbase);
  for (const LedgerLine& line : model.ledger)
    if (line.item == LedgerItem::payload) report.tractor -= axle_share(line, model.wheelbase);
  report.unladen = unladen_of(model);
  report.power = scene.vehicle.engine_power;
  const double slope = std::max(scene.terrain.slope, scene.job.work == Work::none ? 0 : scene.job.slope);
  report.loads = check_loads(scene, model, loads_on(model, report.axles), slope);
  report.tips = loader_tipping(model);

  RuleParts parts{scene, model, report};
  parts.axles_and_tyres();
  parts.mounts();
  parts.steering();
  parts.hitch();
  parts.loader();
  parts.liquid();
  parts.mass_and_split();
  std::ranges::stable_sort(report.rules, {}, &RuleAnswer::id);
  return report;
}

std::vector<RuleAnswer> worst_first(std::vector<RuleAnswer> rules) {
  // Rows of one rule stay together, where its worst row belongs.
  std::array<int, kRuleIds> worst;
  worst.fill(9);
  for (const RuleAnswer& rule : rules) {
    int& of_rule = worst[static_cast<std::size_t>(rule.id)];
    of_rule = std::min(of_rule, urgency(rule));
  }
  std::ranges::stable_sort(rules, [&](const RuleAnswer& a, const RuleAnswer& b) {
    const auto place = [&](const RuleAnswer& r) {
      return std::tuple(worst[static_cast<std::size_t>(r.id)], r.id, urgency(r));
    };
    return place(a) < place(b);
  });
  return rules;
}

bool breaks_limit(const RuleReport& report) {
  return std::ranges::any_of(report.rules, [](const RuleAnswer& rule) { return urgency(rule) == 0; });
}

}  // namespace sidehill

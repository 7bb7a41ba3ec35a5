// What set-ups are compared by. Part of render/text/job/set_ups_report.
#include <algorithm>
#include <cmath>
#include <vector>

#include "render/text/job/set_ups_report.h"
#include "sim/rest/mass_sums.h"
#include "vehicles/liquid.h"

namespace sidehill::text {
namespace {

using Value = std::optional<double>;

std::string never(const SetUpAnswer& s) {
  return s.answer.statics.status == RestStatus::unsolved ? "not known" : "never";
}
std::string not_known(const SetUpAnswer&) { return "not known"; }
std::string no_job(const SetUpAnswer&) { return "not asked"; }

Value fullest_tyre(const SetUpAnswer& s) {
  Value most;
  for (const TyreCheck& tyre : s.rules.loads.tyres)
    if (tyre.service && tyre.margin.capacity > 0) most = std::max(most.value_or(0), tyre.margin.used);
  return most;
}

Value fullest_axle(const SetUpAnswer& s) {
  Value most;
  for (const LoadMargin& axle : s.rules.loads.axles)
    if (axle.capacity > 0) most = std::max(most.value_or(0), axle.used);
  return most;
}

double count_of(const SetUpAnswer& s, RuleState state) {
  return static_cast<double>(
      std::ranges::count_if(s.rules.rules, [&](const RuleAnswer& rule) { return rule.limit && rule.state == state; }));
}

Value rear_slip(const PullAtWork& pull) {
  return pull.answer.kind == PullKind::pulls ? Value(pull.answer.rear_slip) : std::nullopt;
}
std::string no_slip(const SetUpAnswer& s, const PullAtWork& pull) {
  if (s.answer.scene.job.work == Work::none) return "not asked";
  if (!s.work.known) return "not known";
  switch (pull.answer.kind) {
    case PullKind::needs_no_drive:
      return "none";
    case PullKind::axle_lifts:
      return "an axle lifts";
    default:
      return "cannot pull it";
  }
}

// The filling that freezes first.
Value first_ice(const SetUpAnswer& s) {
  Value first;
  const BallastPlan& plan = s.answer.scene.ballast;
  for (std::size_t i = 0; i < kWheels; ++i)
    if (plan.fill[i].fill_fraction > 0) {
      const FreezingPoints ice = freezing_points(mix_of(plan, i));
      if (!ice.known) return std::nullopt;
      if (ice.slush_free) first = std::max(first.value_or(0), *ice.slush_free);
    }
  return first;
}

double liquid_of(const SetUpAnswer& s) { return fill_mass(s.answer.model, true) + fill_mass(s.answer.model, false); }

// Of two fillings the worse one counts; what is not known may be as bad as any but the worst.
int badness(Rust rust) {
  if (rust == Rust::strong) return 4;
  return rust == Rust::not_known ? 3 : static_cast<int>(rust);
}

// Empty where no tyre is filled. What a data sheet says is a sentence: it stands below the rows.
std::string rust(const SetUpAnswer& s) {
  const BallastPlan& plan = s.answer.scene.ballast;
  std::string word;
  int worst = -1;
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (!(plan.fill[i].fill_fraction > 0)) continue;
    const Mix mix = mix_of(plan, i);
    const Rust how = rust_of(mix);
    if (badness(how) <= worst) continue;
    worst = badness(how);
    const bool sheet = mix.medium == Medium::own && !plan.own_medium.rust.empty();
    word = sheet ? "as its sheet says" : std::string(kRustWords[static_cast<std::size_t>(how)].key);
  }
  return word;
}
std::string no_liquid(const SetUpAnswer&) { return "no liquid"; }

Value cost_end(const SetUpAnswer& s, double PriceRange::*end) {
  const auto cost = cost_of_fills(s.answer.scene);
  return cost ? Value((*cost).*end) : std::nullopt;
}
std::string no_price(const SetUpAnswer& s) { return liquid_of(s) > 0 ? "not known" : "no liquid"; }

SetUpRow of_headings(SetUpRow row) {
  row.of_headings = true;
  return row;
}
SetUpRow at_most(SetUpRow row, double most) {
  row.most = most;
  return row;
}
SetUpRow in_a_word(SetUpRow row, std::string (*word)(const SetUpAnswer&)) {
  row.word = word;
  return row;
}

constexpr std::size_t kRear = 1;

}  // namespace

std::span<const SetUpRow> set_up_rows() {
  static const std::vector<SetUpRow> kRows = {
      {"total_mass_kg", "total mass", Quantity::mass,
       [](const SetUpAnswer& s) { return Value(total_mass(s.answer.model)); }, not_known,
       [](const SetUpDifference& d) { return std::optional(d.mass); }},
      {"liquid_kg", "of it in the tyres", Quantity::mass, [](const SetUpAnswer& s) { return Value(liquid_of(s)); },
       not_known},
      {"front_axle_fraction", "on the front axle, level, as loaded", Quantity::share,
       [](const SetUpAnswer& s) {
         const AxleShare axles = axle_share(s.answer.model);
         return Value(axles.front / (axles.front + axles.rear));
       },
       not_known},
      {"mass_per_power_kg_per_kw", "tractor's mass for its power", Quantity::mass_per_power,
       [](const SetUpAnswer& s) { return Value((s.rules.tractor.front + s.rules.tractor.rear) / s.rules.power); },
       not_known},
      {"slide_deg", "slides at, this heading", Quantity::angle,
       [](const SetUpAnswer& s) { return s.answer.statics.slide; }, never,
       [](const SetUpDifference& d) { return d.slide; }},
      {"first_lift_off_deg", "a wheel lifts at, this heading", Quantity::angle,
       [](const SetUpAnswer& s) { return s.answer.statics.first_lift_off; }, never,
       [](const SetUpDifference& d) { return d.first_lift_off; }},
      {"tip_over_deg", "goes over at, this heading", Quantity::angle,
       [](const SetUpAnswer& s) { return s.answer.statics.tip_over; }, never,
       [](const SetUpDifference& d) { return d.tip_over; }},
      of_headings({"worst_heading_slope_deg", "gives way at, worst heading", Quantity::angle,
                   [](const SetUpAnswer& s) {
                     const auto weakest = weakest_heading(s.answer.by_heading, s.answer.worst);
                     return weakest ? weakest->gives_way() : std::nullopt;
                   },
                   never}),
      of_headings({"worst_heading_deg", "which heading that is", Quantity::angle,
                   [](const SetUpAnswer& s) {
                     const auto weakest = weakest_heading(s.answer.by_heading, s.answer.worst);
                     return weakest ? Value(weakest->heading) : std::nullopt;
                   },
                   never}),
      of_headings({"job_gives_way_deg", "gives way at, the job's headings", Quantity::angle,
                   [](const SetUpAnswer& s) { return s.on_job ? s.on_job->gives_way() : std::nullopt; }, no_job}),
      at_most({"tyre_use_fraction", "fullest tyre, of its rating", Quantity::share, fullest_tyre, not_known}, 1),
      at_most({"axle_use_fraction", "fuller axle, of its limit", Quantity::share, fullest_axle, not_known}, 1),
      at_most({"limits_not_met", "limits not met", Quantity::number,
               [](const SetUpAnswer& s) { return Value(count_of(s, RuleState::not_met)); }, not_known},
              0),
      {"limits_not_known", "limits not known", Quantity::number,
       [](const SetUpAnswer& s) { return Value(count_of(s, RuleState::not_known)); }, not_known},
      {"slip_fraction", "slip in the job, level", Quantity::share,
       [](const SetUpAnswer& s) { return rear_slip(s.work.level); },
       [](const SetUpAnswer& s) { return no_slip(s, s.work.level); }},
      {"slip_uphill_fraction", "slip up the job's slope", Quantity::share,
       [](const SetUpAnswer& s) { return s.work.uphill.slope > 0 ? rear_slip(s.work.uphill) : std::nullopt; },
       [](const SetUpAnswer& s) { return s.work.uphill.slope > 0 ? no_slip(s, s.work.uphill) : "not asked"; }},
      {"greatest_pull_kn", "greatest pull, level", Quantity::force,
       [](const SetUpAnswer& s) { return s.work.level.most; }, not_known},
      {"work_fuel_l_per_h", "fuel at work, an hour", Quantity::volume,
       [](const SetUpAnswer& s) { return s.work.work_rate ? Value(*s.work.work_rate / 1e3) : std::nullopt; },
       not_known},
      {"ballast_fuel_l_per_year", "fuel that rolls the ballast, a year", Quantity::volume,
       [](const SetUpAnswer& s) { return Value(s.work.ballast_year / 1e3); }, not_known},
      {"rear_contact_kpa", "rear tyres on the ground, mean", Quantity::pressure,
       [](const SetUpAnswer& s) {
         const StressField& field = s.soil.axles[kRear].field;
         return field.range == StressRange::no_patch ? std::nullopt : Value(field.patch.mean);
       },
       not_known},
      {"rear_stress_50cm_kpa", "stress 50 cm below them", Quantity::pressure,
       [](const SetUpAnswer& s) { return s.soil.axles[kRear].stress[2]; }, not_known},
      {"first_ice_c", "first ice in a tyre", Quantity::temperature, first_ice,
       [](const SetUpAnswer& s) { return std::string(liquid_of(s) > 0 ? "not known or never" : "nothing to freeze"); }},
      in_a_word({"rust", "rusts rim and valve", Quantity::number, nullptr, no_liquid}, rust),
      {"fill_cost_low_eur", "liquid alone costs, least", Quantity::cost,
       [](const SetUpAnswer& s) { return cost_end(s, &PriceRange::low); }, no_price},
      {"fill_cost_high_eur", "liquid alone costs, most", Quantity::cost,
       [](const SetUpAnswer& s) { return cost_end(s, &PriceRange::high); }, no_price},
  };
  return kRows;
}

}  // namespace sidehill::text

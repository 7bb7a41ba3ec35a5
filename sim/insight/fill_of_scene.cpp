#include "sim/insight/fill_of_scene.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/model/model.h"

namespace sidehill {
namespace {

constexpr double kHottestFilling = 40;  // [C], the most that `fill` takes

std::optional<double> coldest_of(const Scene& scene) {
  return scene.job.work == Work::none ? std::nullopt : std::optional(scene.job.coldest);
}

// The two hold the same liquid.
bool same_liquid(const TyreFill& a, const TyreFill& b) {
  return a.medium == b.medium && strength(a.medium, a.concentration) == strength(b.medium, b.concentration);
}

bool filled_alike(const RuleReport& rules, const Scene& scene, bool front) {
  const std::size_t left = front ? kFrontLeft : kRearLeft;
  if (has_liquid(scene, left) != has_liquid(scene, left + 1)) return false;
  if (!same_liquid(scene.ballast.fill[left], scene.ballast.fill[left + 1])) return false;
  return std::ranges::none_of(rules.rules, [&](const RuleAnswer& rule) {
    return rule.id == RuleId::fill_alike && rule.state == RuleState::not_met && (rule.when == "front axle") == front;
  });
}

}  // namespace

bool has_liquid(const Scene& scene, std::size_t wheel) {
  const TyreFill& fill = scene.ballast.fill[wheel];
  return fill.fill_fraction > 0 && !info(fill.medium).turns_with_wheel;
}

bool has_liquid_on(const Scene& scene, bool front) {
  const std::size_t left = front ? kFrontLeft : kRearLeft;
  return has_liquid(scene, left) || has_liquid(scene, left + 1);
}

FillRequest fill_request(const Scene& scene, std::size_t wheel, double load) {
  const bool front = wheel < kRearLeft;
  const Tyre& tyre = (front ? scene.vehicle.front : scene.vehicle.rear).tyre;
  const TyreFill& fill = scene.ballast.fill[wheel];
  FillRequest out;
  out.tyre = tyre.service.empty() || !is_tyre_size(tyre.size + " " + tyre.service) ? tyre.size
                                                                                   : tyre.size + " " + tyre.service;
  out.of_machine = tyre;
  out.medium = info(fill.medium).key;
  if (fill.medium == Medium::own) out.own = scene.ballast.own_medium;
  if (fill.concentration > 0 && strength_range(fill.medium).max > 0) out.concentration = fill.concentration;
  if (!(fill.fill_fraction > 0) && info(fill.medium).turns_with_wheel) out.medium = info(Medium::water).key;
  if (!info(fill.medium).turns_with_wheel || !(fill.fill_fraction > 0)) out.fill = fill.fill_fraction;
  out.temperature_c = scene.settings.filling_temperature - kZeroCelsius;
  if (out.temperature_c > kHottestFilling)
    throw InputError(fmt::format("settings.filling_temperature_c {:g}: allowed up to {:g} C for a filling sheet",
                                 out.temperature_c, kHottestFilling));
  const FreezingPoints ice = freezing_points(mix_of(scene.ballast, wheel));
  if (ice.slush_free && scene.settings.filling_temperature < *ice.slush_free - 1e-9)
    throw InputError(fmt::format(
        "settings.filling_temperature_c {:g}: there is ice in the filling of the {} tyres below {:.1f} C; it "
        "is pumped above that",
        out.temperature_c, front ? "front" : "rear", *ice.slush_free - kZeroCelsius));
  if (const auto coldest = coldest_of(scene); coldest && *coldest <= scene.settings.filling_temperature)
    out.coldest_c = *coldest - kZeroCelsius;
  out.pressure_kpa = tyre.pressure * 1e-3;
  if (load >= 1 && load <= 20000) out.load_kg = load;  // as far as `fill` takes one
  out.tyres = 2;
  if (const PriceRange price = price_of(scene.ballast, wheel); is_given(price)) out.eur_per_l = price;
  return out;
}

AxleFilling axle_filling(const Scene& scene, const RuleReport& rules, bool front) {
  AxleFilling out;
  out.front = front;
  out.scene = scene;
  out.rules = rules;
  out.coldest = coldest_of(scene);
  const Axle& axle = front ? scene.vehicle.front : scene.vehicle.rear;
  out.tyre = axle.tyre;
  out.dual = axle.dual_spacing > 0;
  const std::size_t left = front ? kFrontLeft : kRearLeft, right = left + 1;
  const auto& fills = scene.ballast.fill;
  out.fill = {fills[left].fill_fraction, fills[right].fill_fraction};
  out.alike = filled_alike(rules, scene, front);
  const bool by_left =
      has_liquid(scene, left) && (!has_liquid(scene, right) || fills[left].fill_fraction >= fills[right].fill_fraction);
  out.wheel = by_left ? left : right;
  const std::size_t beside = by_left ? right : left;
  if (!has_liquid(scene, left) && !has_liquid(scene, right))
    out.wheel = fills[right].fill_fraction > fills[left].fill_fraction ? right : left;
  const auto load = [&](std::size_t wheel) {
    const TyreCheck& check = rules.loads.tyres[wheel];
    return check.margin.load * (check.tyres > 1 ? check.fuller : 1);
  };
  const double heavier = std::max(load(left), load(right));
  out.sheet = fill_sheet(fill_request(scene, out.wheel, heavier));
  if (!out.alike && has_liquid(scene, beside)) out.other = fill_sheet(fill_request(scene, beside, heavier));
  return out;
}

std::vector<AxleFilling> axle_fillings(const Scene& scene) {
  std::vector<AxleFilling> out;
  if (!has_liquid_on(scene, true) && !has_liquid_on(scene, false)) return out;
  const Model model = build(scene);
  const RuleReport rules = rules_on(scene, model);
  const std::optional<JobSlope> slope = slope_of_job(scene, model);
  for (const bool front : {true, false})
    if (has_liquid_on(scene, front)) {
      out.push_back(axle_filling(scene, rules, front));
      out.back().job_slope = slope;
    }
  return out;
}

std::vector<RuleAnswer> rules_of(const AxleFilling& filling, RuleId id) {
  std::vector<RuleAnswer> out;
  std::ranges::copy_if(filling.rules.rules, std::back_inserter(out),
                       [&](const RuleAnswer& rule) { return rule.id == id; });
  return out;
}

double pressure_by_rim(const AxleFilling& filling) {
  return filling_rule::kRimPressure * 2 * filling.tyre.rim_radius / filling_rule::kRimStep;
}

std::optional<double> frost_limit(const FillSheet& sheet) {
  if (!sheet.freezing.slush_free) return {};
  return *sheet.freezing.slush_free + 2 * sheet.freezing.slush_free_uncertainty;
}

}  // namespace sidehill

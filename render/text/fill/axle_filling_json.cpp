#include "render/text/fill/axle_filling_json.h"

#include <cmath>

#include "render/text/fill/axle_filling_words.h"
#include "render/text/fill/fill_json.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(); }

// What makers and rules ask, whatever the scene.
Json asked_json() {
  return {{"valve_level", filling_rule::kValveLevel},
          {"never_over", filling_rule::kNeverOver},
          {"radial_rear", filling_rule::kRadialRear},
          {"forest", filling_rule::kForest},
          {"mixing_heat_k", filling_rule::kMixingHeat},
          {"rinse_s", {filling_rule::kRinse, filling_rule::kRinseLong}},
          {"bead_seating_kpa", filling_rule::kBeadSeating * 1e-3},
          {"extra_with_liquid_kpa", filling_rule::kExtraLiquid * 1e-3},
          {"extra_in_furrow_kpa", filling_rule::kExtraFurrow * 1e-3},
          {"extra_front_with_loader_kpa", filling_rule::kExtraLoader * 1e-3},
          {"speed_kmh", {filling_rule::kSlowest * 3.6, filling_rule::kSlow * 3.6}}};
}

Json axle_json(const AxleFilling& filling) {
  const FillSheet& s = filling.sheet;
  Json steps = Json::array();
  for (const FillingStep& step : filling_steps(filling)) steps.push_back({{"lead", step.lead}, {"words", step.words}});
  const std::optional<double> limit = frost_limit(s);
  const double spread = 2 * s.volume_uncertainty, volume = s.jacked.volume * 1e3;
  return {{"axle", filling.front ? "front" : "rear"},
          {"facts", filling_facts(filling)},
          {"alike", filling.alike},
          {"filled_as", kWheelWords[filling.wheel].key},
          {"fill_fraction_of_scene", filling.fill},
          {"litres_each", finite(volume)},
          {"litres_each_low", finite(volume * std::max(1 - spread, 0.0))},
          {"litres_each_high", finite(volume * (1 + spread))},
          {"litres_both", finite(2 * volume)},
          {"litres_both_low", finite(2 * volume * std::max(1 - spread, 0.0))},
          {"litres_both_high", finite(2 * volume * (1 + spread))},
          {"mass_each_kg", finite(mass_of(s))},
          {"mass_both_kg", finite(2 * mass_of(s))},
          {"valve_clock", s.valve && s.valve->reached ? finite(s.valve->hour) : Json()},
          {"level_over_rim_m", finite(s.jacked.level_over_rim)},
          {"level_over_ground_m", finite(s.jacked.level_over_ground)},
          {"air_kpa", finite(s.pressure * 1e-3)},
          {"gauge_top_kpa", finite(s.gauge_top * 1e-3)},
          {"gauge_bottom_kpa", finite(s.gauge_bottom * 1e-3)},
          {"gauge_by_rim_rule_kpa", finite(pressure_by_rim(filling) * 1e-3)},
          {"rim_diameter_m", finite(2 * filling.tyre.rim_radius)},
          {"pump_time_min", finite(s.pump_time / 60)},
          {"coldest_c", filling.coldest ? finite(*filling.coldest - kZeroCelsius) : Json()},
          {"frost_limit_c", limit ? finite(*limit - kZeroCelsius) : Json()},
          {"frost_known", s.freezing.known},
          {"asked", asked_json()},
          {"steps", steps},
          {"fill", to_json(s)}};
}

}  // namespace

Json axle_fillings_json(std::span<const AxleFilling> fillings) {
  Json axles = Json::array();
  for (const AxleFilling& filling : fillings) axles.push_back(axle_json(filling));
  const Scene& scene = fillings.front().scene;
  return {{"program", "sidehill " SIDEHILL_VERSION},
          {"title", scene.title},
          {"vehicle", scene.vehicle.name},
          {"axles", axles},
          {"cautions", {kCautionLine}}};
}

}  // namespace sidehill::text

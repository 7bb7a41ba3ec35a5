#include "render/text/fill/fill_json.h"

#include <cmath>

#include "render/text/fill/fill_words.h"
#include "sim/base/constants.h"
#include "vehicles/load_index.h"
#include "vehicles/tyre_damage.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(); }
Json number(const std::optional<double>& value, double factor = 1) { return value ? number(*value * factor) : Json(); }
Json celsius(const std::optional<double>& kelvin) { return kelvin ? number(*kelvin - kZeroCelsius) : Json(); }

Json frost_json(const WinterAnswer& winter) {
  return {{"medium", info(winter.medium).key},
          {"concentration", number(winter.mass_fraction)},
          {"frost", frost_key(winter.frost)},
          {"doubtful", winter.doubtful},  // within the uncertainty of first ice or last liquid
          {"ice_fraction", number(winter.ice)},
          {"meaning", winter.meaning}};
}

Json let_down_json(const FillSheet& s) {
  if (!s.let_down) return nullptr;
  const LetDown& down = *s.let_down;
  return {
      {"load_kg", number(down.load)},
      {"load_is", down.source == LoadSource::given ? "given" : "assumed: load index brought to this pressure"},
      {"deflection_m", number(down.level.deflection)},
      {"level_rise_m", number(down.level.rise)},
      {"level_over_ground_m", s.fill_fraction > 0 && down.level.level_over_ground > 0  // else under the flattened tread
                                  ? number(down.level.level_over_ground)
                                  : Json()},
      {"fill_fraction", number(down.level.fill_fraction)},
      {"stiffening", number(down.stiffening)},  // vertical stiffness over that on air alone
      {"stiffening_uncertainty", number(down.stiffening_uncertainty)}};
}

Json recipe_json(const FillSheet& s) {
  const Recipe& recipe = s.recipe;
  return {{"tyres", s.request.tyres},
          {"volume_l", number(recipe.volume * 1e3)},
          {"mass_kg", number(recipe.mass)},
          {"product", s.product ? Json(s.product->key) : Json()},
          {"product_purity", s.product ? Json(s.product->purity) : Json()},
          {"product_kg", number(recipe.product_mass)},
          {"product_l", recipe.product_volume > 0 ? number(recipe.product_volume * 1e3) : Json()},
          {"water_l", number(recipe.water_volume * 1e3)},
          {"water_kg", number(recipe.water_mass)},
          {"swelling_l", number(recipe.swelling * 1e3)},  // of the mix over water and liquid product
          {"order", recipe.order}};
}

}  // namespace

Json to_json(const FillSheet& s) {
  const MediumInfo& what = info(s.medium);
  const FillAnswer& at = s.jacked;
  const bool cured = what.turns_with_wheel, wet = !cured && s.fill_fraction > 0;  // else there is no surface
  const auto litres = [](double cubic_metres) { return number(cubic_metres * 1e3); };
  const auto if_level = [&](double value) { return wet ? number(value) : Json(); };
  const auto if_air = [&](double value) { return cured ? Json() : number(value); };
  Json json = {{"program", "sidehill " SIDEHILL_VERSION},
               {"tyre", s.size.designation},
               {"medium", what.key},
               {"what", medium_name(mix_of(s))},
               {"concentration", number(s.mass_fraction)},
               {"temperature_c", number(s.request.temperature_c)},
               {"fill_fraction", number(s.fill_fraction)},
               {"volume_l", litres(at.volume)},
               {"mass_kg", number(at.volume * s.density)},
               {"density_kg_per_m3", number(s.density)},
               {"level_m", if_level(at.level)},
               {"level_over_rim_m", if_level(at.level_over_rim)},
               {"level_over_ground_m", if_level(at.level_over_ground)},
               {"wetted_height_m", if_level(at.wetted_height)},
               {"centre_of_gravity_over_ground_m", number(at.centroid_height)},
               {"valve_clock", s.valve && s.valve->reached ? number(s.valve->hour) : Json()},
               {"cavity_l", litres(cavity_volume(s.cavity))},
               {"cavity_from", s.request.cavity_l ? "given" : "designation"},
               {"air_l", litres(at.air_volume)},
               {"pressure_kpa", if_air(s.pressure * 1e-3)},
               {"pressure_is", s.pressure_typical ? "assumed: typical of the size" : "given"},
               {"gauge_top_kpa", if_air(s.gauge_top * 1e-3)},
               {"gauge_bottom_kpa", if_air(s.gauge_bottom * 1e-3)},
               {"slush_free_c", celsius(s.freezing.slush_free)},
               {"solid_c", celsius(s.freezing.solid)},
               {"freezing_note", s.freezing.note},
               {"expansion_known", expansion_known(s.medium)},
               {"let_down", let_down_json(s)}};
  json["coldest_c"] = number(s.request.coldest_c);
  json["winter"] = s.winter ? frost_json(*s.winter) : Json();
  json["pressure_at_coldest_kpa"] = s.pressure_cold ? if_air(*s.pressure_cold * 1e-3) : Json();
  json["concentration_for_coldest"] = number(s.strength_for_cold);
  json["reserve_for_coldest_c"] = s.ice_reserve > 0 ? number(s.ice_reserve) : Json();
  json["winter_of_all_media"] = s.request.coldest_c ? Json::array() : Json();
  for (const WinterAnswer& other : s.winter_of_all) json["winter_of_all_media"].push_back(frost_json(other));
  json["recipe"] = recipe_json(s);
  json["total"] = {{"tyres", s.request.tyres},
                   {"volume_l", litres(s.recipe.volume)},
                   {"mass_kg", number(s.recipe.mass)},
                   {"flow_l_per_min", number(s.request.flow_l_per_min)},
                   {"pump_time_min", if_air(s.pump_time / 60)}};
  if (s.cost) {
    json["total"]["price_low_eur"] = number(s.cost->low);
    json["total"]["price_high_eur"] = number(s.cost->high);
  }
  json["load_index"] = s.service ? Json(s.service->load_index) : Json();
  json["load_index_kg"] = s.service ? number(load_index_mass(s.service->load_index)) : Json();
  json["load_index_is"] = !s.service ? Json() : Json(s.service_typical ? "typical of the size" : "given");
  json["tube"] = what.tube;
  json["corrosion"] = corrosion_of(mix_of(s));
  json["toxicity"] = toxicity_of(mix_of(s));
  json["spill"] = what.spill;
  json["flat_sink_max_m"] = number(s.flat_sink);  // of the axle's end if a puncture empties the tyre
  json["damage"] = damage_notes(s.medium, s.fill_fraction);
  json["cautions"] = fill_cautions(s);
  json["uncertainty"] = {{"is", "one standard deviation"},
                         {"volume_l", litres(at.volume * s.volume_uncertainty)},
                         {"mass_kg", number(at.volume * s.density * s.mass_uncertainty)},
                         {"density_kg_per_m3", number(s.density * s.density_uncertainty)},
                         {"slush_free_c", s.freezing.slush_free ? number(s.freezing.slush_free_uncertainty) : Json()},
                         {"solid_c", s.freezing.solid ? number(s.freezing.solid_uncertainty) : Json()}};
  json["source"] = what.source;
  return json;
}

}  // namespace sidehill::text

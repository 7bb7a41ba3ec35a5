// What a filling is asked for. The physics is in vehicles/; here it is only gathered and checked.
#include "sim/insight/fill_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/scene/scene.h"
#include "sim/scene/spelling.h"
#include "vehicles/air_spring.h"
#include "vehicles/load_index.h"
#include "vehicles/tyre_cavity.h"
#include "vehicles/tyre_library.h"

namespace sidehill {
namespace {

constexpr double kMostFill = 0.75;  // the trade's rule [-]
constexpr double kBrim = 0.98;      // beyond it a liquid swells by more than the air left on a hot day (estimate) [-]
constexpr double kIceReserve = 3;   // to keep in hand when a strength is proposed [K]

void in_range(const char* flag, double value, double min, double max, const std::string& unit, const char* more = "") {
  if (value >= min && value <= max) return;
  throw InputError(fmt::format("fill: {} {:g}: allowed {}{}{}{}", flag, value,
                               min == max ? fmt::format("{:g} only", min) : fmt::format("{:g} to {:g}", min, max),
                               unit.empty() ? "" : " ", unit, more));
}
void in_range(const char* flag, const std::optional<double>& value, double min, double max, const std::string& unit,
              const char* more = "") {
  if (value) in_range(flag, *value, min, max, unit, more);
}

// `what` "fill: --medium" or "fill: --product": the allowed keys and the one meant, in one line.
template <class Entries>
[[noreturn]] void refuse_key(const char* what, const std::string& typed, const Entries& entries) {
  std::string keys, near, shown = typed.substr(0, 40);
  for (char& c : shown)
    if (static_cast<unsigned char>(c) < 32 || c == 127) c = '?';
  std::size_t fewest = most_mistakes(shown.size()) + 1;
  for (const auto& entry : entries) {
    keys += (keys.empty() ? "" : ", ") + std::string(entry.key);
    // A piece of the key is more telling than its spelling: "calcium", "glycol", "salt".
    const bool part =
        typed.size() >= 4 && (entry.key.find(typed) != entry.key.npos || entry.name.find(typed) != entry.name.npos);
    const std::size_t count = part ? 1 : mistakes(shown, entry.key);
    if (count < fewest) fewest = count, near = entry.key;
  }
  throw InputError(
      fmt::format("{} \"{}\": {}allowed {}", what, shown, near.empty() ? "" : "did you mean " + near + "? ", keys));
}

// The request with the strength that its frost asks for.
FillRequest with_strength(FillRequest r, Medium medium) {
  if (!r.frost_to_c) return r;
  const std::string_view key = info(medium).key;
  if (r.concentration) throw InputError("fill: --frost-to-c and --concentration both say how strong: give one of them");
  if (strength_range(medium).max == 0)
    throw InputError(fmt::format("fill: --frost-to-c: {} has one strength only, leave it out{}", key,
                                 info(medium).solute == Solute::calcium_chloride ? " or take calcium_chloride" : ""));
  in_range("--frost-to-c", r.frost_to_c, -60, 0, "C");
  r.concentration = concentration_for_cold(medium, *r.frost_to_c + kZeroCelsius);
  if (!r.concentration)
    throw InputError(fmt::format(
        "fill: --frost-to-c {:g}: no strength of {} is free of ice there, allowed {:.1f} to 0 C", *r.frost_to_c, key,
        std::ceil((slush_free(medium, strength_range(medium).max) - kZeroCelsius) * 10) / 10));
  return r;
}

const Product* product_of(Medium medium, const std::string& key) {
  const auto all = products(medium);
  if (key.empty()) return all.empty() ? nullptr : &all.front();
  if (all.empty())
    throw InputError(fmt::format("fill: --product: {} is not mixed from anything, leave it out", info(medium).key));
  for (const Product& product : all)
    if (product.key == key) return &product;
  refuse_key("fill: --product", key, all);
}

void check(const FillRequest& r, const Mix& mix) {
  const Medium medium = mix.medium;
  const MediumInfo& what = info(medium);
  const StrengthRange range = strength_range(medium);
  if (r.concentration && range.max == 0)
    throw InputError(fmt::format("fill: --concentration: {} has one strength only, leave it out{}", what.key,
                                 what.solute == Solute::calcium_chloride ? " or take calcium_chloride" : ""));
  in_range("--concentration", r.concentration, range.min, range.max, "",
           " of what is dissolved over solution, by mass");
  in_range("--temperature-c", r.temperature_c, -60, 40, "C");
  in_range("--coldest-c", r.coldest_c, -60, r.temperature_c, "C", " (not above --temperature-c, the filling's)");
  in_range("--fill", r.fill, what.turns_with_wheel ? 1 : 0, 1, "",
           what.turns_with_wheel ? ": foam fills the whole tyre" : " (0.75 is three quarters)");
  if (r.fill && r.valve_clock) throw InputError("fill: --fill and --valve-clock both say how much: give one of them");
  if (r.valve_clock && what.turns_with_wheel)
    throw InputError("fill: --valve-clock: foam fills the whole tyre, leave it out");
  in_range("--valve-clock", r.valve_clock, 0, 12, "", " o'clock, 12 is the top");
  in_range("--pressure-kpa", r.pressure_kpa, 10, 600, "kPa");
  in_range("--load-kg", r.load_kg, 1, 20000, "kg on this tyre");
  in_range("--flow-l-per-min", r.flow_l_per_min, 0.1, 2000, "L/min");
  in_range("--cavity-l", r.cavity_l, 1, 5000, "L");
  in_range("--tyres", r.tyres, 1, 100, "");
  if (r.eur_per_l) {
    in_range("--price-eur-per-l", r.eur_per_l->low, 0, 1000, "EUR/L");
    in_range("--price-eur-per-l", r.eur_per_l->high, r.eur_per_l->low, 1000, "EUR/L", " for the upper end");
  }
  const FreezingPoints ice = freezing_points(mix);
  if (ice.slush_free && r.temperature_c + kZeroCelsius < *ice.slush_free - 1e-9)
    throw InputError(
        fmt::format("fill: --temperature-c {:g}: there is ice in this filling below {:.1f} C, it is pumped above that; "
                    "the winter's "
                    "lowest goes to --coldest-c",
                    r.temperature_c, *ice.slush_free - kZeroCelsius));
}

void let_down(FillSheet& s) {
  const LibraryTyre* known = find_tyre(s.request.tyre);
  s.service = s.size.service;
  // An IF or VF tyre finds its standard sister, whose load is another.
  if (!s.service && known && s.size.flexion == Flexion::standard) {
    s.service = parse_tyre_size(std::string(known->designation) + " " + std::string(known->service)).service;
    s.service_typical = true;
  }
  LetDown down;
  if (s.request.load_kg) {
    down.source = LoadSource::given;
    down.load = *s.request.load_kg;
  } else if (s.service && known) {
    down.source = LoadSource::load_index;
    down.load = rule_of_thumb_load(s.pressure, load_index_mass(s.service->load_index), known->reference_pressure);
  }
  if (down.source == LoadSource::none || info(s.medium).turns_with_wheel) return;
  const double volume = cavity_volume(s.cavity), stiffness = s.tyre.vertical_stiffness,
               load = down.load * kStandardGravity;
  down.stiffening = stiffening_by_liquid(volume, s.fill_fraction, s.pressure, stiffness, load);
  down.stiffening_uncertainty = stiffening_uncertainty(volume, s.fill_fraction, s.pressure, stiffness, load);
  down.level =
      loaded_fill(s.cavity, s.tyre.free_radius, s.fill_fraction, load, stiffness * down.stiffening, s.pressure);
  s.let_down = down;
}

// The doubt grows with strength, so a wider reserve asks for more strength and that for a wider reserve.
void strength_that_holds(FillSheet& s, double coldest) {
  s.ice_reserve = kIceReserve;
  for (int i = 0; i < 100; ++i) {
    s.strength_for_cold = concentration_for_cold(s.medium, coldest, s.ice_reserve);
    if (!s.strength_for_cold) return;
    const double doubt = freezing_points(s.medium, *s.strength_for_cold).slush_free_uncertainty;
    if (doubt <= s.ice_reserve) return;
    s.ice_reserve = doubt + 0.01;
  }
  s.strength_for_cold.reset();
}

void through_winter(FillSheet& s) {
  const Mix mix = mix_of(s);
  s.freezing = freezing_points(mix);
  if (!s.request.coldest_c) return;
  const double coldest = *s.request.coldest_c + kZeroCelsius, filled_at = s.request.temperature_c + kZeroCelsius;
  s.winter = winter(mix, coldest);
  s.winter_of_all = winter_of_all(coldest);
  if (s.winter->frost == Frost::liquid)
    s.pressure_cold =
        pressure_with_liquid(cavity_volume(s.cavity), mix, s.fill_fraction, s.pressure, filled_at, coldest);
  else if (strength_range(s.medium).max > 0)
    strength_that_holds(s, coldest);
}

void what_is_wrong(FillSheet& s) {
  s.overloaded = s.request.load_kg && s.service && *s.request.load_kg > load_index_mass(s.service->load_index);
  if (info(s.medium).turns_with_wheel) return;
  s.brimful = s.fill_fraction > kBrim;
  s.above_valve = !s.valve->reached && s.valve->hour == 12 && s.fill_fraction > 0;
  s.too_full = s.brimful || s.above_valve;
  s.over_three_quarters = s.fill_fraction > kMostFill + 5e-3;
}

}  // namespace

Medium medium_of(const std::string& typed, const char* what) {
  std::string key = typed;
  for (char& c : key) {
    if (c == ' ' || c == '-' || c == '.') c = '_';
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  for (const MediumInfo& medium : media_choices())
    if (medium.key == key) return medium.medium;
  for (const MediumInfo& medium : media())
    if (medium.name == typed) return medium.medium;
  refuse_key(what, key, media_choices());
}

void check_own(const OwnMedium& own, const std::string& verb) {
  if (!(own.density >= kLeastOwnDensity && own.density <= kMostOwnDensity))
    throw InputError(fmt::format("{}: --own-density-kg-per-m3{}: allowed {:g} to {:g} kg/m3, as on the data sheet",
                                 verb, own.density == 0 ? " is not given" : fmt::format(" {:g}", own.density),
                                 kLeastOwnDensity, kMostOwnDensity));
  const auto temperature = [&](const char* flag, const std::optional<double>& kelvin, double most) {
    if (kelvin && !(*kelvin >= kZeroCelsius - 100 && *kelvin <= kZeroCelsius + most))
      throw InputError(fmt::format("{}: {} {:g}: allowed -100 to {:g} C", verb, flag, *kelvin - kZeroCelsius, most));
  };
  temperature("--own-density-at-c", own.density_temperature, 60);
  temperature("--own-first-ice-c", own.first_ice, kNotKnownCelsius);
  temperature("--own-solid-c", own.solid, kNotKnownCelsius);
  const auto first_ice = first_ice_of(own), solid = solid_of(own);
  if (first_ice && solid && *solid > *first_ice)
    throw InputError(fmt::format("{}: --own-solid-c {:g}: allowed up to the first ice, {:g} C", verb,
                                 *solid - kZeroCelsius, *first_ice - kZeroCelsius));
}

FillSheet fill_sheet(const FillRequest& asked) {
  FillSheet s;
  try {
    const std::optional<TyreSize> read = asked.of_machine ? read_tyre_size(asked.tyre) : std::nullopt;
    if (read)
      s.size = *read;
    else if (asked.of_machine)
      s.size.designation = asked.tyre;  // its measures say enough
    else
      s.size = parse_tyre_size(asked.tyre);
  } catch (const std::invalid_argument& error) {
    throw InputError(std::string("fill: ") + error.what());
  }
  s.request = asked;
  const auto& [name, said] = without_frost(asked.medium);
  s.medium = medium_of(name);
  if (said && asked.frost_to_c) throw InputError("fill: --medium names a frost, leave --frost-to-c out");
  if (said) s.request.frost_to_c = said;
  if (s.medium == Medium::own) check_own(asked.own, "fill");
  s.request = with_strength(std::move(s.request), s.medium);
  const FillRequest& request = s.request;
  const Mix mix = mix_of(s);
  check(request, mix);
  s.product = product_of(s.medium, request.product);
  const MediumInfo& what = info(s.medium);
  const double wish = request.concentration.value_or(0), at = request.temperature_c + kZeroCelsius;

  s.tyre =
      request.of_machine ? *request.of_machine : tyre_of_size(request.tyre, request.pressure_kpa.value_or(0) * 1e3);
  if (request.cavity_l) s.tyre.cavity_volume = *request.cavity_l * 1e-3;
  s.cavity = request.of_machine
                 ? cavity_of(s.tyre)
                 : cavity_of(s.tyre.free_radius, s.tyre.rim_radius, s.tyre.section_width, s.tyre.cavity_volume);
  s.pressure = s.tyre.pressure;
  s.pressure_typical = !request.pressure_kpa && !request.of_machine;
  s.by_valve = !request.fill && !what.turns_with_wheel;
  s.fill_fraction = s.by_valve              ? fill_at_valve(s.cavity, request.valve_clock.value_or(12))
                    : what.turns_with_wheel ? 1.0
                                            : *request.fill;
  s.mass_fraction = strength(s.medium, wish);
  s.density = density(mix, at);
  s.jacked = fill_answer(s.cavity, s.tyre.free_radius, s.fill_fraction);
  s.volume_uncertainty = request.cavity_l     ? 0.01
                         : request.of_machine ? cavity_uncertainty(s.tyre)
                                              : s.size.volume_uncertainty;
  s.density_uncertainty = density_uncertainty(mix);
  s.mass_uncertainty = std::hypot(s.volume_uncertainty, s.density_uncertainty);
  if (!what.turns_with_wheel) {
    s.valve = valve_for_fill(s.cavity, s.fill_fraction);
    if (s.by_valve) {  // the clock is flat at the top: what was asked for is nearer than what is worked back
      const double hour = request.valve_clock.value_or(12);
      s.valve = ValveClock{hour == 0 ? 12 : hour < 6 ? 12 - hour : hour, true};
    }
    s.gauge_top = gauge_reading(s.cavity, s.fill_fraction, 12, s.pressure, s.density, kStandardGravity);
    s.gauge_bottom = gauge_reading(s.cavity, s.fill_fraction, 6, s.pressure, s.density, kStandardGravity);
    s.pump_time = pump_time(request.tyres * s.jacked.volume, request.flow_l_per_min * 1e-3 / 60);
  }
  // To the rim's edge, tyre empty; what is left of rubber under it would hold it a little higher.
  if (!what.turns_with_wheel && s.fill_fraction > 0) s.flat_sink = s.tyre.free_radius - s.tyre.rim_radius;
  let_down(s);
  through_winter(s);
  s.recipe = recipe_for_volume(mix, request.tyres * s.jacked.volume, at, s.product);
  const PriceRange price = request.eur_per_l         ? *request.eur_per_l
                           : s.medium == Medium::own ? request.own.price
                                                     : PriceRange{};
  if (request.eur_per_l || is_given(price)) s.cost = cost_of(price, s.recipe.volume);
  what_is_wrong(s);
  return s;
}

}  // namespace sidehill

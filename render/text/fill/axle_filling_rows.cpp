#include "render/text/fill/axle_filling_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/fill/axle_filling_words.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/tyre_damage.h"

namespace sidehill::text {
namespace {

struct Rows {
  const AxleFilling& filling;
  Units units;
  std::vector<FillingRow> rows;

  const FillSheet& sheet() const { return filling.sheet; }
  void add(const char* key, const char* name, std::string value, bool grave = false) {
    if (!value.empty()) rows.push_back({key, name, std::move(value), grave});
  }
  std::string kilograms(double mass) const { return measured(Quantity::mass, mass, mass < 20 ? 1 : 0, units); }
  std::string length(double metres) const { return measured(Quantity::length, metres, 2, units); }
  std::string celsius(double kelvin) const { return measured(Quantity::temperature, kelvin, 1, units); }
  std::string words(std::string_view text) const { return read_in(std::string(text), units); }
};

// Nineteen times in twenty.
std::string mass_range(const Rows& r, double mass) {
  const double off = 2 * r.sheet().mass_uncertainty;
  return fmt::format("{} to {}", r.kilograms(mass * std::max(0.0, 1 - off)), r.kilograms(mass * (1 + off)));
}

void how_much(Rows& r) {
  const FillSheet& s = r.sheet();
  const double volume = s.jacked.volume, mass = mass_of(s);
  r.add("litres", "Litres, each tyre",
        fmt::format("{} ({})", litres_words(volume, r.units), litres_range(s, 1, r.units)));
  r.add("litres_both", "Litres, both",
        fmt::format("{} ({})", litres_words(2 * volume, r.units), litres_range(s, 2, r.units)));
  r.add("kilograms", "Mass, each tyre", fmt::format("{} ({})", r.kilograms(mass), mass_range(r, mass)));
  r.add("kilograms_both", "Mass, both", fmt::format("{} ({})", r.kilograms(2 * mass), mass_range(r, 2 * mass)));
}

void how_far(Rows& r) {
  const FillSheet& s = r.sheet();
  if (!s.valve) return;
  r.add("share", "Of the room inside",
        fmt::format("{}, air left {}", percent(s.fill_fraction), litres_words(s.jacked.air_volume, r.units)),
        s.too_full);
  r.add("valve", "Valve on the clock",
        s.valve->reached    ? valve_words(r.filling) + ", full when liquid runs out of it"
        : s.valve->hour < 9 ? "no help: the surface stays below the rim, count the litres"
                            : "no help: the surface lies above it, count the litres");
  const double over_rim = s.jacked.level_over_rim;
  r.add("over_rim", "A: surface and rim",
        r.length(std::abs(over_rim)) +
            (over_rim < 0 ? " BELOW the rim's lowest edge" : " over the rim's lowest edge, wheel raised"));
  r.add("over_ground", "B: surface and ground", r.length(s.jacked.level_over_ground) + ", wheel raised just clear");
  if (s.let_down && s.let_down->level.level_over_ground > 0)
    r.add("let_down", "Wheel let down",
          fmt::format("surface {} over the ground under {}; the axle sinks by {} (our estimate)",
                      r.length(s.let_down->level.level_over_ground), r.kilograms(s.let_down->load),
                      r.length(s.let_down->level.deflection)));
  if (s.pump_time > 0)
    r.add("pump_time", "Time to pump, both",
          fmt::format("{} at {}", minutes_words(s.pump_time),
                      read_in(fmt::format("{:g} L/min", s.request.flow_l_per_min), r.units)));
}

void gauge(Rows& r) {
  const FillSheet& s = r.sheet();
  if (!s.valve) return;
  r.add("gauge_top", "Gauge, valve at the top", air_words(s.gauge_top, r.units));
  r.add("gauge_bottom", "Gauge, valve at the bottom",
        air_words(s.gauge_bottom, r.units) + ", with the liquid above it");
  if (s.pressure_cold)
    r.add("gauge_cold", "Gauge, coldest night", air_words(*s.pressure_cold, r.units) + ", valve at the top");
}

void frost(Rows& r) {
  const FillSheet& s = r.sheet();
  const FreezingPoints& ice = s.freezing;
  const auto give = [&](double kelvin) {
    return kelvin > 0.05 ? ", " + read_in(fmt::format("give or take {:.1f} K", 2 * kelvin), r.units) : std::string();
  };
  r.add("first_ice", "First ice below",
        !ice.known       ? "not known: ask the seller"
        : ice.slush_free ? r.celsius(*ice.slush_free) + give(ice.slush_free_uncertainty)
                         : "nothing in it freezes");
  if (!ice.known || ice.slush_free)
    r.add("solid", "Solid below", ice.solid ? r.celsius(*ice.solid) + give(ice.solid_uncertainty) : "not known");
  if (!r.filling.coldest) {
    r.add("coldest", "Coldest night", "not known: choose a job (J), it has a coldest night");
    return;
  }
  const std::string at = r.celsius(*r.filling.coldest) + ": ";
  if (!s.winter) {
    r.add("coldest", "Coldest night", at + "warmer than at filling");
    return;
  }
  switch (s.winter->frost) {
    case Frost::solid:
      r.add("coldest", "Coldest night", at + "FREEZES SOLID", true);
      break;
    case Frost::slushy:
      r.add("coldest", "Coldest night",
            at + "TURNS TO SLUSH" + (s.winter->may_be_solid ? ", may be solid" : "") +
                (s.strength_for_cold
                     ? fmt::format("; liquid from {:.0f} % by mass", std::ceil(*s.strength_for_cold * 100))
                     : ""),
            true);
      break;
    case Frost::not_known:
      r.add("coldest", "Coldest night", at + "NOT KNOWN whether it freezes");
      break;
    case Frost::liquid:
      r.add("coldest", "Coldest night", at + (s.winter->doubtful ? "liquid, but MAY FREEZE" : "stays liquid"));
      break;
  }
}

void what_it_does(Rows& r) {
  const FillSheet& s = r.sheet();
  const MediumInfo& what = info(s.medium);
  r.add("rust", "Rust", r.words(corrosion_of(mix_of(s))));
  r.add("tube", "Tube", r.words(what.tube));
  r.add("people", "People, animals", r.words(toxicity_of(mix_of(s))));
  r.add("spill", "Spill", r.words(what.spill));
  const auto damage = damage_notes(s.medium, s.fill_fraction);
  if (!damage.empty()) r.add("puncture", "If it is damaged", r.words(damage.front()));
  if (s.flat_sink) r.add("flat", "Flat", fmt::format("its end of the axle sinks by up to {}", r.length(*s.flat_sink)));
  r.add("repair", "Repair", r.words(repair_work(s.medium)));
  r.add("undo", "To undo it", s.valve ? undo_words(r.filling) : std::string());
}

}  // namespace

std::vector<FillingRow> filling_rows(const AxleFilling& filling, Units units) {
  Rows r{filling, units, {}};
  const FillSheet& s = filling.sheet;
  if (!(s.fill_fraction > 0)) {
    r.add("share", "In both tyres", "no liquid: on air");
    r.add("air", "Air", air_words(s.pressure, units));
    r.add("room", "Room inside, each", litres_words(cavity_volume(s.cavity), units));
    return std::move(r.rows);
  }
  how_much(r);
  how_far(r);
  gauge(r);
  frost(r);
  r.add("mix", "To mix, both tyres", mix_words(filling, units));
  if (s.cost)
    r.add("cost", "Price, both", fmt::format("{:.0f} to {:.0f} EUR, by the price given", s.cost->low, s.cost->high));
  what_it_does(r);
  return std::move(r.rows);
}

}  // namespace sidehill::text

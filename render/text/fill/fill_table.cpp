#include "render/text/fill/fill_table.h"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "render/text/fill/fill_words.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/load_index.h"
#include "vehicles/tyre_damage.h"

namespace sidehill::text {
namespace {

constexpr double kTrack = 1.8;  // of a common tractor, to show what a flat tyre does [m]

std::string row(std::string_view name, std::string_view value, std::string_view note = {}) {
  std::string text = fmt::format("  {:46}{:>12}", name, value);
  if (!note.empty()) text += fmt::format("  {}", note);
  return text + "\n";
}

// More digits than two or three would promise too much, fewer would not fill a small tyre.
std::string litres(double cubic_metres, Units units) {
  return measured(Quantity::volume, cubic_metres, cubic_metres * 1e3 < 20 ? 1 : 0, units);
}
std::string weight(double mass, Units units) {
  return mass < 20 ? measured(Quantity::mass, mass, 1, units) : shown(Quantity::mass, mass, units);
}
std::string length(double metres, Units units) { return measured(Quantity::length, metres, 2, units); }
// Where the value lies nineteen times in twenty: two standard deviations.
std::string around(Quantity quantity, double si, double uncertainty, Units units) {
  const double value = si * shown_unit(quantity, units).factor;
  const int digits = value < 20 ? 1 : 0;
  return number_in(value * std::max(1 - 2 * uncertainty, 0.0), digits, units) + " to " +
         number_in(value * (1 + 2 * uncertainty), digits, units);
}
std::string celsius(double kelvin, Units units) {
  const double c = kelvin - kZeroCelsius;
  return measured(Quantity::temperature, std::abs(c) < 0.05 ? kZeroCelsius : kelvin, 1, units);
}
// As typed: "-20 °C".
std::string typed_celsius(double c, Units units) { return read_in(fmt::format("{:g} °C", c), units); }
std::string pressure_words(double pressure, Units units) { return measured(Quantity::pressure, pressure, 0, units); }
// Beside kPa what older gauges show; in US units there is one scale only.
std::string bar(double pressure, Units units) {
  return units == Units::us ? "" : fmt::format("{:.2f} bar", pressure * 1e-5);
}
std::string share(double fraction) { return fmt::format("{:.1f} %", fraction * 100); }
std::string minutes(double seconds) {
  return seconds < 60 ? fmt::format("{:.0f} s", seconds) : fmt::format("{:.0f} min", seconds / 60);
}
std::string euros(PriceRange price) {
  const int digits = price.high < 20 ? 2 : 0;
  return fmt::format("{:.{}f} to {:.{}f}", price.low, digits, price.high, digits);
}

std::string head(const FillSheet& s, Units units) {
  const MediumInfo& what = info(s.medium);
  std::string text = fmt::format("{} with {}", s.size.designation, read_in(medium_name(mix_of(s), true), units));
  if (strength_range(s.medium).max > 0) text += fmt::format(", {} by mass", share(s.mass_fraction));
  if (what.turns_with_wheel)
    text += ", filled whole";
  else if (s.by_valve)
    text += fmt::format(", filled up to the valve at {}", clock_words(s.valve->hour));
  else
    text += fmt::format(", filled to {} of its room", percent(s.fill_fraction));
  const double volume = s.jacked.volume, mass = mass_of(s);
  text += fmt::format(", at {}\n\n  {} ({}), {} ({}){}.\n", celsius(s.request.temperature_c + kZeroCelsius, units),
                      litres(volume, units), around(Quantity::volume, volume, s.volume_uncertainty, units),
                      weight(mass, units), around(Quantity::mass, mass, s.mass_uncertainty, units),
                      s.request.tyres > 1 ? " in each tyre" : "");
  if (s.request.tyres > 1)
    text += fmt::format("  {} and {} in all {} tyres.\n", litres(s.recipe.volume, units), weight(s.recipe.mass, units),
                        s.request.tyres);
  const ShownUnit density = shown_unit(Quantity::density, units);
  const double last = std::pow(10, density.digits);  // rounded up in the last digit shown
  text +=
      fmt::format("  Density {}, give or take {:.{}f}.\n", measured(Quantity::density, s.density, 0, units),
                  std::ceil(s.density * s.density_uncertainty * density.factor * last - 1e-9) / last, density.digits);
  const std::string room = litres(cavity_volume(s.cavity), units);
  text += paragraph(
      "  ",
      s.request.cavity_l
          ? fmt::format("In brackets: nineteen times in twenty. The room inside, {}, is as given.", room)
          : fmt::format("In brackets: nineteen times in twenty, as the room inside, {}, follows from the size alone; "
                        "--cavity-l takes a data book's.{}",
                        room,
                        s.by_valve ? " Filled up to the valve the level is right whatever the room: a water meter "
                                     "then says what went in."
                                   : ""));
  return text;
}

// The worst that is known of this filling, before anything else; empty where there is nothing.
std::string worst_first(const FillSheet& s, Units units) {
  std::string text;
  const auto say = [&text](const std::string& words) { text += (text.empty() ? "" : "; ") + words; };
  if (s.winter && s.winter->frost == Frost::not_known)
    say(fmt::format("NOT KNOWN WHETHER IT FREEZES AT {}", typed_celsius(*s.request.coldest_c, units)));
  else if (s.winter && s.winter->frost != Frost::liquid)
    say(fmt::format("{} AT {}", s.winter->frost == Frost::solid ? "FREEZES SOLID" : "TURNS TO SLUSH",
                    typed_celsius(*s.request.coldest_c, units)));
  if (s.winter && s.winter->frost == Frost::solid)
    say("DO NOT DRIVE ON IT THEN");
  else if (s.winter && s.winter->doubtful && s.winter->frost != Frost::not_known)
    say(fmt::format("MAY FREEZE AT {}", typed_celsius(*s.request.coldest_c, units)));
  if (s.too_full) say("FILLED TOO FULL, TOO LITTLE AIR IS LEFT");
  if (s.overloaded) say("MORE LOAD THAN THE TYRE'S INDEX ALLOWS");
  return text.empty() ? text : text + ".\n";
}

std::string how_far(const FillSheet& s, Units units) {
  if (!s.valve || !(s.fill_fraction > 0)) return "";
  const FillAnswer& at = s.jacked;
  std::string text = "\nHow far to fill, wheel upright, jacked just clear of the ground\n";
  const double hour = s.valve->hour;
  if (!s.valve->reached)
    text += row(
        "valve", "no help",
        read_in(hour < 9 ? "the surface stays below the rim: count litres" : "the surface lies above it: count litres",
                units));
  else
    text +=
        row("stand the valve at", clock_words(hour),
            hour > 11.99 || hour < 6.01 ? (hour < 6.01 ? "bottom" : "top")
                                        : fmt::format("or {}; the hour as on a clock's face", clock_words(12 - hour)));
  text += row("surface over the rim's lowest edge", length(at.level_over_rim, units),
              at.level_over_rim < 0 ? "negative: below the rim" : "");
  text += row("surface over the ground", length(at.level_over_ground, units));
  text += row(at.level < 0 ? "surface below the wheel's centre" : "surface over the wheel's centre",
              length(std::abs(at.level), units));
  text += row("liquid deep inside the tyre", length(at.wetted_height, units));
  text += row("share of the room", percent(s.fill_fraction), "air left " + litres(at.air_volume, units));
  if (s.pump_time > 0)
    text += row(s.request.tyres > 1 ? "time to pump, all tyres" : "time to pump", minutes(s.pump_time),
                read_in(fmt::format("at {:g} L/min", s.request.flow_l_per_min), units));
  return text;
}

std::string gauge(const FillSheet& s, Units units) {
  if (!s.valve) return "";
  std::string text = fmt::format("\nWhat a gauge shows, {} of air set{}\n", pressure_words(s.pressure, units),
                                 s.pressure_typical ? " (usual for the size; the maker's table decides)" : "");
  text += row("valve at the top: the air", pressure_words(s.gauge_top, units), bar(s.gauge_top, units));
  text += row("valve at the bottom: air and liquid above it", pressure_words(s.gauge_bottom, units),
              bar(s.gauge_bottom, units));
  if (s.pressure_cold)
    text += row(
        "valve at the top, at " + typed_celsius(*s.request.coldest_c, units), pressure_words(*s.pressure_cold, units),
        bar(*s.pressure_cold, units) + (expansion_known(s.medium) ? ""
                                        : units == Units::us      ? "how the liquid shrinks is not known and not in it"
                                                             : "; how the liquid shrinks is not known and not in it"));
  return text;
}

std::string let_down(const FillSheet& s, Units units) {
  if (!s.let_down)
    return s.valve ? "\nLet down on the ground: give --load-kg, what this tyre carries, to see what changes\n" : "";
  const LetDown& down = *s.let_down;
  std::string text = fmt::format("\nLet down on the ground with {} on this tyre\n", weight(down.load, units));
  if (down.source == LoadSource::load_index)
    text += fmt::format(
        "  (assumed: what load index {}{} carries at this pressure by a rule of thumb; --load-kg takes yours)\n",
        s.service->load_index, s.service_typical ? ", typical of the size," : "");
  text += row("axle sinks by", length(down.level.deflection, units));
  text += row("surface rises against the rim by", measured(Quantity::small_length, down.level.rise, 0, units),
              "our estimate, give or take half");
  if (down.level.level_over_ground > 0)
    text += row("surface over the ground", length(down.level.level_over_ground, units));
  const auto part = [](double value) { return value < 0.05 ? share(value) : percent(value); };
  text += row("tyre stiffer than on air alone by", part(down.stiffening - 1),
              fmt::format("our estimate, give or take {}", part(down.stiffening_uncertainty)));
  return text;
}

std::string first_and_last(const FreezingPoints& ice, Units units) {
  const auto give = [units](double k) {
    return k > 0.05 ? read_in(fmt::format("give or take {:.1f} K", k), units) : std::string();
  };
  return row("first ice below", celsius(*ice.slush_free, units), give(ice.slush_free_uncertainty)) +
         row("nothing liquid below", ice.solid ? celsius(*ice.solid, units) : "not known",
             ice.solid ? give(ice.solid_uncertainty) : std::string()) +
         (ice.solid ? std::string() : paragraph("  ", read_in(fmt::format("({})", ice.note), units)));
}

std::string frost(const FillSheet& s, Units units) {
  const auto& ice = s.freezing;
  std::string text = "\nFrost\n";
  if (!ice.known) {
    text += row("first ice", "not known") +
            row("nothing liquid below", ice.solid ? celsius(*ice.solid, units) : "not known");
    if (s.winter)
      text += row("at " + typed_celsius(*s.request.coldest_c, units),
                  s.winter->frost == Frost::solid ? "solid" : "not known");
    return text;
  }
  if (!ice.slush_free)
    return text + fmt::format("  {}\n", info(s.medium).turns_with_wheel ? "nothing in it freezes" : "-");
  if (s.medium == Medium::water)
    text += row("freezes hard below", celsius(*ice.slush_free, units), "and grows by a tenth");
  else
    text += first_and_last(ice, units);
  if (!s.winter) return text;
  const WinterAnswer& at = *s.winter;
  text += row("at " + typed_celsius(*s.request.coldest_c, units),
              at.frost == Frost::liquid   ? "liquid"
              : at.frost == Frost::slushy ? "slushy"
                                          : "solid",
              at.may_be_solid && !at.ice                ? "how much of it is ice is not known, it may be solid"
              : at.doubtful                             ? "but too near to be sure"
              : at.ice > 0 && at.frost == Frost::slushy ? percent(*at.ice) + " of it ice"
                                                        : "");
  const std::string reserve = read_in(fmt::format("{:.1f} K", s.ice_reserve), units);
  if (s.strength_for_cold)
    text += fmt::format("  It stays liquid, with {} in hand, from --concentration {:.3f}.\n", reserve,
                        std::ceil(*s.strength_for_cold * 1e3) / 1e3);
  else if (at.frost != Frost::liquid && strength_range(s.medium).max > 0)
    text += fmt::format("  No strength of it stays liquid, with {} in hand: take another.\n", reserve);
  text += fmt::format("\nWhat others do at {}, at their usual strength\n", typed_celsius(*s.request.coldest_c, units));
  for (const auto& [frost, name] :
       {std::pair{Frost::liquid, "stays liquid"}, {Frost::slushy, "slushy"}, {Frost::solid, "solid"}}) {
    std::string list;
    for (const WinterAnswer& other : s.winter_of_all)
      if (other.frost == frost && !info(other.medium).turns_with_wheel)
        list += (list.empty() ? "" : ", ") + std::string(info(other.medium).key) + (other.doubtful ? " (barely)" : "");
    text += paragraph(fmt::format("  {:14}", name), list.empty() ? "none" : list);
  }
  return text;
}

std::string mixing(const FillSheet& s, Units units) {
  const Recipe& recipe = s.recipe;
  std::string text;
  if (s.product) {
    text = fmt::format("\nWhat to mix for {}{}\n", litres(recipe.volume, units),
                       s.request.tyres > 1 ? fmt::format(" ({} tyres)", s.request.tyres) : "");
    text += row(s.product->name, weight(recipe.product_mass, units),
                recipe.product_volume > 0 ? litres(recipe.product_volume, units) : "");
    text += row("water", litres(recipe.water_volume, units));
    text += row(recipe.swelling < 0 ? "the mix shrinks by" : "the mix takes more room than the water by",
                litres(std::abs(recipe.swelling), units));
    text += paragraph("  ", recipe.order);
    std::string others;
    for (const Product& other : products(s.medium))
      if (&other != s.product) others += (others.empty() ? "" : ", ") + std::string(other.key);
    if (!others.empty()) text += fmt::format("  Bought otherwise: --product {}.\n", others);
  }
  if (!s.cost) return text;
  return text + "\nPrice, as pumped\n" +
         row(s.request.tyres > 1 ? "all tyres" : "the filling", euros(*s.cost), "EUR, by the price given");
}

}  // namespace

std::string fill_table(const FillSheet& s, Units units) {
  units = on_scales(units);
  const auto read = [units](std::string_view words) { return read_in(std::string(words), units); };
  const MediumInfo& what = info(s.medium);
  if (!(s.fill_fraction > 0)) return head(s, units) + "  Nothing goes in: the tyre stays on air.\n";
  std::string text = worst_first(s, units) + head(s, units) + how_far(s, units) + gauge(s, units) + let_down(s, units) +
                     frost(s, units) + mixing(s, units);
  text += "\nHandling\n";
  text += paragraph("  tube    ", read(what.tube)) + paragraph("  rim     ", read(corrosion_of(mix_of(s))));
  if (const std::string_view harm = toxicity_of(mix_of(s)); harm != "None.")
    text += paragraph("  people  ", read(harm));
  text += paragraph("  spill   ", read(what.spill));
  const auto damage = damage_notes(s.medium, s.fill_fraction);
  if (!damage.empty()) text += "\nIf the tyre is damaged\n";
  for (const std::string_view note : damage) text += paragraph("  ", read(note));
  if (s.flat_sink)
    text +=
        paragraph("  ", fmt::format("Flat, this tyre lets its end of the axle down by up to {}: on a track of {} the "
                                    "machine leans by up to {} more, and {} of filling are gone from that wheel.",
                                    length(*s.flat_sink, units), length(kTrack, units),
                                    degrees(std::atan(*s.flat_sink / kTrack), 0), weight(mass_of(s), units)));
  text += "\nCautions\n";
  for (const std::string& caution : fill_cautions(s)) text += paragraph("  ! ", read(caution));
  return text;
}

}  // namespace sidehill::text

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
std::string litres(double cubic_metres) {
  const double l = cubic_metres * 1e3;
  return fmt::format("{:.{}f} L", l, l < 20 ? 1 : 0);
}
std::string weight(double mass) { return mass < 20 ? fmt::format("{:.1f} kg", mass) : kilograms(mass); }
// Where the value lies nineteen times in twenty: two standard deviations.
std::string around(double value, double uncertainty) {
  const int digits = value < 20 ? 1 : 0;
  return fmt::format("{:.{}f} to {:.{}f}", value * std::max(1 - 2 * uncertainty, 0.0), digits,
                     value * (1 + 2 * uncertainty), digits);
}
std::string celsius(double kelvin) {
  const double c = kelvin - kZeroCelsius;
  return fmt::format("{:.1f} °C", std::abs(c) < 0.05 ? 0.0 : c);
}
std::string kilopascal(double pressure) { return fmt::format("{:.0f} kPa", pressure * 1e-3); }
std::string bar(double pressure) { return fmt::format("{:.2f} bar", pressure * 1e-5); }
std::string share(double fraction) { return fmt::format("{:.1f} %", fraction * 100); }
std::string minutes(double seconds) {
  return seconds < 60 ? fmt::format("{:.0f} s", seconds) : fmt::format("{:.0f} min", seconds / 60);
}
std::string euros(PriceRange price) {
  const int digits = price.high < 20 ? 2 : 0;
  return fmt::format("{:.{}f} to {:.{}f}", price.low, digits, price.high, digits);
}

std::string head(const FillSheet& s) {
  const MediumInfo& what = info(s.medium);
  std::string text = fmt::format("{} with {}", s.size.designation, medium_name(mix_of(s), true));
  if (strength_range(s.medium).max > 0) text += fmt::format(", {} by mass", share(s.mass_fraction));
  if (what.turns_with_wheel)
    text += ", filled whole";
  else if (s.by_valve)
    text += fmt::format(", filled up to the valve at {}", clock_words(s.valve->hour));
  else
    text += fmt::format(", filled to {} of its room", percent(s.fill_fraction));
  const double volume = s.jacked.volume, mass = mass_of(s);
  text += fmt::format(", at {}\n\n  {} ({}), {} ({}){}.\n", celsius(s.request.temperature_c + kZeroCelsius),
                      litres(volume), around(volume * 1e3, s.volume_uncertainty), weight(mass),
                      around(mass, s.mass_uncertainty), s.request.tyres > 1 ? " in each tyre" : "");
  if (s.request.tyres > 1)
    text +=
        fmt::format("  {} and {} in all {} tyres.\n", litres(s.recipe.volume), weight(s.recipe.mass), s.request.tyres);
  text += fmt::format("  Density {:.0f} kg/m3, give or take {:.0f}.\n", s.density,
                      std::ceil(s.density * s.density_uncertainty - 1e-9));
  const std::string room = litres(cavity_volume(s.cavity));
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
std::string worst_first(const FillSheet& s) {
  std::string text;
  const auto say = [&text](const std::string& words) { text += (text.empty() ? "" : "; ") + words; };
  if (s.winter && s.winter->frost == Frost::not_known)
    say(fmt::format("NOT KNOWN WHETHER IT FREEZES AT {:g} °C", *s.request.coldest_c));
  else if (s.winter && s.winter->frost != Frost::liquid)
    say(fmt::format("{} AT {:g} °C", s.winter->frost == Frost::solid ? "FREEZES SOLID" : "TURNS TO SLUSH",
                    *s.request.coldest_c));
  if (s.winter && s.winter->frost == Frost::solid)
    say("DO NOT DRIVE ON IT THEN");
  else if (s.winter && s.winter->doubtful && s.winter->frost != Frost::not_known)
    say(fmt::format("MAY FREEZE AT {:g} °C", *s.request.coldest_c));
  if (s.too_full) say("FILLED TOO FULL, TOO LITTLE AIR IS LEFT");
  if (s.overloaded) say("MORE LOAD THAN THE TYRE'S INDEX ALLOWS");
  return text.empty() ? text : text + ".\n";
}

std::string how_far(const FillSheet& s) {
  if (!s.valve || !(s.fill_fraction > 0)) return "";
  const FillAnswer& at = s.jacked;
  std::string text = "\nHow far to fill, wheel upright, jacked just clear of the ground\n";
  const double hour = s.valve->hour;
  if (!s.valve->reached)
    text += row("valve", "no help",
                hour < 9 ? "the surface stays below the rim: count litres" : "the surface lies above it: count litres");
  else
    text +=
        row("stand the valve at", clock_words(hour),
            hour > 11.99 || hour < 6.01 ? (hour < 6.01 ? "bottom" : "top")
                                        : fmt::format("or {}; the hour as on a clock's face", clock_words(12 - hour)));
  text += row("surface over the rim's lowest edge", metres(at.level_over_rim),
              at.level_over_rim < 0 ? "negative: below the rim" : "");
  text += row("surface over the ground", metres(at.level_over_ground));
  text += row(at.level < 0 ? "surface below the wheel's centre" : "surface over the wheel's centre",
              metres(std::abs(at.level)));
  text += row("liquid deep inside the tyre", metres(at.wetted_height));
  text += row("share of the room", percent(s.fill_fraction), "air left " + litres(at.air_volume));
  if (s.pump_time > 0)
    text += row(s.request.tyres > 1 ? "time to pump, all tyres" : "time to pump", minutes(s.pump_time),
                fmt::format("at {:g} L/min", s.request.flow_l_per_min));
  return text;
}

std::string gauge(const FillSheet& s) {
  if (!s.valve) return "";
  std::string text = fmt::format("\nWhat a gauge shows, {} of air set{}\n", kilopascal(s.pressure),
                                 s.pressure_typical ? " (usual for the size; the maker's table decides)" : "");
  text += row("valve at the top: the air", kilopascal(s.gauge_top), bar(s.gauge_top));
  text += row("valve at the bottom: air and liquid above it", kilopascal(s.gauge_bottom), bar(s.gauge_bottom));
  if (s.pressure_cold)
    text += row(fmt::format("valve at the top, at {:g} °C", *s.request.coldest_c), kilopascal(*s.pressure_cold),
                bar(*s.pressure_cold) +
                    (expansion_known(s.medium) ? "" : "; how the liquid shrinks is not known and not in it"));
  return text;
}

std::string let_down(const FillSheet& s) {
  if (!s.let_down)
    return s.valve ? "\nLet down on the ground: give --load-kg, what this tyre carries, to see what changes\n" : "";
  const LetDown& down = *s.let_down;
  std::string text = fmt::format("\nLet down on the ground with {} on this tyre\n", weight(down.load));
  if (down.source == LoadSource::load_index)
    text += fmt::format(
        "  (assumed: what load index {}{} carries at this pressure by a rule of thumb; --load-kg takes yours)\n",
        s.service->load_index, s.service_typical ? ", typical of the size," : "");
  text += row("axle sinks by", metres(down.level.deflection));
  text += row("surface rises against the rim by", fmt::format("{:.0f} mm", down.level.rise * 1e3),
              "our estimate, give or take half");
  if (down.level.level_over_ground > 0) text += row("surface over the ground", metres(down.level.level_over_ground));
  const auto part = [](double value) { return value < 0.05 ? share(value) : percent(value); };
  text += row("tyre stiffer than on air alone by", part(down.stiffening - 1),
              fmt::format("our estimate, give or take {}", part(down.stiffening_uncertainty)));
  return text;
}

std::string first_and_last(const FreezingPoints& ice) {
  const auto give = [](double k) { return k > 0.05 ? fmt::format("give or take {:.1f} K", k) : std::string(); };
  return row("first ice below", celsius(*ice.slush_free), give(ice.slush_free_uncertainty)) +
         row("nothing liquid below", ice.solid ? celsius(*ice.solid) : "not known",
             ice.solid ? give(ice.solid_uncertainty) : std::string()) +
         (ice.solid ? std::string() : paragraph("  ", fmt::format("({})", ice.note)));
}

std::string frost(const FillSheet& s) {
  const auto& ice = s.freezing;
  std::string text = "\nFrost\n";
  if (!ice.known) {
    text += row("first ice", "not known") + row("nothing liquid below", ice.solid ? celsius(*ice.solid) : "not known");
    if (s.winter)
      text +=
          row(fmt::format("at {:g} °C", *s.request.coldest_c), s.winter->frost == Frost::solid ? "solid" : "not known");
    return text;
  }
  if (!ice.slush_free)
    return text + fmt::format("  {}\n", info(s.medium).turns_with_wheel ? "nothing in it freezes" : "-");
  if (s.medium == Medium::water)
    text += row("freezes hard below", celsius(*ice.slush_free), "and grows by a tenth");
  else
    text += first_and_last(ice);
  if (!s.winter) return text;
  const WinterAnswer& at = *s.winter;
  text += row(fmt::format("at {:g} °C", *s.request.coldest_c),
              at.frost == Frost::liquid   ? "liquid"
              : at.frost == Frost::slushy ? "slushy"
                                          : "solid",
              at.may_be_solid && !at.ice                ? "how much of it is ice is not known, it may be solid"
              : at.doubtful                             ? "but too near to be sure"
              : at.ice > 0 && at.frost == Frost::slushy ? percent(*at.ice) + " of it ice"
                                                        : "");
  if (s.strength_for_cold)
    text += fmt::format("  It stays liquid, with {:.1f} K in hand, from --concentration {:.3f}.\n", s.ice_reserve,
                        std::ceil(*s.strength_for_cold * 1e3) / 1e3);
  else if (at.frost != Frost::liquid && strength_range(s.medium).max > 0)
    text += fmt::format("  No strength of it stays liquid, with {:.1f} K in hand: take another.\n", s.ice_reserve);
  text += fmt::format("\nWhat others do at {:g} °C, at their usual strength\n", *s.request.coldest_c);
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

std::string mixing(const FillSheet& s) {
  const Recipe& recipe = s.recipe;
  std::string text;
  if (s.product) {
    text = fmt::format("\nWhat to mix for {}{}\n", litres(recipe.volume),
                       s.request.tyres > 1 ? fmt::format(" ({} tyres)", s.request.tyres) : "");
    text += row(s.product->name, weight(recipe.product_mass),
                recipe.product_volume > 0 ? litres(recipe.product_volume) : "");
    text += row("water", litres(recipe.water_volume));
    text += row(recipe.swelling < 0 ? "the mix shrinks by" : "the mix takes more room than the water by",
                litres(std::abs(recipe.swelling)));
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

std::string fill_table(const FillSheet& s) {
  const MediumInfo& what = info(s.medium);
  if (!(s.fill_fraction > 0)) return head(s) + "  Nothing goes in: the tyre stays on air.\n";
  std::string text = worst_first(s) + head(s) + how_far(s) + gauge(s) + let_down(s) + frost(s) + mixing(s);
  text += "\nHandling\n";
  text += paragraph("  tube    ", what.tube) + paragraph("  rim     ", corrosion_of(mix_of(s)));
  if (const std::string_view harm = toxicity_of(mix_of(s)); harm != "None.") text += paragraph("  people  ", harm);
  text += paragraph("  spill   ", what.spill);
  const auto damage = damage_notes(s.medium, s.fill_fraction);
  if (!damage.empty()) text += "\nIf the tyre is damaged\n";
  for (const std::string_view note : damage) text += paragraph("  ", note);
  if (s.flat_sink)
    text +=
        paragraph("  ", fmt::format("Flat, this tyre lets its end of the axle down by up to {}: on a track of {} the "
                                    "machine leans by up to {} more, and {} of filling are gone from that wheel.",
                                    metres(*s.flat_sink), metres(kTrack), degrees(std::atan(*s.flat_sink / kTrack), 0),
                                    weight(mass_of(s))));
  text += "\nCautions\n";
  for (const std::string& caution : fill_cautions(s)) text += paragraph("  ! ", caution);
  return text;
}

}  // namespace sidehill::text

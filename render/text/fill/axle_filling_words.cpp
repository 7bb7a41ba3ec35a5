#include "render/text/fill/axle_filling_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/fill/fill_words.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/recipe.h"

namespace sidehill::text {
namespace {

std::string cold_words(double kelvin, Units units) {
  return read_in(fmt::format("{:g} °C", std::round((kelvin - kZeroCelsius) * 10) / 10), units);
}

// What a scene's coldest night does to one tyre's filling; empty where it stays liquid for sure.
std::string frost_fact(const AxleFilling& filling, const FillSheet& sheet, const std::string& which, Units units) {
  if (!filling.coldest) {
    if (!sheet.freezing.known)
      return "NOT KNOWN WHETHER IT FREEZES" + which + ", and the coldest night is not known: ask the seller.";
    return sheet.freezing.slush_free ? fmt::format("COLDEST NIGHT NOT KNOWN{}: below {} there may be ice in it.", which,
                                                   frost_limit_words(sheet, units))
                                     : std::string();
  }
  if (!sheet.winter) return {};  // warmer than at filling
  const std::string at = cold_words(*filling.coldest, units);
  switch (sheet.winter->frost) {
    case Frost::solid:
      return fmt::format(
          "FREEZES SOLID AT {}{}, the coldest night. Do not drive on it then: take another liquid, or drain "
          "it before the frost.",
          at, which);
    case Frost::slushy:
      return fmt::format("TURNS TO SLUSH AT {}{}, the coldest night{}. {}", at, which,
                         sheet.winter->may_be_solid ? ", it may be solid" : "",
                         sheet.strength_for_cold ? fmt::format("It stays liquid from a strength of {:.0f} % by mass.",
                                                               std::ceil(*sheet.strength_for_cold * 100))
                                                 : "Take another liquid.");
    case Frost::not_known:
      return fmt::format("NOT KNOWN WHETHER IT FREEZES AT {}{}, the coldest night: ask the seller.", at, which);
    case Frost::liquid:
      break;
  }
  return sheet.winter->doubtful ? fmt::format("MAY FREEZE AT {}{}, the coldest night: first ice can come at {}.", at,
                                              which, frost_limit_words(sheet, units))
                                : std::string();
}

bool frozen(const AxleFilling& filling, const FillSheet& sheet) {
  return filling.coldest && sheet.winter &&
         (sheet.winter->frost == Frost::solid || sheet.winter->frost == Frost::slushy);
}

std::string tyre_side(std::size_t wheel) { return is_left(static_cast<int>(wheel)) ? "left" : "right"; }

// All tyres, axles and this axle's rims against what they may carry on level ground; `certain` by a stated rating or by
// the plate.
std::vector<std::string> overloads(const AxleFilling& filling, bool certain) {
  std::vector<std::string> out;
  const LoadCheck& loads = filling.rules.loads;
  for (std::size_t wheel = 0; wheel < kWheels; ++wheel) {
    const TyreCheck& tyre = loads.tyres[wheel];
    if (!tyre.service || !(tyre.margin.used > 1)) continue;
    const bool stated = tyre.rating == Rating::stated;
    if (stated != certain) continue;
    const OverLimit limit{LimitKind::tyre, static_cast<int>(wheel), tyre.margin, !stated, tyre.tyres > 1, tyre.by_one};
    out.push_back(fmt::format("{}OVERLOADED: {}.", stated ? "TYRE " : "TYRE MAY BE ", limit_words(limit)));
  }
  for (const RuleAnswer& rule : rules_of(filling, filling.front ? RuleId::front_rims : RuleId::rear_rims))
    if (certain && rule.state == RuleState::not_met && rule.there && rule.high)
      out.push_back(fmt::format("RIM OVERLOADED: {}, it may carry {}.", kilograms(*rule.there), kilograms(*rule.high)));
  for (const int which : {filling.front ? 0 : 1, filling.front ? 1 : 0}) {
    const LoadMargin& axle = loads.axles[static_cast<std::size_t>(which)];
    if (certain && axle.capacity > 0 && axle.used > 1)
      out.push_back(fmt::format("AXLE OVERLOADED: {}.", limit_words({LimitKind::axle, which, axle})));
  }
  return out;
}

// "left 368 L, right 196 L of calcium chloride".
std::string holds_words(const AxleFilling& filling, Units units) {
  const auto& [left, right] = *filling.today;
  const TyreHolds& some = left.volume > 0 ? left : right;
  return fmt::format(
      "left {}, right {} of {}", litres_words(left.volume, units), litres_words(right.volume, units),
      read_in(medium_name({some.fill.medium, some.fill.concentration, &filling.scene.ballast.own_medium}, true),
              units));
}

bool holds_liquid(const AxleFilling& filling) {
  return filling.today && ((*filling.today)[0].volume > 0.5e-3 || (*filling.today)[1].volume > 0.5e-3);
}

// What to do with one tyre that may hold something already: "pump in 52 L more".
std::string change_words(const AxleFilling& filling, std::size_t side, Units units) {
  const TyreHolds& in = (*filling.today)[side];
  const TyreFill& wanted = filling.scene.ballast.fill[(filling.front ? kFrontLeft : kRearLeft) + side];
  const double planned =
      filling.fill[side] > 0 ? filling.sheet.jacked.volume * filling.fill[side] / filling.sheet.fill_fraction : 0;
  const bool same = in.fill.medium == wanted.medium && std::abs(strength(in.fill.medium, in.fill.concentration) -
                                                                strength(wanted.medium, wanted.concentration)) < 1e-6;
  if (in.volume > 0.5e-3 && !same && planned > 0)
    return fmt::format("let all {} out, then pump in {}", litres_words(in.volume, units), litres_words(planned, units));
  const double more = planned - in.volume, slack = std::max(2e-3, 0.02 * planned);
  if (std::abs(more) <= slack) return "leave it, it is as planned";
  return more > 0 ? fmt::format("pump in {}{}", litres_words(more, units), in.volume > 0.5e-3 ? " more" : "")
                  : fmt::format("let {} out, pump in nothing", litres_words(-more, units));
}

std::string today_words(const AxleFilling& filling, Units units) {
  return fmt::format(
      "By the log {} are in today. Left tyre: {}. Right tyre: {}. The litres below are for an empty tyre.",
      holds_words(filling, units), change_words(filling, 0, units), change_words(filling, 1, units));
}

// The whole machine with this filling on the job's slope; empty where it stands, or there is no such slope.
std::string slope_fact(const AxleFilling& filling) {
  const auto& slope = filling.job_slope;
  if (!slope || slope->stands()) return {};
  const EnvelopePoint& weakest = *slope->as_is;
  const bool slides = weakest.slide && weakest.gives_way() == weakest.slide;
  return fmt::format("THIS FILLING IS NOT ENOUGH for the job's {}: the machine {} at {}. Do not take it there.",
                     degrees_and_percent(slope->slope), slides ? "slides" : "lifts a wheel",
                     degrees_and_percent(weakest.gives_way(), 1, true));
}

bool is_calcium(const FillSheet& s) { return info(s.medium).solute == Solute::calcium_chloride; }

std::string share_words(double share) { return percent(share); }

// "left 75 %, right 40 %".
std::string differ_words(const AxleFilling& filling, Units units) {
  const auto side = [&](std::size_t i) {
    const std::size_t wheel = (filling.front ? std::size_t{kFrontLeft} : std::size_t{kRearLeft}) + i;
    const Mix mix = mix_of(filling.scene.ballast, wheel);
    return filling.fill[i] > 0
               ? fmt::format("{} {}", share_words(filling.fill[i]), read_in(medium_name(mix, true), units))
               : std::string("air");
  };
  return fmt::format("left {}, right {}", side(0), side(1));
}

std::string recipe_words(const AxleFilling& filling, Units units) {
  const Recipe& recipe = filling.sheet.recipe;
  const std::string all = litres_words(recipe.volume, units);
  if (!filling.sheet.product)
    return filling.sheet.medium == Medium::water ? fmt::format("Water alone, {}: nothing to mix.", all)
                                                 : fmt::format("Bring {}, ready to pump: nothing to mix.", all);
  const std::string product = recipe.product_volume > 0
                                  ? litres_words(recipe.product_volume, units) + " of "
                                  : measured(Quantity::mass, recipe.product_mass, 0, units) + " of ";
  return fmt::format("{}{} and {} of water give {} for both tyres.", product, filling.sheet.product->name,
                     litres_words(recipe.water_volume, units), all);
}

FillingStep mix_step(const AxleFilling& filling, Units units) {
  const FillSheet& s = filling.sheet;
  std::string words = recipe_words(filling, units);
  if (is_calcium(s))
    words += read_in(fmt::format(" Flakes into water, never water onto flakes; slowly: a 30 % mix gets about {:g} K "
                                 "hotter. Let it cool.",
                                 filling_rule::kMixingHeat),
                     units);
  else if (!s.recipe.order.empty())
    words += " " + read_in(std::string(s.recipe.order), units);
  words += fmt::format(" Goggles and gloves; in the eye: rinse {:g} min, better {:g} (chemical supplier).",
                       filling_rule::kRinse / 60, filling_rule::kRinseLong / 60);
  return {"Mix.", words};
}

std::string fill_limits(const AxleFilling& filling) {
  const FillSheet& s = filling.sheet;
  std::string words =
      fmt::format("This filling: {}. Valve level is called {}; never over {}.", share_words(s.fill_fraction),
                  share_words(filling_rule::kValveLevel), share_words(filling_rule::kNeverOver));
  return words + fmt::format(" Rear radial: {} by one maker. In a forest: {}.", share_words(filling_rule::kRadialRear),
                             share_words(filling_rule::kForest));
}

std::string level_words(const AxleFilling& filling, Units units) {
  const FillAnswer& at = filling.sheet.jacked;
  const auto length = [&](double metres) { return measured(Quantity::length, metres, 2, units); };
  const std::string rim = at.level_over_rim >= 0 ? length(at.level_over_rim) + " over the rim's lowest edge"
                                                 : length(-at.level_over_rim) + " below the rim's lowest edge";
  return fmt::format("Fill both tyres of the axle to the same level: {}, {} over the ground, wheel raised.", rim,
                     length(at.level_over_ground));
}

FillingStep valve_step(const AxleFilling& filling) {
  const ValveClock& valve = *filling.sheet.valve;
  if (!valve.reached)
    return {"Valve:", valve.hour < 9
                          ? "the surface stays below the rim: stand the valve at 12 o'clock and count the litres."
                          : "the surface lies above it even at 12 o'clock: count the litres."};
  return {
      "Valve at " + valve_words(filling) + ".",
      "Turn the wheel: 12 o'clock is the top. Full when liquid runs out of it. A lower clock position is for less."};
}

FillingStep pressure_step(const AxleFilling& filling, Units units) {
  const FillSheet& s = filling.sheet;
  return {fmt::format("Set the air to {}.", air_words(s.pressure, units)),
          fmt::format(
              "Valve at the top, plain gauge: {}; makers add {} for each {} of rim diameter for the liquid, here {}. "
              "Valve at the bottom, air-water gauge: {}.",
              measured(Quantity::pressure, s.gauge_top, 0, units),
              measured(Quantity::pressure, filling_rule::kRimPressure, 1, units),
              units == Units::us ? measured(Quantity::length, filling_rule::kRimStep, 2, units)
                                 : measured(Quantity::small_length, filling_rule::kRimStep, 0, units),
              measured(Quantity::pressure, pressure_by_rim(filling), 0, units),
              measured(Quantity::pressure, s.gauge_bottom, 0, units))};
}

// As fast as the slower unit allows, never rounded up by much.
std::string speed_words(double speed, Units units) {
  return measured(Quantity::speed, speed, units == Units::us ? 1 : 0, units);
}

FillingStep undo_step(const AxleFilling& filling) {
  const auto solute = info(filling.sheet.medium).solute;
  std::string words = "Valve low, core out into a vessel, pump out the rest. ";
  if (solute == Solute::calcium_chloride)
    words += "Keep calcium chloride off plants and concrete, rinse tools at once. Old brine goes to a disposal firm.";
  else if (solute == Solute::ethylene_glycol || solute == Solute::propylene_glycol)
    words += "Glycol never to ground, drain or septic tank: hand it to a disposal firm.";
  else if (filling.sheet.medium == Medium::water)
    words += "Old water may hold salt, glycol or rust: ask what was in the tyre before.";
  else
    words += "Old liquid goes to a disposal firm, never to ground, drain or septic tank.";
  return {"To undo it:", words};
}

}  // namespace

std::string mix_words(const AxleFilling& filling, Units units) { return mix_step(filling, units).words; }
std::string undo_words(const AxleFilling& filling) { return undo_step(filling).words; }

bool filling_from_empty(const AxleFilling& filling) { return !holds_liquid(filling); }

std::string axle_title(const AxleFilling& filling) { return filling.front ? "Front tyres" : "Rear tyres"; }

std::string litres_words(double cubic_metres, Units units) {
  return measured(Quantity::volume, cubic_metres, cubic_metres * 1e3 < 20 ? 1 : 0, units);
}

std::string air_words(double pressure, Units units) {
  const std::string words = measured(Quantity::pressure, pressure, 0, units);
  return units == Units::us ? words : words + fmt::format(" ({:.1f} bar)", pressure * 1e-5);
}

std::string frost_words(double kelvin, Units units) {
  const ShownUnit unit = shown_unit(Quantity::temperature, units);
  const double shown = std::ceil(kelvin * unit.factor + unit.offset - 1e-9);
  return fmt::format("{:.0f} {}", shown == 0 ? 0.0 : shown, unit.name);
}

std::string frost_limit_words(const FillSheet& sheet, Units units) {
  if (!sheet.freezing.known) return "not known";
  const std::optional<double> limit = frost_limit(sheet);
  return limit ? frost_words(*limit, units) : "none";
}

std::string valve_words(const AxleFilling& filling) {
  const ValveClock& valve = *filling.sheet.valve;
  if (!valve.reached) return "no help";
  const std::string hour = clock_words(valve.hour);
  return valve.hour > 11.99 || valve.hour < 6.01 ? hour : hour + " or " + clock_words(12 - valve.hour);
}

std::string litres_range(const FillSheet& sheet, double tyres, Units units) {
  const double volume = sheet.jacked.volume * tyres;
  const ShownUnit unit = shown_unit(Quantity::volume, units);
  const int digits = read_digits(Quantity::volume, volume * 1e3 < 20 ? 1 : 0, units);
  const auto end = [&](double factor) {
    return number_in(std::max(volume * factor, 0.0) * unit.factor, digits, units);
  };
  return fmt::format("{} to {} {}", end(1 - 2 * sheet.volume_uncertainty), end(1 + 2 * sheet.volume_uncertainty),
                     unit.name);
}

std::string minutes_words(double seconds) {
  return seconds < 60 ? fmt::format("{:.0f} s", seconds) : fmt::format("{:.0f} min", std::ceil(seconds / 60 - 1e-9));
}

std::vector<FillingFact> ranked_facts(const AxleFilling& filling, Units units) {
  const FillSheet& s = filling.sheet;
  const Job& job = filling.scene.job;
  std::vector<FillingFact> out;
  int rank = 0;
  bool grave = true;
  const auto say = [&](std::string words) {
    if (!words.empty()) out.push_back({rank, grave, std::move(words)});
  };
  const auto say_overloads = [&](bool certain) {
    for (const std::string& words : overloads(filling, certain)) say(read_in(words, units));
  };
  const auto say_rating = [&] {
    if (filling.rules.loads.tyres[filling.wheel].rating == Rating::not_known)
      say("NOT KNOWN WHAT THE TYRE MAY CARRY: read its sidewall.");
  };
  const bool liquid = has_liquid_on(filling.scene, filling.front);
  const std::string one = filling.other ? " in the " + tyre_side(filling.wheel) + " tyre" : "";
  const std::string two = filling.other ? " in the " + tyre_side(filling.wheel ^ 1U) + " tyre" : "";
  const auto say_frost = [&](bool certain) {
    if (!liquid) return;
    if (frozen(filling, s) == certain) say(frost_fact(filling, s, one, units));
    if (filling.other && frozen(filling, *filling.other) == certain)
      say(frost_fact(filling, *filling.other, two, units));
  };
  say(other_machine_caution(filling.scene));
  ++rank;
  if (holds_liquid(filling)) say("THE TYRES ARE NOT EMPTY. " + today_words(filling, units));
  ++rank;
  say_frost(true);
  ++rank;
  say(slope_fact(filling));
  ++rank;
  if (liquid && job.liquid_permitted == YesNo::no)
    say("LIQUID IS NOT PERMITTED by the makers of tyre or rim: do not fill.");
  ++rank;
  if (s.too_full) say("TOO FULL: too little air is left, the tyre has no spring and can burst. Let liquid out.");
  if (liquid && s.fill_fraction > filling_rule::kNeverOver && !s.too_full)
    say(fmt::format("TOO FULL: over {}, which one maker never allows.", percent(filling_rule::kNeverOver)));
  ++rank;
  if (liquid && job.backhoe && !filling.front)
    say("A BACKHOE IS FITTED: take rear ballast out, says one maker. Do not fill.");
  ++rank;
  say_overloads(true);
  ++rank;
  say_overloads(false);
  ++rank;
  grave = false;
  say_frost(false);
  ++rank;
  if (liquid && job.liquid_permitted == YesNo::not_known)
    say("NOT KNOWN WHETHER LIQUID IS PERMITTED by the makers of tyre and rim: ask before you fill.");
  ++rank;
  if (liquid && !filling.alike)
    say(fmt::format("LEFT AND RIGHT DIFFER in the scene ({}): this page fills both as the {} one.",
                    differ_words(filling, units), tyre_side(filling.wheel)));
  ++rank;
  say_rating();
  if (!liquid) return out;
  ++rank;
  if (filling.front) say("FRONT TYRES: one maker forbids liquid in them, because of the steering.");
  ++rank;
  if (s.over_three_quarters && !s.too_full && s.fill_fraction <= filling_rule::kNeverOver)
    say(fmt::format("OVER {}: more than many makers allow.", percent(filling_rule::kValveLevel)));
  ++rank;
  if (filling.rules.loads.tyres[filling.wheel].radial && !filling.front && s.fill_fraction > filling_rule::kRadialRear)
    say(fmt::format("RADIAL: one maker allows {} in a rear tyre, not {}.", percent(filling_rule::kRadialRear),
                    percent(s.fill_fraction)));
  ++rank;
  for (const RuleAnswer& rule : rules_of(filling, RuleId::liquid_speed))
    if (rule.state == RuleState::not_met) {
      say(fmt::format("TOO FAST: the scene drives {}; with liquid {} at most.", speed_words(*rule.there, units),
                      speed_words(filling_rule::kSlowest, units)));
      break;
    }
  ++rank;
  for (const RuleAnswer& rule : rules_of(filling, RuleId::tube))
    if ((rule.when == "front tyres") == filling.front && rule.state != RuleState::met)
      say(rule.state == RuleState::not_met ? "SALT WITHOUT A TUBE: it rusts the rim."
                                           : "NOT KNOWN WHETHER THERE ARE TUBES: salt rusts a bare rim.");
  ++rank;
  if (filling.dual) say("DUAL WHEELS: the inner tyre of each side is filled, the outer one stays on air.");
  ++rank;
  if (s.medium == Medium::ethylene_glycol || s.medium == Medium::methanol || s.medium == Medium::own)
    say(read_in(std::string(info(s.medium).caution), units));
  return out;
}

std::vector<std::string> filling_facts(const AxleFilling& filling, Units units) {
  std::vector<std::string> out;
  for (FillingFact& fact : ranked_facts(filling, units)) out.push_back(std::move(fact.words));
  if (out.empty()) out.emplace_back("Nothing is known against this filling; the makers' word counts.");
  return out;
}

std::vector<FillingStep> filling_steps(const AxleFilling& filling, Units units) {
  const FillSheet& s = filling.sheet;
  std::vector<FillingStep> out;
  const auto step = [&out](std::string lead, std::string words) { out.push_back({std::move(lead), std::move(words)}); };
  step("Who?", "Special equipment and training: the dealer or a tyre service.");
  step("Raise.", "Wheel off the ground, load on stands, never on the jack alone. Chock the other wheels.");
  step("Do not fill", "front wheels (one maker: steering); with a backhoe, take rear ballast out.");
  if (holds_liquid(filling)) step("First:", today_words(filling, units));
  out.push_back(mix_step(filling, units));
  out.push_back(valve_step(filling));
  step("Valve core out:",
       "all air out first. Vent: air must get out while liquid goes in (air-water valve, or let it burp).");
  const std::string each = litres_words(s.jacked.volume, units);
  step(holds_liquid(filling) ? "An empty tyre takes " + each + "," : "Pump " + each + " in each tyre,",
       fmt::format("{} in both; {} at {}.", litres_words(s.recipe.volume, units), minutes_words(s.pump_time),
                   read_in(fmt::format("{:g} L/min", s.request.flow_l_per_min), units)));
  step("Same level.", level_words(filling, units));
  step("Fill limit.", fill_limits(filling));
  step("Inflate:",
       fmt::format("stand behind the tread, out of the trajectory; clear flat solid objects away. Clip-on chuck, "
                   "in-line valve with gauge, long hose. Wheel in a cage, behind a barrier, or on the vehicle "
                   "with nuts fully tight. Never over the sidewall pressure, to seat beads never over {}.",
                   air_words(filling_rule::kBeadSeating, units)));
  step("A tyre that lost all its air:", "have it serviced, do not pump it up.");
  out.push_back(pressure_step(filling, units));
  step("More air:",
       fmt::format("makers add {} with liquid, {} for a downhill or furrow tyre, {} for a front tyre with a "
                   "loader. Never over the sidewall.",
                   measured(Quantity::pressure, filling_rule::kExtraLiquid, 0, units),
                   measured(Quantity::pressure, filling_rule::kExtraFurrow, 0, units),
                   measured(Quantity::pressure, filling_rule::kExtraLoader, 0, units)));
  step("No heat:", "no welding or heating of rims; no cracked, bent or pitted parts.");
  step("Wheel nuts:", "torque by the maker's manual, we know no number. Tighten again after the first hours.");
  step("Speed", fmt::format("with liquid: {} at most (one maker), {} (another).",
                            speed_words(filling_rule::kSlowest, units), speed_words(filling_rule::kSlow, units)));
  step("Mark the wheel:",
       fmt::format("what liquid, how much, date, frost limit {}. Check the pressure at least monthly.",
                   frost_limit_words(s, units)));
  step("Spill:", read_in(std::string(info(s.medium).spill), units));
  out.push_back(undo_step(filling));
  step("Law:",
       "29 CFR 1910.177 itself leaves out employers under the US farm standard; Washington State has the same duties "
       "for farms (WAC 296-307-530). Local rules come first.");
  return out;
}

}  // namespace sidehill::text

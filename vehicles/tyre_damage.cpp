// Paragraphs on damage (see tyre_damage.h). Short, because they stand on a screen and in a terminal.
#include "vehicles/tyre_damage.h"

namespace sidehill {
namespace {

constexpr std::string_view kPuncture =
    "Puncture: the air drives the liquid out first, then its own weight does, until the surface has sunk to the hole; "
    "as "
    "the wheel turns the hole comes to the bottom and nearly everything runs out. That wheel loses the weight of its "
    "filling and the tyre goes flat: the axle sinks on that side and the machine leans towards it, which on a slope "
    "takes "
    "margin if it is the downhill tyre and lets the wheel lift sooner if it is the uphill one. Do not turn or climb on "
    "it: lower the loader, go straight to level ground, jack the axle and turn the hole to the top.";

// What runs out, and where it goes.
constexpr std::string_view kSaltOut =
    "What runs out is brine: it kills what grows there, salts ground and wells and rusts what it wets. Catch it, keep "
    "it "
    "out of drains and ditches, rinse rim, axle and brake with fresh water the same day.";
constexpr std::string_view kGlycolOut =
    "What runs out is glycol and water: catch it before it reaches a ditch, and keep animals away; ethylene glycol "
    "tastes sweet and kills them.";
constexpr std::string_view kMethanolOut =
    "What runs out burns with a flame nobody sees and its vapour is poison: engine off, no spark, keep away until it "
    "has "
    "dried off, and let nobody weld on that wheel before it has been aired out.";
constexpr std::string_view kBeetOut =
    "What runs out is sticky and feeds whatever lives in a ditch or pond until the oxygen is gone: catch it, and wash "
    "roads before somebody slips.";
constexpr std::string_view kWaterOut =
    "What runs out is water, with rust and rubber dirt of the tyre in it: no harm to the ground, but ice on a road in "
    "frost.";

constexpr std::string_view kOwnOut =
    "What runs out is not in the library: catch it, keep it out of drains and ditches and away from skin, and read its "
    "safety data sheet.";

constexpr std::string_view kTubeForSalt =
    "Inner tube: it keeps brine off the rim, and is the usual thing for salt fillings. A tube hides slow leaks between "
    "tube and rim, where brine then sits unseen: look at the rim every year. It tears at the valve if the tyre slips "
    "on "
    "its rim at low pressure, and the whole filling then leaves by the valve hole.";
constexpr std::string_view kTube =
    "Inner tube: not needed for this filling. Where there is one, it tears at the valve if the tyre slips on its rim "
    "at "
    "low pressure, and the whole filling then leaves by the valve hole; a tubeless tyre seeps from bead or puncture "
    "and "
    "gives more warning.";

constexpr std::string_view kTubeForOwn =
    "Inner tube: whether this filling needs one is not known. Where there is one, it tears at the valve if the tyre "
    "slips on its rim at low pressure, and the whole filling then leaves by the valve hole.";

constexpr std::string_view kFoam =
    "Foam fill: a puncture lets nothing out and the load and height stay as they are, so a nail goes unnoticed. A deep "
    "cut or a torn bead still ends the tyre, and the foam cannot be let out: tyre and foam are cut off the rim "
    "together. "
    "The weight turns with the wheel and cannot be left at home; the ride is hard, so go slower, and look after wheel "
    "nuts and axle.";

std::string_view what_runs_out(Medium medium) {
  const std::optional<Solute> solute = info(medium).solute;
  if (medium == Medium::beet_by_product) return kBeetOut;
  if (medium == Medium::own) return kOwnOut;
  if (!solute) return kWaterOut;
  switch (*solute) {
    case Solute::sodium_chloride:
    case Solute::calcium_chloride:
    case Solute::magnesium_chloride:
      return kSaltOut;
    case Solute::ethylene_glycol:
    case Solute::propylene_glycol:
      return kGlycolOut;
    case Solute::methanol:
      return kMethanolOut;
  }
  return kWaterOut;
}

}  // namespace

std::vector<std::string_view> damage_notes(Medium medium, double fill_fraction) {
  if (!(fill_fraction > 0)) return {};
  if (info(medium).turns_with_wheel) return {kFoam};
  const std::string_view out = what_runs_out(medium);
  return {kPuncture, out, out == kSaltOut ? kTubeForSalt : out == kOwnOut ? kTubeForOwn : kTube};
}

std::string_view repair_work(Medium medium) {
  if (info(medium).turns_with_wheel) return "None for a nail. A torn tyre is cut off the rim with its foam.";
  const std::string_view out = what_runs_out(medium);
  if (out == kSaltOut) return "Catch the brine, patch tube or tyre, rinse rim and brake with fresh water, fill again.";
  if (out == kGlycolOut) return "Catch all of it, patch, fill again; hand what is dirty to a disposal firm.";
  if (out == kMethanolOut)
    return "No flame or spark; catch it, air the tyre out before any work on it, patch, fill again.";
  if (out == kBeetOut) return "Catch it, wash the sticky rim, patch, fill again.";
  if (out == kOwnOut)
    return "Catch it, patch, fill again. What it does to rim and skin is known only as far as it is typed in.";
  return "Let it run, patch, fill again.";
}

}  // namespace sidehill

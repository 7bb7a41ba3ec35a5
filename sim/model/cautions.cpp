// What a set-up must be warned of (see builder.h).
#include <fmt/format.h>

#include <algorithm>

#include "sim/base/constants.h"
#include "sim/model/builder.h"
#include "sim/model/fill_frost.h"
#include "vehicles/filling.h"
#include "vehicles/loader_tool.h"
#include "vehicles/tyre_cavity.h"
#include "vehicles/winter.h"

namespace sidehill {
namespace {

// One sentence of a kind, however many tyres it is true of.
void say_once(Builder& b, std::string sentence) {
  auto& out = b.model.cautions;
  if (std::find(out.begin(), out.end(), sentence) == out.end()) out.push_back(std::move(sentence));
}

std::string may_freeze(const Mix& mix, double celsius) {
  const FreezingPoints ice = freezing_points(mix);
  return fmt::format(
      "At {:.0f} °C the {} in the tyres may freeze: its first ice is at {:.1f} °C, give or take {:.1f} K.", celsius,
      medium_name(mix), *ice.slush_free - kZeroCelsius, ice.slush_free_uncertainty);
}

void add_fill_cautions(Builder& b) {
  const Settings& settings = b.scene.settings;
  for (int w = 0; w < kWheels; ++w) {
    const TyreFill& fill = b.scene.ballast.fill[static_cast<std::size_t>(w)];
    if (fill.fill_fraction <= 0 || info(fill.medium).turns_with_wheel) continue;
    const double rim_top = fill_at_valve(cavity_of(axle_of(b.vehicle, w).tyre), 12);
    // A valve at the top lets in a little more than three quarters in most sizes; to there the trade fills.
    if (fill.fill_fraction > std::max(0.75, rim_top) + 1e-3)
      say_once(
          b, fmt::format("A tyre is filled above {:.0f} %: an air cushion must stay, or the casing takes every shock.",
                         100 * std::max(0.75, rim_top)));
    else if (fill.fill_fraction > rim_top)
      say_once(b,
               fmt::format("A tyre is filled above the rim's top, which in its size is at {:.0f} %: no valve position "
                           "reaches that, and the air cushion is small.",
                           100 * rim_top));
    const Mix mix = mix_of(b.scene.ballast, static_cast<std::size_t>(w));
    const std::string name = medium_name(mix);
    const WinterAnswer frost = winter(mix, settings.temperature);
    const double celsius = settings.temperature - kZeroCelsius;
    if (frost.frost == Frost::solid)
      say_once(b,
               fmt::format("At {:.0f} °C the {} in the tyres is frozen solid: the lump turns with the wheel and lifts "
                           "its weight to the top once a turn. Do not drive; let it thaw.",
                           celsius, name));
    else if (frost.frost == Frost::slushy)
      say_once(b,
               fmt::format("At {:.0f} °C there is ice in the {} in the tyres: it is dragged along as the wheels turn "
                           "and must not be pumped. {}",
                           celsius, name,
                           frost.may_be_solid ? "It may be frozen solid, and then lifts its weight to the top once a "
                                                "turn; here it still hangs as liquid."
                                              : "Here it still hangs as liquid."));
    else if (frost_not_known(b.scene, static_cast<std::size_t>(w)))
      say_once(b,
               fmt::format("Whether the {} in the tyres freezes at {:.0f} °C is not known: its first ice is not given. "
                           "It may be frozen solid, and then lifts its weight to the top once a turn; here it hangs as "
                           "liquid.",
                           name, celsius));
    else if (frost.doubtful && frost.frost != Frost::not_known)
      say_once(b, may_freeze(mix, celsius));
    if (mix.medium == Medium::own)
      say_once(b,
               fmt::format("The numbers of the {} in the tyres are typed in from a data sheet. How it expands is not "
                           "known: its density is taken as at {:.0f} °C throughout.",
                           name, mix.own->density_temperature - kZeroCelsius));
  }
}

void add_loader_cautions(const Loader& loader, const BallastPlan& plan, std::vector<std::string>& out) {
  const LoaderToolWords& tool = words_of(plan.loader_tool);
  const bool bucket = plan.loader_tool == LoaderTool::bucket;
  if (loader_load(plan) + plan.hanging_mass > loader.rated_payload)
    out.push_back(
        bucket && !has_bale(plan.bale)
            ? fmt::format("The bucket holds more than the loader's rated {:.0f} kg.", loader.rated_payload)
            : fmt::format("The load {} is more than the loader's rated {:.0f} kg.", tool.where, loader.rated_payload));
  if (plan.loader_pin_height > loader.pivot_z)
    out.push_back(fmt::format("{} raised above {} pivot: carry {} low whenever the machine moves.", tool.are,
                              bucket ? "its" : "the loader's", bucket ? "it" : "the load"));
  if (bucket) return;
  if (plan.loader_tool_mass == 0)
    out.push_back(
        fmt::format("The mass of the {}, {:.0f} kg, is our estimate: weigh yours, ballast.loader_tool_mass_kg.",
                    tool.name, tool_mass(loader, plan)));
  if (plan.loader_load_ahead == 0 && loader_load(plan) > 0)
    out.push_back(
        fmt::format("The centre of the {}, {:.2f} m ahead of the bucket pin, is our estimate: measure it, "
                    "ballast.loader_load_ahead_m.",
                    load_words(plan), load_from_pin(plan).x));
}

}  // namespace

void add_cautions(Builder& b) {
  const Vehicle& v = b.vehicle;
  const BallastPlan& plan = b.scene.ballast;
  auto& out = b.model.cautions;
  add_fill_cautions(b);
  if (v.front_axle.casters)
    out.push_back(
        "The front wheels are casters: across a slope the rear tyres alone hold the machine. Its nose creeps downhill "
        "before it slides, and then swings away. Steering by the drive of each side is not calculated.");
  if (plan.front_weights > v.front_mount.max_mass)
    out.push_back(fmt::format("Front weights exceed the mount's {:.0f} kg.", v.front_mount.max_mass));
  if (plan.rear_weights > v.rear_mount.max_mass)
    out.push_back(fmt::format("Rear weights exceed the mount's {:.0f} kg.", v.rear_mount.max_mass));
  if (plan.rear_wheel_weights > v.max_wheel_weights)
    out.push_back(fmt::format("Rear wheel weights exceed the {:.0f} kg a wheel takes.", v.max_wheel_weights));
  if (v.loader.fitted) add_loader_cautions(v.loader, plan, out);
  if (v.frame.kind == FrameKind::none)
    out.push_back("No protective frame is fitted: a roll-over on this machine kills.");
  if (v.frame.kind == FrameKind::two_post && v.frame.folded) out.push_back("The frame is folded: it protects nobody.");
  if (v.frame.kind != FrameKind::none && !v.driver.belted)
    out.push_back("The driver is not belted: the frame only protects who stays inside it.");
}

}  // namespace sidehill

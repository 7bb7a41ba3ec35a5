// What may be in a tyre: permitted at all, how high, how fast, in which cold; and the targets of mass per power and of
// the axles' shares. Part of sim/job/rules.
#include <algorithm>
#include <cmath>

#include "sim/job/ballast_tables.h"
#include "sim/job/rules_parts.h"

namespace sidehill {
namespace {

constexpr double kAlike = 0.02;       // both tyres of an axle filled alike within this [-]; our estimate
constexpr double kNearTarget = 0.03;  // a target given as one number counts as met within this [-]; our estimate

// Rusts bare steel, so that it belongs in a tube.
bool is_salt(Medium medium) {
  const auto solute = info(medium).solute;
  return solute == Solute::calcium_chloride || solute == Solute::sodium_chloride ||
         solute == Solute::magnesium_chloride;
}

DriveKind drive_of(const Vehicle& vehicle) {
  if (vehicle.front_axle.kind == AxleKind::articulated) return DriveKind::articulated;
  return vehicle.front_drive ? DriveKind::front_assist : DriveKind::two_wheel;
}

}  // namespace

void RuleParts::liquid() {
  const Job& job = scene.job;
  const auto& fills = scene.ballast.fill;
  const auto is_filled = [](const TyreFill& fill) { return fill.fill_fraction > 0; };
  if (std::ranges::none_of(fills, is_filled)) return;
  const bool liquid = std::ranges::any_of(
      fills, [&](const TyreFill& fill) { return is_filled(fill) && !info(fill.medium).turns_with_wheel; });

  add({.id = RuleId::liquid_permitted,
       .kind = RuleKind::maker,
       .source = "the makers of tyre and rim",
       .unit = RuleUnit::yes_no,
       .low = 1,
       .there = job.liquid_permitted == YesNo::not_known
                    ? std::nullopt
                    : std::optional(job.liquid_permitted == YesNo::yes ? 1.0 : 0.0),
       .cure = job.liquid_permitted == YesNo::not_known ? Cure::ask_maker : Cure::less_liquid,
       .amount = 0});

  // How high, by the fuller tyre of each axle; foam fills the whole tyre and is no liquid.
  const auto at_most = [&](bool front, double most, std::string_view when, std::string_view source, bool limit) {
    double there = 0;
    for (const std::size_t i : front ? std::array<std::size_t, 2>{0, 1} : std::array<std::size_t, 2>{2, 3})
      if (!info(fills[i].medium).turns_with_wheel) there = std::max(there, fills[i].fill_fraction);
    if (!(there > 0)) return;
    add({.id = RuleId::fill_height,
         .kind = RuleKind::maker,
         .source = source,
         .when = when,
         .unit = RuleUnit::share,
         .high = most,
         .there = there,
         .limit = limit,
         .cure = Cure::less_liquid,
         .amount = there - most});
  };
  at_most(false, 0.90, "rear tyre, never more", "a maker's manual, row-crop", true);
  at_most(false, 0.75, "rear tyre, to the valve at twelve o'clock", "a maker's manual, compact", true);
  if (report.loads.tyres[kRearLeft].radial)
    at_most(false, 0.40, "radial rear tyre, one maker", "a maker's manual, row-crop", false);
  if (job.work == Work::forestry) at_most(false, 0.50, "work in a forest", "a maker's manual, row-crop", false);
  if (job.backhoe) at_most(false, 0, "a backhoe is fitted: take rear ballast out", "a maker's manual, compact", true);
  at_most(true, 0, "front tyre, because of the steering, one maker", "a maker's manual, compact", false);

  for (const std::size_t left : {std::size_t{0}, std::size_t{2}}) {
    const double apart = std::abs(fills[left].fill_fraction - fills[left + 1].fill_fraction);
    if (fills[left].fill_fraction > 0 || fills[left + 1].fill_fraction > 0)
      add({.id = RuleId::fill_alike,
           .kind = RuleKind::maker,
           .source = "a maker's manual, row-crop",
           .when = left == 0 ? "front axle" : "rear axle",
           .unit = RuleUnit::share,
           .high = kAlike,
           .there = apart,
           .cure = Cure::the_same_in_both,
           .amount = apart});
  }
  if (liquid)
    for (const auto& [most, source] :
         {std::pair{30 / 3.6, "a tyre maker's data book"}, std::pair{32 / 3.6, "a maker's manual, row-crop"}}) {
      const double fastest = asked_speed(scene);
      add({.id = RuleId::liquid_speed,
           .kind = RuleKind::maker,
           .source = source,
           .when = "with liquid in the tyres",
           .unit = RuleUnit::speed,
           .high = most,
           .there = fastest,
           .cure = Cure::slower,
           .amount = fastest - most});
    }
  if (job.work == Work::none) return;  // no winter is named
  // The filling that freezes first, of each axle; at the warm end of what is known of its first ice. One of which that
  // is not known counts as the worst.
  for (const std::size_t left : {std::size_t{0}, std::size_t{2}}) {
    const TyreFill* worst = nullptr;
    std::optional<double> first_ice;
    for (const std::size_t i : {left, left + 1}) {
      if (!is_filled(fills[i]) || info(fills[i].medium).turns_with_wheel) continue;
      const FreezingPoints ice = freezing_points(mix_of(scene.ballast, i));
      const std::optional<double> here =
          !ice.known ? std::nullopt : std::optional(ice.slush_free.value_or(0) + 2 * ice.slush_free_uncertainty);
      if (worst && (!first_ice || (here && *here <= *first_ice))) continue;
      worst = &fills[i];
      first_ice = here;
    }
    if (!worst) continue;
    add({.id = RuleId::frost,
         .kind = RuleKind::practice,
         .source = "first ice of the filling, at the warm end of its doubt; ice can burst the tyre and stands still in "
                   "it",
         .when = left == 0 ? "front tyres" : "rear tyres",
         .unit = RuleUnit::temperature,
         .high = job.coldest,
         .there = first_ice,
         .cure = Cure::other_liquid,
         .amount = first_ice ? *first_ice - job.coldest : 0});
    if (is_salt(worst->medium))
      add({.id = RuleId::tube,
           .kind = RuleKind::practice,
           .source = "salt rusts the rim; common practice",
           .when = left == 0 ? "front tyres" : "rear tyres",
           .unit = RuleUnit::yes_no,
           .low = 1,
           .there = job.tubes == YesNo::not_known ? std::nullopt : std::optional(job.tubes == YesNo::yes ? 1.0 : 0.0),
           .limit = false,
           .cure = Cure::fit_tubes});
  }
}

void RuleParts::mass_and_split() {
  const Job& job = scene.job;
  const double mass = report.tractor.front + report.tractor.rear;
  const bool heavy = job.work == Work::heavy_pull || job.work == Work::none;
  const bool pulls = job.work == Work::heavy_pull || job.work == Work::light_pull;
  for (const MassPerPower& row : mass_per_power_table()) {
    if (row.only_heavy ? !heavy : !pulls) continue;
    if (row.front_drive && !scene.vehicle.front_drive) continue;
    const double speed = job.working_speed;
    if (speed > 0 && ((row.from > 0 && speed < row.from) || (row.to > 0 && speed > row.to))) continue;
    if (!(speed > 0) && (row.from > 0 || row.to > 0)) continue;  // the speed decides, and is not known
    const double power = report.power * (row.basis == PowerBasis::pto ? kPtoOfEngine : 1);
    const double there = mass / power;
    const bool low = row.low > 0;
    add({.id = RuleId::mass_per_power,
         .kind = row.practice ? RuleKind::practice : RuleKind::table,
         .source = row.source,
         .when = row.when,
         .unit = RuleUnit::mass_per_power,
         .low = low ? std::optional(row.low) : std::nullopt,
         .high = row.high > 0 ? std::optional(row.high) : std::nullopt,
         .there = there,
         .limit = false,
         .cure = low ? Cure::more_mass : Cure::less_mass,
         .amount = low ? row.low * power - mass : mass - row.high * power});
  }
  if (!(mass > 0)) return;
  const double share = report.tractor.front / mass;
  const DriveKind drive = drive_of(scene.vehicle);
  const auto target = [&](double low, double high, std::string_view when, std::string_view source, RuleKind kind) {
    const double aim = share < low ? low : high;
    const bool more_in_front = share < low;
    const Mount& mount = more_in_front ? scene.vehicle.front_mount : scene.vehicle.rear_mount;
    const auto weight =
        mount.max_mass > 0 ? weight_for_share(report.tractor, model.wheelbase, mount.x, aim) : std::nullopt;
    add({.id = RuleId::axle_split,
         .kind = kind,
         .source = source,
         .when = when,
         .unit = RuleUnit::share,
         .low = low,
         .high = high,
         .there = share,
         .limit = false,
         .cure = !weight || *weight < 0 ? Cure::less_mass
                 : more_in_front        ? Cure::front_weights
                                        : Cure::rear_weights,
         .amount = weight ? std::max(0.0, *weight) : 0});
  };
  if (job.work == Work::none)
    return target(0.35, 0.45, "near 40 %, a starting target", "common practice, no source; the width is our estimate",
                  RuleKind::practice);
  for (const FrontShare& row : front_share_table()) {
    if (row.drive != DriveKind::any && row.drive != drive) continue;
    if (row.drive == DriveKind::any && drive == DriveKind::articulated) continue;
    const bool fits = job.hitch == JobHitch::drawbar ? row.towed : job.hitch == JobHitch::linkage ? row.mounted : true;
    if (!fits) continue;
    const double half = row.low == row.high ? kNearTarget : 0;
    target(row.low - half, row.high + half, row.when, row.source, RuleKind::table);
  }
}

}  // namespace sidehill

#include "render/text/job/rule_words.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "render/text/words/words.h"
#include "sim/scene/scene.h"
#include "vehicles/loader_tool.h"

namespace sidehill::text {
namespace {

struct RuleWords {
  RuleId id;
  const char* key;
  const char* words;
};
constexpr std::array kRules{
    RuleWords{RuleId::both_axles, "both_axles", "stands on both axles on level ground"},
    RuleWords{RuleId::total_mass, "total_mass", "whole machine weighs at most what its maker permits"},
    RuleWords{RuleId::front_axle, "front_axle", "front axle carries at most what its maker allows"},
    RuleWords{RuleId::rear_axle, "rear_axle", "rear axle carries at most what its maker allows"},
    RuleWords{RuleId::front_tyres, "front_tyres", "front tyres carry at most their rating"},
    RuleWords{RuleId::rear_tyres, "rear_tyres", "rear tyres carry at most their rating"},
    RuleWords{RuleId::front_rims, "front_rims", "front rims carry at most what is stamped on them"},
    RuleWords{RuleId::rear_rims, "rear_rims", "rear rims carry at most what is stamped on them"},
    RuleWords{RuleId::front_mount, "front_mount", "front mount carries at most what it is made for"},
    RuleWords{RuleId::rear_mount, "rear_mount", "rear mount carries at most what it is made for"},
    RuleWords{RuleId::wheel_weights, "wheel_weights", "weights on each rear wheel at most what it takes"},
    RuleWords{RuleId::steering_axle, "steering_axle",
              "steering axle carries at least 20 % of the unladen mass, as the scene has it"},
    RuleWords{RuleId::steering_with_load, "steering_with_load",
              "steering axle carries at least 20 % of the unladen mass with the job's implement on"},
    RuleWords{RuleId::rear_with_front_weight, "rear_with_front_weight",
              "rear axle carries at least 45 % of the unladen mass with weight in front"},
    RuleWords{RuleId::centre_height, "centre_height",
              "centre of gravity at most 0.90 of the mean track high, or limited to 30 km/h"},
    RuleWords{RuleId::coupling_height, "coupling_height", "hitch at most as high as leaves the steering axle enough"},
    RuleWords{RuleId::drawbar_load, "drawbar_load", "load on the hitch at most what its plate allows"},
    RuleWords{RuleId::loader_rating, "loader_rating",
              "load in the bucket and on its rope at most what the loader is rated for"},
    RuleWords{RuleId::loader_rear_axle, "loader_rear_axle",
              "rear axle carries at least 20 % of the gross mass with the loader as it is"},
    RuleWords{RuleId::loader_tipping, "loader_tipping",
              "load in the bucket at most half of what tips the machine forward, boom reaching farthest"},
    RuleWords{RuleId::liquid_permitted, "liquid_permitted", "makers of tyre and rim permit liquid"},
    RuleWords{RuleId::fill_height, "fill_height", "tyre filled at most as high as its kind may be"},
    RuleWords{RuleId::fill_alike, "fill_alike", "both tyres of an axle filled alike"},
    RuleWords{RuleId::liquid_speed, "liquid_speed", "no faster than liquid in the tyres allows"},
    RuleWords{RuleId::frost, "frost", "filling stays liquid on the coldest night"},
    RuleWords{RuleId::tube, "tube", "salt in the tyre stands in a tube"},
    RuleWords{RuleId::mass_per_power, "mass_per_power", "heavy enough for its power"},
    RuleWords{RuleId::axle_split, "axle_split",
              "front axle's share of the tractor with its ballast, no load and no implement"},
};
static_assert(is_whole(kRules, &RuleWords::id));

Quantity quantity_of(RuleUnit unit) {
  switch (unit) {
    case RuleUnit::mass:
      return Quantity::mass;
    case RuleUnit::share:
      return Quantity::share;
    case RuleUnit::mass_per_power:
      return Quantity::mass_per_power;
    case RuleUnit::length:
      return Quantity::length;
    case RuleUnit::speed:
      return Quantity::speed;
    case RuleUnit::temperature:
      return Quantity::temperature;
    case RuleUnit::yes_no:
      return Quantity::number;
  }
  return Quantity::number;
}

std::string points(double number) { return fmt::format("{:.0f} point{}", number, number == 1 ? "" : "s"); }

std::string in_words(const RuleAnswer& rule, double value, Units units) {
  if (rule.unit == RuleUnit::yes_no) return value > 0.5 ? "yes" : "no";
  if (rule.unit == RuleUnit::share) return percent(value);
  return shown(quantity_of(rule.unit), value, units);
}

}  // namespace

const char* rule_key(RuleId id) { return kRules[static_cast<std::size_t>(id)].key; }
const char* rule_words(RuleId id) { return kRules[static_cast<std::size_t>(id)].words; }

std::string rule_words(RuleId id, const BallastPlan& plan) {
  constexpr std::string_view kIn = "in the bucket";
  std::string words = rule_words(id);
  if (const auto at = words.find(kIn); at != words.npos)
    words.replace(at, kIn.size(), words_of(plan.loader_tool).where);
  return words;
}

const char* kind_words(RuleKind kind) {
  constexpr const char* kWords[] = {"law", "standard", "table", "practice", "maker"};
  return kWords[static_cast<int>(kind)];
}

const char* state_words(RuleState state) {
  constexpr const char* kWords[] = {"met", "NOT MET", "not known"};
  return kWords[static_cast<int>(state)];
}

std::string asked_words(const RuleAnswer& rule, Units units) {
  if (rule.unit == RuleUnit::yes_no) return "yes";
  if (rule.id == RuleId::both_axles) return "more than nothing on each";
  if (rule.id == RuleId::frost && rule.high) return "first ice at " + in_words(rule, *rule.high, units) + " or colder";
  if (rule.low && rule.high) return in_words(rule, *rule.low, units) + " to " + in_words(rule, *rule.high, units);
  if (rule.high && *rule.high == 0 && rule.unit == RuleUnit::share) return "none";
  if (rule.low) return "at least " + in_words(rule, *rule.low, units);
  if (rule.high) return "at most " + in_words(rule, *rule.high, units);
  const std::string key = missing_key(rule);
  return key.empty() ? "not known" : "not known: look it up, " + key;
}

std::string there_words(const RuleAnswer& rule, Units units) {
  return rule.there ? in_words(rule, *rule.there, units) : "not known";
}

std::string margin_words(const RuleAnswer& rule, Units units) {
  const std::optional<double> margin = margin_of(rule);
  if (!margin || rule.unit == RuleUnit::yes_no || rule.id == RuleId::both_axles) return "";
  const bool from_low = rule.low && (!rule.high || *rule.there - *rule.low < *rule.high - *rule.there);
  const double end = from_low ? *rule.low : *rule.high;
  std::string by = rule.unit == RuleUnit::share
                       ? points(std::abs(difference_as_shown(100 * end, 100 * *rule.there, 0)))
                       : shown_change(quantity_of(rule.unit), end, *rule.there, units);  // of the two as shown
  if (by.starts_with('+') || by.starts_with('-')) by.erase(0, 1);
  if (rule.id == RuleId::frost) return by + (*margin < 0 ? " too early" : " to spare");
  if (*margin >= 0) return by + " to spare";
  return by + (from_low ? " too little" : " too much");
}

std::string missing_key(const RuleAnswer& rule) {
  switch (rule.id) {
    case RuleId::total_mass:
      return "vehicle.permitted_mass_kg";
    case RuleId::front_axle:
      return "vehicle.front.capacity_kg";
    case RuleId::rear_axle:
      return "vehicle.rear.capacity_kg";
    case RuleId::front_tyres:
      return "vehicle.front.tyre.service";
    case RuleId::rear_tyres:
      return "vehicle.rear.tyre.service";
    case RuleId::front_rims:
      return "vehicle.front.rim_capacity_kg";
    case RuleId::rear_rims:
      return "vehicle.rear.rim_capacity_kg";
    case RuleId::drawbar_load:
      return "vehicle.hitch.max_load_kg";
    case RuleId::liquid_permitted:
      return "job.liquid_permitted";
    case RuleId::tube:
      return "job.tubes";
    default:
      return "";
  }
}

std::string cure_words(const RuleAnswer& rule, const Scene& scene, Units units) {
  if (rule.state == RuleState::met) return "";
  const auto mass = [&](double kg) { return shown(Quantity::mass, std::ceil(kg), units); };
  const auto on_mount = [&](bool front) {
    const Mount& mount = front ? scene.vehicle.front_mount : scene.vehicle.rear_mount;
    const double there = front ? scene.ballast.front_weights : scene.ballast.rear_weights;
    std::string words = fmt::format("{} more on the {} mount", mass(rule.amount), front ? "front" : "rear");
    if (rule.amount + there > mount.max_mass)
      words += fmt::format(", but it takes {} in all: take the load off", mass(mount.max_mass));
    return words;
  };
  switch (rule.cure) {
    case Cure::none:
      return "";
    case Cure::front_weights:
      return on_mount(true);
    case Cure::rear_weights:
      return on_mount(false);
    case Cure::more_mass:
      return mass(rule.amount) + " more on the tractor, within every limit above, or less to pull";
    case Cure::less_mass:
      return rule.amount > 0 ? mass(rule.amount) + " less" : "move weight to the other axle";
    case Cure::less_load:  // of an axle the excess is what it carries, not what the load weighs: levers differ
      if (rule.amount > 0 && rule.id == RuleId::front_axle)
        return mass(rule.amount) + " less on this axle: less load in front, or weight behind";
      if (rule.amount > 0 && rule.id == RuleId::rear_axle)
        return mass(rule.amount) + " less on this axle: less load, weight or filling behind";
      return rule.amount > 0 ? mass(rule.amount) + " less load" : "take the load off";
    case Cure::stronger_tyre:
      return mass(rule.amount) +
             " less on the wheel, or a stronger tyre, or the pressure its maker names for this load";
    case Cure::stronger_rim:
      return mass(rule.amount) + " less on the wheel, or a stronger rim";
    case Cure::lower_hitch:
      return shown(Quantity::length, rule.amount, units) + " lower hitch, or less load on it";
    case Cure::wider_track:
      return shown(Quantity::length, rule.amount, units) + " more mean track, a lower load, or at most 30 km/h";
    case Cure::slower:
      return shown(Quantity::speed, rule.amount, units) + " slower, or no liquid";
    case Cure::less_liquid:
      return rule.amount > 0 ? "let out down to " + percent(std::max(0.0, *rule.there - rule.amount))
                             : "no liquid; cast weights instead";
    case Cure::ask_maker:
      return "ask the makers before filling";
    case Cure::other_liquid:
      return "a stronger mix or another liquid, or drain it before the frost";
    case Cure::fit_tubes:
      return rule.there ? "fit tubes, or a liquid that does not rust" : "read the sidewall: tubeless or tube type";
    case Cure::read_plate:
      return "read the plate, the sidewall or the rim";
    case Cure::the_same_in_both:
      return "fill both tyres of the axle to the same level";
  }
  return "";
}

std::string job_words(const Job& job, Units units) {
  if (job.work == Work::none) return "";
  static constexpr std::array kWork{"nothing", "heavy pull",       "light pull", "mounted implement", "loader",
                                    "hauling", "mowing on slopes", "forestry",   "lifting in a yard"};
  static_assert(kWork.size() == kWorks.size());
  static constexpr std::array kGround{"road", "hard ground", "firm ground", "tilled ground", "soft ground", "mud"};
  static_assert(kGround.size() == kJobGrounds.size());
  std::string words = job.name.empty() ? "the job" : job.name;
  words += fmt::format(" ({}", kWork[static_cast<std::size_t>(job.work)]);
  if (job.working_speed > 0) words += ", " + shown(Quantity::speed, job.working_speed, units);
  words += ", slopes to " + degrees_and_percent(job.slope);
  words += fmt::format(", {}{}", job.wet ? "wet " : "", kGround[static_cast<std::size_t>(job.ground)]);
  return words + ", nights to " + shown(Quantity::temperature, job.coldest, units) + ")";
}

}  // namespace sidehill::text

// What law, standards, published tables and practice ask of a set-up in its job: each rule as numbers, with who asks
// it, what is there, and what would cure it. Words are made in render/text/job. Knows no file, no time.
#pragma once
#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "sim/base/enum_table.h"
#include "sim/job/ballast_formulas.h"
#include "sim/model/model.h"
#include "sim/rest/load_check.h"
#include "sim/rest/mass_sums.h"

namespace sidehill {

// maker: what plates and sidewalls say, as far as known. table: a published recommendation.
enum class RuleKind { law, standard, table, practice, maker };

enum class RuleState {
  met,
  not_met,
  not_known,  // what the rule needs was not given
};

enum class RuleId {
  both_axles,
  total_mass,
  front_axle,
  rear_axle,
  front_tyres,
  rear_tyres,
  front_rims,
  rear_rims,
  front_mount,
  rear_mount,
  wheel_weights,           // each rear wheel
  steering_axle,           // the machine as it stands
  steering_with_load,      // with the implement raised, or the drawbar's load on
  rear_with_front_weight,  // weight in front
  centre_height,
  coupling_height,
  drawbar_load,
  loader_rating,
  loader_rear_axle,
  loader_tipping,
  liquid_permitted,
  fill_height,
  fill_alike,
  liquid_speed,
  frost,
  tube,
  mass_per_power,
  axle_split,
};

inline constexpr std::size_t kRuleIds = count_of<RuleId>();

enum class RuleUnit { mass, share, mass_per_power, length, speed, temperature, yes_no };

// What would bring the set-up back inside.
enum class Cure {
  none,
  front_weights,     // `amount` more [kg]
  rear_weights,      // likewise behind
  more_mass,         // anywhere [kg]
  less_mass,         // anywhere [kg]
  less_load,         // in the bucket, on the hitch or in the tyres [kg]
  stronger_tyre,     // or more pressure, as the tyre's maker says
  stronger_rim,      //
  lower_hitch,       // by [m]
  wider_track,       // mean, by [m]; or lower
  slower,            // by [m/s]
  less_liquid,       // by this part of the tyre [-]
  ask_maker,         //
  other_liquid,      // that stays liquid by this much colder [K], or drain it before the frost
  fit_tubes,         //
  read_plate,        // look it up: what is not known
  the_same_in_both,  // fill both alike, by [-]
};

struct RuleAnswer {
  RuleId id = RuleId::both_axles;
  RuleKind kind = RuleKind::practice;
  std::string_view source{};  // who asks it, makers by class only
  std::string_view when{};    // under which condition, in words; may be empty
  RuleUnit unit = RuleUnit::mass;
  std::optional<double> low{}, high{};  // what is asked [SI by `unit`]; none = open to that side, or not known
  std::optional<double> there{};        // [SI]; none = not known
  bool limit = true;                    // false: a target; to miss it is no fault
  RuleState state = RuleState::not_known;
  Cure cure = Cure::none;
  double amount = 0;  // of the cure [SI]; 0 = it has none
};

// To the nearer end of what is asked [SI], negative where it is not met. None where something is not known.
std::optional<double> margin_of(const RuleAnswer& rule);

// Everything the rules are read from, and their answers.
struct RuleReport {
  AxleShare axles;    // level ground, with what the job hangs on the hitch [kg]
  AxleShare tractor;  // of the tractor with its ballast alone: no load in front, nothing behind [kg]
  AxleShare unladen;  // as the maker delivers it: no ballast, no loader, nobody on it [kg]
  double power = 0;   // rated [W]
  LoadCheck loads;    // of `axles`, at the fastest speed of scene and job, on the steepest slope of both
  std::optional<LoaderTipping> tips;
  std::vector<RuleAnswer> rules;  // in the order of RuleId; sources that differ stand side by side
};

// Every rule that bears on this machine, with all that scene and job hang on it, on level ground, rigid. The job's
// implement counts where the scene hangs none.
RuleReport rules_on(const Scene& scene, const Model& model);

// Worst first: limits not met, limits not known, targets not met, the rest; within each in the order of RuleId. The
// rows of one rule stay together, where its worst one belongs.
std::vector<RuleAnswer> worst_first(std::vector<RuleAnswer> rules);

// A limit is not met: the reason of exit code 4.
bool breaks_limit(const RuleReport& report);

// What a weight of 1 kg at `x` ahead of the rear axle would have to be in kilograms to bring the front axle's share of
// `axles` to `share`; negative where it must go; none where it cannot. Source: lever rule.
std::optional<double> weight_for_share(const AxleShare& axles, double wheelbase, double x, double share);

}  // namespace sidehill

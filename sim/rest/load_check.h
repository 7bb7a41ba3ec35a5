// What stands on each tyre and axle against what it may carry. Knows no file, no time.
#pragma once
#include <array>
#include <optional>

#include "sim/model/model.h"
#include "sim/rest/statics.h"
#include "vehicles/load_index.h"
#include "vehicles/load_multiple.h"

namespace sidehill {

// Where a tyre's rating comes from.
enum class Rating {
  not_known,  // nothing is known of this size and nothing was given
  typical,    // typical of the size: makers sell the same size with other marks, the sidewall decides
  stated,     // a service mark was given
};

// All of one wheel: of one tyre, or of a dual pair together.
struct TyreCheck {
  Rating rating = Rating::not_known;
  std::optional<Service> service;  // none: not known
  bool radial = false;             // as its size says
  double reference_pressure = 0;   // at which the index holds, given or typical of the size [Pa]; 0 = not known
  double at_index = 0;    // what the load index allows one tyre at this speed [kg]; 0 = faster than the symbol allows
  LoadMultiple multiple;  // of it, at a crawl
  double single = 0;      // what one tyre may carry on its own: index, multiple and this pressure together [kg]
  int tyres = 1;          // 2 = a dual pair
  double fuller = 1;      // share of the wheel's load on the fuller tyre of a pair, 0.5 to 1; 1 = loaded alone
  bool by_one = false;    // true: the fuller tyre of a pair reaches its own single rating before the pair reaches its
  LoadMargin margin;      // of the whole wheel [kg]; capacity by the pressure's rule of thumb
};

struct LoadCheck {
  double speed = 0;    // asked_speed() [m/s]
  double slope = 0;    // the ratings' and, unless `level`, the loads' [rad]
  bool level = false;  // true: loads as on the level, for there is no rest on the slope
  std::array<TyreCheck, kWheels> tyres;
  std::array<LoadMargin, 2> axles;  // front, rear; capacity 0 = not known, margin then without meaning
};

// Shares of the fuller tyre where nothing is known of how a pair shares: half each.
inline constexpr std::array<double, kWheels> kSharedAlike{0.5, 0.5, 0.5, 0.5};

// The fastest that a scene asks for, forwards or backwards: in its programme, in an action of it, in a bend, at work or
// on the road in its job [m/s].
double asked_speed(const Scene& scene);

// `load` per wheel [N], in the order of enum Wheel, at asked_speed() and the model's pressures, on a
// `slope` [rad] (none = the scene's). A pair may carry 2 x 0.88 of a single rating, and no more than lets its fuller
// tyre reach its own. At a crawl on a slope of at most 20 % the law's multiples count (vehicles/load_multiple.h). Below
// its reference pressure a tyre carries less, by the press's rule of thumb: never for a signed answer.
LoadCheck check_loads(const Scene& scene, const Model& model, const std::array<double, kWheels>& load,
                      std::optional<double> slope = {}, const std::array<double, kWheels>& fuller = kSharedAlike);

// Of a rest, with what each tyre of a pair carries there.
LoadCheck check_loads(const Scene& scene, const Model& model, const Rest& rest);

// At rest on the scene's slope; where there is no rest, on the level without features (`level` then says so). None if
// there is no balance on the level either.
std::optional<LoadCheck> check_loads(const Scene& scene, const Model& model, const StaticSolution& statics,
                                     const std::stop_token& stop = {});

// Share of each wheel's load on the fuller tyre of its pair, 0.5 to 1, by how far each is pressed in; 1 where a wheel
// has one tyre.
std::array<double, kWheels> fuller_shares(const Model& model, const Rest& rest);

// True if a wheel has two tyres.
bool any_duals(const Model& model);

// On each axle on the level, lever rule, with what a trailer's drawbar puts there, and its tyres' shares of it as a
// balance on the level has them [N], for check_loads. The sums are those of axle_share (sim/rest/mass_sums.h).
std::array<double, kWheels> level_loads(const Model& model);

}  // namespace sidehill

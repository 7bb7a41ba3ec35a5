// What the ledger adds up to: per wheel, per axle, with driver and tank on or off. Knows no file, no time.
#pragma once
#include <array>
#include <optional>
#include <stop_token>
#include <vector>

#include "sim/model/model.h"

namespace sidehill {

// Everything that turns or hangs in each wheel [kg]: wheel, tyre, weights, fill.
std::array<double, kWheels> mass_in_wheels(const Model& model);

// What was filled into both tyres of an axle [kg], liquid, frozen or cured.
double fill_mass(const Model& model, bool front);

// What the fillings of all tyres cost by the prices that were given for them, low to high [EUR]; nothing where one has
// no price, for a part of the cost is none, and where no tyre is filled. Of one tyre: nothing where it is not filled,
// too.
std::optional<PriceRange> cost_of_fill(const Scene& scene, std::size_t wheel);
std::optional<PriceRange> cost_of_fills(const Scene& scene);

// What one line puts on each axle on level ground [kg]; behind the rear axle it takes weight off the front: negative.
// They add up to its mass. Source: lever rule about the contact lines.
struct AxleShare {
  double front = 0, rear = 0;
  AxleShare& operator+=(const AxleShare& more) { return front += more.front, rear += more.rear, *this; }
  AxleShare& operator-=(const AxleShare& less) { return front -= less.front, rear -= less.rear, *this; }
  friend AxleShare operator+(AxleShare a, const AxleShare& b) { return a += b; }
  friend AxleShare operator-(AxleShare a, const AxleShare& b) { return a -= b; }
};
AxleShare axle_share(const LedgerLine& line, double wheelbase);
// Of the whole machine, with what the drawbar of a trailer puts on the hitch: on the level it neither pulls nor pushes.
AxleShare axle_share(const Model& model);
AxleShare drawbar_share(const Model& model);  // of the drawbar alone; nothing without a trailer

// The machine with driver and tank as they may be: on or off, full or empty; one case only where there is no tank.
struct MassCase {
  bool driver_on = true, tank_full = true;
  double mass = 0;                       // [kg]
  Vec3 centre_of_gravity{0.0};           // measuring frame, level ground [m]
  AxleShare axles;                       // level ground [kg]
  std::optional<double> first_lift_off;  // at the scene's heading, without features [rad]; none = never
};
// Once `stop` is requested it comes back soon, and what it gives then means nothing.
std::vector<MassCase> mass_cases(const Scene& scene, const Model& model, const std::stop_token& stop = {});

}  // namespace sidehill

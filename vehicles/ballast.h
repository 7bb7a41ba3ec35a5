// What the owner added: liquid per tyre, weights per mount, what is carried. Not part of Vehicle, so that plans can be
// compared on one machine. Knows no file, no time, no ground. Places as in vehicles/vehicle.h.
#pragma once
#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "vehicles/liquid.h"
#include "vehicles/vehicle.h"

namespace sidehill {

struct TyreFill {
  Medium medium = Medium::water;  // what was pumped in
  double fill_fraction = 0;       // liquid over cavity of the inflated, unloaded tyre [-], 0 to 1
  double concentration = 0;       // what is dissolved, over solution by mass [-]; 0 = the medium's usual strength
  PriceRange price;               // as pumped, as the owner was asked for [EUR/L]; 0 = not given
};

enum class Carrier { chassis, front_axle, boom };
inline constexpr std::array kCarriers{KeyOf<Carrier>{Carrier::chassis, "chassis"},
                                      KeyOf<Carrier>{Carrier::front_axle, "front_axle"},
                                      KeyOf<Carrier>{Carrier::boom, "boom"}};
static_assert(is_whole(kCarriers, &KeyOf<Carrier>::value));

struct PointMass {
  std::string name = "added mass";
  Carrier on = Carrier::chassis;
  double mass = 0;      // [kg], >= 0
  Vec3 place{0, 0, 1};  // as measured on level ground, loader at its set height for `boom` [m]
};

// Mounted on the rear linkage, or trailed.
struct Implement {
  double mass = 0;   // mounted [kg]; 0 = none
  double x = -1.6;   // its centre of mass, ahead of the rear axle [m]
  double z = 0.8;    // above ground, as carried [m]
  double width = 2;  // [m]
};
struct Trailer {
  double mass = 0;          // of trailer and load together [kg]; 0 = none
  double drawbar_load = 0;  // of it, on the hitch [kg]
  double braked = 0;        // share of the tractor's own deceleration its brakes give with the pedal, 0 to 1
};

// What the front loader carries its load with; the words are in a sentence of what lies on it.
enum class LoaderTool { bucket, pallet_forks, bale_spike, grapple };
struct LoaderToolWords {
  LoaderTool value;
  std::string_view key;
  std::string_view name;   // "pallet forks": alone, in a list of masses
  std::string_view where;  // "on the forks": of a load
  std::string_view are;    // "The forks are": begins a sentence
};
inline constexpr std::array kLoaderTools{
    LoaderToolWords{LoaderTool::bucket, "bucket", "bucket", "in the bucket", "The bucket is"},
    LoaderToolWords{LoaderTool::pallet_forks, "pallet_forks", "pallet forks", "on the forks", "The forks are"},
    LoaderToolWords{LoaderTool::bale_spike, "bale_spike", "bale spike", "on the spike", "The spike is"},
    LoaderToolWords{LoaderTool::grapple, "grapple", "grapple", "in the grapple", "The grapple is"}};
static_assert(is_whole(kLoaderTools, &LoaderToolWords::value));

// Bales on the loader, all alike: round (diameter above 0) or square (width and height above 0); else none. How each
// lies: vehicles/loader_tool.h.
struct Bale {
  double diameter = 0;   // of a round bale [m]; 0 = none
  double length = 1.2;   // round: along its axis; square: its long side [m], > 0
  double width = 0;      // of a square bale [m]; 0 = none
  double height = 0;     // of a square bale, as it lies [m]; 0 = none
  double density = 150;  // mass over volume [kg/m3]; dry hay, our estimate
  double count = 1;      // whole number: round ones side by side, square ones on top of each other
};

struct BallastPlan {
  std::array<TyreFill, kWheels> fill;  // order of enum Wheel
  double front_weights = 0;            // weights on the front mount [kg]
  double rear_weights = 0;             // weights or box on the rear hitch [kg]
  double front_wheel_weights = 0;      // weights on each front wheel [kg]
  double rear_wheel_weights = 0;       // weights on each rear wheel [kg]
  double loader_pin_height = 0.4;      // bucket pin above ground on undeflected tyres [m]
  double loader_payload = 0;           // in the bucket, or whatever the tool is [kg]; 0 where bales are the load
  LoaderTool loader_tool = LoaderTool::bucket;
  double loader_tool_mass = 0;   // empty [kg]; 0 = the usual (vehicles/loader_tool.h)
  double loader_load_ahead = 0;  // centre of the load ahead of the bucket pin [m]; 0 = the usual
  Bale bale;
  double tank_fraction = 1;  // of the tank that is full [-], 0 to 1
  double hanging_mass = 0;   // on a rope from the bucket pin [kg]
  double hanging_rope = 1;   // pin to the centre of what hangs [m]
  Implement implement;
  Trailer trailer;
  std::vector<PointMass> point_masses;
  OwnMedium own_medium;  // what a tyre holds whose medium is `own`
};

// What lies in a tyre of this plan. Valid as long as the plan.
inline Mix mix_of(const BallastPlan& plan, std::size_t wheel) {
  const TyreFill& fill = plan.fill[wheel];
  return {fill.medium, fill.concentration, &plan.own_medium};
}

// A tyre of this plan holds something that flows: neither air nor a medium that turns with the wheel.
inline bool holds_liquid(const BallastPlan& plan) {
  for (const TyreFill& fill : plan.fill)
    if (fill.fill_fraction > 0 && !info(fill.medium).turns_with_wheel) return true;
  return false;
}

// Price [EUR/L] of what lies in a tyre: the tyre's own, else the own medium's; not given else.
inline PriceRange price_of(const BallastPlan& plan, std::size_t wheel) {
  const TyreFill& fill = plan.fill[wheel];
  return fill.medium == Medium::own && !is_given(fill.price) ? plan.own_medium.price : fill.price;
}

}  // namespace sidehill

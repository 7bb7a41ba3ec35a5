// The rows of what the owner added: liquid in each tyre, weights, load, implement, trailer, masses anywhere.
#include <fmt/format.h>

#include <cmath>

#include "sim/base/constants.h"
#include "sim/scene/field_rows.h"
#include "vehicles/fill_limit.h"
#include "vehicles/loader_tool.h"
#include "vehicles/recipe.h"

namespace sidehill {
namespace {

template <auto... path>
constexpr auto in_ballast() {
  return at<&Scene::ballast, path...>();
}

std::optional<std::string> take_named(TyreFill& fill, std::string_view name) {
  const auto asked = mix_named(std::string(name));
  if (!asked) return std::nullopt;
  if (!asked->concentration)
    return fmt::format("is too cold: it stands {:.0f} C at most", std::ceil(asked->coldest - kZeroCelsius));
  fill.medium = asked->medium;
  fill.concentration = *asked->concentration;
  return "";
}

// What lies in one tyre.
template <Wheel wheel, auto member>
constexpr auto in_fill() {
  return +[](Scene& s) { return &(s.ballast.fill[wheel].*member); };
}
template <Wheel wheel, double PriceRange::*end>
constexpr auto in_price() {
  return +[](Scene& s) { return &(s.ballast.fill[wheel].price.*end); };
}

// The filling of one tyre alone; the axle's slider sets both.
template <Wheel wheel>
constexpr Slider one_tyre() {
  constexpr std::string_view kLabels[] = {"Front left", "Front right", "Rear left", "Rear right"};
  constexpr int kPlaces[] = {93, 94, 91, 92};
  return {"Left and right", kLabels[wheel], kPlaces[wheel], 0, 1, 0.05, 0, nullptr, {}, true};
}

template <Wheel wheel, Letters tyre, Letters words>
std::vector<Field> fill_rows() {
  static_assert(tyre.view() == kWheelWords[wheel].key && words.view() == kWheelWords[wheel].name);
  return {
      row<Scene>(
          joined<"ballast.", tyre, ".medium">(), "", "what is in this tyre",
          ChoiceField{[](const Scene& s) { return static_cast<int>(s.ballast.fill[wheel].medium); },
                      [](Scene& s, int i) { s.ballast.fill[wheel].medium = static_cast<Medium>(i); }, medium_keys(),
                      [](Scene& s, std::string_view name) { return take_named(s.ballast.fill[wheel], name); }}),
      number(joined<"ballast.", tyre, ".fill_fraction">(), in_fill<wheel, &TyreFill::fill_fraction>(), 0, 1,
             "volume of liquid over the inside volume of the inflated, unloaded tyre; 0.75 is about rim-top level",
             if_any(0.03), Named{joined<words, ": part of the tyre filled">()}, one_tyre<wheel>()),
      number(joined<"ballast.", tyre, ".concentration">(), in_fill<wheel, &TyreFill::concentration>(), 0, 0.6,
             "mass of dissolved matter over mass of the solution; 0 = the medium's usual strength", if_any(0.01),
             Named{joined<words, ": strength of the filling">()}),
      number(joined<"ballast.", tyre, ".price_low_eur_per_l">(), in_price<wheel, &PriceRange::low>(), 0, 100,
             "lowest price of this filling as pumped; 0 = not given", idle()),
      number(joined<"ballast.", tyre, ".price_high_eur_per_l">(), in_price<wheel, &PriceRange::high>(), 0, 100,
             "highest price of this filling as pumped; 0 = not given", idle()),
  };
}

template <auto member>
constexpr auto of_own() {
  return in_ballast<&BallastPlan::own_medium, member>();
}

std::vector<Field> own_medium_rows() {
  return {
      text("ballast.own_medium.name", of_own<&OwnMedium::name>(), 60,
           "what a medium that is not in the library is called; a tyre with medium = \"own\" holds it"),
      number("ballast.own_medium.density_kg_per_m3", of_own<&OwnMedium::density>(), 0, kMostOwnDensity,
             "as on its data sheet, 500 or more; 0 = not given; known to 2 % unless a [[tolerance]] says it",
             moved_elsewhere()),
      number("ballast.own_medium.density_at_c", of_own<&OwnMedium::density_temperature>(), -40, 60,
             "temperature for which the data sheet gives that density; how it changes is not known", idle()),
      number("ballast.own_medium.first_ice_c", of_own<&OwnMedium::first_ice>(), -100, kNotKnownCelsius,
             "ice forms in it below this, as on its data sheet; 100 = not known", idle()),
      number("ballast.own_medium.solid_c", of_own<&OwnMedium::solid>(), -100, kNotKnownCelsius,
             "it is frozen hard below this, as on its data sheet; 100 = not known", idle()),
      text("ballast.own_medium.rust", of_own<&OwnMedium::rust>(), 200,
           "what it does to rims and valves, as a sentence; empty = not known"),
      text("ballast.own_medium.poison", of_own<&OwnMedium::poison>(), 200,
           "what it does to people and animals, as a sentence; empty = not known"),
      number("ballast.own_medium.price_low_eur_per_l",
             in_ballast<&BallastPlan::own_medium, &OwnMedium::price, &PriceRange::low>(), 0, 100,
             "lowest price of it as pumped; 0 = not given", idle()),
      number("ballast.own_medium.price_high_eur_per_l",
             in_ballast<&BallastPlan::own_medium, &OwnMedium::price, &PriceRange::high>(), 0, 100,
             "highest price of it as pumped; 0 = not given", idle()),
  };
}

// From none to what the machine takes, or has; no slider where it takes none.
std::optional<Span> up_to(double limit, double there, std::string_view ends) {
  const double most = std::max(limit, there);
  return most > 0 ? std::optional(Span{0, most, limit > 0 ? ends : "this machine has no place for any", limit})
                  : std::nullopt;
}
std::optional<Span> front_weights(const Scene& s) {
  return up_to(s.vehicle.front_mount.max_mass, s.ballast.front_weights, "this front mount takes");
}
std::optional<Span> rear_weights(const Scene& s) {
  return up_to(s.vehicle.rear_mount.max_mass, s.ballast.rear_weights, "this rear hitch takes");
}
std::optional<Span> wheel_weights(const Scene& s) {
  return up_to(s.vehicle.max_wheel_weights, s.ballast.rear_wheel_weights, "each of these wheels takes");
}
// Liquid in a tyre of this axle: some air has to be left. Foam fills it whole.
template <Wheel left, Wheel right>
std::optional<Span> fills(const Scene& s) {
  const TyreFill &a = s.ballast.fill[left], &b = s.ballast.fill[right];
  const double most = std::max(a.fill_fraction, b.fill_fraction);
  if (info(a.medium).turns_with_wheel || info(b.medium).turns_with_wheel) return Span{0, 1};
  return Span{0, std::max(kMostLiquid, most), "these tyres take", kMostLiquid};
}
// Inwards: beyond its ends the bucket is out of the boom's reach.
std::optional<Span> pin_heights(const Scene& s) {
  const Loader& loader = s.vehicle.loader;
  if (!loader.fitted) return std::nullopt;
  return Span{whole_steps_above(lowest_pin_height(loader, s.ballast), 0.05), loader.max_pin_height,
              "this loader reaches", loader.max_pin_height};
}
std::optional<Span> tank_shares(const Scene& s) {
  return s.vehicle.tank.capacity > 0 ? std::optional(Span{0, 1}) : std::nullopt;
}
std::optional<Span> payloads(const Scene& s) {
  if (!s.vehicle.loader.fitted || has_bale(s.ballast.bale)) return std::nullopt;
  const double rated = s.vehicle.loader.rated_payload;
  if (!(rated > 0)) return Span{0, whole_steps_above(std::max(500.0, s.ballast.loader_payload), 50)};
  return Span{0, std::max(rated, s.ballast.loader_payload), "this loader may lift", rated};
}

// Of bales, each where it means something: a round one may be put on a tool that holds one and holds nothing else, the
// sides of a square one are there once it is.
std::optional<Span> if_there(bool there, Span span) { return there ? std::optional(span) : std::nullopt; }
bool is_square(const Bale& bale) { return bale.width > 0 || bale.height > 0; }
std::optional<Span> bale_diameters(const Scene& s) {
  const BallastPlan& plan = s.ballast;
  const bool may_be = plan.loader_tool != LoaderTool::bucket && !(plan.loader_payload > 0) && !is_square(plan.bale);
  return if_there(s.vehicle.loader.fitted && (may_be || plan.bale.diameter > 0), {0, 2});
}
std::optional<Span> bale_sides(const Scene& s) { return if_there(is_square(s.ballast.bale), {0.3, 1.5}); }
std::optional<Span> bale_lengths(const Scene& s) { return if_there(has_bale(s.ballast.bale), {0.4, 2.6}); }
std::optional<Span> bale_densities(const Scene& s) { return if_there(has_bale(s.ballast.bale), {50, 800}); }
std::optional<Span> bale_counts(const Scene& s) { return if_there(has_bale(s.ballast.bale), {1, 6}); }

// Of what was measured, or of the usual that stands in its place: moved in sim/insight/uncertainty.cpp. A bucket's
// usual mass is a number of the machine.
double tool_mass_off(const Scene& s) {
  const BallastPlan& plan = s.ballast;
  if (plan.loader_tool_mass > 0) return 0.05 * plan.loader_tool_mass;
  const bool usual = s.vehicle.loader.fitted && plan.loader_tool != LoaderTool::bucket;
  return usual ? kToolMassOff * tool_mass(s.vehicle.loader, plan) : 0;
}
double load_ahead_off(const Scene& s) {
  if (s.ballast.loader_load_ahead > 0) return 0.05;
  return s.vehicle.loader.fitted && loader_load(s.ballast) > 0 ? load_off(s.ballast) : 0;
}

// What bears the load of a front loader.
std::vector<Field> loader_tool_rows() {
  return {
      choice<&Scene::ballast, &BallastPlan::loader_tool>("ballast.loader_tool", keys_of<kLoaderTools>(),
                                                         "what the loader carries its load with"),
      number("ballast.loader_tool_mass_kg", in_ballast<&BallastPlan::loader_tool_mass>(), 0, 5000,
             "empty tool; 0 = the usual: of a bucket bucket_mass_kg, of the others our estimate",
             by_rule(tool_mass_off)),
      number("ballast.loader_load_ahead_m", in_ballast<&BallastPlan::loader_load_ahead>(), 0, 4,
             "centre of the load ahead of the bucket pin; 0 = the tool's usual, or half the bale from its back",
             by_rule(load_ahead_off)),
  };
}

std::vector<Field> bale_rows() {
  constexpr auto kIfBale = [](const Scene& s) { return has_bale(s.ballast.bale); };
  std::vector<Field> rows = {
      number("ballast.bale.diameter_m", in_ballast<&BallastPlan::bale, &Bale::diameter>(), 0, 3,
             "round bale on the loader, in place of its payload; 0 = not a round one", if_any(0.05),
             Named{"diameter of the bale"},
             Slider{"Loader", "Round bale, diameter", 53, 0, 0, 0.05, 2, bale_diameters}),
      number("ballast.bale.width_m", in_ballast<&BallastPlan::bale, &Bale::width>(), 0, 3,
             "square bale, from the tool's back to its front; 0 = not a square one", if_any(0.05),
             Named{"width of the bale"}, Slider{"Loader", "Square bale, width", 54, 0, 0, 0.05, 2, bale_sides}),
      number("ballast.bale.height_m", in_ballast<&BallastPlan::bale, &Bale::height>(), 0, 3,
             "square bale, as it lies; 0 = not a square one", if_any(0.05), Named{"height of the bale"},
             Slider{"Loader", "Square bale, height", 55, 0, 0, 0.05, 2, bale_sides}),
  };
  append(rows,
         only_if(kIfBale, {
                              number("ballast.bale.length_m", in_ballast<&BallastPlan::bale, &Bale::length>(), 0.2, 4,
                                     "along a round bale's axis, or a square one's long side, which lies across",
                                     within(0.05), Named{"length of the bale"},
                                     Slider{"Loader", "Bale length", 56, 0, 0, 0.05, 2, bale_lengths}),
                              number("ballast.bale.density_kg_per_m3", in_ballast<&BallastPlan::bale, &Bale::density>(),
                                     10, 1500, "mass over volume: dry hay about 150, silage 350 to 600, our estimates",
                                     share(0.2), Named{"density of the bale"},
                                     Slider{"Loader", "Bale density", 57, 0, 0, 10, 0, bale_densities}),
                              number("ballast.bale.count", in_ballast<&BallastPlan::bale, &Bale::count>(), 1, 20,
                                     "whole number of bales: round ones side by side, square ones on top of each other",
                                     chosen(), Slider{"Loader", "Bales", 58, 0, 0, 1, 0, bale_counts}),
                          }));
  return rows;
}

}  // namespace

std::vector<Field> ballast_fields() {
  std::vector<Field> rows = fill_rows<kFrontLeft, "front_left", "front left">();
  append(rows, fill_rows<kFrontRight, "front_right", "front right">());
  append(rows, fill_rows<kRearLeft, "rear_left", "rear left">());
  append(rows, fill_rows<kRearRight, "rear_right", "rear right">());
  append(rows, own_medium_rows());
  append(rows, {
                   number("ballast.front_weights_kg", in_ballast<&BallastPlan::front_weights>(), 0, 20000,
                          "weights on the front mount", share(0.01),
                          Slider{"Weights", "Front weights", 31, 0, 0, 10, 0, front_weights}),
                   number("ballast.rear_weights_kg", in_ballast<&BallastPlan::rear_weights>(), 0, 20000,
                          "weights or box on the rear hitch", share(0.01),
                          Slider{"Weights", "Rear hitch weights", 32, 0, 0, 10, 0, rear_weights}),
                   number("ballast.front_wheel_weights_kg", in_ballast<&BallastPlan::front_wheel_weights>(), 0, 5000,
                          "weights on each front wheel", share(0.01)),
                   number("ballast.rear_wheel_weights_kg", in_ballast<&BallastPlan::rear_wheel_weights>(), 0, 5000,
                          "weights on each rear wheel", share(0.01),
                          Slider{"Weights", "Rear wheel weights, each", 33, 0, 0, 10, 0, wheel_weights}),
                   number("ballast.loader_pin_height_m", in_ballast<&BallastPlan::loader_pin_height>(), 0, 8,
                          "bucket pin above ground", within(0.05), Named{"height of the bucket pin"},
                          Slider{"Loader", "Bucket height", 51, 0, 0, 0.05, 2, pin_heights, "ballast.loader_tool"}),
                   number("ballast.loader_payload_kg", in_ballast<&BallastPlan::loader_payload>(), 0, 20000,
                          "load in the bucket or on the tool in its place", share(0.05), Named{"load in the bucket"},
                          Slider{"Loader", "Payload", 52, 0, 0, 10, 0, payloads}),
               });
  append(rows, loader_tool_rows());
  append(rows, {
                   number("ballast.tank_fraction", in_ballast<&BallastPlan::tank_fraction>(), 0, 1,
                          "share of the tank that is full",
                          by_rule([](const Scene& s) { return s.vehicle.tank.capacity > 0 ? 0.1 : 0; }),
                          Named{"tank: part that is full"},
                          Slider{"Tyres and tank", "Tank", 83, 0, 0, 0.05, 0, tank_shares, {}, true}),
                   number("ballast.hanging_mass_kg", in_ballast<&BallastPlan::hanging_mass>(), 0, 20000,
                          "load on a rope from the bucket pin", share(0.01)),
                   number("ballast.hanging_rope_m", in_ballast<&BallastPlan::hanging_rope>(), 0.1, 6,
                          "bucket pin to the centre of what hangs", within(0.005)),
               });
  append(rows, bale_rows());
  append(rows,
         {
             number("ballast.implement.mass_kg", in_ballast<&BallastPlan::implement, &Implement::mass>(), 0, 20000,
                    "mounted on the rear linkage; 0 = none", share(0.01)),
             number("ballast.implement.x_m", in_ballast<&BallastPlan::implement, &Implement::x>(), -8, 2,
                    "its centre of mass; behind is negative", within(0.005)),
             number("ballast.implement.z_m", in_ballast<&BallastPlan::implement, &Implement::z>(), 0, 5,
                    "its centre of mass above ground, as carried", within(0.005)),
             number("ballast.implement.width_m", in_ballast<&BallastPlan::implement, &Implement::width>(), 0.2, 12,
                    "its width (inertia, ground contact)", within(0.005)),
             number("ballast.trailer.mass_kg", in_ballast<&BallastPlan::trailer, &Trailer::mass>(), 0, 60000,
                    "trailer and load, on the hitch; 0 = none", share(0.01)),
             number("ballast.trailer.drawbar_load_kg", in_ballast<&BallastPlan::trailer, &Trailer::drawbar_load>(), 0,
                    10000, "the part of this mass that rests on the hitch", share(0.01)),
             number("ballast.trailer.braked", in_ballast<&BallastPlan::trailer, &Trailer::braked>(), 0, 1,
                    "how far the trailer's own brakes follow the pedal; 0 = unbraked", idle()),
         });
  return rows;
}

std::span<const Alias> scene_aliases() {
  static const Alias kAliases[] = {
      {"ballast.front.medium", {"ballast.front_left.medium", "ballast.front_right.medium"}, "both front tyres"},
      {"ballast.front.fill_fraction",
       {"ballast.front_left.fill_fraction", "ballast.front_right.fill_fraction"},
       "both front tyres",
       "front: part of the tyre filled",
       Slider{"Liquid in the tyres", "Front", 22, 0, 1, 0.05, 0, fills<kFrontLeft, kFrontRight>,
              "ballast.front.medium"}},
      {"ballast.rear.medium", {"ballast.rear_left.medium", "ballast.rear_right.medium"}, "both rear tyres"},
      {"ballast.rear.fill_fraction",
       {"ballast.rear_left.fill_fraction", "ballast.rear_right.fill_fraction"},
       "both rear tyres",
       "rear: part of the tyre filled",
       Slider{"Liquid in the tyres", "Rear", 21, 0, 1, 0.05, 0, fills<kRearLeft, kRearRight>, "ballast.rear.medium"}},
      {"ballast.front.concentration",
       {"ballast.front_left.concentration", "ballast.front_right.concentration"},
       "both front tyres",
       "front: strength of the filling"},
      {"ballast.rear.concentration",
       {"ballast.rear_left.concentration", "ballast.rear_right.concentration"},
       "both rear tyres",
       "rear: strength of the filling"},
      {"ballast.front.price_low_eur_per_l",
       {"ballast.front_left.price_low_eur_per_l", "ballast.front_right.price_low_eur_per_l"},
       "both front tyres"},
      {"ballast.front.price_high_eur_per_l",
       {"ballast.front_left.price_high_eur_per_l", "ballast.front_right.price_high_eur_per_l"},
       "both front tyres"},
      {"ballast.rear.price_low_eur_per_l",
       {"ballast.rear_left.price_low_eur_per_l", "ballast.rear_right.price_low_eur_per_l"},
       "both rear tyres"},
      {"ballast.rear.price_high_eur_per_l",
       {"ballast.rear_left.price_high_eur_per_l", "ballast.rear_right.price_high_eur_per_l"},
       "both rear tyres"},
  };
  return kAliases;
}

std::span<const FieldOf<PointMass>> point_mass_fields() {
  static const std::vector<FieldOf<PointMass>> kRows = {
      text("name", at<&PointMass::name>(), 120, "what it is, for the list of masses"),
      choice<&PointMass::on>("on", keys_of<kCarriers>(), "what it is bolted to"),
      number("mass_kg", at<&PointMass::mass>(), 0, 20000, "its mass", share(0.02), Named{"mass"}),
      number("x_m", at<&PointMass::place, &Vec3::x>(), -20, 20, "ahead of the rear axle", idle()),
      number("y_m", at<&PointMass::place, &Vec3::y>(), -10, 10, "to the left of the middle", idle()),
      number("z_m", at<&PointMass::place, &Vec3::z>(), 0, 10, "above level ground on undeflected tyres", within(0.03),
             Named{"height"}),
  };
  return kRows;
}

}  // namespace sidehill

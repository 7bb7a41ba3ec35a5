// What stands on wheels, tyres and axles, where the weight sits, what it weighs, what it takes to go over.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "render/screen/desk/readings_list.h"
#include "render/text/job/rule_words.h"
#include "render/text/words/words.h"
#include "sim/insight/answer.h"
#include "sim/motion/under_way.h"
#include "sim/rest/load_check.h"
#include "sim/rest/margin.h"
#include "sim/rest/mass_sums.h"

namespace sidehill::screen {

void add_loads(ReadingList& list) {
  const Known& k = list.known;
  std::optional<std::array<double, kWheels>> load;
  if (k.now) {
    load.emplace();
    for (std::size_t i = 0; i < kWheels; ++i) (*load)[i] = k.now->wheels[i].load;
  } else if (k.statics.rest) {
    load = k.statics.rest->load;
  }
  const Off in_motion = not_calculated("it is a moment of one run; other measures would give another run.");
  const auto off = [&](std::size_t i) {
    if (k.now) return in_motion;
    return list.off(k.doubts ? std::optional(k.doubts->load[i]) : std::nullopt,
                    load ? std::optional((*load)[i]) : std::nullopt,
                    k.doubts && k.doubts->middle.rests ? std::optional(k.doubts->middle.load[i]) : std::nullopt);
  };
  list.group = k.now ? "Wheel loads, at this moment" : "Wheel loads, at rest";
  for (std::size_t i = 0; i < kWheels; ++i) {
    list.add(
        {.id = "load_" + std::string(kWheelWords[i].key),
         .name = std::string(kWheelWords[i].title),
         .quantity = Quantity::load,
         .value = load ? std::optional((*load)[i]) : std::nullopt,
         .instead = "does not rest here",
         .how = k.now ? "Force of the ground on this wheel, square to the ground, at this moment of the run: tyre as "
                        "spring and damper, so it jumps over bumps."
                      : "Force of the ground on this wheel, square to the ground, with the machine in balance on this "
                        "slope: tyres that give, liquid where it lies, front axle free on its pivot."},
        off(i));
  }

  list.group = "Tyres and axles against what they may carry";
  LoadCheck check;
  if (k.now && load)
    check = check_loads(k.scene, k.model, *load);
  else if (load)
    check = check_loads(k.scene, k.model, *k.statics.rest);
  for (std::size_t i = 0; i < kWheels; ++i) {
    const TyreCheck& tyre = check.tyres[i];
    const bool there = load && tyre.service && tyre.margin.capacity > 0;
    Off of_load = off(i);
    if (of_load.width && there) {
      const double share = 1 / (k.scene.settings.gravity * tyre.margin.capacity);
      for (std::optional<double>* side : {&of_load.width, &of_load.low, &of_load.high})
        if (*side) **side *= share;
      of_load.words = "The uncertainty of the load over what the tyre may carry; that itself is a rule of thumb.";
    }
    list.add(
        {.id = "tyre_" + std::string(kWheelWords[i].key),
         .name = std::string(kWheelWords[i].title) + " tyre",
         .note = there && tyre.rating == Rating::typical ? "typical of its size" : "",
         .quantity = Quantity::share,
         .value = there ? std::optional(tyre.margin.used) : std::nullopt,
         .instead = !load          ? "does not rest here"
                    : tyre.service ? "too fast for it"
                                   : "limit not known",
         .how =
             "Load on the wheel over what its tyre, or its pair of tyres, may carry: load index at the scene's speed, "
             "more at a crawl by the law on a slope of at most 20 %, less below the reference pressure by the press's "
             "rule of thumb. More than 100 % is an overload; the maker's table decides.",
         .better = there && tyre.margin.used > 1 ? Better::less : Better::unclear},
        of_load);
  }
  for (std::size_t axle = 0; axle < 2; ++axle) {
    const bool there = load && check.axles[axle].capacity > 0;
    list.add({.id = axle == 0 ? "axle_front_used" : "axle_rear_used",
              .name = axle == 0 ? "Front axle" : "Rear axle",
              .note = k.now                        ? "at this moment"
                      : k.scene.terrain.slope == 0 ? "on the level"
                                                   : "on this slope",
              .quantity = Quantity::share,
              .value = there ? std::optional(check.axles[axle].used) : std::nullopt,
              .instead = load ? "limit not known" : "does not rest here",
              .how = "Load of both its wheels over what the maker lets the axle carry, as the scene gives it.",
              .better = there && check.axles[axle].used > 1 ? Better::less : Better::unclear},
             not_calculated("see the loads of its two wheels."));
  }
  for (std::size_t axle = 0; axle < 2; ++axle) {
    const TyreLaw& law = k.model.wheels[2 * axle].tyre;
    const std::string side = axle == 0 ? "front" : "rear";
    list.add(
        {.id = "pressure_" + side,
         .name = "Pressure, " + side,
         .quantity = Quantity::pressure,
         .value = law.pressure,
         .how =
             "What a gauge shows cold, at the scene's temperature and before the load squeezes the air: ideal gas in "
             "the room the liquid leaves."},
        list.off_of_datum("vehicle." + side + ".tyre.pressure_kpa"));
    Off stiff = list.off_of_datum("vehicle." + side + ".tyre.vertical_stiffness_kn_per_m");
    stiff.datum.clear();  // of the datum and of a rule, not of the datum alone
    if (stiff.width) stiff.width = std::hypot(*stiff.width, 2 * law.vertical_stiffness_uncertainty);
    stiff.words += " That of the stiffening by liquid and temperature is added as squares.";
    list.add(
        {.id = "stiffness_" + side,
         .name = "Stiffness, " + side,
         .quantity = Quantity::stiffness,
         .value = law.rigid ? std::nullopt : std::optional(law.vertical_stiffness),
         .instead = "taken as rigid",
         .how = "Of one tyre, downwards: the datum for air alone, stiffened by the room the liquid takes from the air "
                "and by temperature. That stiffening is our estimate."},
        stiff);
  }
}

void add_masses(ReadingList& list) {
  const Known& k = list.known;
  const Vec3 middle =
      k.now ? inverse(k.now->X_GV) * k.now->centre_of_gravity_G + Vec3(0, 0, k.model.wheels[kRearLeft].tyre.radius)
            : centre_of_gravity_at_rest(k.model, k.statics);
  list.group = "Where the weight sits";
  constexpr const char* kIds[] = {"centre_x", "centre_y", "centre_z"};
  constexpr const char* kNames[] = {"Ahead of the rear axle", "Left of the middle", "Above the ground"};
  for (int axis : {2, 0, 1}) {
    Off off = not_calculated("it is a moment of one run.");
    if (!k.now) {
      off =
          list.off(k.doubts ? std::optional(k.doubts->centre_of_gravity[static_cast<std::size_t>(axis)]) : std::nullopt,
                   middle[axis], k.doubts ? std::optional(k.doubts->middle.centre[axis]) : std::nullopt);
      if (off.width) off.words += " Worked out on level ground, where the liquid lies elsewhere.";
    }
    list.add(
        {.id = kIds[axis],
         .name = kNames[axis],
         .quantity = Quantity::length,
         .value = middle[axis],
         .how = "Centre of gravity of everything: every line of the ledger - machine, driver, weights, load - and the "
                "liquid where it lies now. Measured from the ground under the rear axle, tyres not pressed in.",
         .better = axis == 2 ? Better::less : Better::unclear},
        off);
  }

  list.group = "Mass";
  const double mass = total_mass(k.model);
  list.add({.id = "mass",
            .name = "Everything",
            .quantity = Quantity::mass,
            .value = mass,
            .how = "Sum of the ledger: machine, driver, what is in the tank, liquid, weights, load."},
           list.off(k.doubts ? std::optional(k.doubts->mass) : std::nullopt, mass,
                    k.doubts ? std::optional(k.doubts->middle.mass) : std::nullopt));
  const AxleShare axles = axle_share(k.model);
  for (bool front : {true, false}) {
    const double on = front ? axles.front : axles.rear;
    list.add({.id = front ? "axle_front" : "axle_rear",
              .name = front ? "On the front axle, level" : "On the rear axle, level",
              .note = mass > 0 ? percent(on / mass) : "",
              .quantity = Quantity::mass,
              .value = on,
              .how = "Lever rule about the wheels' contact lines on level ground: what a weighbridge shows under that "
                     "axle."},
             not_calculated("a weighbridge gives it more exactly: `sidehill weigh`."));
  }
  std::string practice;
  if (k.further)
    for (const RuleAnswer& rule : k.further->rules)
      if (rule.id == RuleId::mass_per_power)
        practice += fmt::format(" Asked: {} ({}; {}).", asked_words(rule, Units::si), rule.when, rule.source);
  list.add({.id = "mass_per_power",
            .name = "For each unit of power",
            .quantity = Quantity::mass_per_power,
            .value = k.model.engine_power > 0 ? std::optional(mass / k.model.engine_power) : std::nullopt,
            .instead = "power not known",
            .how = "Mass of everything over the engine's rated power." + practice},
           not_calculated("rated power is as put in, by whichever standard."));
  constexpr std::pair<LedgerItem, std::pair<const char*, const char*>> kItems[] = {
      {LedgerItem::front_weights, {"weights_front", "Front weights"}},
      {LedgerItem::rear_weights, {"weights_rear", "Rear weights"}},
      {LedgerItem::wheel_weights, {"weights_wheels", "Wheel weights, all"}},
      {LedgerItem::payload, {"payload", "Load in the bucket"}},
      {LedgerItem::added, {"added", "Other added masses"}}};
  for (bool front : {true, false}) {
    const double fill = fill_mass(k.model, front);
    if (fill > 0)
      list.add({.id = front ? "fill_front" : "fill_rear",
                .name = front ? "Filling of the front tyres" : "Filling of the rear tyres",
                .quantity = Quantity::mass,
                .value = fill,
                .how = "Of both tyres: room inside the tyre, times the part filled, times the medium's density at the "
                       "temperature of filling."},
               not_calculated("by itself; the room in the tyre and the part filled are moved for the lift-off's."));
  }
  for (const auto& [item, names] : kItems) {
    double sum = 0;
    for (const LedgerLine& line : k.model.ledger)
      if (line.item == item) sum += line.props.mass;
    if (sum > 0)
      list.add({.id = names.first,
                .name = item == LedgerItem::payload ? capital(k.model.loader.carries) : names.second,
                .quantity = Quantity::mass,
                .value = sum,
                .how = "As put in: the lines of the ledger of this kind."},
               not_calculated("by itself; it is part of the uncertainty of every answer."));
  }
}

namespace {

constexpr const char* kOverLines[] = {"backwards", "over the left side", "forwards", "over the right side"};

}  // namespace

void add_room(ReadingList& list) {
  const Known& k = list.known;
  if (k.now) {
    list.group = "Under way, at this moment";
    const Off off = not_calculated("it is a moment of one run; other measures would give another run.");
    const std::optional<Remaining> rest = remaining(k.model, *k.now);
    const std::string in_air = "in the air, or lies on the ground";
    list.add(
        {.id = "moment_left",
         .name = "Left before its load points outside",
         .quantity = Quantity::angle,
         .value = angle_left(k.model, *k.now),
         .instead = in_air,
         .how = "How far the load on the body - gravity and acceleration together, from the wheel forces - could still "
                "turn before it points outside a support line (force-angle measure). It jumps over bumps.",
         .better = Better::more},
        off);
    list.add(
        {.id = "moment_energy",
         .name = "Energy left to going over",
         .note = rest ? kOverLines[static_cast<int>(rest->line)] : "",
         .quantity = Quantity::energy,
         .value = rest ? std::optional(rest->energy) : std::nullopt,
         .instead = in_air,
         .how = "What must still be added to bring the weight over the nearest support line, the turning towards it "
                "counted in; below zero it goes over unless something stops it. Friction, tyres and the driver "
                "are left out.",
         .better = Better::more},
        off);
    list.add({.id = "moment_time",
              .name = "Time to the point of no return",
              .quantity = Quantity::time,
              .value = rest ? rest->time : std::nullopt,
              .instead = rest ? "it comes back" : in_air,
              .how = "Until the weight is over the line at the present turning, gravity and the line alone.",
              .better = Better::more},
             off);
    list.add({.id = "moment_speed",
              .name = "Speed",
              .quantity = Quantity::speed,
              .value = glm::dot(k.now->v_G, k.now->X_GV.R[0]),
              .how = "Of the machine along its own length; below zero it goes backwards."},
             off);
    return;
  }
  if (!k.statics.rest) return;
  const Measures all = measures(k.model, *k.statics.rest);
  const LineMeasure& line = all.lines[static_cast<std::size_t>(all.nearest)];
  const std::string where = kOverLines[static_cast<int>(all.nearest)];
  const Off off = not_calculated("it is a measure of comparison, on tyres that do not give.");
  list.group = "What it takes to go over, here";
  list.add(
      {.id = "energy",
       .name = "Energy to go over",
       .note = where,
       .quantity = Quantity::energy,
       .value = line.energy,
       .how =
           "To lift the weight over the nearest line it could turn about, from rest on this slope. A bump, a jerk or "
           "a bend brings energy. Tyres and friction left out.",
       .better = Better::more},
      off);
  list.add({.id = "plumb_line",
            .name = "Plumb line inside by",
            .note = where,
            .quantity = Quantity::length,
            .value = line.plumb_line,
            .how = "Shortest way from the plumb line through the centre of gravity to the line it could turn about.",
            .better = Better::more},
           off);
  list.add({.id = "turning_rate",
            .name = "Turning that just does it",
            .note = where,
            .quantity = Quantity::turning_rate,
            .value = line.critical_rate,
            .how = "How fast the body would have to turn about that line, from here, just to come over it.",
            .better = Better::more},
           off);
}

void add_ground(ReadingList& list) {
  const Terrain& ground = list.known.scene.terrain;
  list.group = "Ground";
  list.add({.id = "slope",
            .name = "Slope",
            .quantity = Quantity::angle,
            .value = ground.slope,
            .how = "As put in: of the even slope, without bumps and holes. Measure it with a level on a long straight "
                   "lath; a glance is off by many degrees."},
           list.off_of_datum("terrain.slope_deg"));
  list.add({.id = "grip",
            .name = "Grip",
            .note = ground.soil.name,
            .quantity = Quantity::number,
            .value = ground.soil.adhesion_unlimited ? std::nullopt : std::optional(ground.soil.adhesion),
            .instead = "without end",
            .how = "As put in: most force the ground can hold a tyre with along the way it rolls, over its load. "
                   "Measured by nobody before he drives: take the low end.",
            .better = Better::more},
           list.off_of_datum("terrain.soil.adhesion"));
  if (const Soil& soil = ground.soil; !soil.adhesion_unlimited && soil.adhesion_across_ratio != 1) {
    Off off = list.off_of_datum("terrain.soil.adhesion_across_ratio");
    const Off along = list.off_of_datum("terrain.soil.adhesion");
    off.width = std::hypot(off.width.value_or(0) * soil.adhesion, along.width.value_or(0) * soil.adhesion_across_ratio);
    off.datum_value = soil.adhesion * soil.adhesion_across_ratio;
    off.words += " That of the grip along is added as squares.";
    list.add({.id = "grip_across",
              .name = "Grip across the wheels",
              .quantity = Quantity::number,
              .value = soil.adhesion * soil.adhesion_across_ratio,
              .how = "Grip times the ratio put in: most force the ground can hold a tyre with sideways, over its load. "
                     "Where it is held both ways at once, the two share as an ellipse does.",
              .better = Better::more},
             off);
  }
  list.add(
      {.id = "rolling_resistance",
       .name = "Rolling resistance",
       .quantity = Quantity::number,
       .value = ground.soil.rolling_resistance,
       .how = "As put in: force that holds a rolling wheel back, over its load. It matters under way, not at rest."},
      not_calculated("it moves nothing at rest."));
}

}  // namespace sidehill::screen

// What gives way, when, and why: readings in degrees of slope.
#include <fmt/format.h>

#include <cctype>

#include "render/screen/desk/readings_list.h"
#include "render/text/words/words.h"
#include "sim/insight/verdict.h"
#include "sim/rest/load_check.h"

namespace sidehill::screen {
namespace {

// Without one nothing can be said of overloads.
bool any_tyre_limit(const Known& k) {
  for (const TyreCheck& tyre : check_loads(k.scene, k.model, std::array<double, kWheels>{}).tyres)
    if (tyre.service) return true;
  return false;
}

constexpr const char* kSlowTilt =
    "The whole ground is tilted slowly about the horizontal line that keeps this heading, the machine at rest in "
    "balance "
    "at every slope: tyres that give, liquid that runs to the low side, front axle free on its pivot.";

// The big number's own: whichever comes first, with its kind.
void add_first(ReadingList& list, const Uncertainty& u) {
  const Known& k = list.known;
  const StaticSolution& s = k.statics;
  const StandVerdict verdict = verdict_on(
      k.scene, k.model, s, nullptr, nullptr, nullptr,
      k.further ? std::span<const ManoeuvreAnswer>(k.further->manoeuvres) : std::span<const ManoeuvreAnswer>());
  Reading reading{.id = "gives_way",
                  .name = "Gives way first",
                  .quantity = Quantity::angle,
                  .instead = s.status == RestStatus::unsolved ? "no answer" : "never",
                  .how = std::string(kSlowTilt) +
                         " The earliest of three: an axle asks for more grip than the ground gives, the first wheel's "
                         "load vanishes, it truly overturns. Where the scene asks for a bend or braking, the first two "
                         "in it as well.",
                  .better = Better::more};
  if (verdict.gives_way.empty()) {
    list.add(std::move(reading), not_calculated("nothing gives way."));
    return;
  }
  const WayGiven& first = verdict.gives_way.front();
  reading.value = first.slope;
  if (first.doing) {
    reading.under_way = true;
    reading.note = (first.what == GivesWay::slide ? std::string("slides")
                    : first.wheel >= 0            ? fmt::format("{} lifts", wheel_name(first.wheel))
                                                  : std::string("a wheel lifts")) +
                   (*first.doing == ManoeuvreKind::braking ? " in the braking asked for" : " in the bend asked for");
    list.add(std::move(reading), not_calculated("of a bend or braking none is worked out."));
    return;
  }
  switch (first.what) {
    case GivesWay::slide:
      reading.note = "slides";
      list.add(std::move(reading), list.off(u.slide, s.slide, u.middle.slide));
      return;
    case GivesWay::lift_off:
      reading.note = s.first_wheel >= 0 ? fmt::format("{} lifts", wheel_name(s.first_wheel)) : "a wheel lifts";
      list.add(std::move(reading), list.off(u.first_lift_off, s.first_lift_off, u.middle.first_lift_off));
      return;
    case GivesWay::tip_over:
      reading.note = "goes over";
      list.add(std::move(reading), list.off(u.tip_over, s.tip_over, u.middle.tip_over));
      return;
  }
}

}  // namespace

void add_margins(ReadingList& list) {
  const Known& k = list.known;
  const StaticSolution& s = k.statics;
  const double slope = k.scene.terrain.slope;
  const bool unsolved = s.status == RestStatus::unsolved;
  const std::string never = unsolved ? "no answer" : "never";
  const Uncertainty none;
  const Uncertainty& u = k.doubts ? *k.doubts : none;
  const std::string wheel = s.first_wheel >= 0 ? wheel_name(s.first_wheel) : "";

  list.group = "How much is left";
  add_first(list, u);
  Off off = list.off(u.margin, s.margin, u.middle.margin);
  off.words += list.most_from();
  list.add(
      {.id = "margin",
       .name = "Left before a wheel lifts",
       .quantity = Quantity::angle,
       .value = s.margin,
       .instead = never,
       .how = "The slope at which the first wheel lifts at this heading, less the slope of the ground. At rest: no "
              "speed, no bumps beyond the scene's, no bend. Below zero a wheel is up already.",
       .better = Better::more},
      off);
  off = list.off(u.first_lift_off, s.first_lift_off, u.middle.first_lift_off);
  off.words += list.most_from();
  list.add({.id = "first_lift_off",
            .name = "A wheel lifts",
            .note = wheel,
            .quantity = Quantity::angle,
            .value = s.first_lift_off,
            .instead = never,
            .how = std::string(kSlowTilt) + " The value is the slope at which the first wheel's load vanishes.",
            .better = Better::more},
           off);
  const std::string at_worst = k.headings_known ? never : "being worked out";
  const std::string worst_how =
      "The same at every heading, seventy-two of them, and closed in between the lowest. Turning on a slope passes "
      "through it: this is the one to plan with.";
  const std::optional<double> worst_lift = k.worst ? k.worst->first_lift_off : std::optional<double>();
  const auto off_at_worst = [&](double less) {  // of an angle that is so much less
    if (!k.scene.terrain.features.empty()) return not_calculated("that of this heading, which is, stands beside it.");
    if (!k.worst_doubt) return worst_lift ? Off{{}, {}, {}, kDoubtIsComing} : not_calculated("no wheel lifts at any.");
    std::optional<Interval> interval = k.worst_doubt->first_lift_off;
    if (interval) interval->low -= less, interval->high -= less;
    const auto moved = [less](std::optional<double> angle) { return angle ? std::optional(*angle - less) : angle; };
    return list.off(interval, moved(worst_lift), moved(k.worst_doubt->middle_lift));
  };
  list.add({.id = "worst_lift_off",
            .name = "Lifts, facing the worst way",
            .note = k.worst ? signed_degrees(k.worst->heading) : "",
            .quantity = Quantity::angle,
            .value = worst_lift,
            .instead = at_worst,
            .how = worst_how,
            .better = Better::more},
           off_at_worst(0));
  list.add({.id = "worst_margin",
            .name = "Left, facing the worst way",
            .quantity = Quantity::angle,
            .value = worst_lift ? std::optional(*worst_lift - slope) : std::nullopt,
            .instead = at_worst,
            .how = worst_how,
            .better = Better::more},
           off_at_worst(slope));
  off = list.off(u.slide, s.slide, u.middle.slide);
  if (off.width) off.words += list.most_from(&Facts::slide);
  list.add(
      {.id = "slide",
       .name = "Slides",
       .note = k.scene.terrain.soil.name,
       .quantity = Quantity::angle,
       .value = s.slide,
       .instead = k.scene.terrain.soil.adhesion_unlimited ? "never, grip without end"
                  : unsolved                              ? never
                                                          : "not before a lift",
       .how = "Slope at which one axle asks for more grip than the ground gives it, side force shared by the tyres' "
              "stiffness. Grip is the least certain datum of all: wet grass or loose soil hold much less.",
       .better = Better::more},
      off);
  off = list.off(u.tip_over, s.tip_over, u.middle.tip_over);
  if (off.width) off.words += list.most_from(&Facts::tip_over);
  list.add(
      {.id = "tip_over",
       .name = "Goes over",
       .quantity = Quantity::angle,
       .value = s.tip_over,
       .instead = never,
       .how = "Slope, raised slowly, at which it truly overturns: once a wheel has lifted the body snaps on to the "
              "front axle's stop and arrives there with speed. The energy of that snap is weighed against what "
              "is left beyond the stop; friction is left out.",
       .better = Better::more},
      off);
  list.add({.id = "tip_on_stop",
            .name = "Limit on the axle's stop",
            .quantity = Quantity::angle,
            .value = s.tip_on_stop,
            .instead = never,
            .how = "The steepest slope on which it could still rest on the front axle's stop, if it got there without "
                   "speed. Nobody gets there without speed: look at \"Goes over\".",
            .better = Better::more},
           not_calculated("it is shown for comparison; nothing depends on it."));
  list.add(
      {.id = "rigid_lift_off",
       .name = "As if rigid, mid-plane",
       .quantity = Quantity::angle,
       .value = s.rigid_lift_off,
       .instead = never,
       .how = "First lift-off as other people calculate it, for comparison: hard tyres that touch in the middle of "
              "their tread, liquid frozen where it lies on level ground, an even slope.",
       .better = Better::more},
      list.off(u.rigid_lift_off, s.rigid_lift_off, u.middle.rigid_lift_off));

  const std::string later = k.further ? "not before a lift" : "being worked out";
  const bool even = k.scene.terrain.features.empty();  // both leave the features out
  const LoadLimits limits = k.further ? k.further->limits : LoadLimits{};
  list.add(
      {.id = "steering_gone",
       .name = "Steering gets too light",
       .note = even ? "" : "even slope",
       .quantity = Quantity::angle,
       .value = limits.steering_gone,
       .instead = later,
       .how = "Slope from which the front axle carries less than 20 % of the unladen mass, the share Regulation (EU) "
              "2015/208 Annex XXII asks for on level ground. Carrying it over to slopes is ours.",
       .better = Better::more},
      not_calculated("it follows the wheel loads; their uncertainty stands beside them."));
  list.add(
      {.id = "tyre_overload",
       .name = "A tyre is over its load",
       .note = limits.overloaded_wheel < 0 ? ""
               : even                      ? std::string(wheel_name(limits.overloaded_wheel))
                                           : fmt::format("{}, even slope", wheel_name(limits.overloaded_wheel)),
       .quantity = Quantity::angle,
       .value = limits.tyre_overload,
       .instead = any_tyre_limit(k) ? later : "not known: no tyre has a load limit",
       .how = "Slope from which the first tyre carries more than its load index and pressure allow, by the press's "
              "rule of thumb. The maker's table decides.",
       .better = Better::more},
      not_calculated("the rule of thumb for the pressure is less certain than the load."));
  if (k.further) {
    for (const ManoeuvreAnswer& m : k.further->manoeuvres) {
      constexpr const char* kNames[] = {"Left when turning left", "Left when turning right", "Left when braking"};
      constexpr const char* kIds[] = {"margin_turning_left", "margin_turning_right", "margin_braking"};
      const auto kind = static_cast<std::size_t>(m.kind);
      list.add(
          {.id = kIds[kind],
           .name = kNames[kind],
           .quantity = Quantity::angle,
           .value = m.margin,
           .instead = never,
           .how = "As at rest, with what the steady bend or braking of the scene adds to gravity. No roll rate, no "
                  "steering angle, no bumps: less is left on real ground.",
           .better = Better::more},
          not_calculated("that of the machine at rest applies; speed and radius come on top."));
    }
  }
}

void add_why(ReadingList& list) {
  const Known& k = list.known;
  if (!k.further || !k.further->breakdown) return;
  const Breakdown& b = *k.further->breakdown;
  list.group = "Why a wheel lifts there, on an even slope";
  const Off off = not_calculated("differences of the same answer; most of what is not known falls out of them.");
  const std::string how =
      "What this cause adds to the slope of first lift-off or takes from it: answers with and without it, averaged "
      "over "
      "every order in which the causes can be added (Shapley 1953), so that all of them add up to the whole.";
  list.add(
      {.id = "why_bare",
       .name = "The bare machine, rigid tyres",
       .quantity = Quantity::angle,
       .value = b.bare,
       .how = "First lift-off with nobody on it, tank empty, no ballast, no loader, narrowest tracks, tyres that do "
              "not give.",
       .better = Better::more},
      off);
  for (const Cause& cause : b.causes) {
    std::string name = cause.name;
    if (!name.empty()) name.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(name.front())));
    list.add({.id = "why_" + cause.name, .name = name, .quantity = Quantity::angle, .value = cause.share, .how = how},
             off);
  }
}

}  // namespace sidehill::screen

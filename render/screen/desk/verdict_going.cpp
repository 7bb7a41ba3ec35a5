// What a person reads beside a machine that moves: how it is driven by hand, and what it does just now.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/desk/verdict.h"
#include "render/text/motion/outcome_words.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "sim/base/constants.h"
#include "sim/insight/answer.h"
#include "sim/insight/run_verdict.h"
#include "sim/insight/slope_rows.h"

namespace sidehill::screen {

std::string hand_words(const Session& session, Units units) {
  const double asked = session.hand().speed;  // goes up and down by whole km/h
  const std::string speed = is_metric(units) ? fmt::format("{} km/h", std::abs(std::lround(3.6 * asked)))
                                             : shown(Quantity::speed, std::abs(asked), units);
  std::string words = "Driving by hand: " + (asked < 0 ? "back " + speed : speed);
  const State& state = session.shown();
  const bool joint = session.model() && session.model()->axle_kind == AxleKind::articulated;
  const double steer = (joint ? state.articulation : state.steer) / kDegree;
  const int degrees = std::isfinite(steer) ? static_cast<int>(std::lround(steer)) : 0;
  words += degrees == 0 ? ", straight" : fmt::format(", {} {}°", degrees > 0 ? "left" : "right", std::abs(degrees));
  if (session.hand().brake > 0) words += ", brake";
  const HandKeys& keys = session.keys();
  if (session.model() && session.model()->loader.fitted && keys.raise != keys.lower)
    words += keys.raise ? ", loader up" : ", loader down";
  if (!session.playing()) words += " - paused";
  return words;
}

std::string going_words(const Session& session, Units units) {
  const State& state = session.shown();
  const double speed = glm::dot(state.v_G, state.X_GV.R[0]);
  if (!std::isfinite(speed)) return "";
  return (speed > -0.014 ? "goes " : "goes back ") + shown(Quantity::speed, std::abs(speed), units);
}

std::vector<Threshold> thresholds_of(const Scene& scene, const StaticSolution& statics, const StandVerdict& verdict,
                                     const Uncertainty* doubts) {
  const auto named = [&](SlopeOf what) -> Threshold {
    switch (what) {
      case SlopeOf::slide:
        return {"Slides",
                "The grip of an axle is used up on the even slope. Wet grass and loose soil hold less.",
                {},
                Tone::slide,
                scene.terrain.soil.adhesion_unlimited ? "never" : "not before a lift"};
      case SlopeOf::lift_off:
        return {statics.first_wheel >= 0 ? capital(wheel_name(statics.first_wheel)) + " lifts" : "A wheel lifts",
                "The first wheel's load vanishes: the one that counts for a person.",
                {},
                Tone::lifted};
      case SlopeOf::tip_over:
        return {"Goes over",
                "Slope, raised slowly, at which it truly overturns: once a wheel has lifted, the snap on to the axle's "
                "stop arrives with speed.",
                {},
                Tone::lifted};
      case SlopeOf::rigid:
        return {"As if rigid, mid-plane",
                "First lift-off as other people calculate it: hard tyres that touch in their middle, liquid kept where "
                "it lies on level ground.",
                {},
                Tone::unknown};
      case SlopeOf::on_stop:
        return {"Limit on the axle's stop",
                "End of what could still rest on the front axle's stop, if it got there without speed.",
                {},
                Tone::near};
    }
    return {};
  };
  const auto same = [](SlopeOf row, GivesWay way) {
    return row == SlopeOf::slide      ? way == GivesWay::slide
           : row == SlopeOf::lift_off ? way == GivesWay::lift_off
                                      : row == SlopeOf::tip_over && way == GivesWay::tip_over;
  };
  std::vector<Threshold> list;
  for (const SlopeRow& row : slope_rows(statics, doubts, scene.terrain.features.empty())) {
    Threshold t = named(row.what);
    t.slope = row.slope;
    t.interval = row.interval;
    if (t.interval) t.help += " It may lie anywhere in the grey: " + interval_text(*t.interval) + ".";
    for (const WayGiven& way : verdict.gives_way)
      if (!way.doing && !has_given_way(verdict.headline) && same(row.what, way.what)) t.left = left_as_shown(way);
    list.push_back(std::move(t));
  }
  for (const WayGiven& way : verdict.gives_way) {
    if (!way.doing) continue;
    const std::string what = way.what == GivesWay::slide ? "Slides"
                             : way.wheel >= 0            ? capital(wheel_name(way.wheel)) + " lifts"
                                                         : "A wheel lifts";
    Threshold row{what + (*way.doing == ManoeuvreKind::braking ? ", braking" : ", in the bend"),
                  "In the bend or braking the scene asks for. How far off it may be is not worked out.", way.slope,
                  way.what == GivesWay::slide ? Tone::slide : Tone::lifted};
    if (!has_given_way(verdict.headline)) row.left = left_as_shown(way);
    list.push_back(std::move(row));
  }
  if (statics.status == RestStatus::unsolved) {
    for (Threshold& t : list) t.instead = "-";
  }
  std::ranges::stable_sort(list, sooner, &Threshold::slope);
  return list;
}

}  // namespace sidehill::screen

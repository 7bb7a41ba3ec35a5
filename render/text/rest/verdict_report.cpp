#include "render/text/rest/verdict_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/rest/answer_json.h"
#include "render/text/rest/manoeuvre_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/job/implement_here.h"

namespace sidehill::text {
namespace {

constexpr const char* kKeys[kStandCauses] = {"tipped",
                                             "on_stop",
                                             "wheel_up",
                                             "slides",
                                             "unsolved",
                                             "tips_under_way",
                                             "lifts_under_way",
                                             "slides_under_way",
                                             "frozen",
                                             "over_limit",
                                             "may_be_over_limit",
                                             "frost_not_known",
                                             "interval_reaches_slope",
                                             "little_left",
                                             "stands"};
constexpr const char* kTitles[kStandCauses] = {"GOES OVER",
                                               "A WHEEL IS UP",
                                               "A WHEEL IS UP",
                                               "SLIDES",
                                               "NO ANSWER",
                                               "GOES OVER UNDER WAY",
                                               "A WHEEL LIFTS UNDER WAY",
                                               "SLIDES UNDER WAY",
                                               "FROZEN, DO NOT DRIVE",
                                               "OVER ITS LIMITS AS SET UP",
                                               "MAY BE OVER A TYRE'S LIMIT",
                                               "NOT KNOWN WHETHER IT FREEZES",
                                               "MAY NOT HOLD HERE",
                                               "LITTLE LEFT",
                                               "STANDS"};

std::string wheel_lifts(int wheel) {
  return wheel >= 0 ? fmt::format("the {} wheel lifts", wheel_name(wheel)) : std::string("a wheel lifts");
}

std::string way_alone(const WayGiven& way) {
  if (way.what == GivesWay::slide) return "it slides";
  return way.what == GivesWay::lift_off ? wheel_lifts(way.wheel) : "it goes over";
}

const char* asked_for(ManoeuvreKind kind) {
  return kind == ManoeuvreKind::braking ? "in the braking asked for" : "in the bend asked for";
}

// "it slides in the bend asked for (turning left at 20 km/h in a bend of 8 m)".
std::string way_in_full(const WayGiven& way, const Scene& scene) {
  return way_words(way) + (way.doing ? " (" + manoeuvre_words(*way.doing, scene.manoeuvre) + ")" : "");
}

std::string list_of(const std::vector<OverLimit>& limits) {
  std::string text;
  for (const OverLimit& limit : limits)
    text += (text.empty() ? "" : "; ") + limit_words(limit) + limit_doing_words(limit);
  return text;
}

// Where the loads in a list are of: only said where tyres or axles are in it.
std::string condition(const std::vector<OverLimit>& limits, const StandVerdict& verdict, const Scene& scene) {
  for (const OverLimit& limit : limits)
    if (limit.kind == LimitKind::axle || limit.kind == LimitKind::tyre)
      return verdict.on_level || scene.terrain.slope == 0 ? ", on the level" : ", on this slope";
  return {};
}

std::string tipped_words(const Scene& scene, const StaticSolution& s) {
  if (s.tip_on_stop && *s.tip_on_stop > scene.terrain.slope && s.tip_over)
    return fmt::format(
        ": raised slowly up to here it would have gone over at {}. Set down here without any speed it could still rest "
        "on its axle's stop.",
        degrees_and_percent(s.tip_over));
  return ": there is no way to rest here.";
}

// Every bend or braking asked for that does this, and from where on a wheel lifts in it.
std::string under_way_words(StandCause cause, const StandVerdict& verdict, const Scene& scene) {
  std::string text;
  for (const UnderWay& one : verdict.under_way) {
    if (one.what != cause) continue;
    const ManoeuvreAnswer& m = one.answer;
    text += (text.empty() ? ": " : "; ") + manoeuvre_words(m.kind, scene.manoeuvre);
    if (cause == StandCause::slides_under_way)
      text += m.slide && *m.slide > 0 ? fmt::format(", the tyres hold to {} only", degrees_and_percent(m.slide))
                                      : std::string(", the tyres do not hold even on the level");
    else if (m.speed_at_limit)
      text += fmt::format(", a wheel lifts from {:.0f} km/h on", *m.speed_at_limit * 3.6);
    else
      text += fmt::format(", a wheel lifts from {:.1f} m/s2 on", m.acceleration_at_limit.value_or(0));
  }
  return text + (cause == StandCause::lifts_under_way ? ". It may go over." : ".");
}

}  // namespace

std::string interval_text(const Interval& interval) {
  return interval.open ? fmt::format("{} or more", degrees(interval.low))
                       : fmt::format("{} to {}", degrees(interval.low), degrees(interval.high));
}

const char* key_of(StandCause cause) { return kKeys[static_cast<int>(cause)]; }

const char* key_of(GivesWay what) {
  constexpr const char* kWays[] = {"slide", "lift_off", "tip_over"};
  return kWays[static_cast<int>(what)];
}

std::string cause_title(StandCause cause) { return kTitles[static_cast<int>(cause)]; }

std::string limit_doing_words(const OverLimit& limit) {
  if (!limit.doing) return {};
  return *limit.doing == ManoeuvreKind::braking ? " while braking as asked" : " in the bend asked for";
}

std::string limit_words(const OverLimit& limit) {
  const LoadMargin& m = limit.margin;
  constexpr const char* kPlaces[] = {
      "", "", "front weights", "rear weights", "rear wheel weights", "load on the loader"};
  constexpr const char* kFigures[] = {"the maker's figure",   "its rating",         "what the mount takes",
                                      "what the mount takes", "what a wheel takes", "the loader's rated load"};
  std::string name = kPlaces[static_cast<int>(limit.kind)];
  if (limit.kind == LimitKind::axle) name = limit.where == 0 ? "front axle" : "rear axle";
  if (limit.kind == LimitKind::tyre)
    name = fmt::format("{} {}", wheel_name(limit.where), limit.pair ? "pair of tyres" : "tyre");
  std::string figure = kFigures[static_cast<int>(limit.kind)];
  if (limit.at_one_of_pair) figure = "what its fuller tyre lets it carry";
  if (limit.typical) figure = "what is typical of its size";
  if (!(m.capacity > 0))
    return fmt::format("{} {}: {}", name, kilograms(m.load),
                       limit.kind == LimitKind::tyre ? "faster than its mark allows" : "there is no place for any");
  return fmt::format("{} {} of {}, {} over {}", name, kilograms(m.load), kilograms(m.capacity), over_words(m.used),
                     figure);
}

std::string limits_not_known_words(const StandVerdict& verdict) {
  const auto named = [](const std::array<bool, 2>& front_and_rear, const char* both, const char* front,
                        const char* rear) -> std::string {
    if (front_and_rear[0]) return front_and_rear[1] ? both : front;
    return front_and_rear[1] ? rear : "";
  };
  const std::string tyres = named(verdict.tyres_not_known, "tyres", "front tyres", "rear tyres");
  const std::string axles = named(verdict.axle_not_known, "axles", "front axle", "rear axle");
  if (tyres.empty() && axles.empty()) return {};
  return fmt::format("limits of {}{}{} NOT KNOWN", tyres, tyres.empty() || axles.empty() ? "" : " and ", axles);
}

std::string cause_words(StandCause cause, const StandVerdict& v, const Scene& scene, const StaticSolution& s) {
  const std::string title = cause_title(cause);
  switch (cause) {
    case StandCause::tipped:
      return title + tipped_words(scene, s);
    case StandCause::on_stop:
      return fmt::format("{} and the front axle lies on its stop: past the {} at which {}.", title,
                         degrees_and_percent(s.first_lift_off), wheel_lifts(s.first_wheel));
    case StandCause::wheel_up:
      return fmt::format("{}: past the {} at which {}.", title, degrees_and_percent(s.first_lift_off),
                         wheel_lifts(s.first_wheel));
    case StandCause::slides:
      return fmt::format("{}: the tyres hold to {} only.", title, degrees_and_percent(s.slide));
    case StandCause::unsolved:
      return title + ": no balance was found on this ground. Run the scene to see what the machine does.";
    case StandCause::tips_under_way:
    case StandCause::lifts_under_way:
    case StandCause::slides_under_way:
      return title + (scene.terrain.slope > 0 ? " on this slope" : " on the level") + under_way_words(cause, v, scene);
    case StandCause::frozen:
      return title + ": what is in the tyres is ice, and lifts its weight to the top once a turn. Let it thaw.";
    case StandCause::over_limit:
      return fmt::format("{}{}: {}.", title, condition(v.over, v, scene), list_of(v.over));
    case StandCause::may_be_over_limit:
      return fmt::format("{}{}: {}. Read the sidewall.", title, condition(v.may_be_over, v, scene),
                         list_of(v.may_be_over));
    case StandCause::frost_not_known:
      return fmt::format(
          "{}: nothing says when what is in the tyres turns to ice, and it is {:.0f} °C. These angles "
          "take it as liquid; ice lifts its weight to the top once a turn.",
          title, scene.settings.temperature - kZeroCelsius);
    case StandCause::interval_reaches_slope:
      if (!v.reaches) return title + ".";
      return fmt::format("{}: {} at {}, but that may be as little as {}, and this slope is {}.", title,
                         way_words(*v.reaches), degrees_and_percent(v.reaches->slope),
                         degrees_and_percent(v.reaches->interval->low), degrees_and_percent(scene.terrain.slope));
    case StandCause::little_left:
      if (!v.little) return title + ".";
      return fmt::format("{}: {} of slope before {}.", title, degrees(left_as_shown(*v.little)),
                         way_in_full(*v.little, scene));
    case StandCause::stands:
      break;
  }
  const std::string unknown = limits_not_known_words(v);
  const std::string begins = title + (unknown.empty() ? "" : ", " + unknown);
  if (v.gives_way.empty()) return begins + "; nothing gives way at this heading, however steep.";
  return fmt::format("{}{} {} of slope left before {}.", begins, unknown.empty() ? "," : ";",
                     degrees(left_as_shown(v.gives_way.front())), way_in_full(v.gives_way.front(), scene));
}

std::vector<std::string> verdict_sentences(const StandVerdict& verdict, const Scene& scene,
                                           const StaticSolution& statics) {
  std::vector<std::string> out{cause_words(verdict.headline, verdict, scene, statics)};
  for (StandCause cause : verdict.also) out.push_back(cause_words(cause, verdict, scene, statics));
  if (const std::string unknown = limits_not_known_words(verdict);
      !unknown.empty() && verdict.headline != StandCause::stands)
    out.push_back(capital(unknown) + ".");
  return out;
}

std::vector<SaidAtRest> said_beside_run(const StandVerdict& verdict, const Scene& scene,
                                        const StaticSolution& statics) {
  std::vector<SaidAtRest> out;
  const auto add = [&](StandCause cause) {
    if (cause == StandCause::stands) return;
    // A run is what shows the machine where there is no answer at rest.
    if (cause == StandCause::unsolved) {
      const std::string title = "At rest: " + cause_title(cause);
      out.push_back({cause, title, title + ": no balance was found on this ground."});
      return;
    }
    const bool pose = cause <= StandCause::unsolved || cause >= StandCause::interval_reaches_slope;
    const std::string where = pose ? "At rest: " : "";
    out.push_back({cause, where + cause_title(cause), where + cause_words(cause, verdict, scene, statics)});
  };
  add(verdict.headline);
  for (StandCause cause : verdict.also) add(cause);
  return out;
}

std::vector<std::string> grave_sentences(const StandVerdict& verdict, const Scene& scene,
                                         const StaticSolution& statics) {
  std::vector<std::string> out;
  const auto add = [&](StandCause cause) {
    if (cause < StandCause::interval_reaches_slope) out.push_back(cause_words(cause, verdict, scene, statics));
  };
  add(verdict.headline);
  for (StandCause cause : verdict.also) add(cause);
  return out;
}

std::vector<std::string> set_up_warnings(const StandVerdict& verdict, const Scene& scene,
                                         const StaticSolution& statics) {
  std::vector<std::string> out = plan_cautions(scene);
  for (const StandCause cause :
       {StandCause::tips_under_way, StandCause::lifts_under_way, StandCause::slides_under_way, StandCause::frozen,
        StandCause::over_limit, StandCause::may_be_over_limit, StandCause::frost_not_known})
    if (verdict.holds(cause)) out.push_back(cause_words(cause, verdict, scene, statics));
  return out;
}

std::vector<std::string> set_up_warnings(const Scene& scene) {
  constexpr Stage kAsked[] = {Stage::rest, Stage::loads, Stage::manoeuvres};
  Answer answer = unanswered(scene);
  compute(kAsked, answer);
  return set_up_warnings(verdict_on(answer), scene, answer.statics);
}

std::string way_words(const WayGiven& way) {
  return way_alone(way) + (way.doing ? std::string(" ") + asked_for(*way.doing) : "");
}

double left_as_shown(const WayGiven& way) { return angle_between_as_shown(way.here, way.slope); }

std::string ways_sentence(const StandVerdict& verdict) {
  std::string text;
  const std::vector<WayGiven>& ways = verdict.gives_way;
  const bool moves = std::ranges::any_of(ways, [](const WayGiven& way) { return way.doing.has_value(); });
  const bool doubted = std::ranges::any_of(ways, [](const WayGiven& way) { return way.interval.has_value(); });
  for (std::size_t i = 0; i < ways.size(); ++i) {
    const WayGiven& way = ways[i];
    std::string what = way_alone(way);
    if (moves) what = std::string(way.doing ? asked_for(*way.doing) : "standing still") + " " + what;
    // Most machines go over where the wheel lifts: one entry for both.
    if (way.what == GivesWay::lift_off && !way.doing && i + 1 < ways.size() && ways[i + 1].what == GivesWay::tip_over &&
        degrees(ways[i + 1].slope) == degrees(way.slope))
      what += " and " + way_alone(ways[++i]);
    text += text.empty() ? "From here: " : "; ";
    const std::string within = way.interval ? interval_text(*way.interval) : "";
    if (way.left < 0)  // passed: from where on says more than how far back that is
      text += fmt::format("{} from {} on{}", what, degrees_and_percent(way.slope),
                          within.empty() ? "" : " (" + within + ")");
    else
      text += fmt::format("{} {} (at {}{})", what, degrees(left_as_shown(way)), degrees_and_percent(way.slope),
                          within.empty() ? "" : ", " + within);
  }
  if (text.empty()) return text;
  return text + (moves && doubted ? ". How far off it may be under way is not worked out." : ".");
}

std::string turned_sentence(const std::vector<EnvelopePoint>& by_heading, const StaticSolution& statics, double slope) {
  constexpr double kSooner = 1 * kDegree;  // less is no news; our choice
  const EnvelopePoint* worst = nullptr;
  for (const EnvelopePoint& point : by_heading)
    if (!point.failed && point.gives_way() && (!worst || *point.gives_way() < *worst->gives_way())) worst = &point;
  if (!worst) return {};
  EnvelopePoint here;
  here.first_lift_off = statics.first_lift_off, here.slide = statics.slide;
  if (here.gives_way() && *here.gives_way() - *worst->gives_way() < kSooner) return {};
  const double left = angle_between_as_shown(slope, *worst->gives_way());
  return fmt::format("Facing another way ({}, heading {}) it {} at {}{}.", heading_words(worst->heading),
                     signed_degrees(worst->heading), worst->gives_way() == worst->slide ? "slides" : "lifts a wheel",
                     degrees_and_percent(worst->gives_way()),
                     left < 0 ? ", less than this slope" : ": " + degrees(left) + " from here");
}

std::string at_rest_only(const Scene& scene) {
  const Programme& p = scene.programme;
  std::vector<std::string> does;
  if (p.drop_height > 0) does.push_back(fmt::format("a drop of {}", metres(p.drop_height)));
  if (p.speed != 0) does.push_back(fmt::format("driving at {:.3g} km/h", p.speed * 3.6));
  if (p.tilt_rate != 0) does.emplace_back("the ground tilting");
  if (!p.actions.empty())
    does.push_back(p.actions.size() == 1 ? "1 action" : fmt::format("{} actions", p.actions.size()));
  if (does.empty()) return {};
  std::string list;
  for (const std::string& one : does) list += (list.empty() ? "" : ", ") + one;
  return fmt::format("At rest only: what the scene's programme does ({}) is not in this answer; sidehill run shows it.",
                     list);
}

std::string without_implement(const Scene& scene, bool limits_with_it) {
  const Job& job = scene.job;
  const ImplementHere here = implement_here(scene);
  if (here == ImplementHere::all) return {};
  const std::string mass = kilograms(job.implement_mass);
  const std::string count = limits_with_it
                                ? "count in limits, slip and soil, but in no slope and in no wheel load on it"
                                : "are not on the machine here, so they count in no slope and in no wheel load";
  if (job.hitch == JobHitch::drawbar) {
    const std::string rests = job.implement_mass > 0
                                  ? fmt::format("the {} on its drawbar {}", mass, count)
                                  : std::string("what it draws counts in no slope and in no wheel load");
    return fmt::format(
        "WITHOUT WHAT THE JOB DRAWS: {}. Put a trailer on with ballast.trailer.mass_kg, all of its mass, and "
        "ballast.trailer.drawbar_load_kg.",
        rests);
  }
  if (here == ImplementHere::part)
    return fmt::format(
        "LESS THAN THE JOB'S IMPLEMENT: {} of its {} are on the machine here, and only they count in slopes "
        "and wheel loads. Hang on all of it with ballast.implement.mass_kg.",
        kilograms(scene.ballast.implement.mass), mass);
  return fmt::format("WITHOUT THE JOB'S IMPLEMENT: its {} {}. Hang it on with ballast.implement.*.", mass, count);
}

std::string ratings_sentence(const StandVerdict& verdict) {
  std::string text;
  for (const RatingPassed& rating : verdict.ratings) {
    const std::string what = rating.steering
                                 ? "the front axle carries less than 20 % of the unladen mass"
                                 : fmt::format("the {} tyre carries more than {}", wheel_name(rating.wheel),
                                               rating.stated ? "its rating allows" : "is typical of its size");
    text += fmt::format(
        "{}{} {}", text.empty() ? "" : "; ",
        rating.slope > 0 ? fmt::format("from {} on", degrees_and_percent(rating.slope)) : "on the level already", what);
  }
  return text.empty() ? text : capital(text) + ".";
}

void add_verdict(nlohmann::ordered_json& json, const StandVerdict& verdict) {
  using Json = nlohmann::ordered_json;
  json["verdict"] = key_of(verdict.headline);
  Json also = Json::array(), ways = Json::array(), limits = Json::array();
  for (StandCause cause : verdict.also) also.push_back(key_of(cause));
  for (const WayGiven& way : verdict.gives_way) {
    Json interval = nullptr;
    if (way.interval)
      interval = {number_or_null(way.interval->low, kDegree),
                  way.interval->open ? Json() : number_or_null(way.interval->high, kDegree)};
    ways.push_back({{"what", key_of(way.what)},
                    {"slope_deg", number_or_null(way.slope, kDegree)},
                    {"left_deg", number_or_null(way.left, kDegree)},
                    {"doing", way.doing ? Json(key_of(*way.doing)) : Json()},  // null: standing still
                    {"interval_deg", interval}});
  }
  constexpr const char* kKinds[] = {"axle", "tyre", "front_mount", "rear_mount", "wheel_weights", "bucket"};
  for (const auto* list : {&verdict.over, &verdict.may_be_over})
    for (const OverLimit& limit : *list) {
      Json where = nullptr;
      if (limit.kind == LimitKind::axle) where = limit.where == 0 ? "front" : "rear";
      if (limit.kind == LimitKind::tyre) where = wheel_key(limit.where);
      limits.push_back({{"what", kKinds[static_cast<int>(limit.kind)]},
                        {"where", where},
                        {"certain", list == &verdict.over},  // false: of a size's typical rating
                        {"load_kg", number_or_null(limit.margin.load)},
                        {"capacity_kg", number_or_null(limit.margin.capacity)},
                        {"used", number_or_null(limit.margin.used)},
                        {"doing", limit.doing ? Json(key_of(*limit.doing)) : Json()}});
    }
  json["also"] = also;
  json["gives_way"] = ways;
  json["over_limits"] = limits;
  Json not_known = Json::array();
  constexpr const char* kEnds[] = {"front", "rear"};
  for (std::size_t end = 0; end < 2; ++end) {
    if (verdict.tyres_not_known[end]) not_known.push_back(std::string(kEnds[end]) + "_tyres");
    if (verdict.axle_not_known[end]) not_known.push_back(std::string(kEnds[end]) + "_axle");
  }
  json["limits_not_known"] = not_known;
}

}  // namespace sidehill::text

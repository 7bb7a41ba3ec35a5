#include "render/text/motion/run_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/motion/outcome_words.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/insight/run_verdict.h"
#include "sim/motion/slip.h"
#include "sim/motion/under_way.h"
#include "vehicles/loader_tool.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

// Of the chassis against the even slope: roll positive = left side up, pitch positive = nose down, yaw = heading.
struct Attitude {
  double roll, pitch, yaw;
};
Attitude attitude(const State& state) {
  const Mat3& R = state.X_GV.R;
  const Vec3 nose = R[0], left = R[1], up = R[2];
  return {std::atan2(left.z, up.z), std::asin(std::clamp(-nose.z, -1.0, 1.0)),
          std::remainder(std::atan2(nose.y, nose.x) - kPi / 2, kTwoPi)};
}

Json state_json(const State& state) {
  const Attitude turned = attitude(state);
  Json loads = Json::array();
  for (const WheelState& wheel : state.wheels) loads.push_back(number_or_null(wheel.load));
  return {{"time_s", number_or_null(state.time)},
          {"slope_deg", number_or_null(state.slope, kDegree)},
          {"place_m", place(state.X_GV.p)},
          {"velocity_m_per_s", place(state.v_G)},
          {"roll_deg", number_or_null(turned.roll, kDegree)},
          {"pitch_deg", number_or_null(turned.pitch, kDegree)},
          {"heading_deg", number_or_null(turned.yaw, kDegree)},
          {"front_axle_angle_deg", number_or_null(state.axle_angle, kDegree)},
          {"boom_angle_deg", number_or_null(state.boom_angle, kDegree)},
          {"wheel_load_n", loads},
          {"on_stop", state.on_stop},
          {"hull_touches", state.hull_touches},
          {"frame_touches", state.frame_touches},
          {"kinetic_energy_j", number_or_null(state.kinetic_energy)},
          {"state_hash", fmt::format("{:016x}", hash(state))}};
}

std::string action_words(const Scene& scene, const Action& action) {
  const Vehicle& vehicle = scene.vehicle;
  switch (action.what) {
    case ActionKind::drive:
      return fmt::format("drives at {:.1f} km/h", action.speed * 3.6);
    case ActionKind::drop_clutch:
      return fmt::format("drops the clutch, engine set for {:.1f} km/h", action.speed * 3.6);
    case ActionKind::coast:
      return "rolls out of gear";
    case ActionKind::brake:
      return fmt::format("brakes, pedal {:.0f} % down", 100 * action.pedal);
    case ActionKind::curve:
      return action.radius == 0 ? std::string("wheels straight")
                                : fmt::format("turns {} on a radius of {:.1f} m", action.radius > 0 ? "left" : "right",
                                              std::max(std::abs(action.radius),
                                                       vehicle.wheelbase / std::tan(vehicle.drive.most_steer)));
    case ActionKind::line:
      return "keeps to a line";
    case ActionKind::loader:
      return fmt::format("moves the {} to {:.2f} m", words_of(scene.ballast.loader_tool).name, action.pin_height);
    case ActionKind::front_drive:
      return action.pedal > 0 ? "front drive in" : "front drive out";
    case ActionKind::stuck:
      return "the rear wheels are stuck: they cannot turn, but nothing holds them down";
    case ActionKind::tie:
      return fmt::format("tied to a stake {:.1f} m behind the hitch", action.rope);
  }
  return "";
}

constexpr const char* kTowards[] = {"backwards", "to the left", "forwards", "to the right"};  // order of enum TipLine
constexpr const char* kLineKeys[] = {"rear", "left", "front", "right"};

// What counts of a run: the least margins since it had come to rest, none once it has gone over.
LeastMargins margins_that_count(const Answer& answer, const Recording& recording) {
  if (!recording.divergence.empty() || !over_which_way(recording).empty()) return {};
  return least_margins(answer.model, recording.states, counts_from(recording.events));
}

// The same angle of the machine at rest on this slope: of all lines the least [rad]. It is not the slope left, for a
// support line lies slanted to the slope.
std::optional<double> angle_at_rest(const Answer& answer) {
  if (!answer.statics.rest || answer.statics.status != RestStatus::stands) return std::nullopt;
  double least = 1e9;
  for (const LineMeasure& line : measures(answer.model, *answer.statics.rest).lines)
    least = std::min(least, line.angle);
  return least;
}

std::string margins_table(const Answer& answer, const Recording& recording, Units units) {
  std::string text = "\nLeast margin under way\n";
  const std::string over = over_which_way(recording);
  if (!over.empty()) {
    text += "  none: it goes over " + over;
    for (const Event& event : recording.events)
      if (event.kind == EventKind::point_of_no_return)
        text += fmt::format(", past its point of no return at {:.2f} s", event.time);
    return text + "\n";
  }
  const LeastMargins least = margins_that_count(answer, recording);
  if (least.angle)
    text +=
        *least.angle > 0
            ? fmt::format("  {} left between the pull on the machine and its nearest support line, at {:.2f} s\n",
                          degrees(*least.angle), least.angle_at)
            : fmt::format("  none: the pull on the machine points {} outside its nearest support line at {:.2f} s\n",
                          degrees(-*least.angle), least.angle_at);
  if (const auto rests = angle_at_rest(answer); rests && least.angle && answer.statics.margin)
    text += fmt::format("  to compare: at rest here {}, which is {} of slope left until a wheel lifts\n",
                        degrees(*rests), degrees(*answer.statics.margin));
  if (least.energy)
    text += *least.energy > 0
                ? fmt::format("  {} left before it goes over {}, at {:.2f} s\n",
                              measured(Quantity::energy, *least.energy, 1, units),
                              kTowards[static_cast<int>(least.line)], least.energy_at)
                : fmt::format("  none: at {:.2f} s its turning alone is {} more than going over {} takes\n",
                              least.energy_at, measured(Quantity::energy, -*least.energy, 1, units),
                              kTowards[static_cast<int>(least.line)]);
  return text;
}

// How it ended and all that holds at rest, worst first.
std::string first_lines(const Answer& answer, const Recording& recording, Units units) {
  std::string outcome = read_in(outcome_line(answer.scene, recording), units) + "\n";
  if (drop_throws_it_over(answer.scene, answer.statics, recording))
    outcome += fmt::format("The drop of {} throws it over: set down gently it stands\n",
                           shown(Quantity::length, answer.scene.programme.drop_height, units));
  if (!recording.divergence.empty()) outcome += recording.divergence + "\n";
  const StandCause ended = cause_of(recording.outcome, cut_off(answer.model, recording));
  std::string worse, other;
  const StandVerdict at_rest = verdict_on(answer);
  // An overload nobody can see is no "stands".
  if (const std::string unknown = limits_not_known_words(at_rest); !unknown.empty())
    other += paragraph("", capital(unknown) + ".");
  for (const SaidAtRest& said : said_beside_run(at_rest, answer.scene, answer.statics))
    (said.cause < ended ? worse : other) += paragraph("", read_in(said.words, units));
  if (const std::string words = without_implement(answer.scene); !words.empty())
    other += paragraph("", read_in(words, units));
  return worse + outcome + other;
}

}  // namespace

Json to_json(const Answer& answer, const Recording& recording) {
  Json json = to_json(answer);
  json["at_rest"] = {{"verdict", json["verdict"]}, {"also", json["also"]}};
  const CutOff cut = cut_off(answer.model, recording);
  const RunVerdict verdict = run_verdict(verdict_on(answer), recording.outcome, cut);
  json["verdict"] = key_of(verdict.headline);
  json["also"] = Json::array();
  for (StandCause cause : verdict.also) json["also"].push_back(key_of(cause));
  json["at_rest_only"] = false;
  json["outcome"] = to_string(recording.outcome);
  json["cut_off"] = cut == CutOff::in_the_air   ? Json("in_the_air")
                    : cut == CutOff::going_over ? Json("going_over")
                                                : Json(nullptr);
  Json events = Json::array();
  for (const Event& event : recording.events)
    events.push_back({{"kind", to_string(event.kind)},
                      {"time_s", number_or_null(event.time)},
                      {"wheel", event.wheel >= 0 ? Json(wheel_key(event.wheel)) : Json(nullptr)},
                      {"slope_deg", number_or_null(event.slope, kDegree)}});
  json["events"] = events;
  const std::string over = over_which_way(recording);
  json["goes_over"] = over.empty() ? Json(nullptr) : Json(over);
  json["drop_throws_it_over"] = drop_throws_it_over(answer.scene, answer.statics, recording);
  json["counts_from_s"] = number_or_null(counts_from(recording.events));
  json["landing"] = recording.divergence.empty() ? landing_json(answer, recording) : Json(nullptr);
  json["slid_m"] = number_or_null(slid_distance(recording.states, counts_from(recording.events)));
  const LeastMargins least = margins_that_count(answer, recording);
  json["least_margin_under_way"] = {
      {"angle_left_deg", least.angle ? number_or_null(*least.angle, kDegree) : Json(nullptr)},
      {"angle_left_at_s", least.angle ? number_or_null(least.angle_at) : Json(nullptr)},
      {"energy_left_j", least.energy ? number_or_null(*least.energy) : Json(nullptr)},
      {"energy_left_at_s", least.energy ? number_or_null(least.energy_at) : Json(nullptr)},
      {"towards", least.energy ? Json(kLineKeys[static_cast<int>(least.line)]) : Json(nullptr)},
      {"angle_left_at_rest_deg", number_or_null(angle_at_rest(answer), kDegree)}};
  json["final"] = recording.states.empty() ? Json(nullptr) : state_json(recording.states.back());
  if (!recording.states.empty()) {
    const Lying lies = lying(answer.scene, recording);
    json["final"]["lies"] = lies.key;
    json["final"]["on_roll_over_frame"] = lies.on_frame;
  }
  json["divergence"] = recording.divergence.empty() ? Json(nullptr) : Json(recording.divergence);
  return json;
}

std::string run_table(const Answer& answer, const Recording& recording, const std::string& after_events, Units units) {
  const Scene& scene = answer.scene;
  std::string text = first_lines(answer, recording, units);
  text += "\n" + (scene.title.empty() ? "" : read_in(scene.title, units) + "\n");
  const bool touched_down = std::any_of(recording.events.begin(), recording.events.end(),
                                        [](const Event& e) { return e.kind == EventKind::touch_down; });
  const std::string let_go =
      scene.programme.drop_height > 0
          ? fmt::format("let go {} above the ground", shown(Quantity::length, scene.programme.drop_height, units))
      : touched_down ? "let go where it stood, for no resting pose was found"
                     : "set down gently";
  const std::string driving =
      scene.programme.speed > 0
          ? fmt::format("driving at {} from {:.1f} s", measured(Quantity::speed, scene.programme.speed, 1, units),
                        scene.programme.drive_from)
      : scene.programme.actions.empty() ? std::string("parked, rear wheels held")
                                        : fmt::format("parked until {:.1f} s", scene.programme.actions.front().at);
  text += fmt::format("{} on {}: slope {}, {} (heading {}); {}, {}\n", read_in(scene.vehicle.name, units),
                      scene.terrain.soil.name, degrees_and_percent(scene.terrain.slope),
                      heading_words(scene.start.heading), signed_degrees(scene.start.heading), let_go, driving);
  if (!scene.programme.actions.empty()) text += "\n";
  for (const Action& action : scene.programme.actions)
    text += fmt::format("  at {:.1f} s: {}\n", action.at, read_in(action_words(scene, action), units));
  const bool ran = recording.divergence.empty();  // where the numbers ran away they say nothing
  const std::string landing = ran ? landing_table(answer, recording) : "";
  const double from = landing.empty() ? 0 : counts_from(recording.events);
  text += landing + "\nEvents\n";
  bool any = false;
  for (const Event& event : recording.events) {
    if (event.time < from || (!landing.empty() && event.kind == EventKind::settled)) continue;
    any = true;
    text +=
        fmt::format("  {:8.3f} s   {:40} slope {}\n", event.time, event_words(event), degrees_and_percent(event.slope));
  }
  if (!any) text += "  none\n";
  if (ran) {
    text += margins_table(answer, recording, units);
    text += after_events;
  }
  if (!recording.states.empty()) {
    const State& last = recording.states.back();
    const Attitude turned = attitude(last);
    const Lying lies = lying(scene, recording);
    text += fmt::format("\nAt the end, {:.2f} s\n", last.time);
    if (lies.key == "upright")
      text +=
          fmt::format("  chassis against the slope: roll {} (left side up positive), pitch {} (nose down positive)\n",
                      degrees(turned.roll), degrees(turned.pitch));
    else
      text += "  it " + lies.words + "\n";
    text += "  wheel loads:";
    for (int w = 0; w < kWheels; ++w)
      text += fmt::format("{} {} {}", w ? "," : "", wheel_name(w),
                          shown(Quantity::load, last.wheels[static_cast<std::size_t>(w)].load, units));
    text += "\n";
  }
  text += "\nCautions\n";
  for (const std::string& warning : warnings(answer)) text += "  ! " + read_in(warning, units) + "\n";
  for (const std::string& caution : answer.model.cautions) text += "  ! " + read_in(caution, units) + "\n";
  return text + "  ! " + kCautionLine + "\n";
}

std::string stored_line(const StoredRun& stored) {
  return fmt::format("\nRecording\n  {}: {} frames, {:.1f} kB\n", stored.file, stored.frames,
                     static_cast<double>(stored.bytes) / 1000);
}

Json to_json(const StoredRun& stored) {
  return {{"file", stored.file}, {"bytes", stored.bytes}, {"frames", stored.frames}};
}

}  // namespace sidehill::text

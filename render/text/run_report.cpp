#include "render/text/run_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "render/text/words.h"
#include "sim/under_way.h"
#include "vehicles/units.h"

namespace sidehill {
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
          std::remainder(std::atan2(nose.y, nose.x) - std::numbers::pi / 2, 2 * std::numbers::pi)};
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

// A frame is named only where there is one, up, and it met the ground.
const char* outcome_words(const Scene& scene, const Recording& recording) {
  const ProtectiveFrame& frame = scene.vehicle.frame;
  const bool on_frame = frame.kind != FrameKind::none && !(frame.kind == FrameKind::two_post && frame.folded) &&
                        std::any_of(recording.events.begin(), recording.events.end(),
                                    [](const Event& e) { return e.kind == EventKind::frame_touches; });
  switch (recording.outcome) {
    case Outcome::stands:
      return "STANDS: all wheels stay on the ground";
    case Outcome::slides:
      return "SLIDES: the tyres do not hold";
    case Outcome::wheel_up:
      return "A WHEEL IS UP at the end";
    case Outcome::lifts_and_returns:
      return "A WHEEL LIFTS and comes back";
    case Outcome::on_frame:
      return on_frame ? "OVERTURNS and lies on its frame" : "OVERTURNS and lies on its side";
    case Outcome::rolls_on:
      return "OVERTURNS and rolls on";
    case Outcome::overturned_rear:
      return "OVERTURNS backwards";
    case Outcome::diverged:
      return "NO ANSWER: the numbers ran away";
  }
  return "-";
}

std::string action_words(const Vehicle& vehicle, const Action& action) {
  switch (action.what) {
    case Deed::drive:
      return fmt::format("drives at {:.1f} km/h", action.speed * 3.6);
    case Deed::drop_clutch:
      return fmt::format("drops the clutch, engine set for {:.1f} km/h", action.speed * 3.6);
    case Deed::coast:
      return "rolls out of gear";
    case Deed::brake:
      return fmt::format("brakes, pedal {:.0f} % down", 100 * action.pedal);
    case Deed::curve:
      return action.radius == 0 ? std::string("wheels straight")
                                : fmt::format("turns {} on a radius of {:.1f} m", action.radius > 0 ? "left" : "right",
                                              std::max(std::abs(action.radius),
                                                       vehicle.wheelbase / std::tan(vehicle.drive.most_steer)));
    case Deed::line:
      return "keeps to a line";
    case Deed::loader:
      return fmt::format("moves the bucket to {:.2f} m", action.pin_height);
    case Deed::front_drive:
      return action.pedal > 0 ? "front drive in" : "front drive out";
    case Deed::stuck:
      return "the rear wheels are stuck fast";
    case Deed::tie:
      return fmt::format("tied to a stake {:.1f} m behind the hitch", action.rope);
  }
  return "";
}

// A machine that slides away does not always go over: what it did instead.
std::string slid_words(const Recording& recording) {
  const bool slides = std::any_of(recording.events.begin(), recording.events.end(),
                                  [](const Event& e) { return e.kind == EventKind::slide; });
  const bool rolled = recording.outcome == Outcome::on_frame || recording.outcome == Outcome::rolls_on ||
                      recording.outcome == Outcome::overturned_rear;
  if (!slides || rolled || recording.states.size() < 2) return {};
  const State &first = recording.states.front(), &last = recording.states.back();
  const double downhill = first.X_GV.p.y - last.X_GV.p.y;
  if (!(downhill > 0.5)) return {};
  return fmt::format("; its tyres slide: {:.1f} m further downhill at the end, at {:.1f} m/s", downhill,
                     glm::length(last.v_G));
}

constexpr const char* kTowards[] = {"backwards", "to the left", "forwards", "to the right"};  // order of enum TipLine
constexpr const char* kLineKeys[] = {"rear", "left", "front", "right"};
constexpr const char* kActs[] = {"braking to a stop", "steering straight downhill", "lowering the loader"};
constexpr const char* kActKeys[] = {"stop", "steer_downhill", "lower_loader"};

std::string margins_table(const LeastMargins& least) {
  std::string text = "\nLeast margin under way\n";
  if (least.angle)
    text +=
        *least.angle > 0
            ? fmt::format("  {} left between the pull on the machine and its nearest support line, at {:.2f} s\n",
                          degrees(*least.angle), least.angle_at)
            : fmt::format("  none: the pull on the machine points {} outside its nearest support line at {:.2f} s\n",
                          degrees(-*least.angle), least.angle_at);
  if (least.energy)
    text += *least.energy > 0
                ? fmt::format("  {:.1f} kJ left before it goes over {}, at {:.2f} s\n", *least.energy / 1000,
                              kTowards[static_cast<int>(least.line)], least.energy_at)
                : fmt::format("  none: at {:.2f} s its turning alone is {:.1f} kJ more than going over {} takes\n",
                              least.energy_at, -*least.energy / 1000, kTowards[static_cast<int>(least.line)]);
  return text;
}

std::string when(double time, const Rescues& rescues) {
  if (!rescues.lift_off) return fmt::format("{:.2f} s", time);
  const double after = time - *rescues.lift_off;
  return fmt::format("{:.2f} s, {:.2f} s {} the first wheel lifts", time, std::abs(after),
                     after < 0 ? "before" : "after");
}

}  // namespace

std::string rescue_table(const Rescues& rescues) {
  if (!rescues.needed) return {};
  std::string text = "\nCould it still have been saved?\n";
  for (const Rescue& rescue : rescues.acts) {
    const char* act = kActs[static_cast<int>(rescue.act)];
    text += rescue.latest ? fmt::format("  {:28} yes, if begun by {}\n", act, when(*rescue.latest, rescues))
                          : fmt::format("  {:28} no, not even from {}\n", act, when(rescues.tried_from, rescues));
    if (rescue.scattered) text += fmt::format("  {:28} (by luck from some later moments too)\n", "");
  }
  return text +
         "  Found by running each, begun at once and done perfectly. A driver takes about a second to see and move\n"
         "  (common practice): take that off every moment told, and do not count on what is left.\n";
}

Json rescue_json(const Rescues& rescues) {
  Json acts = Json::object();
  for (const Rescue& rescue : rescues.acts)
    acts[kActKeys[static_cast<int>(rescue.act)]] = {
        {"latest_s", rescue.latest ? number_or_null(*rescue.latest) : Json(nullptr)},
        {"later_moments_by_luck", rescue.scattered}};
  return {{"needed", rescues.needed},
          {"first_lift_off_s", rescues.lift_off ? number_or_null(*rescues.lift_off) : Json(nullptr)},
          {"point_of_no_return_s",
           rescues.point_of_no_return ? number_or_null(*rescues.point_of_no_return) : Json(nullptr)},
          {"tried_from_s", rescues.needed ? number_or_null(rescues.tried_from) : Json(nullptr)},
          {"acts", acts}};
}

Json to_json(const Answer& answer, const Recording& recording) {
  Json json = to_json(answer);
  json["outcome"] = to_string(recording.outcome);
  Json events = Json::array();
  for (const Event& event : recording.events)
    events.push_back({{"kind", to_string(event.kind)},
                      {"time_s", number_or_null(event.time)},
                      {"wheel", event.wheel >= 0 ? Json(wheel_key(event.wheel)) : Json(nullptr)},
                      {"slope_deg", number_or_null(event.slope, kDegree)}});
  json["events"] = events;
  const LeastMargins least =
      recording.divergence.empty() ? least_margins(answer.model, recording.states) : LeastMargins{};
  json["least_margin_under_way"] = {
      {"angle_left_deg", least.angle ? number_or_null(*least.angle, kDegree) : Json(nullptr)},
      {"angle_left_at_s", least.angle ? number_or_null(least.angle_at) : Json(nullptr)},
      {"energy_left_j", least.energy ? number_or_null(*least.energy) : Json(nullptr)},
      {"energy_left_at_s", least.energy ? number_or_null(least.energy_at) : Json(nullptr)},
      {"towards", least.energy ? Json(kLineKeys[static_cast<int>(least.line)]) : Json(nullptr)}};
  json["final"] = recording.states.empty() ? Json(nullptr) : state_json(recording.states.back());
  json["divergence"] = recording.divergence.empty() ? Json(nullptr) : Json(recording.divergence);
  return json;
}

std::string run_table(const Answer& answer, const Recording& recording, const std::string& after_events) {
  const Scene& scene = answer.scene;
  std::string text = scene.title.empty() ? "" : scene.title + "\n";
  const bool touched_down = std::any_of(recording.events.begin(), recording.events.end(),
                                        [](const Event& e) { return e.kind == EventKind::touch_down; });
  const std::string let_go = scene.programme.drop_height > 0
                                 ? fmt::format("let go {:.2f} m above the ground", scene.programme.drop_height)
                             : touched_down ? "let go where it stood, for no resting pose was found"
                                            : "set down gently";
  const std::string driving =
      scene.programme.speed > 0
          ? fmt::format("driving at {:.1f} km/h from {:.1f} s", scene.programme.speed * 3.6, scene.programme.drive_from)
      : scene.programme.actions.empty() ? std::string("parked, rear wheels held")
                                        : fmt::format("parked until {:.1f} s", scene.programme.actions.front().at);
  text += fmt::format("{} on {}: slope {}, {} (heading {}); {}, {}\n\n", scene.vehicle.name, scene.terrain.soil.name,
                      degrees(scene.terrain.slope), heading_words(scene.start.heading),
                      signed_degrees(scene.start.heading), let_go, driving);
  for (const Action& action : scene.programme.actions)
    text += fmt::format("  at {:.1f} s: {}\n", action.at, action_words(scene.vehicle, action));
  if (!scene.programme.actions.empty()) text += "\n";
  text += fmt::format("  {}{}\n", outcome_words(scene, recording), slid_words(recording));
  if (!recording.divergence.empty()) text += "  " + recording.divergence + "\n";
  text += "\nEvents\n";
  if (recording.events.empty()) text += "  none\n";
  for (const Event& event : recording.events)
    text += fmt::format("  {:8.3f} s   {:40} slope {}\n", event.time, event_words(event), degrees(event.slope));
  if (recording.divergence.empty()) {  // where the numbers ran away they say nothing
    text += margins_table(least_margins(answer.model, recording.states));
    text += after_events;
  }
  if (!recording.states.empty()) {
    const State& last = recording.states.back();
    const Attitude turned = attitude(last);
    text += fmt::format(
        "\nAt the end, {:.2f} s\n  chassis against the slope: roll {} (left side up positive), pitch {} "
        "(nose down positive)\n  wheel loads:",
        last.time, degrees(turned.roll), degrees(turned.pitch));
    for (int w = 0; w < kWheels; ++w)
      text += fmt::format("{} {} {}", w ? "," : "", wheel_name(w),
                          kilonewtons(last.wheels[static_cast<std::size_t>(w)].load));
    text += "\n";
  }
  text += "\nCautions\n";
  for (const std::string& caution : answer.model.cautions) text += "  ! " + caution + "\n";
  return text + "  ! " + kCautionLine + "\n";
}

std::string stored_line(const StoredRun& stored) {
  return fmt::format("\nRecording\n  {}: {} frames, {:.1f} kB\n", stored.file, stored.frames,
                     static_cast<double>(stored.bytes) / 1000);
}

Json to_json(const StoredRun& stored) {
  return {{"file", stored.file}, {"bytes", stored.bytes}, {"frames", stored.frames}};
}

}  // namespace sidehill

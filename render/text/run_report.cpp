#include "render/text/run_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "render/text/words.h"

namespace sidehill {
namespace {

using Json = nlohmann::ordered_json;
constexpr double kDeg = std::numbers::pi / 180;

Json place(const Vec3& p) { return {number_or_null(p.x), number_or_null(p.y), number_or_null(p.z)}; }

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
          {"slope_deg", number_or_null(state.slope, kDeg)},
          {"place_m", place(state.X_GV.p)},
          {"velocity_m_per_s", place(state.v_G)},
          {"roll_deg", number_or_null(turned.roll, kDeg)},
          {"pitch_deg", number_or_null(turned.pitch, kDeg)},
          {"heading_deg", number_or_null(turned.yaw, kDeg)},
          {"front_axle_angle_deg", number_or_null(state.axle_angle, kDeg)},
          {"boom_angle_deg", number_or_null(state.boom_angle, kDeg)},
          {"wheel_load_n", loads},
          {"on_stop", state.on_stop},
          {"hull_touches", state.hull_touches},
          {"frame_touches", state.frame_touches},
          {"kinetic_energy_j", number_or_null(state.kinetic_energy)},
          {"state_hash", fmt::format("{:016x}", hash(state))}};
}

const char* outcome_words(Outcome outcome) {
  switch (outcome) {
    case Outcome::stands:
      return "STANDS: all wheels stay on the ground";
    case Outcome::slides:
      return "SLIDES: the tyres do not hold";
    case Outcome::wheel_up:
      return "A WHEEL IS UP at the end";
    case Outcome::lifts_and_returns:
      return "A WHEEL LIFTS and comes back";
    case Outcome::on_frame:
      return "OVERTURNS and lies on its frame";
    case Outcome::rolls_on:
      return "OVERTURNS and rolls on";
    case Outcome::overturned_rear:
      return "OVERTURNS backwards";
    case Outcome::diverged:
      return "NO ANSWER: the numbers ran away";
  }
  return "-";
}

// A machine that slides away does not always go over: what it did instead.
std::string slid_words(const Recording& recording) {
  const bool slides = std::any_of(recording.events.begin(), recording.events.end(),
                                  [](const Event& e) { return e.kind == EventKind::slide; });
  if (!slides || recording.states.size() < 2) return {};
  const State &first = recording.states.front(), &last = recording.states.back();
  const double downhill = first.X_GV.p.y - last.X_GV.p.y;
  if (!(downhill > 0.5)) return {};
  return fmt::format("; its tyres slide: {:.1f} m further downhill at the end, at {:.1f} m/s", downhill,
                     glm::length(last.v_G));
}

}  // namespace

Json to_json(const Answer& answer, const Recording& recording) {
  Json json = to_json(answer);
  json["outcome"] = to_string(recording.outcome);
  Json events = Json::array();
  for (const Event& event : recording.events)
    events.push_back({{"kind", to_string(event.kind)},
                      {"time_s", number_or_null(event.time)},
                      {"wheel", event.wheel >= 0 ? Json(wheel_key(event.wheel)) : Json(nullptr)},
                      {"slope_deg", number_or_null(event.slope, kDeg)}});
  json["events"] = events;
  json["final"] = recording.states.empty() ? Json(nullptr) : state_json(recording.states.back());
  json["divergence"] = recording.divergence.empty() ? Json(nullptr) : Json(recording.divergence);
  return json;
}

std::string run_table(const Answer& answer, const Recording& recording) {
  const Scene& scene = answer.scene;
  std::string text = scene.title.empty() ? "" : scene.title + "\n";
  const std::string let_go = scene.programme.drop_height > 0
                                 ? fmt::format("let go {:.2f} m above the ground", scene.programme.drop_height)
                                 : "set down gently";
  const std::string driving =
      scene.programme.speed > 0
          ? fmt::format("driving at {:.1f} km/h from {:.1f} s", scene.programme.speed * 3.6, scene.programme.drive_from)
          : "parked, rear wheels held";
  text += fmt::format("{} on {}: slope {}, {} (heading {}); {}, {}\n\n", scene.vehicle.name, scene.terrain.soil.name,
                      degrees(scene.terrain.slope), heading_words(scene.start.heading),
                      signed_degrees(scene.start.heading), let_go, driving);
  text += fmt::format("  {}{}\n", outcome_words(recording.outcome), slid_words(recording));
  if (!recording.divergence.empty()) text += "  " + recording.divergence + "\n";
  text += "\nEvents\n";
  if (recording.events.empty()) text += "  none\n";
  for (const Event& event : recording.events)
    text += fmt::format("  {:8.3f} s   {:40} slope {}\n", event.time, event_words(event), degrees(event.slope));
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

#include "render/text/rest/answer_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/rest/doubt_report.h"
#include "render/text/rest/manoeuvre_report.h"
#include "render/text/rest/masses_report.h"
#include "render/text/rest/measures_report.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/rest/why_report.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

std::optional<double> margin_at(const EnvelopePoint& point, double slope) {
  if (!point.first_lift_off) return {};
  return *point.first_lift_off - slope;
}

}  // namespace

Json place(const Vec3& p) { return {number_or_null(p.x), number_or_null(p.y), number_or_null(p.z)}; }

Json number_or_null(std::optional<double> value, double unit) {
  if (!value || !std::isfinite(*value)) return nullptr;
  return *value / unit;
}

const char* wheel_key(int wheel) {
  return wheel >= 0 && wheel < kWheels ? kWheelWords[static_cast<std::size_t>(wheel)].key.data() : "none";
}

const char* to_string(RestStatus status) {
  constexpr const char* kNames[] = {"stands", "wheel_up", "on_stop", "slides", "tipped", "unsolved"};
  static_assert(std::size(kNames) == count_of<RestStatus>());
  return kNames[static_cast<int>(status)];
}

Json to_json(const Answer& answer, bool with_envelope) {
  const Scene& scene = answer.scene;
  const StaticSolution& statics = answer.statics;
  Json loads = nullptr, axle_angle = nullptr, roll = nullptr, pitch = nullptr;
  if (statics.rest) {
    loads = Json::array();
    for (double load : statics.rest->load) loads.push_back(number_or_null(load));
    axle_angle = number_or_null(statics.rest->axle_angle, kDegree);
    const Mat3& R_GV = statics.rest->X_GV.R;
    roll = number_or_null(std::atan2(R_GV[1].z, R_GV[2].z), kDegree);
    pitch = number_or_null(std::asin(std::clamp(-R_GV[0].z, -1.0, 1.0)), kDegree);
  }
  Json json = {{"program", "sidehill " SIDEHILL_VERSION},
               {"title", scene.title},
               {"vehicle", scene.vehicle.name},
               {"slope_deg", number_or_null(scene.terrain.slope, kDegree)},
               {"heading_deg", number_or_null(scene.start.heading, kDegree)},
               {"status", to_string(statics.status)},
               {"margin_deg", number_or_null(statics.margin, kDegree)},
               {"first_lift_off_deg", number_or_null(statics.first_lift_off, kDegree)},
               {"first_lift_off_wheel", nullptr},
               {"slide_deg", number_or_null(statics.slide, kDegree)},
               {"tip_on_stop_deg", number_or_null(statics.tip_on_stop, kDegree)},
               {"tip_over_deg", number_or_null(statics.tip_over, kDegree)},
               {"steering_gone_deg", number_or_null(answer.limits.steering_gone, kDegree)},
               {"tyre_overload_deg", number_or_null(answer.limits.tyre_overload, kDegree)},
               {"tyre_overload_wheel", nullptr},
               {"rigid_lift_off_deg", number_or_null(statics.rigid_lift_off, kDegree)},
               {"wheel_load_n", loads},
               {"roll_deg", roll},    // of the chassis against the even slope, left side up positive
               {"pitch_deg", pitch},  // nose down positive
               {"front_axle_angle_deg", axle_angle},
               {"total_mass_kg", number_or_null(total_mass(answer.model))},
               {"centre_of_gravity_m", place(centre_of_gravity_at_rest(answer.model, answer.statics))}};
  if (answer.limits.overloaded_wheel >= 0) json["tyre_overload_wheel"] = wheel_key(answer.limits.overloaded_wheel);
  if (statics.first_wheel >= 0) json["first_lift_off_wheel"] = wheel_key(statics.first_wheel);
  const auto& worst = answer.worst;
  json["worst_heading_deg"] = worst ? number_or_null(worst->heading, kDegree) : Json(nullptr);
  json["worst_heading_lift_off_deg"] = worst ? number_or_null(worst->first_lift_off, kDegree) : Json(nullptr);
  json["first_lift_off_stiffening_doubt_deg"] = number_or_null(answer.stiffening_doubt, kDegree);
  add_verdict(json, verdict_on(answer));
  json["at_rest_only"] = !at_rest_only(scene).empty();  // true: the scene's programme is not in this verdict
  add_intervals(json, answer);
  add_manoeuvres(json, answer);
  add_measures(json, answer);
  add_breakdown(json, answer);
  add_masses(json, answer);
  add_tyres(json, answer);
  json["cautions"] = warnings(answer);
  if (std::string without = without_implement(answer.scene); !without.empty())
    json["cautions"].push_back(std::move(without));
  for (const std::string& caution : answer.model.cautions) json["cautions"].push_back(caution);
  json["cautions"].push_back(kCautionLine);
  json["uncertainty"] = answer_limits_words(holds_liquid(scene.ballast));
  if (!with_envelope) return json;
  Json list = Json::array();
  for (const EnvelopePoint& point : answer.by_heading)
    list.push_back({{"heading_deg", number_or_null(point.heading, kDegree)},
                    {"first_lift_off_deg", number_or_null(point.first_lift_off, kDegree)},
                    {"tip_over_deg", number_or_null(point.tip_over, kDegree)},
                    {"margin_deg", number_or_null(margin_at(point, scene.terrain.slope), kDegree)},
                    {"found", !point.failed},  // false: null means "not found", not "never"
                    {"wheel", point.wheel >= 0 ? Json(wheel_key(point.wheel)) : Json(nullptr)}});
  json["envelope"] = list;
  return json;
}

std::string envelope_csv(const Answer& answer) {
  const auto cell = [](std::optional<double> angle) { return angle ? fmt::format("{:.6g}", *angle / kDegree) : ""; };
  std::string csv = "heading_deg,first_lift_off_deg,tip_over_deg,margin_deg,wheel\n";
  for (const EnvelopePoint& point : answer.by_heading)
    csv += fmt::format("{},{},{},{},{}\n", cell(point.heading), cell(point.first_lift_off), cell(point.tip_over),
                       cell(margin_at(point, answer.scene.terrain.slope)), wheel_key(point.wheel));
  return csv;
}

}  // namespace sidehill::text

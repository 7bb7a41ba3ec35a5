#include "render/text/machine/rolling_report.h"

#include <fmt/format.h>

#include <vector>

#include "render/text/rest/answer_json.h"
#include "render/text/words/columns.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/codes/rolling_file.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kSource =
    "Commission Delegated Regulation (EU) No 1322/2014, Annex IX, 3.1.3, 3.1.4.3 and B4; identical with OECD Code 6";
constexpr const char* kIs =
    "the published calculation for narrow-track tractors with a two-post protective structure ahead of the driver: "
    "rigid bodies, no sliding, one slope, one restitution, one depth of penetration";
constexpr const char* kIsNot =
    "a type approval, a certificate or a statement of conformity: licensed test stations and authorities decide, on "
    "data measured as the code says and with the strength tests that follow";
constexpr const char* kStabilityIsNot =
    "the lateral stability test itself, which is made with jack or hoist at both steering locks: here the tractor is "
    "rigid, its wheels straight, its tyres do not give; measured angles differ by several degrees";

std::vector<std::string> all_cautions(const RollingReport& report) {
  std::vector<std::string> all = report.rolling.cautions;
  if (!report.stability.reaches_minimum())
    all.push_back(
        fmt::format("by calculation the tilt in balance stays under the {:.0f} degrees of the lateral "
                    "stability test (3.1.3.2)",
                    kLateralStabilityMin / kDegree));
  all.push_back(
      "the answer is no better than the data: vary the height of the centre of gravity, the moment of inertia "
      "and the frame's place by their uncertainty and see whether the verdict holds");
  all.push_back("that a roll stops does not mean that nobody is hurt: frame up and locked, belt on");
  return all;
}

std::string verdict_words(RollingVerdict verdict) {
  switch (verdict) {
    case RollingVerdict::continues:
      return "THE TRACTOR ROLLS ON";
    case RollingVerdict::stops:
      return "THE ROLLING STOPS";
    case RollingVerdict::not_feasible:
      break;
  }
  return "THE CALCULATION IS NOT FEASIBLE";
}

std::string sequence_words(RollingSequence sequence) {
  switch (sequence) {
    case RollingSequence::b1_behind:
      return "B1: the frame strikes behind the equilibrium point";
    case RollingSequence::b2_near:
      return "B2: the frame strikes near the equilibrium point";
    case RollingSequence::b3_in_front:
      break;
  }
  return "B3: the frame strikes ahead of the equilibrium point";
}

// "O3", or nothing.
std::string velocity_name(const RollingStage& stage) {
  return stage.velocity < 0 ? std::string() : fmt::format("O{}", stage.velocity);
}

using Cells = std::vector<std::string>;

Cells stage_row(const RollingStage& s, Units units) {
  std::string remark;
  switch (s.kind) {
    case RollingStageKind::fall:
      remark = fmt::format("{:+.0f} J from height, had {:.0f} J", s.gained, s.at_hand);
      break;
    case RollingStageKind::impact:
      remark = fmt::format("{:+.0f} J, had {:.0f} J", s.gained, s.at_hand);
      break;
    case RollingStageKind::new_axis:
      remark = "the part along the new axis";
      break;
    case RollingStageKind::climb:
      remark = s.needed > 0 ? fmt::format("needs {:.0f} J, has {:.0f} J", s.needed, s.at_hand) : "is past it already";
      break;
  }
  const std::string result = !s.passed         ? "stops"
                             : s.velocity >= 0 ? fmt::format("{:.3f}", s.after)
                                               : std::string("goes on");
  return {fmt::format("{:3}{:>8}", velocity_name(s), result), s.what, read_in(remark, units), s.lines};
}

std::string stages_text(const RollingReport& report, Units units) {
  const RollingAnswer& a = report.rolling;
  if (a.common.empty()) return {};
  std::string text = "Rolling on a slope of 1 in 1.5 [rad/s], energies of turning, lines of the published listing\n";
  std::vector<Cells> rows;
  for (const RollingStage& stage : a.common) rows.push_back(stage_row(stage, units));
  for (const RollingBlock& block : a.blocks) {
    rows.push_back({sequence_words(block.sequence)});
    for (const RollingStage& stage : block.stages) rows.push_back(stage_row(stage, units));
    rows.push_back({block.continues ? "it goes over" : "it does not go over this way"});
  }
  text += lines_of_cells("  ", {{14, false}, {58, false}, {33, false}}, rows);
  const RollingGeometry& g = a.geometry;
  std::string geometry =
      fmt::format("  centre of gravity from the tilting axis W0 {:.4f} m, falls G3 {:.4f} m\n", g.W0, g.G3);
  geometry +=
      fmt::format("  axis through the tyre tops F2 {:.2f} deg, slope across it A2 {:.2f} deg, frame from it {:.4f} m\n",
                  g.F2 / kDegree, g.A2 / kDegree, g.V0);
  geometry += fmt::format("  frame at L6 {:+.4f} m, equilibrium point at L8 {:+.4f} m\n", report.tractor.L6, g.L8);
  geometry += fmt::format("  bonnet above the slope as the frame has struck {:+.4f} m (limit {:+.1f} m)\n", g.Z37,
                          kRollingBonnetLimit);
  return text + read_in(geometry, units);
}

std::string stability_text(const LateralStability& s) {
  std::string text = "Lateral stability by calculation (rigid, wheels straight)\n";
  text += fmt::format("  {:<66}{}\n", "tilt of the rear axle in balance, level ground", degrees(s.balance_tilt, 2));
  text +=
      fmt::format("  {:<66}{}\n", "", s.stop_reached ? "the front axle is at its stop" : "the front axle swings free");
  text += fmt::format("  {:<66}{:.0f}°: {}\n", "the test asks for at least", kLateralStabilityMin / kDegree,
                      s.reaches_minimum() ? "reached by calculation" : "NOT reached by calculation");
  text += fmt::format("  {:<66}{}\n", "on a tilting table: about rear contact and front pivot",
                      degrees_and_percent(s.table_tip_three_point, 2));
  text +=
      fmt::format("  {:<66}{}\n", "on a tilting table: front axle locked", degrees_and_percent(s.table_tip_rigid, 2));
  return text;
}

Json stage_json(const RollingStage& s, const char* sequence) {
  Json json = {{"sequence", sequence ? Json(sequence) : Json(nullptr)},
               {"kind", to_string(s.kind)},
               {"what", s.what},
               {"velocity", s.velocity < 0 ? Json(nullptr) : Json(velocity_name(s))},
               {"before_rad_s", s.before},
               {"after_rad_s", s.after}};
  if (s.kind != RollingStageKind::new_axis) {
    json["inertia_before_kg_m2"] = s.inertia_before;
    json["inertia_kg_m2"] = s.inertia;
    json["energy_before_j"] = s.at_hand;
    if (s.kind == RollingStageKind::climb)
      json["energy_needed_j"] = s.needed;
    else
      json["energy_gained_j"] = s.gained;
  }
  json["passed"] = s.passed;
  json["listing_lines"] = s.lines;
  return json;
}

Json constants_json() {
  return {{"slope_rad", kRollingSlope},
          {"restitution", kRollingRestitution},
          {"penetration_plus_deformation_m", kRollingPenetration},
          {"gravity_m_s2", kRollingGravity},
          {"bonnet_limit_m", kRollingBonnetLimit},
          {"cross_inertia_factor", kRollingCrossInertia},
          {"lateral_stability_min_deg", kLateralStabilityMin / kDegree}};
}

}  // namespace

RollingReport rolling_report(std::string name, const RollingTractor& tractor) {
  return {std::move(name), tractor, rolling_test(tractor), lateral_stability(tractor)};
}

std::string rolling_table(const RollingReport& report, Units units) {
  const RollingAnswer& a = report.rolling;
  std::string text = fmt::format("{}\n{}: {}.\n\n", report.name, verdict_words(a.verdict), read_in(a.reason, units));
  text += stages_text(report, units);
  if (!a.common.empty()) text += "\n";
  text += stability_text(report.stability) + "\nData\n";
  for (const RollingField& field : rolling_fields()) {
    const ReadUnit unit = read_unit(field.unit, units);
    text += fmt::format("  {:3}{:>10.4f} {:6} {}\n", field.key, report.tractor.*(field.member) * unit.factor, unit.name,
                        field.help);
  }
  text +=
      read_in(fmt::format("  assumed: slope {} rad, restitution {}, penetration and deformation {} m, g {} m/s2\n\n",
                          kRollingSlope, kRollingRestitution, kRollingPenetration, kRollingGravity),
              units);
  text += "Cautions\n";
  for (const std::string& caution : all_cautions(report)) text += fmt::format("  {}.\n", read_in(caution, units));
  text += fmt::format("  {}\n\n", kCautionLine);
  text +=
      fmt::format("This is {}.\nIt is not {}.\nNor is it {}.\nSource: {}.\n", kIs, kIsNot, kStabilityIsNot, kSource);
  return text;
}

nlohmann::ordered_json to_json(const RollingReport& report) {
  const RollingAnswer& a = report.rolling;
  const LateralStability& s = report.stability;
  const RollingGeometry& g = a.geometry;
  Json json = {{"file", report.name}, {"verdict", to_string(a.verdict)}, {"reason", a.reason}};
  json["velocities_rad_s"] = Json::array();
  json["sequences"] = Json::array();
  json["stages"] = Json::array();
  for (const RollingStage& stage : a.common) json["stages"].push_back(stage_json(stage, nullptr));
  for (const RollingBlock& block : a.blocks) {
    json["velocities_rad_s"].push_back(block.O);
    json["sequences"].push_back(to_string(block.sequence));
    for (const RollingStage& stage : block.stages)
      json["stages"].push_back(stage_json(stage, to_string(block.sequence)));
  }
  json["geometry"] = nullptr;  // not worked out where frame or bonnet are too wide
  if (!a.common.empty())
    json["geometry"] = {{"W0_m", g.W0},
                        {"G1_m", g.G1},
                        {"G3_m", g.G3},
                        {"F2_deg", g.F2 / kDegree},
                        {"A2_deg", g.A2 / kDegree},
                        {"V0_m", g.V0},
                        {"L8_m", g.L8},
                        {"bonnet_above_slope_m", g.Z37}};
  json["lateral_stability"] = {{"balance_tilt_deg", s.balance_tilt / kDegree},
                               {"minimum_deg", kLateralStabilityMin / kDegree},
                               {"reaches_minimum", s.reaches_minimum()},
                               {"front_axle_at_stop", s.stop_reached},
                               {"table_tip_3pt_deg", number_or_null(s.table_tip_three_point, kDegree)},
                               {"rigid_deg", s.table_tip_rigid / kDegree},
                               {"what_it_is_not", kStabilityIsNot}};
  json["tractor"] = Json::object();
  for (const RollingField& field : rolling_fields())
    json["tractor"][std::string(field.key)] = report.tractor.*(field.member);
  json["constants"] = constants_json();
  json["cautions"] = all_cautions(report);
  json["cautions"].push_back(kCautionLine);
  json["what_it_is"] = kIs;
  json["what_it_is_not"] = kIsNot;
  json["source"] = kSource;
  return json;
}

}  // namespace sidehill::text

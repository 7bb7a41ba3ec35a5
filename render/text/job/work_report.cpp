#include "render/text/job/work_report.h"

#include <fmt/format.h>

#include <cmath>

#include "render/text/rest/answer_json.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/job/soil_strength.h"
#include "sim/scene/scene.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

const char* kind_key(PullKind kind) {
  constexpr const char* kKeys[] = {"pulls", "needs_no_drive", "out_of_reach", "axle_lifts"};
  return kKeys[static_cast<int>(kind)];
}

std::string litres(double volume, Units units) { return shown(Quantity::volume, volume / 1e3, units); }

std::string pull_words(const PullAtWork& pull, const WorkAnswer& work, Units units) {
  const auto force = [&](double n) { return shown(Quantity::force, n, units); };
  std::string words;
  switch (pull.answer.kind) {
    case PullKind::pulls:
      words = fmt::format("slip {:.1f} % behind, {:.1f} % in front, tractive efficiency {:.0f} %",
                          100 * pull.answer.rear_slip, 100 * pull.answer.front_slip, 100 * pull.answer.efficiency);
      break;
    case PullKind::needs_no_drive:
      words = "rolls without slip";
      break;
    case PullKind::out_of_reach:
      words = "CANNOT PULL IT: no slip is enough";
      break;
    case PullKind::axle_lifts:
      words = "AN AXLE LIFTS under that pull";
      break;
  }
  words += fmt::format("; pull {}", force(pull.asked));
  if (pull.of_weight > 0) words += fmt::format(", of it {} by the machine's own weight", force(pull.of_weight));
  words += pull.most ? fmt::format("; at most {} for the implement", force(*pull.most)) : "; it cannot climb that";
  if (!work.pull_known) words += " (what the implement takes is not known: give the job's pull)";
  return words + ".";
}

std::string ranges_words(const std::vector<RangeLeft>& left, const char* axle, Units units) {
  std::string words;
  for (const RangeLeft& range : left) {
    const ReadUnit unit = read_unit(range.unit, units);
    words += fmt::format("{}{} tyres: {} {:.2g}{}{}, the equations hold from {:.3g} to {:.3g}",
                         words.empty() ? "" : "; ", axle, range.what, range.value * unit.factor,
                         unit.name.empty() ? "" : " ", unit.name, range.low * unit.factor, range.high * unit.factor);
  }
  return words;
}

}  // namespace

std::vector<std::string> work_warnings(const WorkAnswer& work, const Scene& scene, Units units) {
  std::vector<std::string> all;
  if (scene.job.work == Work::none) return all;
  if (!work.known) {
    all.emplace_back("Grip on mud is NOT KNOWN: the equations end there. It may sink until it stands on its axles.");
    return all;
  }
  for (const PullAtWork* pull : {&work.uphill, &work.level}) {
    if (pull == &work.uphill && !(pull->slope > 0)) continue;
    const std::string where = pull->slope > 0 ? fmt::format("Up {}", degrees_and_percent(pull->slope)) : "On the level";
    if (pull->answer.kind == PullKind::out_of_reach)
      all.push_back(
          fmt::format("{} it CANNOT PULL {}: the tyres spin.", where, shown(Quantity::force, pull->asked, units)));
    if (pull->answer.kind == PullKind::axle_lifts)
      all.push_back(fmt::format("{} A FRONT OR REAR AXLE LIFTS under a pull of {}.", where,
                                shown(Quantity::force, pull->asked, units)));
  }
  if (work.load_share > 1)
    all.push_back(
        fmt::format("The engine cannot: the work asks for {:.0f} % of its rated power.", 100 * work.load_share));
  if (work.side_use && *work.side_use >= 1)
    all.push_back(fmt::format("Across {} the slope's side force alone uses up all the grip: it slides.",
                              degrees_and_percent(scene.job.slope)));
  return all;
}

std::string work_table(const WorkAnswer& work, const SoilAnswer& soil, const Scene& scene, Units units) {
  const Job& job = scene.job;
  if (job.work == Work::none) return "";
  std::string text = "  grip in the job (traction equations, both axles with their loads under the pull)\n";
  if (!work.known) {
    text += "    not known  on mud the equations end\n";
  } else {
    text += paragraph("    level      ", pull_words(work.level, work, units));
    if (work.uphill.slope > 0)
      text += paragraph("    uphill     ",
                        degrees_and_percent(work.uphill.slope) + ": " + pull_words(work.uphill, work, units));
    text +=
        paragraph("    ground     ",
                  work.road ? fmt::format("hard road: rolling resistance {:.3f} of the load in place of the "
                                          "equations' (our estimate)",
                                          kRoadRolling)
                            : fmt::format("cone index {}{}{}", measured(Quantity::pressure, work.cone_index, 0, units),
                                          job.cone_index > 0 ? ", measured" : ", typical of the class, from memory",
                                          job.wet ? "; that it is wet is not in the class" : ""));
    std::string left = ranges_words(work.ranges_front, "front", units);
    const std::string rear = ranges_words(work.ranges_rear, "rear", units);
    if (!rear.empty()) left += (left.empty() ? "" : "; ") + rear;
    if (!left.empty()) text += paragraph("    OUTSIDE    ", left);
  }
  if (work.side_use)
    text += paragraph("    across     ",
                      fmt::format("the slope's side force uses {:.0f} % of the grip and leaves {:.0f} % lengthwise "
                                  "(friction circle on the scene's grip of {:.2f}: our estimate)",
                                  100 * *work.side_use, 100 * *work.left_lengthwise, scene.terrain.soil.adhesion));
  text += "  fuel (part load by Grisso et al. 2004 at full throttle; 85 % from engine to wheel: our assumption)\n";
  if (work.work_rate)
    text +=
        fmt::format("    at work    {} an hour at {:.0f} % of the rated power{}\n", litres(*work.work_rate, units),
                    100 * work.load_share, work.work_year > 0 ? ", " + litres(work.work_year, units) + " a year" : "");
  else
    text += "    at work    not known: the speed, the pull or the engine does not give it\n";
  if (work.road_rate)
    text += fmt::format("    on roads   {} an hour on the level{}\n", litres(*work.road_rate, units),
                        work.road_year > 0 ? ", " + litres(work.road_year, units) + " a year" : "");
  if (work.ballast > 0)
    text += paragraph("    ballast    ",
                      read_in(fmt::format("{} of liquid and weights: rolling them takes {} a year, {} for each 100 kg "
                                          "(our estimate); published: 1 to 2 L an hour for each tonne",
                                          shown(Quantity::mass, work.ballast, units), litres(work.ballast_year, units),
                                          litres(work.ballast_year / work.ballast * 100, units)),
                              units));
  text += fmt::format("  soil (Keller 2005, Froehlich; {}; {})\n", concentration_words(soil.concentration),
                      read_in("such models were seen to be off by 7 to 27 kPa", units));
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}}) {
    const SoilUnder& under = soil.axles[axle];
    const auto pressure = [&](std::optional<double> pa) {
      return pa ? shown(Quantity::pressure, *pa, units) : std::string("not known");
    };
    std::string words =
        under.field.range == StressRange::no_patch
            ? "contact not known"
            : fmt::format("{} on {} a tyre, mean {}, greatest {}", shown(Quantity::load, under.wheel.load, units),
                          measured(Quantity::area, under.field.patch.area, 2, units), pressure(under.field.patch.mean),
                          pressure(under.field.patch.peak));
    words += read_in("; at 15, 30, 50 cm ", units);
    words += fmt::format("{}, {}, {}", pressure(under.stress[0]), pressure(under.stress[1]), pressure(under.stress[2]));
    if (under.stress[2])
      words += read_in(*under.stress[2] > kRuleStress ? "; OVER 50 kPa at 50 cm (a rule from memory)"
                                                      : "; at most 50 kPa at 50 cm (a rule from memory)",
                       units);
    if (under.by_circle)
      words +=
          "; stress of an evenly loaded circle: the light wheel on a hard tyre is outside Keller's range, the true "
          "stress near the surface is higher";
    if (!under.recommended_known) words += "; the pressure there is taken as the right one";
    text += paragraph(axle == 0 ? "    front      " : "    rear       ", words + ".");
  }
  if (holds_liquid(scene.ballast))
    text += paragraph(
        "    claims     ",
        read_in("\"Liquid spares the soil\": see the numbers above; each kilogram presses whatever it is made "
                "of. \"Liquid cools the brakes\": nobody has measured it.",
                units));
  return text;
}

Json work_json(const WorkAnswer& work) {
  const auto pull = [&](const PullAtWork& p) {
    const bool pulls = work.known && p.answer.kind == PullKind::pulls;
    return Json{{"slope_deg", p.slope / kDegree},
                {"outcome", work.known ? Json(kind_key(p.answer.kind)) : Json()},
                {"pull_kn", p.asked / 1e3},
                {"of_weight_kn", p.of_weight / 1e3},
                {"rear_slip_fraction", pulls ? Json(p.answer.rear_slip) : Json()},
                {"front_slip_fraction", pulls ? Json(p.answer.front_slip) : Json()},
                {"tractive_efficiency", pulls ? number_or_null(p.answer.efficiency) : Json()},
                {"greatest_pull_kn", work.known ? number_or_null(p.most, 1e3) : Json()}};
  };
  return {{"known", work.known},
          {"cone_index_kpa", work.known ? Json(work.cone_index / 1e3) : Json()},
          {"road", work.road},
          {"level", pull(work.level)},
          {"uphill", work.uphill.slope > 0 ? pull(work.uphill) : Json()},
          {"side_use_fraction", number_or_null(work.side_use)},
          {"left_lengthwise_fraction", number_or_null(work.left_lengthwise)},
          {"rated_power_fraction", work.load_share > 0 ? Json(work.load_share) : Json()},
          {"work_fuel_l_per_h", number_or_null(work.work_rate)},
          {"road_fuel_l_per_h", number_or_null(work.road_rate)},
          {"work_fuel_l_per_year", work.work_rate ? Json(work.work_year) : Json()},
          {"road_fuel_l_per_year", work.road_rate ? Json(work.road_year) : Json()},
          {"ballast_kg", work.ballast},
          {"ballast_fuel_l_per_year", work.ballast_year}};
}

Json soil_json(const SoilAnswer& soil) {
  Json list = Json::array();
  for (const SoilUnder& under : soil.axles) {
    const bool patch = under.field.range != StressRange::no_patch;
    Json stress = Json::array();
    for (const auto& at : under.stress) stress.push_back(number_or_null(at, 1e3));
    list.push_back({{"contact_area_m2", patch ? number_or_null(under.field.patch.area) : Json()},
                    {"mean_contact_kpa", patch ? number_or_null(under.field.patch.mean, 1e3) : Json()},
                    {"greatest_contact_kpa", patch ? number_or_null(under.field.patch.peak, 1e3) : Json()},
                    {"stress_kpa", stress},
                    {"stress_by_circle", under.by_circle},
                    {"recommended_pressure_known", under.recommended_known},
                    {"cautions", under.cautions}});
  }
  return {{"concentration", soil.concentration}, {"depths_m", kSoilDepths}, {"front", list[0]}, {"rear", list[1]}};
}

}  // namespace sidehill::text

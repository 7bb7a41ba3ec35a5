#include "render/text/rest/manoeuvre_report.h"

#include <fmt/format.h>

#include "render/text/rest/answer_json.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

const char* words_of(ManoeuvreKind kind) {
  constexpr const char* kWords[] = {"turning left", "turning right", "braking"};
  return kWords[static_cast<int>(kind)];
}

// A bend downhill may lift a wheel on the level that this slope presses down again: no slope is left to speak of.
bool lifts_on_less(const ManoeuvreAnswer& m) { return m.margin && *m.margin < 0 && !lifts_under_way(m); }

}  // namespace

const char* key_of(ManoeuvreKind kind) {
  constexpr const char* kKeys[] = {"turning_left", "turning_right", "braking"};
  return kKeys[static_cast<int>(kind)];
}

std::string manoeuvre_words(ManoeuvreKind kind, const Manoeuvre& asked) {
  if (kind == ManoeuvreKind::braking) return fmt::format("braking with {:.1f} m/s2", asked.braking);
  return fmt::format("{} at {:.3g} km/h in a bend of {:.3g} m", words_of(kind), asked.speed * 3.6, asked.turn_radius);
}

std::string asked_manoeuvres(const Manoeuvre& asked) {
  std::string text;
  if (asked.turn_radius > 0)
    text = fmt::format("bend of {:.3g} m at {:.3g} km/h", asked.turn_radius, asked.speed * 3.6);
  if (asked.braking > 0)
    text += fmt::format("{}{}", text.empty() ? "" : ", ", manoeuvre_words(ManoeuvreKind::braking, asked));
  return text;
}

void add_manoeuvres(Json& json, const Answer& answer) {
  Json list = Json::array();
  for (const ManoeuvreAnswer& m : answer.manoeuvres) {
    Json loads = nullptr;
    if (m.rest) {
      loads = Json::array();
      for (double load : m.rest->load) loads.push_back(number_or_null(load));
    }
    list.push_back({{"kind", key_of(m.kind)},
                    {"felt_m_per_s2", number_or_null(m.acceleration)},
                    {"first_lift_off_deg", number_or_null(m.lift_off.slope, kDegree)},
                    {"first_lift_off_wheel", m.lift_off.wheel >= 0 ? Json(wheel_key(m.lift_off.wheel)) : Json()},
                    {"margin_deg", number_or_null(m.margin, kDegree)},
                    {"slide_deg", number_or_null(m.slide, kDegree)},
                    {"wheel_load_n", loads},
                    {"felt_at_lift_off_here_m_per_s2", number_or_null(m.acceleration_at_limit)},
                    {"speed_at_lift_off_here_kmh", number_or_null(m.speed_at_limit, 1 / 3.6)}});
  }
  json["manoeuvres"] = list;
}

std::vector<std::vector<std::string>> manoeuvre_rows(const Answer& answer, Units units) {
  std::vector<std::vector<std::string>> rows;
  if (answer.manoeuvres.empty()) return rows;
  rows.push_back({"", "wheel lifts at", "left", "slides at", "lifts on this slope at"});
  for (const ManoeuvreAnswer& m : answer.manoeuvres) {
    const std::string limit = m.speed_at_limit ? measured(Quantity::speed, *m.speed_at_limit, 0, units)
                              : m.acceleration_at_limit
                                  ? measured(Quantity::acceleration, *m.acceleration_at_limit, 1, units)
                                  : "no grip holds that";
    rows.push_back({words_of(m.kind), lifts_on_less(m) ? "on less slope" : degrees_and_percent(m.lift_off.slope),
                    m.margin && m.lift_off.slope && !lifts_on_less(m)
                        ? degrees(angle_between_as_shown(answer.scene.terrain.slope, *m.lift_off.slope))
                        : "-",
                    m.slide ? degrees_and_percent(m.slide) : "not first", limit});
  }
  return rows;
}

std::string manoeuvres_table(const Answer& answer, Units units) {
  const auto rows = manoeuvre_rows(answer, units);
  if (rows.empty()) return {};
  std::string text = fmt::format("{}, {}\n", kUnderWayTitle, read_in(asked_manoeuvres(answer.scene.manoeuvre), units));
  for (const auto& row : rows)
    text += fmt::format("  {:16}{:>15}{:>9}{:>15}{:>28}\n", row[0], row[1], row[2], row[3], row[4]);
  return text + "  " + kUnderWayLimits + "\n";
}

}  // namespace sidehill::text

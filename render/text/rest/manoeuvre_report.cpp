#include "render/text/rest/manoeuvre_report.h"

#include <fmt/format.h>

#include "render/text/rest/warnings.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill {
namespace {

using Json = nlohmann::ordered_json;

const char* key_of(ManoeuvreKind kind) {
  constexpr const char* kKeys[] = {"turning_left", "turning_right", "braking"};
  return kKeys[static_cast<int>(kind)];
}

const char* words_of(ManoeuvreKind kind) {
  constexpr const char* kWords[] = {"turning left", "turning right", "braking"};
  return kWords[static_cast<int>(kind)];
}

// A bend downhill may lift a wheel on the level that this slope presses down again: no slope is left to speak of.
bool lifts_on_less(const ManoeuvreAnswer& m) { return m.margin && *m.margin < 0 && !lifts_under_way(m); }

}  // namespace

std::string manoeuvre_words(const ManoeuvreAnswer& m, const Manoeuvre& asked) {
  if (m.kind == ManoeuvreKind::braking) return fmt::format("braking with {:.1f} m/s2", m.felt);
  return fmt::format("{} at {:.0f} km/h in a bend of {:.0f} m", words_of(m.kind), asked.speed * 3.6, asked.turn_radius);
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
                    {"felt_m_per_s2", number_or_null(m.felt)},
                    {"first_lift_off_deg", number_or_null(m.lift_off.slope, kDegree)},
                    {"first_lift_off_wheel", m.lift_off.wheel >= 0 ? Json(wheel_key(m.lift_off.wheel)) : Json()},
                    {"margin_deg", number_or_null(m.margin, kDegree)},
                    {"slide_deg", number_or_null(m.slide, kDegree)},
                    {"wheel_load_n", loads},
                    {"felt_at_lift_off_here_m_per_s2", number_or_null(m.felt_at_limit)},
                    {"speed_at_lift_off_here_kmh", number_or_null(m.speed_at_limit, 1 / 3.6)}});
  }
  json["manoeuvres"] = list;
}

std::string manoeuvres_table(const Answer& answer) {
  if (answer.manoeuvres.empty()) return {};
  const Manoeuvre& asked = answer.scene.manoeuvre;
  std::string text = "Under way, steadily";
  if (asked.turn_radius > 0)
    text += fmt::format(", bend of {:.0f} m at {:.0f} km/h", asked.turn_radius, asked.speed * 3.6);
  if (asked.braking > 0) text += fmt::format(", braking with {:.1f} m/s2", asked.braking);
  text += fmt::format("\n  {:16}{:>14}{:>12}{:>12}{:>28}\n", "", "wheel lifts at", "left", "slides at",
                      "lifts on this slope at");
  for (const ManoeuvreAnswer& m : answer.manoeuvres) {
    const std::string limit = m.speed_at_limit  ? fmt::format("{:.0f} km/h", *m.speed_at_limit * 3.6)
                              : m.felt_at_limit ? fmt::format("{:.1f} m/s2", *m.felt_at_limit)
                                                : "no grip holds that";
    text += fmt::format("  {:16}{:>14}{:>12}{:>12}{:>28}\n", words_of(m.kind),
                        lifts_on_less(m) ? "on less slope" : degrees(m.lift_off.slope),
                        m.margin && m.lift_off.slope && !lifts_on_less(m)
                            ? degrees(angle_between_as_shown(answer.scene.terrain.slope, *m.lift_off.slope))
                            : "-",
                        m.slide ? degrees(m.slide) : "not first", limit);
  }
  return text + "  No bump, no jerk at the wheel, no sway: less than half of that speed is prudent on real ground.\n";
}

}  // namespace sidehill

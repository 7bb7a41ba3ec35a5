#include "render/text/rest/measures_report.h"

#include <fmt/format.h>

#include "render/text/rest/answer_json.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/rest/margin.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;
constexpr const char* kLineNames[] = {"rear", "left", "front", "right"};

}  // namespace

void add_measures(Json& json, const Answer& answer) {
  json["measures"] = nullptr;
  if (!answer.statics.rest) return;
  const Measures all = measures(answer.model, *answer.statics.rest);
  Json lines = Json::array();
  for (std::size_t i = 0; i < 4; ++i) {
    const LineMeasure& m = all.lines[i];
    lines.push_back({{"line", kLineNames[i]},
                     {"force_angle_deg", number_or_null(m.angle, kDegree)},
                     {"force_angle_n_rad", number_or_null(m.angle_by_force)},
                     {"force_angle_moment_n_m_rad", number_or_null(m.angle_by_moment)},
                     {"plumb_line_m", number_or_null(m.plumb_line)},
                     {"energy_j", number_or_null(m.energy)},
                     {"energy_height_m", number_or_null(m.energy_height)},
                     {"critical_rate_rad_per_s", number_or_null(m.critical_rate)}});
  }
  json["measures"] = {{"nearest", kLineNames[static_cast<int>(all.nearest)]},
                      {"lines", lines},
                      {"load_transfer",
                       {{"front", number_or_null(all.front_transfer)},
                        {"rear", number_or_null(all.rear_transfer)},
                        {"whole", number_or_null(all.whole_transfer)}}}};
}

std::string measures_table(const Answer& answer, Units units) {
  if (!answer.statics.rest) return {};
  const Measures all = measures(answer.model, *answer.statics.rest);
  std::string text = fmt::format("{:30}{:>12}{:>14}{:>16}{:>16}\n", "To go over, here and at rest", "force angle",
                                 "plumb line", "energy needed", "turning rate");
  for (std::size_t i = 0; i < 4; ++i) {
    const LineMeasure& m = all.lines[i];
    text += fmt::format(
        "  {:28}{:>12}{:>14}{:>16}{:>16}\n",
        fmt::format("over the {} line{}", kLineNames[i], all.nearest == static_cast<TipLine>(i) ? " *" : ""),
        degrees(m.angle), shown(Quantity::length, m.plumb_line, units), measured(Quantity::energy, m.energy, 1, units),
        degrees(m.critical_rate) + "/s");
  }
  return text + fmt::format("  * least. Load moved to the right side: front {}, rear {}, whole {}.\n",
                            percent(all.front_transfer), percent(all.rear_transfer), percent(all.whole_transfer));
}

}  // namespace sidehill::text

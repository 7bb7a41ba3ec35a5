#include "render/text/rest/sensitivity_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/rest/answer_json.h"
#include "sim/base/constants.h"
#include "sim/base/plain_number.h"

namespace sidehill::text {
nlohmann::ordered_json sensitivity_json(const std::vector<Sensitivity>& all) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const Sensitivity& s : all)
    list.push_back({{"key", s.key},
                    {"unit", s.unit},
                    {"value", number_or_null(s.value)},
                    {"first_lift_off_deg_per_unit", number_or_null(s.per_unit, kDegree)}});
  return list;
}

std::string sensitivity_table(const std::vector<Sensitivity>& all, Units units) {
  constexpr double kNothing = 1e-5 * kDegree;  // by a hundredth of the value
  std::string text = fmt::format("\n{:<52}{:>12}   {:<9}{:>16}{:>16}\n", "What moves the first lift-off (even slope)",
                                 "is", "", "1 unit more", "1 % more");
  for (const Sensitivity& s : all) {
    if (!s.per_unit) continue;
    const double unit = *s.per_unit / kDegree, percent = 0.01 * s.value * unit;
    if (std::abs(*s.per_unit * (s.value != 0 ? 0.01 * s.value : 1)) < kNothing) continue;
    const std::string by_percent = s.value != 0 ? fmt::format("{:+.3f}°", percent) : "-";
    const ReadUnit read = read_unit(s.unit, units, s.key);
    text += fmt::format(
        "  {:<50}{:>12}   {:<9}{:>17}{:>{}}\n", s.key, plain_number(s.value * read.factor + read.offset, 5), read.name,
        (unit < 0 ? "" : "+") + plain_number(unit / read.factor, 4) + "°", by_percent, s.value != 0 ? 17 : 16);
  }
  return text;
}

}  // namespace sidehill::text

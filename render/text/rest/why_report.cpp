#include "render/text/rest/why_report.h"

#include <fmt/format.h>

#include "render/text/rest/answer_json.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

std::string signed_share(double share) { return (share > 0 ? "+" : "") + degrees(share, 2); }

}  // namespace

void add_breakdown(Json& json, const Answer& answer) {
  json["breakdown"] = nullptr;
  if (!answer.breakdown) return;
  const Breakdown& b = *answer.breakdown;
  Json causes = Json::array();
  for (const Cause& cause : b.causes)
    causes.push_back({{"cause", cause.name}, {"share_deg", number_or_null(cause.share, kDegree)}});
  json["breakdown"] = {{"bare_deg", number_or_null(b.bare, kDegree)},
                       {"causes", causes},
                       {"first_lift_off_deg", number_or_null(b.whole, kDegree)},
                       {"slope_deg", number_or_null(answer.scene.terrain.slope, kDegree)},
                       {"margin_deg", number_or_null(b.whole - answer.scene.terrain.slope, kDegree)}};
}

std::string breakdown_table(const Answer& answer) {
  if (!answer.breakdown) return {};
  const Breakdown& b = *answer.breakdown;
  std::string text = "Why the first wheel lifts there, on an even slope (averaged over every order of adding)\n";
  const auto row = [&](std::string_view name, const std::string& value, std::string_view behind = "") {
    text += fmt::format("  {:48}{:>9}{}\n", name, value, behind);
  };
  // Its per cent stand behind the column, so that slopes and changes of slope have their points below each other.
  const auto slope_row = [&](std::string_view name, double slope) {
    const std::string number = degrees(slope, 2);
    row(name, number, degrees_and_percent(slope, 2).substr(number.size()));
  };
  slope_row("the bare machine on rigid tyres", b.bare);
  for (const Cause& cause : b.causes) row(cause.name, signed_share(cause.share));
  slope_row("first wheel lifts", b.whole);
  row("the slope takes", signed_share(-answer.scene.terrain.slope));
  row("left", degrees(b.whole - answer.scene.terrain.slope, 2));
  return text;
}

}  // namespace sidehill::text

#include "render/text/motion/rescue_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/rest/answer_json.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

// Order of enum RescueAct, of enum RescueEnd.
constexpr const char* kActs[] = {"full brake", "half brake", "steering straight downhill", "lowering the loader"};
constexpr const char* kActKeys[] = {"stop", "stop_half_pedal", "steer_downhill", "lower_loader"};
constexpr const char* kEndKeys[] = {"on_its_wheels", "wheel_up", "goes_over"};

std::string when(double time, const Rescues& rescues) {
  if (!rescues.lift_off) return fmt::format("{:.2f} s", time);
  const double after = time - *rescues.lift_off;
  return fmt::format("{:.2f} s, {:.2f} s {} the first wheel lifts", time, std::abs(after),
                     after < 0 ? "before" : "after");
}

std::string line(const char* act, const std::string& words) { return fmt::format("  {:28} {}\n", act, words); }

}  // namespace

std::string rescue_table(const Rescues& rescues) {
  if (!rescues.needed) return {};
  std::string text = "\nCould it still have been saved?\n";
  for (const Rescue& rescue : rescues.acts) {
    const char* act = kActs[static_cast<int>(rescue.act)];
    if (rescue.latest) {
      text += line(act, "ends on all its wheels, if begun by " + when(*rescue.latest, rescues));
      act = "";
    }
    const bool upright_longer = rescue.latest_upright && (!rescue.latest || *rescue.latest_upright > *rescue.latest);
    if (upright_longer) {
      text += line(act, std::string(rescue.stops ? "stops with a wheel up" : "goes on with a wheel up") +
                            (rescue.latest ? ", if begun after that and by " : ", if begun by ") +
                            when(*rescue.latest_upright, rescues));
      act = "";
    }
    if (!rescue.latest_upright)
      text += line(act, "goes over, even if begun at " + when(rescues.tried_from, rescues));
    else if (*rescue.latest_upright < rescues.tried_to)
      text += line(act, "goes over, if begun later");
    else
      text += line(act, "(later than that, the moment of balance, none was tried)");
    if (rescue.scattered) text += line("", "(by luck it ends on all its wheels from some later moments too)");
  }
  return text +
         "  Found by running each, begun at once and done perfectly. A driver takes about a second to see and move\n"
         "  (Johansson and Rumar, Human Factors 13, 1971): take that off every moment given, and do not count on\n"
         "  what is left. A wheel up may still go over by itself: a stone, a gust or a hand is enough.\n";
}

Json rescue_json(const Rescues& rescues) {
  Json acts = Json::object();
  for (const Rescue& rescue : rescues.acts) {
    const bool up = rescue.latest_upright && (!rescue.latest || *rescue.latest_upright > *rescue.latest);
    acts[kActKeys[static_cast<int>(rescue.act)]] = {
        {"from_first_moment", kEndKeys[static_cast<int>(rescue.first)]},
        {"on_its_wheels_latest_s", rescue.latest ? number_or_null(*rescue.latest) : Json(nullptr)},
        {"not_over_latest_s", rescue.latest_upright ? number_or_null(*rescue.latest_upright) : Json(nullptr)},
        {"stops_with_a_wheel_up", up ? Json(rescue.stops) : Json(nullptr)},
        {"later_moments_by_luck", rescue.scattered}};
  }
  return {{"needed", rescues.needed},
          {"first_lift_off_s", rescues.lift_off ? number_or_null(*rescues.lift_off) : Json(nullptr)},
          {"point_of_no_return_s",
           rescues.point_of_no_return ? number_or_null(*rescues.point_of_no_return) : Json(nullptr)},
          {"tried_from_s", rescues.needed ? number_or_null(rescues.tried_from) : Json(nullptr)},
          {"tried_to_s", rescues.needed ? number_or_null(rescues.tried_to) : Json(nullptr)},
          {"acts", acts}};
}

}  // namespace sidehill::text

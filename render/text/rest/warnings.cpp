#include "render/text/rest/warnings.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "render/text/rest/manoeuvre_report.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/model/fill_frost.h"
#include "sim/scene/machine_mark.h"

namespace sidehill::text {
std::vector<std::string> overload_warnings(const LoadCheck& loads) {
  const std::string where = loads.level || loads.slope == 0 ? "on the level" : "on this slope";
  const auto sentence = [&](const OverLimit& limit, std::string_view more) {
    // A load that only just passes its limit is none to alarm anybody about.
    return fmt::format("{}, {}.{}{}", capital(limit_words(limit)), where, more,
                       !(limit.margin.capacity > 0) ? " Go slower."
                       : limit.margin.used < 1.01   ? ""
                                                    : " Take load off.");
  };
  std::vector<std::string> certain, typical;
  for (int axle = 0; axle < 2; ++axle) {
    const LoadMargin& margin = loads.axles[static_cast<std::size_t>(axle)];
    if (margin.capacity > 0 && margin.used > 1) certain.push_back(sentence({LimitKind::axle, axle, margin}, ""));
  }
  for (int w = 0; w < kWheels; ++w) {
    const TyreCheck& tyre = loads.tyres[static_cast<std::size_t>(w)];
    if (!tyre.service || !(tyre.margin.used > 1)) continue;
    const OverLimit limit{LimitKind::tyre, w, tyre.margin, tyre.rating != Rating::stated, tyre.tyres > 1, tyre.by_one};
    if (!limit.typical)
      certain.push_back(sentence(limit, ""));
    else
      typical.push_back(
          sentence(limit, fmt::format(" Read the sidewall, vehicle.{}.tyre.service.", is_front(w) ? "front" : "rear")));
  }
  certain.insert(certain.end(), typical.begin(), typical.end());
  return certain;
}

std::vector<std::string> unknown_ratings(const LoadCheck& loads) {
  std::vector<std::string> out;
  for (const auto& [wheel, axle] : {std::pair{kFrontLeft, "front"}, {kRearLeft, "rear"}})
    if (loads.tyres[static_cast<std::size_t>(wheel)].rating == Rating::not_known)
      out.push_back(
          fmt::format("{} tyre rating not known: read the sidewall, vehicle.{}.tyre.service.", capital(axle), axle));
  return out;
}

std::string other_machine_caution(const Scene& scene) {
  if (!is_of_other_machine(scene)) return "";
  return "ANOTHER MACHINE: this plan was made for a machine with other numbers than the one here, so what it asks for "
         "does not hold.";
}

std::vector<std::string> plan_cautions(const Scene& scene) {
  std::vector<std::string> out;
  if (scene.plan.made.empty()) return out;
  if (std::string other = other_machine_caution(scene); !other.empty()) out.push_back(std::move(other));
  out.push_back(
      fmt::format("This is the machine as planned on {}, not as it stands now: the log of the plan file says what has "
                  "been done of it.",
                  scene.plan.made));
  return out;
}

std::vector<std::string> warnings(const Answer& answer) {
  std::vector<std::string> out = plan_cautions(answer.scene), slides;
  for (const ManoeuvreAnswer& m : answer.manoeuvres) {
    const std::string what = capital(manoeuvre_words(m.kind, answer.scene.manoeuvre));
    if (lifts_under_way(m))
      out.push_back(
          fmt::format("{} lifts a wheel on this slope: it {} over.", what, tips_under_way(m) ? "goes" : "may go"));
    else if (m.slide && *m.slide < answer.scene.terrain.slope)
      slides.push_back(what + " slides on this slope.");
  }
  const auto add = [&out](std::vector<std::string> lines) {
    for (std::string& line : lines) out.push_back(std::move(line));
  };
  const bool ice = std::ranges::any_of(answer.model.wheels, &WheelModel::ice);
  if (ice) out.push_back(cause_words(StandCause::frozen, {}, answer.scene, answer.statics));
  if (answer.loads) add(overload_warnings(*answer.loads));
  if (frost_not_known(answer.scene))
    out.push_back(cause_words(StandCause::frost_not_known, {}, answer.scene, answer.statics));
  if (!answer.manoeuvres.empty()) {
    const StandVerdict verdict = verdict_on(answer);
    for (const auto* list : {&verdict.over, &verdict.may_be_over})
      for (const OverLimit& limit : *list)
        if (limit.doing)
          out.push_back(capital(limit_words(limit)) + limit_doing_words(limit) + ". Take load off or go slower.");
  }
  add(std::move(slides));
  if (answer.loads) add(unknown_ratings(*answer.loads));
  if (ice)
    out.push_back(fmt::format(
        "All angles take the ice in the tyres where it harms most, for it turns with the wheel: the first wheel lifts "
        "at "
        "{}. While the ice lies at the bottom, as it froze, that is {}.",
        degrees_and_percent(answer.statics.first_lift_off),
        degrees_and_percent(first_lift_off(with_ice_at_the_bottom(answer.model)).slope)));
  return out;
}

}  // namespace sidehill::text

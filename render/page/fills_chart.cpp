// What gives way first against the fill of the rear tyres, a line for each liquid. Part of render/page/answer_charts.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/answer_chart_parts.h"
#include "render/page/answer_charts.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "vehicles/liquid.h"
#include "vehicles/winter.h"

namespace sidehill::page {

Chart fills_chart(const Scene& scene) {
  Chart chart = chart_about(scene, ChartKind::lines, "What gives way first, against the fill of both rear tyres");
  constexpr int kSteps = 8;
  // Distinguished without colour. Dashed is kept for what is frozen.
  constexpr Dash kDashes[] = {Dash::solid, Dash::dash_dot, Dash::dotted, Dash::long_dash};
  constexpr Colour kInks[] = {palette::kSteady, palette::kInk,    palette::kLoad,
                              palette::kSlide,  palette::kLifted, palette::kInkSoft};
  double low = 90, high = 0, slide_low = 90, slide_high = 0;
  std::vector<std::optional<double>> slide(kSteps + 1);  // the earliest of all liquids, by fill [deg]
  std::size_t slides_first = 0, points = 0;
  std::vector<Model> like;  // of each fill: the liquid's place does not depend on what it is
  for (int i = 0; i <= kSteps; ++i) {
    Scene filled = scene;
    for (const int wheel : {kRearLeft, kRearRight}) {
      TyreFill& fill = filled.ballast.fill[static_cast<std::size_t>(wheel)];
      fill.fill_fraction = static_cast<double>(i) / kSteps;
      fill.medium = Medium::water;
      fill.concentration = 0;
    }
    like.push_back(build(filled));
  }
  std::size_t failed = 0, number = 0;
  const std::string cold = fmt::format("{:.0f} °C", scene.settings.temperature - kZeroCelsius);
  std::string frozen, not_known;
  for (const MediumInfo& medium : media_choices()) {
    const OwnMedium& own = scene.ballast.own_medium;
    if (medium.medium == Medium::own && !(own.density >= kLeastOwnDensity)) continue;
    const Mix mix{medium.medium, 0, &own};
    const std::string liquid = medium_name(mix, true);
    ChartSeries series{liquid, {}, kInks[number % std::size(kInks)], kDashes[number % std::size(kDashes)], 1.75};
    ++number;
    const Frost frost = winter(mix, scene.settings.temperature).frost;
    if (frost == Frost::solid) {
      series.dash = Dash::dashed;
      series.name += ", frozen at " + cold;
      frozen += (frozen.empty() ? "" : ", ") + liquid;
    } else if (frost == Frost::slushy) {
      series.name += ", slush at " + cold;
    } else if (frost == Frost::not_known) {
      series.name += ", frost not known";
      not_known = liquid;
    }
    for (int i = 0; i <= kSteps; ++i) {
      Scene filled = scene;
      for (const int wheel : {kRearLeft, kRearRight}) {
        TyreFill& fill = filled.ballast.fill[static_cast<std::size_t>(wheel)];
        fill.fill_fraction = static_cast<double>(i) / kSteps;
        fill.medium = medium.medium;
        fill.concentration = 0;
      }
      std::optional<double> lift;
      try {
        const Model model = build(filled, &like[static_cast<std::size_t>(i)]);
        const LiftOff answer = first_lift_off(model);
        if (const auto gives = in_degrees(slide_slope(model)); gives && !answer.failed) {
          slide_low = std::min(slide_low, *gives), slide_high = std::max(slide_high, *gives);
          std::optional<double>& least = slide[static_cast<std::size_t>(i)];
          least = std::min(least.value_or(90), *gives);
          if (!answer.slope || *gives < *answer.slope / kDegree) ++slides_first;
        }
        ++points;
        lift = in_degrees(answer.slope);
        if (answer.failed) lift.reset(), ++failed;
      } catch (const InputError&) {
        if (medium.medium == Medium::water) throw;
        ++failed;
      }
      if (lift) low = std::min(low, *lift), high = std::max(high, *lift);
      series.points.push_back({100.0 * i / kSteps, lift});
    }
    chart.series.push_back(std::move(series));
  }
  if (slides_first > 0) {
    ChartSeries line{"the tyres slide", {}, palette::kSlide, Dash::dotted, 3};
    for (int i = 0; i <= kSteps; ++i) line.points.push_back({100.0 * i / kSteps, slide[static_cast<std::size_t>(i)]});
    chart.series.push_back(std::move(line));
    low = std::min(low, slide_low), high = std::max(high, slide_high);
  }
  if (high < low) low = 0, high = 60;
  const double step = tick_step(std::max(high - low, 1.0), 8);
  chart.x = {"Liquid over the room inside each rear tyre", "%", 0, 100, 25, 0};
  chart.y = {
      slides_first > 0 ? "Slope at which a wheel lifts, or the tyres slide" : "Slope at which the first wheel lifts",
      "°", std::max(0.0, std::floor(low / step - 0.5) * step), round_up(high + 0.3 * step, step)};
  const double slope = scene.terrain.slope / kDegree;
  if (slope > chart.y.low && slope < chart.y.high)
    chart.rules.push_back({slope, "ground " + degrees_and_percent(scene.terrain.slope)});
  const TyreFill &left = scene.ballast.fill[kRearLeft], &right = scene.ballast.fill[kRearRight];
  if (left.fill_fraction == right.fill_fraction && left.medium == right.medium && left.fill_fraction > 0)
    chart.events.push_back({100 * left.fill_fraction,
                            fmt::format("as the scene has it: {}", medium_name(mix_of(scene.ballast, kRearLeft))),
                            false});
  if (!frozen.empty())
    chart.remarks.push_back(fmt::format(
        "FROZEN at {}, do not drive with them: {}. Their lines are dashed and hold for the ice at its worst "
        "place round the wheel.",
        cold, frozen));
  if (!not_known.empty())
    chart.remarks.push_back(
        fmt::format("NOT KNOWN whether {} freezes at {}: its first ice is not given, and its line holds for a liquid.",
                    not_known, cold));
  if (slides_first > 0) {
    const std::string at = range_in_degrees_and_percent(slide_low * kDegree, slide_high * kDegree);
    chart.remarks.push_back(
        slides_first == points
            ? fmt::format("It slides first, at {}, before any wheel lifts, whatever the fill.", at)
            : fmt::format("It slides first in {} of the {} points, at {}: there the lift-off is never come to.",
                          slides_first, points, at));
  }
  chart.remarks.push_back(
      fmt::format("The scale of slopes runs from {} only. Common practice stops at 75 %: above "
                  "it too little air is left to spring the tyre. Everything else as the scene has it.",
                  range_in_degrees_and_percent(chart.y.low * kDegree, chart.y.high * kDegree)));
  if (failed > 0) chart.remarks.push_back(fmt::format("No answer was found for {} of the points (gaps).", failed));
  chart.limits.insert(chart.limits.begin(),
                      "Each liquid at its usual strength and the scene's temperatures; stiffening by liquid is our "
                      "estimate. What tyres and axles may carry is not in this chart: `sidehill solve` and `sidehill "
                      "fill` say it.");
  return chart;
}

}  // namespace sidehill::page

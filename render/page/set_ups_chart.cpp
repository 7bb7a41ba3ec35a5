#include "render/page/set_ups_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/provenance.h"
#include "render/text/rest/doubt_report.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::page {

Chart set_ups_chart(const SetUpComparison& all) {
  const Scene& scene = all.set_ups.front().answer.scene;
  Chart chart;
  chart.kind = ChartKind::bars;
  chart.title = "Set-ups side by side: what gives way at this heading, and at which slope";
  chart.subtitle = scene_words(scene);
  chart.caution = kCautionLine;
  double most = std::max(10.0, scene.terrain.slope / kDegree * 1.1);
  for (const SetUpAnswer& s : all.set_ups) {
    const StaticSolution& statics = s.answer.statics;
    const bool even = scene.terrain.features.empty() && s.answer.uncertainty;
    const auto add = [&](const char* what, std::optional<double> slope, const std::optional<Interval>& interval,
                         Pattern fill, Colour paint) {
      ChartBar bar;
      bar.name = s.name + ": " + what;
      bar.fill = fill;
      bar.paint = paint;
      bar.words = statics.status == RestStatus::unsolved ? "no answer" : degrees_and_percent(slope);
      if (slope && statics.status != RestStatus::unsolved) {
        bar.from = 0;
        bar.to = *slope / kDegree;
        most = std::max(most, *bar.to);
        if (even && interval) {
          bar.words += interval_words(interval);
          bar.doubt_low = interval->low / kDegree;
          if (!interval->open) {
            bar.doubt_high = interval->high / kDegree;
            most = std::max(most, *bar.doubt_high);
          }
        }
      }
      chart.bars.push_back(std::move(bar));
    };
    const std::optional<Uncertainty>& u = s.answer.uncertainty;
    add("slides", statics.slide, u ? u->slide : std::nullopt, Pattern::dotted, palette::kSlide);
    add("a wheel lifts", statics.first_lift_off, u ? u->first_lift_off : std::nullopt, Pattern::hatched,
        palette::kLifted);
    for (const std::string& words : grave_sentences(verdict_on(s.answer), s.answer.scene, statics))
      chart.remarks.push_back(s.name + ": " + words);
  }
  if (all.ballast_is_no_answer)
    chart.remarks.insert(chart.remarks.begin(),
                         "Ballast is not the answer at this heading: every set-up slides at nearly the same slope.");
  chart.y = {"Slope, the whole ground tilted at this heading", "°", 0, std::ceil(most / 5 - 1e-9) * 5};
  chart.rules.push_back(
      {scene.terrain.slope / kDegree, fmt::format("the ground here: {}", degrees_and_percent(scene.terrain.slope))});
  std::string limits = answer_limits_words(
      std::ranges::any_of(all.set_ups, [](const SetUpAnswer& s) { return holds_liquid(s.answer.scene.ballast); }));
  std::ranges::replace(limits, '\n', ' ');
  chart.limits = {
      "Lines across a bar and figures in brackets: where the value lies nineteen times in twenty. The "
      "interval of a difference is narrower: see the table.",
      limits, made_by(scene)};
  return chart;
}

}  // namespace sidehill::page

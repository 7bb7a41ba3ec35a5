#include "render/page/run_charts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/provenance.h"
#include "render/text/motion/outcome_words.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/model/model.h"
#include "sim/motion/margin_gaps.h"
#include "sim/motion/under_way.h"
#include "sim/scene/scene_file.h"

namespace sidehill::page {
namespace {

// As the terminal says it of the same run.
std::string ending_words(const Scene& scene, const Recording& recording) {
  if (recording.outcome == Outcome::diverged)
    return "no answer from here on, the simulation diverged: " + recording.divergence;
  return outcome_line(scene, recording);
}

bool is_grave(EventKind kind) {
  return kind != EventKind::touch_down && kind != EventKind::lands && kind != EventKind::at_rest &&
         kind != EventKind::slide && kind != EventKind::settled;
}

Chart chart_of_run(const Recording& recording, const Scene& scene, std::string title) {
  if (recording.states.empty()) throw InputError("chart: the recording holds no frames");
  Chart chart;
  chart.title = std::move(title);
  chart.subtitle = scene_words(scene);
  chart.x = {"Time", "s", recording.states.front().time, std::max(recording.states.back().time, 0.02)};
  for (const Event& event : recording.events)
    chart.events.push_back({event.time, event_words(event), is_grave(event.kind)});
  chart.remarks.push_back("How it ends: " + ending_words(scene, recording) + ".");
  chart.caution = kCautionLine;
  std::string limits = answer_limits_words(holds_liquid(scene.ballast));
  std::replace(limits.begin(), limits.end(), '\n', ' ');
  chart.limits = {limits, made_by(scene)};
  return chart;
}

}  // namespace

Chart margin_chart(const Recording& recording) {
  const Scene scene = parse_scene(recording.scene_text, "recording");
  const Model model = build(scene);
  Chart chart = chart_of_run(recording, scene, "Force angle under way");
  ChartSeries series{"", {}, palette::kSteady, Dash::solid, 1.75};
  std::optional<double> least;
  double least_at = 0, most = 10;
  const std::vector<GapStretch> gaps =
      margin_gaps(recording.states, recording.events, total_mass(model) * model.gravity);
  for (const GapStretch& gap : gaps)
    chart.stretches.push_back(
        {gap.from, gap.to,
         gap.why == MarginGap::gone_over ? "gone over: no meaning here" : "wheels in the air: no meaning here"});
  for (const State& state : recording.states) {
    std::optional<double> left = angle_left(model, state);
    if (left && (!std::isfinite(*left) || gap_at(gaps, state.time))) left.reset();
    if (left && state.time >= counts_from(recording.events) && (!least || *left < *least))
      least = left, least_at = state.time;
    if (left) most = std::max(most, *left / kDegree);
    series.points.push_back({state.time, left ? std::optional<double>(*left / kDegree) : std::nullopt});
  }
  chart.series.push_back(std::move(series));
  chart.y = {"Force angle", "°", -20, std::min(60.0, std::ceil(most / 10) * 10)};
  chart.bands.push_back({-20, 0, "the load points outside the support line"});
  if (least)
    chart.remarks.push_back(fmt::format(
        "Least while it has a meaning: {} at {:.2f} s. Values beyond the scale are drawn at its edge. Not drawn: with "
        "two wheels or more in the air, or one and the axle on its stop, where the body lies on the ground, and after "
        "the machine has gone over.",
        degrees(*least), least_at));
  else
    chart.remarks.push_back("It was never known: the wheels carry next to nothing all the time.");
  chart.limits.insert(chart.limits.begin(),
                      "How far the load on the machine's body could still turn before it points outside its support "
                      "line: gravity and acceleration together, so it jumps over bumps (force-angle measure, "
                      "Papadopoulos and Rey 1996, to the front axle's pin).");
  return chart;
}

Chart loads_chart(const Recording& recording, Units units) {
  const Scene scene = parse_scene(recording.scene_text, "recording");
  Chart chart = chart_of_run(recording, scene, "Wheel loads");
  constexpr Dash kDashes[kWheels] = {Dash::long_dash, Dash::dotted, Dash::solid, Dash::dashed};
  const ShownUnit unit = shown_unit(Quantity::load, units);
  double most = 1e3;
  for (int wheel = 0; wheel < kWheels; ++wheel) {
    const auto i = static_cast<std::size_t>(wheel);
    ChartSeries series{wheel_name(wheel), {}, is_front(wheel) ? palette::kLoad : palette::kInk, kDashes[i], 1.75};
    for (const State& state : recording.states) {
      const double load = state.wheels[i].load;
      if (std::isfinite(load)) most = std::max(most, load);
      series.points.push_back(
          {state.time, std::isfinite(load) ? std::optional<double>(load * unit.factor) : std::nullopt});
    }
    chart.series.push_back(std::move(series));
  }
  const double step = tick_step(most * unit.factor, 8);
  chart.y = {"Load of each wheel, square to the ground", std::string(unit.name), 0,
             std::ceil(most * unit.factor / step) * step};
  chart.remarks.push_back("At zero a wheel is in the air.");
  chart.limits.insert(chart.limits.begin(), "As stored, fifty frames a second: a shorter blow may lie between two.");
  return chart;
}

}  // namespace sidehill::page

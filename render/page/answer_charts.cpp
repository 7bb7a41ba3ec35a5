#include "render/page/answer_charts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/answer_chart_parts.h"
#include "render/page/provenance.h"
#include "render/text/rest/doubt_report.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/insight/slope_rows.h"
#include "sim/scene/scene.h"

namespace sidehill::page {

std::optional<double> in_degrees(const std::optional<double>& angle) {
  return angle && std::isfinite(*angle) ? std::optional<double>(*angle / kDegree) : std::nullopt;
}

Chart chart_about(const Scene& scene, ChartKind kind, std::string title) {
  Chart chart;
  chart.kind = kind;
  chart.title = std::move(title);
  chart.subtitle = scene_words(scene);
  chart.caution = kCautionLine;
  std::string limits = answer_limits_words(holds_liquid(scene.ballast));
  std::replace(limits.begin(), limits.end(), '\n', ' ');
  chart.limits = {limits, made_by(scene)};
  return chart;
}

double round_up(double value, double step) { return std::ceil(value / step - 1e-9) * step; }

namespace {

// From the last heading that was solved to the next one.
std::vector<ChartStretch> without_answer(std::span<const EnvelopePoint> points) {
  std::vector<ChartStretch> stretches;
  std::size_t lost = 0;
  for (const EnvelopePoint& point : points) lost += point.failed ? 1 : 0;
  const std::string name = no_answer_words(lost, points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    const bool last = i + 1 == points.size();
    const EnvelopePoint& next = points[last ? 0 : i + 1];
    if (!points[i].failed && !next.failed) continue;
    const double from = points[i].heading / kDegree, to = next.heading / kDegree + (last ? 360 : 0);
    if (!stretches.empty() && stretches.back().to == from)
      stretches.back().to = to;
    else
      stretches.push_back({from, to, name});
  }
  return stretches;
}

// Ahead of everything a chart says of itself: what has given way, is not known, is frozen or over its limits.
void say_worst(Chart& chart, const Answer& answer) {
  const std::vector<std::string> worst = grave_sentences(verdict_on(answer), answer.scene, answer.statics);
  chart.remarks.insert(chart.remarks.begin(), worst.begin(), worst.end());
  if (answer.manoeuvres.empty()) return;
  std::string still = "Drawn standing still: the bend or braking asked for is not in the picture.";
  for (const WayGiven& way : verdict_on(answer).gives_way)
    if (way.doing) still += fmt::format(" {} at {}.", capital(way_words(way)), degrees_and_percent(way.slope));
  chart.remarks.insert(chart.remarks.begin() + static_cast<std::ptrdiff_t>(worst.size()), still);
}

std::string left_words(std::optional<double> margin) {
  if (!margin) return "nothing gives way there";
  return *margin < 0 ? degrees(-*margin) + " past it" : degrees(margin) + " left";
}

// "slides at 30.5° = 59 %, 12.5° left; rear left wheel lifts at 37.0° = 75 %": what comes first at one heading.
std::string first_at(const EnvelopePoint& point, double slope) {
  const std::optional<double> first = point.gives_way();
  if (!first) return "nothing gives way";
  const std::string left = left_words(angle_between_as_shown(slope, *first));
  const std::string lifts = point.first_lift_off ? fmt::format("{} wheel lifts at {}", wheel_name(point.wheel),
                                                               degrees_and_percent(point.first_lift_off))
                                                 : "no wheel lifts";
  if (first == point.first_lift_off) return lifts + ", " + left;
  return fmt::format("slides at {}, {}; {}", degrees_and_percent(first), left, lifts);
}

constexpr double kRim = 60;  // of a polar chart [deg], the steepest ground there is here

bool slides_first(std::span<const EnvelopePoint> points) {
  return std::ranges::any_of(points, [](const EnvelopePoint& point) {
    return !point.failed && point.slide && (!point.first_lift_off || *point.slide < *point.first_lift_off);
  });
}

struct HeadingsDrawn {
  std::size_t lost = 0;  // without an answer
  bool beyond = false;   // one never gives way, or beyond the rim
  double most = 0;       // [deg]
};

// What comes first, and where the slide may come first when a wheel would lift; closed to a round.
HeadingsDrawn add_headings(Chart& chart, std::span<const EnvelopePoint> points, bool polar) {
  const bool slides = slides_first(points);
  HeadingsDrawn drawn;
  ChartSeries first{slides ? "It slides or a wheel lifts, what comes first" : "Slope at which the first wheel lifts",
                    {},
                    palette::kSteady};
  ChartSeries lifts{"A wheel would lift, if the tyres held", {}, palette::kInkSoft, Dash::dotted, 1.5};
  for (const EnvelopePoint& point : points) {
    const auto at = [&](std::optional<double> angle) {
      std::optional<double> y = in_degrees(angle);
      if (y) drawn.most = std::max(drawn.most, *y);
      if (polar && !point.failed) y = std::min(y.value_or(kRim), kRim);
      return ChartPoint{point.heading / kDegree, point.failed ? std::nullopt : y};
    };
    if (point.failed) ++drawn.lost;
    const std::optional<double> way = in_degrees(point.gives_way());
    if (!point.failed && (!way || *way > kRim)) drawn.beyond = true;
    first.points.push_back(at(point.gives_way()));
    if (slides) lifts.points.push_back(at(point.first_lift_off));
  }
  chart.stretches = without_answer(points);
  for (ChartSeries* series : {&first, &lifts})
    if (!series->points.empty()) {
      ChartPoint again = series->points.front();
      again.x += 360;
      series->points.push_back(again);
    }
  chart.series.push_back(std::move(first));
  if (slides) chart.series.push_back(std::move(lifts));
  return drawn;
}

}  // namespace

Chart heading_dial(double slope, double heading, std::span<const EnvelopePoint> by_heading) {
  Chart chart;
  chart.kind = ChartKind::polar;
  chart.y = {"Slope", "°", 0, kRim};
  add_headings(chart, by_heading, true);
  chart.series.resize(1);
  chart.rules.push_back({slope / kDegree, {}});
  chart.rays.push_back({heading / kDegree, {}, {}});
  return chart;
}

Chart heading_chart(const Answer& answer, bool polar) {
  const Scene& scene = answer.scene;
  const bool slides = slides_first(answer.by_heading);
  Chart chart = chart_about(scene, polar ? ChartKind::polar : ChartKind::lines,
                            slides ? "Slope at which it slides or lifts a wheel, by heading"
                                   : "Slope that lifts the first wheel, by heading");
  const HeadingsDrawn drawn = add_headings(chart, answer.by_heading, polar);
  const std::size_t lost = drawn.lost;
  const double slope = scene.terrain.slope / kDegree;
  chart.x = {"Heading: 0 faces uphill, positive turned to the left", "°", -180, 180, 45, 0};
  chart.y = {"Slope", "°", 0, polar ? kRim : std::min(kRim, round_up(std::max({drawn.most, slope, 10.0}) * 1.05, 10))};
  if (!polar) {
    chart.y.name = slides ? "Slope at which it gives way" : "Slope at which the first wheel lifts";
    chart.series.front().name = slides ? "what comes first" : "";
    if (slides) chart.series.back().name = "a wheel lifts";
    if (slope > 0)
      chart.bands.push_back({0, slope,
                             slides ? "where the solid curve is in here, it has given way"
                                    : "where the curve is in here, a wheel is up"});
  }
  chart.rules.push_back({slope, polar ? fmt::format("the ground: {}", degrees_and_percent(scene.terrain.slope))
                                      : fmt::format("ground {}", degrees_and_percent(scene.terrain.slope))});
  const StaticSolution& s = answer.statics;
  const EnvelopePoint stands{scene.start.heading, s.first_lift_off, s.first_wheel, false, {}, s.slide};
  const std::string here =
      fmt::format("as it stands, heading {}: {}", signed_degrees(scene.start.heading),
                  s.status == RestStatus::unsolved ? "no answer" : first_at(stands, scene.terrain.slope));
  const std::optional<EnvelopePoint> weakest = weakest_heading(answer.by_heading, answer.worst);
  std::string worst;
  if (weakest && weakest->gives_way())
    worst = fmt::format("{}, heading {}: {}", lost > 0 ? "worst of those solved" : "worst of all",
                        signed_degrees(weakest->heading), first_at(*weakest, scene.terrain.slope));
  if (polar) {
    chart.rays.push_back({scene.start.heading / kDegree, in_degrees(stands.gives_way()), here});
    if (!worst.empty()) chart.rays.push_back({weakest->heading / kDegree, in_degrees(weakest->gives_way()), worst});
  } else {
    chart.remarks.push_back("Here, " + here + ".");
    if (!worst.empty()) chart.remarks.push_back("W" + worst.substr(1) + ".");
  }
  if (lost > 0) chart.remarks.push_back("Hatched: " + no_answer_words(lost, answer.by_heading.size()) + ".");
  if (drawn.beyond)
    chart.remarks.push_back(
        polar    ? fmt::format("At the rim: never, or beyond {}.", degrees_and_percent(kRim * kDegree, 0))
        : slides ? std::string("Gaps: it does not give way, however steep.")
                 : std::string("Gaps: no wheel lifts, however steep."));
  std::string interval;
  if (answer.uncertainty && scene.terrain.features.empty()) {
    const auto lies = [&](const char* what, const std::optional<Interval>& i) {
      if (!i) return;
      interval += interval.empty() ? " At its own heading " : "; ";
      interval += fmt::format("{} at {}", what,
                              range_in_degrees_and_percent(i->low, i->open ? std::nullopt : std::optional(i->high)));
    };
    if (stands.gives_way() != s.first_lift_off) lies("it slides", answer.uncertainty->slide);
    lies("a wheel lifts", answer.uncertainty->first_lift_off);
    if (!interval.empty()) interval += ", nineteen times in twenty.";
  }
  say_worst(chart, answer);
  chart.limits.insert(chart.limits.begin(),
                      fmt::format("Each point: the whole ground raised slowly under the machine at that heading, {} "
                                  "headings.{}",
                                  answer.by_heading.size(), interval));
  return chart;
}

Chart slopes_chart(const Answer& answer) {
  const Scene& scene = answer.scene;
  const StaticSolution& s = answer.statics;
  Chart chart = chart_about(scene, ChartKind::bars, "What gives way, and at which slope");
  const bool even = scene.terrain.features.empty();  // the intervals are of the even slope
  struct Row {
    std::string name;
    std::optional<double> angle;
    std::string instead = "never";
    std::optional<Interval> interval;
    Pattern fill = Pattern::plain;
    Colour paint = palette::kInkSoft;
    bool elsewhere = false;  // of another heading
  };
  const bool unsolved = s.status == RestStatus::unsolved, lifts = s.first_wheel >= 0 && !unsolved;
  std::vector<Row> rows;
  for (const SlopeRow& row : slope_rows(s, answer.uncertainty ? &*answer.uncertainty : nullptr, even)) {
    Row drawn;
    drawn.angle = row.slope;
    drawn.interval = row.interval;
    switch (row.what) {
      case SlopeOf::slide:
        drawn.name = "tyres slide";
        if (!scene.terrain.soil.adhesion_unlimited) drawn.instead = "not first";
        drawn.fill = Pattern::dotted, drawn.paint = palette::kSlide;
        break;
      case SlopeOf::lift_off:
        drawn.name = lifts ? fmt::format("first wheel lifts ({})", wheel_name(s.first_wheel)) : "first wheel lifts";
        drawn.fill = Pattern::hatched, drawn.paint = palette::kLifted;
        break;
      case SlopeOf::tip_over:
        drawn.name = "truly goes over, slope raised slowly";
        drawn.fill = Pattern::hatched, drawn.paint = palette::kLifted;
        break;
      case SlopeOf::rigid:
        drawn.name = "rigid tyres, liquid kept in place (to compare)";
        break;
      case SlopeOf::on_stop:
        drawn.name = "could still rest on the axle stop";
        break;
    }
    rows.push_back(std::move(drawn));
  }
  if (answer.worst && answer.worst->first_lift_off)
    rows.push_back({fmt::format("first wheel lifts, worst heading{} ({})",
                                std::ranges::any_of(answer.by_heading, &EnvelopePoint::failed) ? " solved" : "",
                                signed_degrees(answer.worst->heading)),
                    answer.worst->first_lift_off,
                    "never",
                    {},
                    Pattern::hatched,
                    palette::kLifted,
                    true});
  if (const auto weakest = weakest_heading(answer.by_heading, answer.worst);
      weakest && weakest->gives_way() && weakest->gives_way() != weakest->first_lift_off)
    rows.push_back({fmt::format("tyres slide, worst heading{} ({})",
                                std::ranges::any_of(answer.by_heading, &EnvelopePoint::failed) ? " solved" : "",
                                signed_degrees(weakest->heading)),
                    weakest->slide,
                    "never",
                    {},
                    Pattern::dotted,
                    palette::kSlide,
                    true});
  // From where on a limit of load is passed leaves the features out.
  const auto passed = [&](const std::string& name, std::optional<double> slope) {
    if (slope) rows.push_back({name + (even ? "" : ", even slope"), slope, "", {}, Pattern::plain, palette::kSteady});
  };
  passed(fmt::format("{} tyre over {}", wheel_name(answer.limits.overloaded_wheel),
                     answer.limits.overload_stated ? "its rating" : "what is typical of its size"),
         answer.limits.tyre_overload);
  passed("steering gone: front axle too light", answer.limits.steering_gone);
  // Without an answer here nothing is said of this heading but what does not need one.
  if (unsolved)
    for (Row& row : rows)
      if (!row.elsewhere) row.angle.reset(), row.instead = "no answer";
  std::ranges::stable_sort(rows, sooner, &Row::angle);
  double most = std::max(10.0, scene.terrain.slope / kDegree * 1.1);
  for (const Row& row : rows) {
    ChartBar bar;
    bar.name = row.name;
    bar.fill = row.fill;
    bar.paint = row.paint;
    bar.words = !row.angle       ? row.instead
                : *row.angle > 0 ? degrees_and_percent(row.angle) + interval_words(row.interval)
                                 : "on the level";
    if (const auto angle = in_degrees(row.angle)) {
      bar.from = 0;
      bar.to = std::max(0.0, *angle);
      most = std::max(most, *angle);
      if (row.interval) {
        bar.doubt_low = row.interval->low / kDegree;
        if (!row.interval->open) {
          bar.doubt_high = row.interval->high / kDegree;
          most = std::max(most, *bar.doubt_high);
        }
      }
    }
    chart.bars.push_back(std::move(bar));
  }
  say_worst(chart, answer);
  chart.y = {"Slope, the whole ground tilted at this heading", "°", 0, round_up(most, 5)};
  chart.rules.push_back(
      {scene.terrain.slope / kDegree, fmt::format("the ground here: {}", degrees_and_percent(scene.terrain.slope))});
  if (answer.uncertainty && even)
    chart.limits.insert(chart.limits.begin(),
                        "Lines across a bar and figures in brackets: where the value lies nineteen times in twenty, "
                        "from how well each datum is known; our estimates where the scene does not say.");
  else if (!even)
    chart.limits.insert(chart.limits.begin(), "No intervals are given on uneven ground.");
  return chart;
}

Chart why_rows(const Breakdown& b, double slope, bool on_even_slope) {
  Chart chart;
  chart.kind = ChartKind::bars;
  double at = b.bare / kDegree, low = 0, high = at;
  const auto bar = [&](std::string name, double from, double to, std::string words, Pattern fill, Colour paint,
                       bool sum) {
    ChartBar row;
    row.name = std::move(name);
    row.words = std::move(words);
    row.fill = fill;
    row.paint = paint;
    row.sum = sum;
    if (std::isfinite(from) && std::isfinite(to)) {
      row.from = from;
      row.to = to;
      low = std::min({low, from, to});
      high = std::max({high, from, to});
    }
    chart.bars.push_back(std::move(row));
  };
  const auto change = [](double share) { return (share > 0 ? "+" : "") + degrees(share, 2); };
  bar("the bare machine on rigid tyres", 0, at, degrees_and_percent(b.bare, 2), Pattern::plain, palette::kInkSoft,
      false);
  for (const Cause& cause : b.causes) {
    const double next = at + cause.share / kDegree;
    bar(cause.name, at, next, change(cause.share), cause.share < 0 ? Pattern::hatched : Pattern::plain,
        cause.share < 0 ? palette::kLifted : palette::kSteady, false);
    at = next;
  }
  bar("first wheel lifts", 0, b.whole / kDegree, degrees_and_percent(b.whole, 2), Pattern::plain, palette::kInk, true);
  if (on_even_slope) {  // with features nothing is left over of an even slope
    const double left = b.whole - slope;
    bar("the slope takes", b.whole / kDegree, left / kDegree, change(-slope), Pattern::hatched, palette::kLifted,
        false);
    bar(left < 0 ? "past it" : "left", 0, left / kDegree, degrees(left, 2),
        left < 0 ? Pattern::hatched : Pattern::plain, left < 0 ? palette::kLifted : palette::kInk, true);
  }
  const double step = tick_step(high - low, 10);
  chart.y = {"Slope of first lift-off", "°", std::floor(low / step + 1e-9) * step, round_up(high, step)};
  return chart;
}

std::optional<Chart> why_chart(const Answer& answer) {
  if (!answer.breakdown) return std::nullopt;
  Chart chart =
      chart_about(answer.scene, ChartKind::bars, "Why the first wheel lifts there: what each cause adds or takes");
  Chart rows = why_rows(*answer.breakdown, answer.scene.terrain.slope, answer.scene.terrain.features.empty());
  chart.bars = std::move(rows.bars);
  chart.y = rows.y;
  chart.remarks.push_back("Plain bars: the wheel lifts later. Hatched bars: it lifts sooner.");
  say_worst(chart, answer);
  chart.limits.insert(chart.limits.begin(),
                      "On an even slope at this heading. Exact differences, averaged over every order in which the "
                      "causes can be added to the bare machine (nobody on it, tank empty, no ballast, no loader, "
                      "narrowest tracks, rigid tyres); they add up to the answer.");
  return chart;
}

}  // namespace sidehill::page

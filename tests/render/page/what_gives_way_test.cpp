// Charts about lift-off do not hide that the tyres slide before it; a chart's names stand where they belong.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "render/page/answer_charts.h"
#include "render/page/paint.h"
#include "render/page/run_charts.h"
#include "render/text/motion/outcome_words.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/motion/run.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;

namespace {

Scene scene_with(const char* name, std::vector<std::string> changes = {}) {
  return load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + name + ".toml", changes);
}

double first_of(const StaticSolution& s) {
  return std::min(s.slide.value_or(HUGE_VAL), s.first_lift_off.value_or(HUGE_VAL)) / kDegree;
}

bool says(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("the slide of every heading is the answer's own") {
  for (const char* name : {"first_slope", "bucket_up"}) {
    Scene scene = scene_with(name);
    const Answer found = answer(scene, 8);
    for (const EnvelopePoint& point : found.by_heading) {
      scene.start.heading = point.heading;
      const StaticSolution there = solve_statics(build(scene));
      CAPTURE(point.heading / kDegree);
      REQUIRE(there.slide.has_value() == point.slide.has_value());
      if (there.slide) CHECK_NEAR(*point.slide / kDegree, *there.slide / kDegree, 1e-6);
      CHECK_NEAR(point.gives_way().value_or(HUGE_VAL) / kDegree, first_of(there), 1e-6);
    }
  }
}

TEST_CASE("the chart of the headings shows the earlier of slide and lift-off, and names the slide") {
  const Answer found = with_uncertainty(answer(scene_with("first_slope"), 24));
  for (const bool polar : {true, false}) {
    const Chart chart = heading_chart(found, polar);
    REQUIRE(chart.series.size() == 2);
    for (std::size_t i = 0; i < found.by_heading.size(); ++i)
      CHECK_NEAR(*chart.series[0].points[i].y, std::min(60.0, *found.by_heading[i].gives_way() / kDegree), 1e-9);
    std::string words;
    for (const std::string& remark : chart.remarks) words += remark + "\n";
    for (const ChartRay& ray : chart.rays) words += ray.name + "\n";
    CAPTURE(words);
    CHECK(says(words, "heading -90°: slides at " + degrees(found.statics.slide)));
    // Facing downhill it slides on this very slope: that is the worst heading.
    CHECK(says(words, "past it"));
    CHECK(says(chart.title, "slides"));
  }
  const Chart polar = heading_chart(found, true);
  REQUIRE(polar.rays.size() == 2);
  CHECK_NEAR(std::abs(std::remainder(polar.rays[1].heading, 360)), 180, 1e-9);
  // Where the tyres hold without limit it is a chart of lift-off alone, as its title says.
  const Answer held = answer(scene_with("first_slope", {"terrain.soil.adhesion_unlimited=true"}), 24);
  CHECK(heading_chart(held, true).series.size() == 1);
  CHECK_FALSE(says(heading_chart(held, true).title, "slides"));
}

TEST_CASE("the chart of the fills shows the slide and says first that it comes first") {
  const Scene scene = scene_with("first_slope");
  const Chart chart = fills_chart(scene);
  REQUIRE(chart.series.size() == media().size() + 1);
  CHECK(says(chart.series.back().name, "slide"));
  REQUIRE_FALSE(chart.remarks.empty());
  CHECK(chart.remarks.front().starts_with("It slides first"));
  const StaticSolution here = solve_statics(build(scene));
  REQUIRE(*here.slide < *here.first_lift_off);
  const auto& points = chart.series.back().points;
  const auto at = std::ranges::find(points, 75.0, &ChartPoint::x);
  REQUIRE(at != points.end());
  CHECK(*at->y <= *here.slide / kDegree + 1e-6);
  CHECK(*at->y > *here.slide / kDegree - 1);  // the liquids differ by little
  CHECK(chart.y.low <= *at->y);
  const Chart held = fills_chart(scene_with("first_slope", {"terrain.soil.adhesion_unlimited=true"}));
  CHECK(held.series.size() == media().size());
  CHECK_FALSE(says(held.remarks.front(), "slides"));
}

TEST_CASE("a stretch's name stands inside it, or below the plot where it is too narrow") {
  const std::string name = "wheels in the air: no meaning here";
  for (const double width : {0.5, 8.0}) {
    Chart chart;
    chart.x = {"Time", "s", 0, 10};
    chart.y = {"Angle", "°", 0, 40};
    chart.series.push_back({"", {{0, 1.0}, {10, 2.0}}});
    chart.stretches.push_back({1, 1 + width, name});
    const PageSheet sheet = plot_of(chart, 828);
    double left = HUGE_VAL, right = -HUGE_VAL, foot = -HUGE_VAL;  // of the hatched stretch
    const PageText* words = nullptr;
    for (const auto& mark : sheet.marks) {
      if (const auto* path = std::get_if<PagePath>(&mark); path && path->fill == Pattern::hatched && foot < 0)
        for (const PagePoint& p : path->points)
          left = std::min(left, p.x), right = std::max(right, p.x), foot = std::max(foot, p.y);
      if (const auto* text = std::get_if<PageText>(&mark); text && text->words == name) words = text;
    }
    REQUIRE(words);
    CAPTURE(width);
    const bool inside = words->at.x >= left && words->at.x + text_width(name, words->size, words->strong) <= right;
    CHECK((inside || words->at.y > foot));
    CHECK(inside == (width > 1));
    CHECK(words->at.y < sheet.height);
  }
}

TEST_CASE("the chart of a run says how it ends in the words of the run's first line") {
  for (const char* name : {"bucket_up", "raised_while_driving"}) {
    Scene scene = scene_with(name);
    const Recording recording = run(scene);
    const Chart chart = margin_chart(recording);
    CHECK(says(chart.remarks.front(), outcome_line(scene, recording)));
  }
}

// The rows of a bar chart laid out for a small place.
#include <doctest/doctest.h>

#include <variant>

#include "render/page/answer_charts.h"
#include "render/page/chart.h"
#include "sim/base/constants.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::page;

TEST_CASE("the rows alone say what the whole chart says, and fit their sheet") {
  const Answer found = with_reasons(answer(test_scene("first_slope"), 36));
  REQUIRE(found.breakdown);
  const Chart rows = why_rows(*found.breakdown, found.scene.terrain.slope, true), whole = *why_chart(found);
  REQUIRE(rows.bars.size() == whole.bars.size());
  REQUIRE(rows.bars.size() == found.breakdown->causes.size() + 4);
  double sum = *rows.bars[0].to;
  for (std::size_t i = 0; i < rows.bars.size(); ++i) {
    CHECK(rows.bars[i].words == whole.bars[i].words);
    CHECK(rows.bars[i].from == whole.bars[i].from);
    CHECK(rows.bars[i].to == whole.bars[i].to);
    if (i == 0 || i > found.breakdown->causes.size()) continue;
    CHECK_NEAR(*rows.bars[i].from, sum, 1e-12);  // each begins where the one above ends
    sum = *rows.bars[i].to;
  }
  CHECK_NEAR(sum, found.breakdown->whole / kDegree, 1e-9);
  for (const double width : {120.0, 336.0}) {
    Chart chart = rows;
    chart.bars[1].to.reset();                                       // no bar: only its words
    chart.bars[2].doubt_low = -90, chart.bars[2].doubt_high = 1e3;  // ends at the sheet's edge
    chart.rules.push_back({18, {}});
    const PageSheet sheet = bar_rows(chart, {.width = width});
    CHECK(sheet.height == 27.0 * static_cast<double>(chart.bars.size()));
    std::size_t words = 0, hatched = 0;
    for (const auto& mark : sheet.marks)
      if (const auto* path = std::get_if<PagePath>(&mark)) {
        hatched += path->fill == Pattern::hatched ? 1 : 0;
        for (const PagePoint& p : path->points) {
          CHECK(p.x >= -2.0);
          CHECK(p.x <= width + 2.0);
          CHECK(p.y >= 0);
          CHECK(p.y <= sheet.height);
        }
      } else {
        ++words;
      }
    CHECK(words == 2 * chart.bars.size());
    std::size_t takes = 0;
    for (const ChartBar& bar : chart.bars) takes += bar.to && bar.fill == Pattern::hatched ? 1 : 0;
    CHECK(hatched == takes);
    CHECK(takes > 0);
  }
}

#ifdef SIDEHILL_SCREEN
// The big number of the window, on random scenes: what is left until the first of slide, lift-off and tip-over.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "render/screen/desk/verdict.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/insight/trial.h"
#include "sim/scene/scene_checks.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

TEST_CASE("in a thousand random scenes the big number is the least of slide, lift-off and tip-over, less the slope") {
  int with_number = 0, given_way = 0, slides_first = 0, lifts_first = 0;
  for (std::uint64_t number = 1; number <= 1000 / kShare; ++number) {
    const Scene scene = random_scene(number);
    CAPTURE(number);
    if (find_conflict(scene)) continue;
    const Model model = build(scene);
    const StaticSolution statics = solve_statics(model);
    if (statics.status == RestStatus::unsolved) continue;
    const StandVerdict verdict = verdict_on(scene, model, statics, nullptr);
    const std::optional<double> left = left_at_rest(verdict);
    std::optional<double> least;
    for (const std::optional<double>& way : {statics.slide, statics.first_lift_off, statics.tip_over})
      if (way) least = std::min(least.value_or(10), *way);
    const double slope = scene.terrain.slope;
    if (statics.status != RestStatus::stands || (least && *least <= slope)) {
      CHECK_FALSE(left.has_value());  // something has given way: words, no number
      CHECK(is_grave(verdict.headline));
      ++given_way;
      continue;
    }
    CHECK(left.has_value() == least.has_value());
    if (!left || !least) continue;
    // Of two angles shown in tenths, the difference as it is shown.
    CHECK_NEAR(*left / kDegree, (*least - slope) / kDegree, 0.1001);
    const GivesWay first = verdict.gives_way.front().what;
    (first == GivesWay::slide ? slides_first : lifts_first) += 1;
    for (const WayGiven& way : verdict.gives_way) CHECK(way.slope >= verdict.gives_way.front().slope);
    ++with_number;
  }
  MESSAGE(with_number, " with a number, ", slides_first, " slide first, ", given_way, " have given way");
  CHECK(with_number > 300 / kShare);
  CHECK(slides_first > 30 / kShare);
  CHECK(lifts_first > 30 / kShare);
  CHECK(given_way > 30 / kShare);
}
#endif

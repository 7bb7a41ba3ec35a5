// The numbers of the card in the cab: against the answer at rest and against slope-limit's runs, rounded to the safe
// side, the same on any number of cores.
#include "sim/insight/cab_card.h"

#include <tbb/global_control.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <thread>

#include "sim/base/constants.h"
#include "sim/insight/answer.h"
#include "sim/insight/slope_limit.h"
#include "sim/motion/run.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"

using namespace sidehill;

namespace {

Scene without_loader() {
  return test_scene("first_slope", {"vehicle_file=\"orchard_60kw\"", "ballast.loader_payload_kg=0"});
}

// Takes a minute in a checked build: tests of it run only as people run the program.
const CabCard& loader_card() {
  static const CabCard card = cab_card(test_scene("bucket_up"));
  return card;
}

void check_same_card(const CabCard& a, const CabCard& b) {
  REQUIRE(a.rows.size() == b.rows.size());
  for (std::size_t i = 0; i < a.rows.size(); ++i)
    for (const CardCase what : {CardCase::standing, CardCase::bump, CardCase::bend}) {
      const CardCell &one = a.rows[i].at(what), &other = b.rows[i].at(what);
      CHECK(one.answer == other.answer);
      CHECK(one.slope == other.slope);  // the same bits
      CHECK(one.way == other.way);
      CHECK(one.found == other.found);
    }
}

}  // namespace

TEST_CASE("whole degrees are never more than the slope, and never a degree less") {
  for (int i = -200; i < 9000; ++i) {
    const double slope = (i / 100.0 + 1e-3 * std::sin(i)) * kDegree;
    const int whole = whole_degrees_down(slope);
    CAPTURE(slope / kDegree);
    if (slope > 0) CHECK(whole * kDegree <= slope);
    CHECK(whole >= 0);
    CHECK((whole + 1) * kDegree > slope);
  }
}

TEST_CASE("a card has a row for each height and load of the loader, lowest first, and one without a loader" *
          doctest::skip(kShare > 1)) {
  const Scene scene = test_scene("bucket_up");
  const std::vector<double> heights = card_heights(scene), loads = card_loads(scene);
  REQUIRE(heights.size() == 4);
  CHECK(heights.front() == scene.vehicle.loader.min_pin_height);
  CHECK(heights.back() == scene.vehicle.loader.max_pin_height);
  CHECK(heights[1] > 0.4);
  CHECK(heights[1] < 0.5);
  CHECK(std::ranges::is_sorted(heights));
  CHECK(loads == std::vector<double>{0, 750, 1500});
  CHECK(loader_card().rows.size() == 12);
  CHECK(loader_card().loader);
  // A loader that hardly moves has no rows that are alike.
  CHECK(card_heights(test_scene("bucket_up", {"vehicle.loader.min_pin_height_m=0.4"})).size() == 3);
  CHECK(card_heights(without_loader()).empty());
  CHECK(card_loads(without_loader()).empty());
}

TEST_CASE("a standing cell is the lower end of solve's own interval at the heading it names, and no heading is worse" *
          doctest::skip(kShare > 1)) {
  const Scene scene = test_scene("bucket_up");
  for (const std::size_t i : {std::size_t{0}, std::size_t{4}, std::size_t{11}}) {
    const CardRow& row = loader_card().rows[i];
    const CardCell& cell = row.at(CardCase::standing);
    CAPTURE(i);
    REQUIRE(cell.answer == CardAnswer::gives_way);
    REQUIRE(cell.heading);
    Scene there = scene_of_row(scene, row.pin_height, row.payload);
    there.start.heading = *cell.heading;
    const Answer answer = with_uncertainty(sidehill::answer(there, 4));
    double low = 1e9;
    for (const auto& interval :
         {answer.uncertainty->slide, answer.uncertainty->first_lift_off, answer.uncertainty->tip_over})
      if (interval) low = std::min(low, interval->low);
    CHECK_NEAR(cell.slope, std::max(0.0, low), 1e-9);
    CHECK(whole_degrees_down(cell.slope) * kDegree <= std::max(0.0, low));
    REQUIRE(cell.found);
    CHECK_NEAR(*cell.found - cell.doubt, low, 1e-12);
    // No heading gives way below it, by lift or by slide.
    const Model model = build(there);
    for (int k = 0; k < 36; ++k)
      if (const auto gives_way = point_at_heading(model, (10 * k - 180) * kDegree).gives_way())
        CHECK(*gives_way >= cell.slope - 1e-6);
  }
}

TEST_CASE("a moving cell agrees with slope-limit for the same programme within the width of its search" *
          doctest::skip(kShare > 1)) {
  const Scene scene = test_scene("bucket_up");
  int compared = 0;
  for (const std::size_t i : {std::size_t{3}, std::size_t{4}, std::size_t{9}}) {
    const CardRow& row = loader_card().rows[i];
    const Scene there = scene_of_row(scene, row.pin_height, row.payload);
    const CardMotion motion = card_motion(scene);
    const double side = weaker_side(there);
    for (const CardCase what : {CardCase::bump, CardCase::bend}) {
      CAPTURE(i);
      const CardCell& cell = row.at(what);
      const SlopeLimit limit =
          slope_limit(what == CardCase::bump ? over_a_bump(there, motion, side) : in_a_bend(there, motion, side), {});
      REQUIRE(cell.found);
      const double whole = limit.slope                               ? *limit.slope
                           : limit.no_limit == NoLimit::slides_first ? *limit.slides_at
                                                                     : 0.0;
      CHECK_NEAR(*cell.found, whole, motion.search_width);
      CHECK(cell.slope <= std::max(0.0, whole - row.at(CardCase::standing).doubt));
      if (limit.no_limit == NoLimit::slides_first && !cell.as_standing) CHECK(cell.way == CardWay::slides);
      ++compared;
    }
  }
  CHECK(compared == 6);
}

TEST_CASE("the search upwards gives slope-limit's own numbers with fewer runs") {
  for (const char* speed : {"4", "8"}) {
    if (kShare > 1 && speed[0] == '8') continue;
    const Scene scene =
        test_scene("over_a_stump", {"terrain.feature[0].x_m=3", "terrain.feature[0].height_m=0.15",
                                    "programme.duration_s=6", std::string("programme.speed_kmh=") + speed});
    const SlopeLimit whole = slope_limit(scene, {}), upwards = first_failing_slope(scene, {});
    CHECK(upwards.slope == whole.slope);
    CHECK(upwards.no_limit == whole.no_limit);
    CHECK(upwards.open == whole.open);
    CHECK(upwards.runs < whole.runs);
  }
}

TEST_CASE("moving is never better than standing across the slope, and less by at least the doubt of that row" *
          doctest::skip(kShare > 1)) {
  const Scene scene = test_scene("bucket_up");
  for (const std::size_t i : {std::size_t{3}, std::size_t{7}, std::size_t{9}}) {
    const CardRow& row = loader_card().rows[i];
    Scene there = scene_of_row(scene, row.pin_height, row.payload);
    there.start.heading = weaker_side(there);
    const Uncertainty across = *with_uncertainty(answer(there, 4)).uncertainty;
    for (const CardCase what : {CardCase::bump, CardCase::bend}) {
      CAPTURE(i);
      const CardCell& cell = row.at(what);
      REQUIRE(cell.answer == CardAnswer::gives_way);
      for (const auto& interval : {across.slide, across.first_lift_off, across.tip_over})
        if (interval) CHECK(cell.slope <= std::max(0.0, interval->low) + 1e-9);
      if (cell.as_standing) continue;
      CHECK(cell.doubt >= row.at(CardCase::standing).doubt + loader_card().motion.search_width - 1e-12);
      if (cell.way == CardWay::slides) CHECK(cell.doubt >= *across.middle.slide - across.slide->low);
    }
  }
}

TEST_CASE("where a low bucket catches on the bump nothing is known, and what crosses it is judged" *
          doctest::skip(kShare > 1)) {
  // Driven at the rear alone it cannot climb with the bucket against the bump.
  const Scene low = test_scene("bucket_up", {"vehicle.front_drive=false", "vehicle.loader.max_pin_height_m=0.25",
                                             "ballast.loader_pin_height_m=0.2"});
  const auto crosses = [](const Scene& scene, const CardRow& row) {
    const Scene there = scene_of_row(scene, row.pin_height, row.payload);
    Scene level = over_a_bump(there, card_motion(scene), weaker_side(there));
    level.terrain.slope = 0;
    const Recording gone = run(level);
    const double way = std::abs(gone.states.back().X_GV.p.x - gone.states.front().X_GV.p.x);
    return way > std::abs(level.terrain.features.front().x);
  };
  std::size_t stopped = 0;
  for (const CardRow& row : cab_card(low).rows) {
    CAPTURE(row.payload);
    const CardCell& cell = row.at(CardCase::bump);
    if (!crosses(low, row)) CHECK(cell.stopped);
    if (cell.stopped) CHECK(cell.answer == CardAnswer::not_known);
    stopped += cell.stopped ? 1 : 0;
  }
  CHECK(stopped > 0);
  for (const std::size_t i : {std::size_t{3}, std::size_t{9}}) {
    CHECK(crosses(test_scene("bucket_up"), loader_card().rows[i]));
    CHECK_FALSE(loader_card().rows[i].at(CardCase::bump).stopped);
  }
}

TEST_CASE("the worst cell of a card is the least of all" * doctest::skip(kShare > 1)) {
  const CabCard& card = loader_card();
  const auto worst = worst_of(card);
  REQUIRE(worst);
  const CardCell& least = card.rows[worst->row].at(worst->what);
  for (const CardRow& row : card.rows)
    for (const CardCell& cell : row.cells) {
      if (cell.answer != CardAnswer::gives_way) continue;
      CHECK(whole_degrees_down(least.slope) <= whole_degrees_down(cell.slope));
      CHECK(cell.slope >= 0);
    }
  // Over the same bump a load held high lifts a wheel sooner than the same load as carried: its centre is higher.
  CHECK(card.rows[10].at(CardCase::bump).slope < card.rows[4].at(CardCase::bump).slope);
  CHECK(cells_with(card, CardAnswer::gives_way) + cells_with(card, CardAnswer::not_known) +
            cells_with(card, CardAnswer::nothing_found) ==
        36);
}

TEST_CASE("one core gives the same card as all of them, and so does a second time") {
  const Scene scene = kShare == 1 ? test_scene("bucket_up") : without_loader();
  const CabCard first = kShare == 1 ? loader_card() : cab_card(scene);
  const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
  check_same_card(first, cab_card(scene));
}

TEST_CASE("a machine without a loader has one row, and progress ends at all of the work") {
  CardProgress progress;
  const CabCard card = cab_card(without_loader(), &progress);
  REQUIRE(card.rows.size() == 1);
  CHECK_FALSE(card.loader);
  CHECK(progress.all > 0);
  CHECK(progress.done == progress.all);
  CHECK(card.rows.front().at(CardCase::standing).answer == CardAnswer::gives_way);
}

TEST_CASE("a trailer pushes in a bend: that cell is not known, the others are") {
  const CabCard card = cab_card(test_scene("bucket_up", {"vehicle.loader.fitted=false", "ballast.loader_payload_kg=0",
                                                         "ballast.trailer.mass_kg=3000", "terrain.slope_deg=2"}));
  REQUIRE(card.rows.size() == 1);
  CHECK(card.rows.front().at(CardCase::bend).answer == CardAnswer::not_known);
  CHECK(card.rows.front().at(CardCase::standing).answer == CardAnswer::gives_way);
}

TEST_CASE("a card asked to stop comes back with its work undone") {
  const Scene scene = test_scene("bucket_up");
  for (const int wait : {0, 300, 900}) {
    std::stop_source stop;
    CardProgress progress;
    std::jthread asks([&] {
      std::this_thread::sleep_for(std::chrono::milliseconds(wait));
      stop.request_stop();
    });
    cab_card(scene, &progress, stop.get_token());
    asks.join();
    CHECK(progress.done < progress.all);
  }
}

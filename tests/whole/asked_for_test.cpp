// The bend, the braking and the speed that a scene asks for are in its verdict, in its number and on its page.
#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "render/page/report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/rest/load_check.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#ifdef SIDEHILL_SCREEN
#include "render/screen/desk/readings.h"
#include "render/screen/desk/verdict.h"
#endif

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

// On tyres strong enough for the bend, so that what it leaves is the worst of it.
const std::vector<std::string> kLastDegrees{"manoeuvre.speed_kmh=14.5", "manoeuvre.turn_radius_m=8",
                                            "vehicle.front.tyre.service=\"140A8\"",
                                            "vehicle.rear.tyre.service=\"155A8\""};

std::string words_on_page(const Answer& found) {
  std::string text;
  for (const PdfPage& page : report_pages(found, {}))
    for (const auto& mark : page.sheet.marks)
      if (const auto* words = std::get_if<PageText>(&mark)) text += words->words + " ";
  return text;
}

Answer asked(const std::string& scene, const std::vector<std::string>& changes) {
  return answer(test_scene(scene, changes), 1);
}

}  // namespace

TEST_CASE("the fastest speed a scene asks for decides what its tyres may carry") {
  const Answer still = asked("bucket_up", {});
  const double crawl = still.loads->tyres[kFrontRight].margin.capacity;
  REQUIRE(still.loads->tyres[kFrontRight].multiple.factor > 1);
  const Answer driven = asked("bucket_up", {"programme.speed_kmh=20"});
  REQUIRE(verdict_on(driven).headline == StandCause::over_limit);
  for (const std::vector<std::string>& changes :
       {std::vector<std::string>{"manoeuvre.speed_kmh=20", "manoeuvre.turn_radius_m=60"},
        {"manoeuvre.speed_kmh=20", "manoeuvre.turn_radius_m=60", "programme.speed_kmh=5"},
        {"programme.action=[{at_s=1,what=\"drive\",speed_kmh=20}]"},
        {"programme.action=[{at_s=1,what=\"drive\",speed_kmh=-20}]"}}) {
    INFO(changes.front());
    const Answer found = asked("bucket_up", changes);
    CHECK(verdict_on(found).holds(StandCause::over_limit));
    CHECK_NEAR(found.loads->speed, 20 / 3.6, 1e-9);
    CHECK(found.loads->tyres[kFrontRight].margin.capacity < 0.7 * crawl);
  }
}

TEST_CASE("a bend that leaves only a few degrees is the headline, the first number and the JSON's") {
  const Answer found = asked("first_slope", kLastDegrees);
  REQUIRE(found.manoeuvres.size() == 2);
  REQUIRE(found.manoeuvres[0].slide);
  const double slides = *found.manoeuvres[0].slide, left = slides - found.scene.terrain.slope;
  REQUIRE(left > 0);
  REQUIRE(left < 3 * kDegree);
  const StandVerdict verdict = verdict_on(found);
  CHECK(verdict.headline == StandCause::little_left);
  REQUIRE(verdict.gives_way.size() > 1);
  CHECK(verdict.gives_way.front().what == GivesWay::slide);
  CHECK_NEAR(verdict.gives_way.front().slope, slides, 1e-12);
  CHECK(verdict_words(found).starts_with("LITTLE LEFT: "));
  CHECK(has(verdict_words(found), "before it slides in the bend asked for"));
  // What holds standing still follows.
  const std::string ways = ways_sentence(verdict);
  CHECK(ways.starts_with("From here: in the bend asked for it slides "));
  CHECK(has(ways, "standing still it slides 12."));
  const auto json = to_json(found);
  CHECK(json["verdict"] == "little_left");
  CHECK_NEAR(json["gives_way"][0]["left_deg"].get<double>(), left / kDegree, 1e-9);
  CHECK(json["gives_way"][0]["doing"] == "turning_left");
  const auto still = std::ranges::find_if(json["gives_way"], [](const auto& way) { return way["doing"].is_null(); });
  REQUIRE(still != json["gives_way"].end());
  CHECK((*still)["slope_deg"] == json["slide_deg"]);
}

TEST_CASE("a wheel that lifts in the bend asked for comes before what it does standing still") {
  const Answer found = asked("bucket_up", {"manoeuvre.speed_kmh=9", "manoeuvre.turn_radius_m=8"});
  const StandVerdict verdict = verdict_on(found);
  CHECK(verdict.headline == StandCause::little_left);
  CHECK(verdict.gives_way.front().what == GivesWay::lift_off);
  CHECK_NEAR(verdict.gives_way.front().left, *found.manoeuvres[0].margin, 1e-12);
  CHECK(has(verdict_words(found), "lifts in the bend asked for"));
  // One that changes nothing is not there.
  for (const WayGiven& way :
       verdict_on(asked("bucket_up", {"manoeuvre.speed_kmh=0", "manoeuvre.turn_radius_m=60"})).gives_way)
    CHECK_FALSE(way.doing);
  const Answer braking = asked("first_slope", {"manoeuvre.braking_m_per_s2=3"});
  REQUIRE_FALSE(verdict_on(braking).gives_way.empty());
  CHECK(has(ways_sentence(verdict_on(braking)), "in the braking asked for"));
}

TEST_CASE("one that goes over under way is said to go over in its caution as well") {
  const Answer found =
      asked("first_slope", {"manoeuvre.speed_kmh=40", "manoeuvre.turn_radius_m=6", "terrain.soil.adhesion=3"});
  REQUIRE(verdict_on(found).headline == StandCause::tips_under_way);
  const auto all = warnings(found);
  REQUIRE_FALSE(all.empty());
  CHECK(has(all.front(), "it goes over"));
  CHECK_FALSE(has(all.front(), "may go over"));
}

TEST_CASE("the page asks what the scene asks, and has the table of what happens under way") {
  const std::string bend = words_on_page(asked("first_slope", kLastDegrees));
  CHECK_FALSE(has(bend, "Asked: standing still at"));
  CHECK(has(bend, "in a bend of 8 m at 14.5 km/h"));
  CHECK(has(bend, "Under way, steadily"));
  CHECK(has(bend, "turning left"));
  CHECK(has(bend, "turning right"));
  const std::string braking = words_on_page(asked("first_slope", {"manoeuvre.braking_m_per_s2=3"}));
  CHECK(has(braking, "braking with 3.0 m/s2"));
  CHECK(has(words_on_page(asked("first_slope", {})), "Asked: standing still at"));
}

TEST_CASE("an answer at rest to a scene that does more says so below its headline") {
  const Answer stuck = asked("stuck_wheels", {});
  const std::string text = answer_table(stuck);
  const std::size_t said = text.find("At rest only: ");
  REQUIRE(said != text.npos);
  CHECK(said < text.find(stuck.scene.title));
  CHECK(has(text, "sidehill run"));
  CHECK(to_json(stuck)["at_rest_only"] == true);
  CHECK(has(words_on_page(stuck), "At rest only: "));
  const Answer parked = asked("bucket_up", {});
  CHECK_FALSE(has(answer_table(parked), "At rest only"));
  CHECK(to_json(parked)["at_rest_only"] == false);
}

TEST_CASE("what is passed already is said by the slope it begins at") {
  const Answer slides = asked("first_slope", {"terrain.soil.adhesion=0.1"});
  REQUIRE(slides.statics.slide);
  const std::string ways = ways_sentence(verdict_on(slides));
  CHECK(ways.starts_with("From here: it slides from " + degrees_and_percent(slides.statics.slide) + " on"));
  CHECK_FALSE(has(ways, "below this slope"));
}

#ifdef SIDEHILL_SCREEN
TEST_CASE("the window's big number and its reading are of the bend asked for where that leaves less") {
  Session session(test_scene("first_slope", kLastDegrees));
  session.settle_doubts();
  const WayGiven& first = session.verdict().gives_way.front();
  REQUIRE(first.doing);
  CHECK(first.left < 3 * kDegree);
  const Verdict card = verdict_of(session);
  CHECK(card.title == "LITTLE LEFT");
  CHECK(card.number == degrees(left_as_shown(first)));
  CHECK(has(card.detail, "it slides in the bend asked for"));
  CHECK(has(stand_words(session.verdict()), "it slides in the bend asked for"));
  Known known{.scene = session.scene(), .model = *session.model(), .statics = session.statics()};
  known.further = session.further();
  const auto readings = readings_of(known);
  const Reading* reading = find_reading(readings, "gives_way");
  REQUIRE(reading);
  CHECK_NEAR(*reading->value, first.slope, 1e-12);
  CHECK(has(reading->note, "bend"));
}

TEST_CASE("no big number is left of a bend in which it slides, and what it does standing still is said to be that") {
  Session session(test_scene("first_slope", {"manoeuvre.speed_kmh=22", "manoeuvre.turn_radius_m=8"}));
  session.settle_doubts();
  REQUIRE_FALSE(session.verdict().under_way.empty());
  const Verdict card = verdict_of(session);
  CHECK(card.number.empty());
  CHECK(has(card.detail, "standing still"));
  CHECK_FALSE(left_at_rest(session.verdict()));
}

TEST_CASE("until the bend asked for is worked out the window says that its verdict is of standing still") {
  Scene scene = test_scene("first_slope", kLastDegrees);
  scene.terrain.features = {test_scene("into_a_hole").terrain.features.front()};  // takes its time
  scene.start.x = -100;
  Session session(scene);
  const auto says = [&] {
    for (const Verdict& verdict : {verdict_of(session), moment_of(session)})
      if (std::ranges::none_of(verdict.more, [](const std::string& s) { return has(s, "Standing still only"); }))
        return false;
    return true;
  };
  int early = 0;
  for (int i = 0; i < 100000 && !session.further(); ++i) {
    session.answer(0.001);
    const bool said = says();
    if (!session.answer_is_of_scene() || session.further()) continue;  // it may have come just now
    ++early;
    CHECK(said);
  }
  CHECK(early > 0);
  session.settle_doubts();
  CHECK_FALSE(says());
}

TEST_CASE("the card names ice and overloads where there is no answer") {
  Session session(load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/tests/data/uneven_no_answer.toml", {}));
  session.settle();
  REQUIRE(session.verdict().headline == StandCause::unsolved);
  REQUIRE_FALSE(session.verdict().over.empty());
  const Verdict card = verdict_of(session);
  CHECK(std::ranges::any_of(card.more, [](const std::string& s) { return s.starts_with("OVER ITS LIMITS"); }));
}
#endif

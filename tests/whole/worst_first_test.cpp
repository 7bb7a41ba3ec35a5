// The first line says the worst that is known, and no line says what does not hold here.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>

#include "render/page/answer_charts.h"
#include "render/text/fill/fill_table.h"
#include "render/text/job/rules_report.h"
#include "render/text/motion/lesson_report.h"
#include "render/text/motion/outcome_words.h"
#include "render/text/motion/rescue_report.h"
#include "render/text/motion/run_report.h"
#include "render/text/motion/slope_limit_report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/loader_report.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/insight/loader_grid.h"
#include "sim/motion/run.h"
#include "sim/scene/data_files.h"
#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/program.h"
#include "vehicles/liquid.h"
#ifdef SIDEHILL_SCREEN
#include "render/screen/desk/readings.h"
#include "render/screen/desk/session.h"
#include "render/screen/desk/verdict.h"
#endif

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

std::string line_with(const std::string& text, std::string_view words) {
  const std::size_t at = text.find(words);
  if (at == text.npos) return {};
  const std::size_t from = text.rfind('\n', at) + 1;
  return text.substr(from, text.find('\n', at) - from);
}

std::string scene_path(const std::string& name) { return SIDEHILL_SOURCE_DIR "/scenes/" + name + ".toml"; }

}  // namespace

TEST_CASE("what holds for an even slope says so where the ground is uneven, and only there") {
  for (bool said : {false, true}) {
    // Facing up at an angle: a rear tyre gets over its rating, and the front axle too light.
    Scene scene = test_scene("hard_start_uphill", {"terrain.slope_deg=10", "start.heading_deg=-30",
                                                   "vehicle.rear.tyre.service=110A8", "terrain.soil.adhesion=2"});
    if (said) {
      scene.terrain.features = {test_scene("into_a_hole").terrain.features.front()};
      scene.start.x = -100;  // far from it
    }
    const Answer found = answer(scene, 1);
    const std::string text = answer_table(found);
    REQUIRE(has(text, " tyre over "));
    REQUIRE(has(text, "steering gone"));
    CHECK(has(line_with(text, "With and without"), "even slope") == said);
    CHECK(has(line_with(text, " tyre over "), "even slope") == said);
    CHECK(has(line_with(text, "steering gone"), "even slope") == said);
    for (const ChartBar& row : slopes_chart(found).bars)
      if (has(row.name, "tyre over") || has(row.name, "steering gone")) CHECK(has(row.name, "even slope") == said);
  }
}

TEST_CASE("a bend or braking that the scene asks for is in the headline: over, a wheel, a slide") {
  const auto said = [](const std::vector<std::string>& changes) {
    const Answer found = answer(test_scene("first_slope", changes), 1);
    const auto json = to_json(found);
    std::vector<std::string> keys{json["verdict"]};
    for (const auto& key : json["also"]) keys.push_back(key);
    return std::pair{verdict_words(found), keys};
  };
  const auto [over, over_keys] =
      said({"manoeuvre.speed_kmh=40", "manoeuvre.turn_radius_m=6", "terrain.soil.adhesion=3"});
  CHECK(over.starts_with("GOES OVER UNDER WAY on this slope: turning left at 40 km/h in a bend of 6 m"));
  CHECK(over_keys[0] == "tips_under_way");
  const auto [slides, slide_keys] = said({"manoeuvre.braking_m_per_s2=5"});
  CHECK(slides.starts_with("SLIDES UNDER WAY on this slope: braking with 5.0 m/s2"));
  CHECK(slide_keys[0] == "slides_under_way");
  // Before ice and overload, after what happens standing still.
  const auto [worse, worse_keys] =
      said({"manoeuvre.speed_kmh=19", "manoeuvre.turn_radius_m=6", "terrain.soil.adhesion=2", "terrain.slope_deg=45"});
  CHECK(worse_keys[0] != "tips_under_way");
  const auto [loaded, loaded_keys] = said({"manoeuvre.speed_kmh=19", "manoeuvre.turn_radius_m=6",
                                           "terrain.soil.adhesion=2", "vehicle.front.capacity_kg=300"});
  CHECK(loaded_keys[0] == "tips_under_way");
  CHECK(std::ranges::find(loaded_keys, "over_limit") != loaded_keys.end());
  // One that ends with a wheel up and no more.
  const Scene bend =
      test_scene("first_slope", {"manoeuvre.speed_kmh=19", "manoeuvre.turn_radius_m=6", "terrain.soil.adhesion=2"});
  const Model model = build(bend);
  const StaticSolution statics = solve_statics(model);
  std::vector<ManoeuvreAnswer> answers = manoeuvres(bend, model);
  REQUIRE(lifts_under_way(answers[0]));
  answers[0].rest = statics.rest;
  const StandVerdict verdict = verdict_on(bend, model, statics, nullptr, nullptr, nullptr, answers);
  CHECK(verdict.headline == StandCause::lifts_under_way);
  const std::string words = verdict_sentences(verdict, bend, statics).front();
  CHECK(words.starts_with("A WHEEL LIFTS UNDER WAY on this slope: turning left at 19 km/h in a bend of 6 m, a wheel "));
  CHECK(words.ends_with("It may go over."));
  const auto [slow, slow_keys] = said({"manoeuvre.speed_kmh=3", "manoeuvre.turn_radius_m=20"});
  CHECK_FALSE(has(slow, "UNDER WAY"));
  const auto [still, still_keys] = said({});
  CHECK_FALSE(has(still, "UNDER WAY"));
}

TEST_CASE("a difference that is shown agrees with the two numbers shown beside it") {
  Lesson lesson;
  lesson.quantity = Asked::first_lift_off;
  lesson.of = Of::b_minus_a;
  lesson.name_a = "one", lesson.name_b = "other";
  LessonTruth truth;
  truth.a.value = 33.86, truth.b = Found{}, truth.b->value = 18.24;  // 15.62, shown as 33.9 and 18.2
  truth.value = *truth.b->value - *truth.a.value;
  const std::string sentence = truth_sentence(lesson, truth);
  CAPTURE(sentence);
  const std::regex number("([0-9]+\\.[0-9])°");
  std::vector<double> shown_now;
  for (auto at = std::sregex_iterator(sentence.begin(), sentence.end(), number); at != std::sregex_iterator(); ++at)
    shown_now.push_back(std::stod((*at)[1]));
  REQUIRE(shown_now.size() == 3);
  CHECK(std::abs(std::abs(shown_now[1] - shown_now[0]) - shown_now[2]) < 0.01);
  CHECK(has(truth_number(lesson, truth), fmt::format("{:.1f}°", shown_now[2])));
}

TEST_CASE("run and solve say the same of the set-up at rest") {
  // So near to lift-off that the interval reaches the slope.
  const std::string changes =
      " --set terrain.slope_deg=36 --set terrain.soil.adhesion=2 --set programme.drop_height_m=0";
  const auto solved = nlohmann::json::parse(program("solve --json " + scene_path("first_slope") + changes).out);
  const auto ran = nlohmann::json::parse(program("run --json " + scene_path("first_slope") + changes).out);
  const std::vector<std::string> also = solved["also"];
  REQUIRE((solved["verdict"] == "interval_reaches_slope" ||
           std::ranges::find(also, "interval_reaches_slope") != also.end()));
  for (const char* key : {"verdict", "also", "gives_way", "intervals"}) {
    INFO(key);
    CHECK(ran[key] == solved[key]);
  }
}

TEST_CASE("a run's headline says how many wheels lift") {
  const Scene stump = test_scene("over_a_stump");
  const Recording recording = run(stump);
  std::vector<bool> lifted(kWheels, false);
  for (const Event& event : recording.events)
    if (event.kind == EventKind::lift_off && event.wheel >= 0 && event.time >= counts_from(recording.events))
      lifted[static_cast<std::size_t>(event.wheel)] = true;
  const auto count = std::ranges::count(lifted, true);
  REQUIRE(recording.outcome == Outcome::lifts_and_returns);
  REQUIRE(count > 1);
  CHECK(outcome_line(stump, recording).starts_with(fmt::format("{} WHEELS LIFT and come back", count)));
  Recording one = recording;
  std::erase_if(one.events, [](const Event& e) { return e.kind == EventKind::lift_off && e.wheel != kRearLeft; });
  if (std::ranges::any_of(one.events, [](const Event& e) { return e.kind == EventKind::lift_off; }))
    CHECK(outcome_line(stump, one).starts_with("A WHEEL LIFTS and comes back"));
}

TEST_CASE("fill: a filling that freezes in the winter asked about says so in its first line") {
  const auto first_line = [](const std::string& medium, std::optional<double> coldest) {
    FillRequest request;
    request.tyre = "16.9R30";
    request.medium = medium;
    request.coldest_c = coldest;
    const std::string text = fill_table(fill_sheet(request));
    return text.substr(0, text.find('\n'));
  };
  CHECK(has(first_line("water", -5), "FREEZES SOLID AT -5 °C"));
  CHECK_FALSE(has(first_line("water", 5), "FREEZES"));
  CHECK_FALSE(has(first_line("water", {}), "FREEZES"));
  CHECK_FALSE(has(first_line("calcium_chloride", -5), "FREEZES"));
  const std::string text = first_line("methanol", -40);
  CAPTURE(text);
  CHECK((has(text, "TURNS TO SLUSH AT -40 °C") || has(text, "MAY FREEZE") || has(text, "FREEZES SOLID")));
}

TEST_CASE("fill: too full and overloaded stand first as well") {
  FillRequest request;
  request.tyre = "16.9R30";
  request.fill = 0.99;
  request.load_kg = 9000;
  CHECK(fill_table(fill_sheet(request)).starts_with("FILLED TOO FULL, TOO LITTLE AIR IS LEFT; MORE LOAD THAN"));
  request.fill = 0.5;
  request.load_kg = 1000;
  CHECK(fill_table(fill_sheet(request)).starts_with("16.9R30 with water"));
}

TEST_CASE("run, ballast and loader begin with the worst that is known") {
  const Scene stump = test_scene("over_a_stump");
  const Recording recording = run(stump);
  CHECK(run_table(answer(stump, 1), recording).starts_with(outcome_line(stump, recording)));
  // It stands, but what may be off reaches the slope.
  const Scene close =
      test_scene("first_slope", {"terrain.slope_deg=36", "terrain.soil.adhesion=2", "programme.drop_height_m=0"});
  const Answer found = with_uncertainty(answer(close, 1));
  REQUIRE(verdict_on(found).holds(StandCause::interval_reaches_slope));
  const Recording still = run(close);
  REQUIRE(still.outcome == Outcome::stands);
  const std::string said = run_table(found, still);
  const std::size_t may = said.find("MAY NOT HOLD HERE");
  CHECK(may < said.find("STANDS"));
  const Scene heavy = test_scene("bucket_up", {"ballast.loader_payload_kg=900", "ballast.rear.fill_fraction=0"});
  const std::string ballast = ballast_table(heavy, build(heavy));
  CHECK(ballast.starts_with("! Front axle "));
  CHECK(ballast.find("Front axle ") == ballast.rfind("Front axle "));  // said once
  CHECK_FALSE(has(ballast_table(test_scene("first_slope"), build(test_scene("first_slope"))), "Not met: "));
  const Scene bucket = test_scene("bucket_up", {"ballast.loader_payload_kg=1900", "ballast.rear.fill_fraction=0"});
  CHECK(
      has(ballast_table(bucket, build(bucket)), "Not met: load in the bucket and on its rope at most what the loader"));
  const std::string loader = loader_table(heavy, loader_grid(heavy, 3));
  CHECK(loader.starts_with("OVER ITS LIMITS AS SET UP"));
  const Scene plain = test_scene("first_slope");
  CHECK_FALSE(has(loader_table(plain, {}), "OVER ITS LIMITS"));
}

TEST_CASE("a driver's second has one source wherever it is shown_now") {
  Rescues rescues;
  rescues.needed = true;
  const std::string text = rescue_table(rescues);
  CHECK_FALSE(has(text, "common practice"));
  CHECK(has(text, "Johansson and Rumar"));
}

TEST_CASE("plain words: the level, the loader's load, and figures without a source") {
  SlopeLimitRequest request;
  request.scene = test_scene("first_slope");
  SlopeLimit limit;
  limit.no_limit = NoLimit::on_the_level;
  const std::string text = slope_limit_table(slope_limit_json(request, {{0, {}, limit}}));
  CAPTURE(text);
  CHECK(has(text, "none   even on level ground "));
  CHECK_FALSE(has(text, "no limit: it happens"));
  CHECK(text.starts_with("Even on level ground a wheel lifts."));
  // The scene's own slope, 18 degrees, over a limit of 12.
  limit.no_limit = NoLimit::there_is_one;
  limit.slope = 12 * kDegree;
  limit.fails_as = Outcome::wheel_up;
  CHECK(slope_limit_table(slope_limit_json(request, {{0, {}, limit}}))
            .starts_with("OVER THE LIMIT: the scene's own slope, 18.0° = 32 %, is steeper than 12.00° = 21 %."));
  limit.slope = 20 * kDegree;
  CHECK(slope_limit_table(slope_limit_json(request, {{0, {}, limit}})).starts_with("Steepest slope"));
  limit.slope.reset();
  limit.no_limit = NoLimit::slides_first;
  limit.slides_at = 9 * kDegree;
  CHECK(slope_limit_table(slope_limit_json(request, {{0, {}, limit}})).starts_with("SLIDES: on the scene's own slope"));
  OverLimit bucket;
  bucket.kind = LimitKind::bucket;
  bucket.margin = load_margin(900, 800);
  CHECK(limit_words(bucket).starts_with("load on the loader 900 kg of 800 kg"));
  for (const MediumInfo& medium : media())
    for (double strength : {0.1, 0.3, 0.5}) {
      const std::string note(freezing_points(medium.medium, strength).note);
      CAPTURE(note);
      CHECK_FALSE(has(note, "recalled"));
    }
  for (const std::string& remark : fills_chart(test_scene("first_slope")).remarks)
    CHECK_FALSE(has(remark, "upright scale"));
}

#ifdef SIDEHILL_SCREEN
TEST_CASE("window and picture know of the bend the scene asks for as well") {
  const Scene scene =
      test_scene("first_slope", {"manoeuvre.speed_kmh=19", "manoeuvre.turn_radius_m=6", "terrain.soil.adhesion=2"});
  Session session(scene);
  session.settle_doubts();
  CHECK(session.verdict().headline == StandCause::tips_under_way);
  CHECK(verdict_of(session).title == "GOES OVER UNDER WAY");
  REQUIRE_FALSE(verdict_of(session).more.empty());
  CHECK(has(verdict_of(session).more.front(), "turning left at 19 km/h"));
  CHECK(standing_of(scene, build(scene)).verdict.headline == StandCause::tips_under_way);
}

TEST_CASE("in the window, too, limits of load on uneven ground are said to be of the even slope") {
  for (bool uneven : {false, true}) {
    Scene scene = test_scene("first_slope");
    if (uneven) scene.terrain.features = {test_scene("into_a_hole").terrain.features.front()}, scene.start.x = -100;
    const Answer found = answer(scene, 4);
    Further further;
    further.limits = found.limits;
    Known known{.scene = found.scene, .model = found.model, .statics = found.statics};
    known.further = &further;
    const std::vector<Reading> readings = readings_of(known);
    REQUIRE(find_reading(readings, "tyre_overload")->value);
    CHECK(has(find_reading(readings, "tyre_overload")->note, "even slope") == uneven);
    CHECK(has(find_reading(readings, "steering_gone")->note, "even slope") == uneven);
  }
}

TEST_CASE("the big number's own reading has its kind, slope and interval") {
  for (const char* adhesion : {"terrain.soil.adhesion=0.4", "terrain.soil.adhesion=2"}) {
    const Scene scene = test_scene("first_slope", {adhesion});
    const Answer found = with_uncertainty(answer(scene, 4));
    Known known{.scene = found.scene, .model = found.model, .statics = found.statics};
    known.doubts = &*found.uncertainty;
    const std::vector<Reading> readings = readings_of(known);
    const Reading* first = find_reading(readings, "gives_way");
    REQUIRE(first);
    REQUIRE(first == &readings.front());
    const WayGiven way = verdict_on(found).gives_way.front();
    CHECK(*first->value == way.slope);
    CHECK(first->note == (way.what == GivesWay::slide ? "slides" : "rear left lifts"));
    REQUIRE(first->low);
    CHECK(std::abs(*first->low - way.interval->low) < 1e-9);
  }
}
#endif

TEST_CASE("a lesson whose grip is higher than on any ground says so, and no other does") {
  int said = 0;
  for (const auto& file : lesson_files()) {
    const Lesson lesson = load_lesson(file);
    const auto sets = [](const std::vector<std::string>& changes, const char* what) {
      return std::ranges::any_of(changes, [&](const std::string& change) { return change.starts_with(what); });
    };
    const bool more = sets(lesson.change, "terrain.soil.adhesion=2") && !sets(lesson.second, "terrain.soil.adhesion=");
    CAPTURE(file);
    CHECK(has(doubt_sentence(lesson, judge(lesson)), "never slide") == more);
    said += more;
  }
  CHECK(said >= 3);
}

#ifdef SIDEHILL_SCREEN
// Readings: each has a unit or none, a way it was found and a word on its doubt; each says what the JSON answer says.
#include "render/screen/desk/readings.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "render/text/rest/answer_json.h"
#include "sim/base/constants.h"
#include "sim/motion/rest_state.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct Answered {
  Answer answer;
  Further further;
  std::vector<Reading> readings;
};

Answered answered(const Scene& scene, bool with_doubts = true) {
  Answered a{sidehill::answer(scene, 8), {}, {}};
  if (with_doubts) a.answer = with_uncertainty(std::move(a.answer));
  a.further = {a.answer.limits, rules_on(scene, a.answer.model).rules, a.answer.manoeuvres, breakdown(a.answer.model)};
  a.readings = readings_of({a.answer.scene, a.answer.model, a.answer.statics, nullptr,
                            a.answer.worst ? &*a.answer.worst : nullptr, true, &a.further,
                            a.answer.uncertainty ? &*a.answer.uncertainty : nullptr});
  return a;
}

Scene scene_named(const std::string& name) {
  return load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + name + ".toml");
}

void check_whole(const std::vector<Reading>& readings) {
  for (const Reading& r : readings) {
    INFO(r.id);
    CHECK_FALSE(r.id.empty());
    CHECK_FALSE(r.group.empty());
    CHECK_FALSE(r.name.empty());
    CHECK(r.how.size() > 30);
    CHECK(r.doubt_words.size() > 10);
    CHECK((r.value || !r.instead.empty()));
    if (r.value) CHECK(std::isfinite(*r.value));
    if (r.doubt) CHECK((std::isfinite(*r.doubt) && *r.doubt >= 0));
    if (r.value && r.low) CHECK(*r.low <= *r.value);
    if (r.value && r.high) CHECK(*r.high >= *r.value);
    CHECK(r.doubt.has_value() == r.low.has_value());
    if (r.low) CHECK(value_and_interval(r, Units::si).find("±") == std::string::npos);
    for (Units units : {Units::si, Units::us}) {
      const ShownUnit unit = shown_unit(r.quantity, units);
      CHECK(unit.name.empty() == (r.quantity == Quantity::number));
      for (const std::string& words : {value_words(r, units), found_words(r, units)}) {
        INFO(words);
        CHECK_FALSE(words.empty());
        CHECK(words.find("nan") == std::string::npos);
        CHECK(words.find("inf ") == std::string::npos);
        CHECK(words.find("inf°") == std::string::npos);
      }
    }
    for (const Reading& other : readings) CHECK((&other == &r || other.id != r.id));
  }
}

double value(const Answered& a, std::string_view id) {
  const Reading* reading = find_reading(a.readings, id);
  REQUIRE(reading);
  REQUIRE(reading->value);
  return *reading->value;
}

}  // namespace

TEST_CASE("grip along and across the wheels are two readings where they differ") {
  Scene scene = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  scene.terrain.soil.adhesion_unlimited = false;
  scene.terrain.soil.adhesion = 0.5, scene.terrain.soil.adhesion_across_ratio = 1;
  const auto grip = [&](const char* id) -> std::optional<Reading> {
    const Model model = build(scene);
    const StaticSolution statics = solve_statics(model);
    const std::vector<Reading> all = readings_of({scene, model, statics});
    const Reading* found = find_reading(all, id);
    return found ? std::optional(*found) : std::nullopt;
  };
  CHECK_FALSE(grip("grip_across"));
  scene.terrain.soil.adhesion_across_ratio = 0.6;
  const auto along = grip("grip"), across = grip("grip_across");
  REQUIRE(along);
  REQUIRE(across);
  CHECK_NEAR(*along->value, 0.5, 1e-12);
  CHECK_NEAR(*across->value, 0.3, 1e-12);
  CHECK(along->how.find("along") != std::string::npos);
  CHECK(along->how.find("side force") == std::string::npos);
  REQUIRE(across->doubt);
  CHECK_NEAR(*across->doubt, std::hypot(0.1 * 0.5, 0.1 * 0.6), 1e-9);
}

TEST_CASE("every scene has whole readings, at rest, in a moment, and before anything slow is known") {
  int scenes = 0;
  for (const auto& file : std::filesystem::directory_iterator(std::string(SIDEHILL_SOURCE_DIR) + "/scenes")) {
    if (file.path().extension() != ".toml") continue;
    INFO(file.path().filename().string());
    ++scenes;
    Scene scene = load_scene(file.path());
    const Model model = build(scene);
    const StaticSolution statics = solve_statics(model);
    check_whole(readings_of({scene, model, statics}));
    const State state = statics.rest ? rest_state(model, *statics.rest) : placed_state(model);
    check_whole(readings_of({scene, model, statics, &state}));
    // With everything known; features are taken away: every heading over them takes seconds.
    scene.terrain.features.clear();
    check_whole(answered(scene).readings);
    scene.terrain.slope = 60 * kDegree;
    check_whole(answered(scene, false).readings);
  }
  CHECK(scenes >= 10);
}

TEST_CASE("a reading says what the JSON answer says") {
  const Answered a = answered(scene_named("first_slope"));
  const auto json = to_json(a.answer);
  const auto degrees_of = [&](const char* key) { return json[key].get<double>() * kDegree; };
  CHECK_NEAR(value(a, "margin"), degrees_of("margin_deg"), 1e-12);
  CHECK_NEAR(value(a, "first_lift_off"), degrees_of("first_lift_off_deg"), 1e-12);
  CHECK_NEAR(value(a, "worst_lift_off"), degrees_of("worst_heading_lift_off_deg"), 1e-12);
  CHECK_NEAR(value(a, "slide"), degrees_of("slide_deg"), 1e-12);
  CHECK_NEAR(value(a, "tip_over"), degrees_of("tip_over_deg"), 1e-12);
  CHECK_NEAR(value(a, "tip_on_stop"), degrees_of("tip_on_stop_deg"), 1e-12);
  CHECK_NEAR(value(a, "rigid_lift_off"), degrees_of("rigid_lift_off_deg"), 1e-12);
  CHECK_NEAR(value(a, "tyre_overload"), degrees_of("tyre_overload_deg"), 1e-12);
  CHECK_NEAR(value(a, "mass"), json["total_mass_kg"].get<double>(), 1e-9);
  const char* kLoads[] = {"load_front_left", "load_front_right", "load_rear_left", "load_rear_right"};
  for (std::size_t i = 0; i < 4; ++i) CHECK_NEAR(value(a, kLoads[i]), json["wheel_load_n"][i].get<double>(), 1e-9);
  CHECK_NEAR(value(a, "centre_x"), json["centre_of_gravity_m"][0].get<double>(), 1e-12);
  CHECK_NEAR(value(a, "centre_y"), json["centre_of_gravity_m"][1].get<double>(), 1e-12);
  CHECK_NEAR(value(a, "centre_z"), json["centre_of_gravity_m"][2].get<double>(), 1e-12);
  CHECK_NEAR(value(a, "axle_front"), json["on_axles_level_kg"][0].get<double>(), 1e-9);
  CHECK_NEAR(value(a, "axle_rear"), json["on_axles_level_kg"][1].get<double>(), 1e-9);
  // Their intervals too.
  const Reading& lift = *find_reading(a.readings, "first_lift_off");
  REQUIRE(lift.low);
  REQUIRE(lift.high);
  CHECK_NEAR(*lift.low, json["intervals"]["first_lift_off_deg"][0].get<double>() * kDegree, 1e-12);
  CHECK_NEAR(*lift.high, json["intervals"]["first_lift_off_deg"][1].get<double>() * kDegree, 1e-12);
  CHECK_NEAR(*lift.doubt, std::max(*lift.value - *lift.low, *lift.high - *lift.value), 1e-12);
  // The causes add up to the lift-off: the whole of the breakdown, which is that of the answer.
  double sum = value(a, "why_bare");
  for (const Reading& r : a.readings)
    if (r.id.starts_with("why_") && r.id != "why_bare") sum += *r.value;
  CHECK_NEAR(sum, value(a, "first_lift_off"), 1e-6);
}

TEST_CASE("differences are matched by name and know which is better") {
  Scene scene = scene_named("first_slope");
  scene.vehicle.front.tyre.service = "121A8";  // so that a front tyre is over its load
  const Answered a = answered(scene);
  for (TyreFill& fill : scene.ballast.fill) fill.fill_fraction = 0;
  const Answered b = answered(scene);
  const std::vector<Difference> all = differences(a.readings, b.readings);
  const auto of = [&](std::string_view id) {
    const auto at = std::ranges::find(all, id, &Difference::id);
    REQUIRE(at != all.end());
    return *at;
  };
  const Difference lift = of("first_lift_off");
  CHECK_NEAR(*lift.change, value(b, "first_lift_off") - value(a, "first_lift_off"), 1e-15);
  CHECK(lift.better == (*lift.change > 0 ? 1 : -1));
  CHECK_FALSE(lift.low);  // two intervals do not say how far off the difference is
  const SetUpDifference pair = difference(a.answer.scene, *a.answer.uncertainty, b.answer.scene, *b.answer.uncertainty);
  const std::vector<Difference> together = differences(a.readings, b.readings, &pair);
  const auto lift_of = [](const std::vector<Difference>& list) {
    return *std::ranges::find(list, "first_lift_off", &Difference::id);
  };
  const Difference sure = lift_of(together);
  REQUIRE(sure.low);
  REQUIRE(sure.high);
  CHECK_NEAR(*sure.low, *pair.first_lift_off->low, 1e-12);
  CHECK_NEAR(*sure.high, *pair.first_lift_off->high, 1e-12);
  const double apart = std::hypot(*find_reading(a.readings, "first_lift_off")->doubt,
                                  *find_reading(b.readings, "first_lift_off")->doubt);
  CHECK(0.5 * (*sure.high - *sure.low) < apart);
  const SetUpDifference none = difference(a.answer.scene, *a.answer.uncertainty, a.answer.scene, *a.answer.uncertainty);
  for (const Difference& d : differences(a.readings, a.readings, &none)) {
    INFO(d.id);
    if (d.low) CHECK(*d.low == 0);
    if (d.high) CHECK(*d.high == 0);
  }
  CHECK(of("mass").change < 0);  // it has lost its liquid
  CHECK(of("mass").better == 0);
  const Difference fill = of("fill_rear");  // only A has it
  CHECK(fill.a);
  CHECK_FALSE(fill.b);
  CHECK(fill.instead_b == "-");
  CHECK(of("slope").better == 0);
  // More load on a tyre that bears it is neither good nor bad; less of an overload is.
  CHECK(of("tyre_rear_right").better == 0);
  CHECK(value(a, "tyre_front_right") > 1);
  CHECK(of("tyre_front_right").better == (*of("tyre_front_right").change < 0 ? 1 : -1));
  // The other way round it is the other one.
  const std::vector<Difference> back = differences(b.readings, a.readings);
  const auto lift_back = std::ranges::find(back, "first_lift_off", &Difference::id);
  REQUIRE(lift_back != back.end());
  CHECK(lift.better != 0);
  CHECK(lift_back->better == -lift.better);
  for (const Difference& d : differences(a.readings, a.readings)) {
    INFO(d.id);
    CHECK(d.better == 0);
    if (d.change) CHECK(*d.change == 0);
  }
}

TEST_CASE("which gives way first is said in a sentence for every case") {
  const auto with = [](std::optional<double> deg, const char* instead = "never", const char* note = "rear left lifts") {
    return std::vector<Reading>{{.id = "gives_way",
                                 .note = deg ? note : "",
                                 .quantity = Quantity::angle,
                                 .value = deg ? std::optional(*deg * kDegree) : std::nullopt,
                                 .instead = instead,
                                 .better = Better::more}};
  };
  CHECK(
      which_gives_way_first(with(31.2), with(34.5), "A", "B") ==
      "A gives way first, at 31.2° = 61 % (rear left lifts); B holds 3.3° longer, to 34.5° = 69 % (rear left lifts).");
  // Of two kinds both are named.
  CHECK(which_gives_way_first(with(12.4, "never", "slides"), with(34.5), "A", "B") ==
        "A gives way first, at 12.4° = 22 % (slides); B holds 22.1° longer, to 34.5° = 69 % (rear left lifts).");
  // What is between two numbers shown is what is between them as they are shown.
  CHECK(which_gives_way_first(with(18.24), with(33.86), "A", "B").find("B holds 15.7° longer") != std::string::npos);
  CHECK(which_gives_way_first(with(34.5), with(31.2), "A", "B").starts_with("B gives way first"));
  SetUpDifference pair;
  pair.gives_way = DifferenceOf{3.3 * kDegree, 2.1 * kDegree, 4.6 * kDegree};
  CHECK(which_gives_way_first(with(31.2), with(34.5), "A", "B", &pair) ==
        "A gives way first, at 31.2° = 61 % (rear left lifts); B holds 3.3° longer (2.1° to 4.6°), to 34.5° = 69 % "
        "(rear left lifts).");
  pair.gives_way = DifferenceOf{-3.3 * kDegree, -7.1 * kDegree, 0.6 * kDegree};
  CHECK(which_gives_way_first(with(34.5), with(31.2), "A", "B", &pair) ==
        "B gives way first, at 31.2° = 61 % (rear left lifts); A holds 3.3° longer (-0.6° to 7.1°), to 34.5° = 69 % "
        "(rear left "
        "lifts). It may "
        "be the other way round: which gives way first is not certain.");
  CHECK(which_gives_way_first(with({}), with(31), "A", "B").find("A never does") != std::string::npos);
  CHECK(which_gives_way_first(with({}), with({}), "A", "B").starts_with("Neither"));
  CHECK(which_gives_way_first(with({}, "no answer"), with(31), "A", "B").starts_with("A has no answer"));
  CHECK(which_gives_way_first(with(31), with(31.01), "A", "B").starts_with("Both"));
  CHECK(which_gives_way_first({}, with(31), "A", "B").starts_with("There is nothing"));
  // "Never" is the better one.
  const auto d = differences(with(31), with({}));
  REQUIRE(d.size() == 1);
  CHECK(d[0].better == 1);
  CHECK(differences(with(31), with({}, "being worked out"))[0].better == 0);
}
#endif  // SIDEHILL_SCREEN

// What the terminal and other programs read: keys, units, nulls, cautions.
#include <algorithm>
#include <cmath>

#include "render/text/machine/lists.h"
#include "render/text/motion/run_report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/base/text_file.h"
#include "sim/motion/run.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/has.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

Answer answer_of(const char* file, const std::vector<std::string>& changes = {}) {
  return answer(load_scene(std::string(SIDEHILL_SOURCE_DIR "/scenes/") + file, changes));
}

}  // namespace

TEST_CASE("the JSON answer has its keys, in degrees, newtons, kilograms and metres") {
  const Answer a = answer_of("validate/reference_r_20deg.toml");
  const auto json = to_json(a, true);
  for (const char* key :
       {"centre_of_gravity_m", "wheel_load_n", "total_mass_kg", "first_lift_off_deg", "first_lift_off_wheel",
        "tip_on_stop_deg", "tip_over_deg", "rigid_lift_off_deg", "slide_deg", "margin_deg", "slope_deg", "heading_deg",
        "status", "ledger", "cautions", "uncertainty", "worst_heading_deg", "worst_heading_lift_off_deg"}) {
    CAPTURE(key);
    CHECK(json.contains(key));
  }
  CHECK(json["slide_deg"].is_null());                  // adhesion without limit: never
  CHECK(json["first_lift_off_wheel"] == "rear_left");  // downhill is to the right, so the left is uphill
  CHECK_NEAR(json["slope_deg"].get<double>(), 20, 1e-12);
  CHECK_NEAR(json["margin_deg"].get<double>(),
             json["first_lift_off_deg"].get<double>() - json["slope_deg"].get<double>(), 1e-9);
  CHECK_NEAR(json["centre_of_gravity_m"][2].get<double>(), 0.85, 1e-9);
  REQUIRE(json["envelope"].size() == 72);
  // The heading of the scene is one of the 72, and says the same as the answer itself.
  bool seen = false;
  for (const auto& point : json["envelope"])
    if (std::abs(point["heading_deg"].get<double>() + 90) < 1e-9) {
      seen = true;
      CHECK_NEAR(point["first_lift_off_deg"].get<double>(), json["first_lift_off_deg"].get<double>(), 1e-6);
    }
  CHECK(seen);
}

TEST_CASE("the ledger names every kilogram") {
  const Answer a = answer_of("first_slope.toml");
  double sum = 0;
  const auto json = to_json(a);
  for (const auto& line : json["ledger"]) sum += line["mass_kg"].get<double>();
  CHECK_NEAR(sum, json["total_mass_kg"].get<double>(), 1e-6);
}

TEST_CASE("liquid low in the rear tyres lowers the centre of gravity and raises the lift-off") {
  const Answer dry = answer_of("first_slope.toml", {"ballast.rear.fill_fraction=0"});
  const Answer full = answer_of("first_slope.toml", {"ballast.rear.fill_fraction=0.75"});
  CHECK(centre_of_gravity_at_rest(full.model, full.statics).z < centre_of_gravity_at_rest(dry.model, dry.statics).z);
  CHECK(total_mass(full.model) > total_mass(dry.model) + 500);
  CHECK(*full.statics.first_lift_off > *dry.statics.first_lift_off);
}

TEST_CASE("the page of text says verdict, loads, angles, masses, cautions and limits") {
  const std::string text = answer_table(answer_of("first_slope.toml"));
  for (const char* words :
       {"First slope", "STANDS", "rear left wheel lifts", "Wheel loads", "front", "kg", "tyres slide", "Masses",
        "Cautions", "Frame up and belt on", "No slope is safe", "Limits of this answer"}) {
    CAPTURE(words);
    CHECK(has(text, words));
  }
  CHECK_FALSE(has(text, "nan"));
  const std::string csv = envelope_csv(answer_of("first_slope.toml"));
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 73);
}

TEST_CASE("a set-up that goes over says so and gives no loads") {
  const Answer over = answer_of("bucket_up.toml", {"terrain.slope_deg=45", "terrain.soil.adhesion_unlimited=true"});
  CHECK(has(answer_table(over), "GOES OVER"));
  CHECK(to_json(over)["wheel_load_n"].is_null());
  CHECK(to_json(over)["status"] == "tipped");
}

TEST_CASE("a run's report has outcome, events in order and the last state") {
  const Scene scene = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  const auto json = to_json(answer(scene), run(scene));
  CHECK(json["outcome"] == "stands");
  REQUIRE(json["events"].is_array());
  REQUIRE(!json["events"].empty());  // it is dropped, so it touches down
  double last = 0;
  for (const auto& event : json["events"]) {
    CHECK(event["time_s"].get<double>() >= last);
    last = event["time_s"].get<double>();
  }
  CHECK_NEAR(json["final"]["time_s"].get<double>(), scene.programme.duration, 0.021);
  Scene set_down = scene;
  set_down.programme.drop_height = 0;  // so that nothing turns it on landing
  CHECK_NEAR(to_json(answer(set_down), run(set_down))["final"]["heading_deg"].get<double>(), -90, 1);
}

TEST_CASE("words for people") {
  CHECK(degrees(0.5235987755982988) == "30.0°");
  CHECK(degrees(std::nullopt) == "never");
  CHECK(degrees(std::nan("")) == "-");
  CHECK(degrees(-1e-9) == "0.0°");
  CHECK(kilograms(4735) == "4 735 kg");
  CHECK(kilograms(85) == "85 kg");
  CHECK(kilograms(1234567) == "1 234 567 kg");
  CHECK(kilonewtons(12345) == "12.3 kN");
  CHECK(used_words(0.954) == "95 %");
  CHECK(used_words(1) == "100 %");
  CHECK(used_words(1.41) == "41 % too much");
  CHECK(used_words(1454.0 / 1450) == "0.3 % too much");
  CHECK(over_words(1.0001) == "under 0.1 %");
  CHECK(over_words(2.5) == "150 %");
  CHECK(heading_words(-1.5707963) == "across, uphill side to the left");
  CHECK(heading_words(1.5707963) == "across, uphill side to the right");
  CHECK(heading_words(0) == "facing uphill");
}

TEST_CASE("which wheel stands uphill follows from the heading") {
  const double across = -3.14159265358979 / 2;  // turned to the right: the left side is uphill
  CHECK(side_on_slope(kRearLeft, across) == "uphill");
  CHECK(side_on_slope(kRearRight, across) == "downhill");
  CHECK(side_on_slope(kRearLeft, -across) == "downhill");
  // Facing uphill both front wheels are on the upper side: the word would set neither apart.
  CHECK(side_on_slope(kFrontLeft, 0) == "");
  CHECK(side_on_slope(kRearRight, 0) == "");
  CHECK(side_on_slope(kRearRight, 3.14159265358979) == "");
}

TEST_CASE("lists name machines, scenes, media and every key") {
  CHECK(machines_json().size() >= 5);
  for (const auto& machine : machines_json()) CHECK_FALSE(machine.contains("error"));
  for (const auto& scene : scenes_json()) CHECK_FALSE(scene.contains("error"));
  CHECK(media_json().size() == media().size());
  CHECK(keys_json().size() > scene_fields().size() + 15);
  const std::string keys = keys_markdown();
  for (const Field& field : scene_fields()) CHECK(has(keys, std::string(field.key).c_str()));
}

TEST_CASE("intervals stand behind angles of even ground, and not behind those of uneven ground") {
  const Answer even = with_uncertainty(answer_of("first_slope.toml", {}));
  REQUIRE(even.uncertainty);
  REQUIRE(even.uncertainty->first_lift_off);
  CHECK(even.uncertainty->first_lift_off->low < *even.statics.first_lift_off);
  CHECK(even.uncertainty->first_lift_off->high > *even.statics.first_lift_off);
  CHECK(has(answer_table(even), "° to "));
  const Answer stump = with_uncertainty(answer_of("over_a_stump.toml", {}));
  CHECK_FALSE(has(answer_table(stump), "° to "));
  CHECK(to_json(stump)["intervals"]["ground"] == "even slope, features left out");
}

TEST_CASE("why: the shares of the JSON sum to the answer") {
  const Answer a = with_reasons(answer_of("first_slope.toml", {}));
  const auto json = to_json(a)["breakdown"];
  double sum = json["bare_deg"].get<double>();
  for (const auto& cause : json["causes"]) sum += cause["share_deg"].get<double>();
  CHECK_NEAR(sum, to_json(a)["first_lift_off_deg"].get<double>(), 1e-6);
  CHECK(to_json(a)["measures"]["nearest"] == "right");
  CHECK(to_json(a)["manoeuvres"].empty());
}

TEST_CASE("the reference in docs/keys.md is the field list of this build") {
  CHECK(has(read_text(SIDEHILL_SOURCE_DIR "/docs/keys.md"), keys_markdown().c_str()));
}

TEST_CASE("the table says at which slope and heading the tyres slide first, whatever the scene's heading") {
  const Answer a = answer_of("bale_on_spike.toml");
  double least = 9;
  for (const EnvelopePoint& point : a.by_heading)
    if (!point.failed && point.slide) least = std::min(least, *point.slide);
  const std::string text = answer_table(a);
  const auto row = text.find("tyres slide, worst heading of all");
  REQUIRE(row != text.npos);
  const std::string line = text.substr(row, text.find('\n', row) - row);
  CHECK(has(line, degrees_and_percent(least)));
  CHECK(least < *a.statics.slide);  // facing downhill it slides sooner than across
  CHECK_FALSE(has(answer_table(answer_of("first_slope.toml", {"terrain.soil.adhesion_unlimited=true"})),
                  "tyres slide, worst heading"));
}

TEST_CASE("the first lines name the heading that gives way sooner") {
  const Answer bale = answer_of("bale_on_spike.toml");
  const std::string said = turned_sentence(bale.by_heading, bale.statics, bale.scene.terrain.slope);
  CHECK(has(said, "heading -180"));
  CHECK(has(said, "it slides at "));
  CHECK(has(said, " from here."));
  const std::string table = answer_table(bale);
  CHECK(table.find("Facing another way") < table.find("Wheel loads"));
  const Answer down = answer_of("bale_on_spike.toml", {"start.heading_deg=-180"});
  CHECK(turned_sentence(down.by_heading, down.statics, down.scene.terrain.slope).empty());
  CHECK(has(turned_sentence(bale.by_heading, bale.statics, 0.5), "less than this slope"));
}

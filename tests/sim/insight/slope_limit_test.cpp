// Limits found by running: against the answer at rest, against single runs, on any number of cores, in any parts.
#include "sim/insight/slope_limit.h"

#include <tbb/global_control.h>

#include "render/text/motion/slope_limit_report.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

using LimitJson = nlohmann::ordered_json;

Scene stump(double seconds = 6) {
  Scene scene = test_scene("over_a_stump", {"terrain.feature[0].x_m=3", "terrain.feature[0].height_m=0.15"});
  scene.programme.duration = seconds;
  return scene;
}

bool lifts(Scene scene, double slope) {
  scene.terrain.slope = slope;
  scene.programme.drop_height = 0;
  const Recording run_there = run(scene);
  return std::any_of(run_there.events.begin(), run_there.events.end(),
                     [](const Event& e) { return e.kind == EventKind::lift_off; });
}

const std::vector<SweptKey> kKeys = {{"programme.speed_kmh", 4, 8, 2}, {"ballast.rear.fill_fraction", 0, 0.75, 2}};

SlopeLimitAsk quick() {
  SlopeLimitAsk ask;
  ask.coarse = 8 * kDegree;
  ask.fine = 1 * kDegree;
  ask.steepest = 32 * kDegree;
  return ask;
}

void check_same_cells(const std::vector<SweptCell>& a, const std::vector<SweptCell>& b) {
  REQUIRE(a.size() == b.size());
  for (std::size_t i = 0; i < a.size(); ++i) {
    CHECK(a[i].number == b[i].number);
    CHECK(a[i].values == b[i].values);
    CHECK(a[i].limit.slope == b[i].limit.slope);  // the same bits
    CHECK(a[i].limit.runs == b[i].limit.runs);
    CHECK(a[i].limit.fails_as == b[i].limit.fails_as);
  }
}

std::string refusal_of_limit(const std::vector<std::pair<std::string, nlohmann::ordered_json>>& parts) {
  try {
    merged(parts);
  } catch (const InputError& error) {
    return error.what();
  }
  return "merged";
}

}  // namespace

TEST_CASE("parked, the limit is the answer at rest") {
  Scene scene = test_scene("first_slope", {"terrain.soil.adhesion_unlimited=true"});
  scene.programme.duration = 5;
  SlopeLimitAsk ask;
  ask.coarse = 10 * kDegree;
  ask.steepest = 50 * kDegree;
  const SlopeLimit limit = slope_limit(scene, ask);
  REQUIRE(limit.slope);
  CHECK_FALSE(limit.open);
  CHECK_NEAR(*limit.slope / kDegree, *first_lift_off(build(scene)).slope / kDegree, 0.5);
}

TEST_CASE("at the limit no wheel lifts, a little beyond it one does") {
  const SlopeLimitAsk ask = quick();
  const SlopeLimit limit = slope_limit(stump(), ask);
  REQUIRE(limit.slope);
  REQUIRE_FALSE(limit.open);
  CHECK_FALSE(lifts(stump(), *limit.slope));
  CHECK(lifts(stump(), *limit.slope + ask.fine));
  CHECK(limit.runs >= 8);
}

TEST_CASE("a table is the same on any number of cores and in any parts") {
  const Scene scene = stump(4);
  const SlopeLimitAsk ask = quick();
  const auto whole = sweep(scene, kKeys, ask);
  REQUIRE(whole.size() == 4);
  {
    const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
    check_same_cells(sweep(scene, kKeys, ask), whole);
  }
  std::vector<std::pair<std::string, nlohmann::ordered_json>> parts;
  for (int part : {2, 0, 1}) {
    const Shard shard{part, 3};
    parts.emplace_back("part" + std::to_string(part) + ".json",
                       slope_limit_json({scene, ask, kKeys, shard}, sweep(scene, kKeys, ask, shard)));
  }
  CHECK(merged(parts)["cells"] == slope_limit_json({scene, ask, kKeys, {}}, whole)["cells"]);
  CHECK(slope_limit_table(merged(parts)) == slope_limit_table(slope_limit_json({scene, ask, kKeys, {}}, whole)));
  // A part that was tampered with or cut short is refused, whatever is missing in it.
  for (const char* key : {"cells", "shard", "over", "bearable", "table", "resolution_deg"}) {
    auto broken = parts;
    broken[1].second.erase(key);
    CHECK(refusal_of_limit(broken).starts_with("part0.json: is no whole part of a table"));
  }
  for (const char* key :
       {"number", "values", "limit_deg", "open", "again_deg", "slides_at_deg", "fails_as", "reason", "runs"}) {
    auto broken = parts;
    broken[1].second["cells"][0].erase(key);
    CHECK(refusal_of_limit(broken).starts_with("part0.json: is no whole part of a table"));
    broken[1].second["cells"][0][key] = nlohmann::ordered_json::array({"odd"});
    CHECK(refusal_of_limit(broken).starts_with("part0.json: is no whole part of a table"));
  }
  auto shorter = parts;
  shorter[1].second["cells"].erase(1);
  CHECK(refusal_of_limit(shorter).starts_with("part0.json: is no whole part of a table"));
  // What does not belong together is refused by name.
  auto twice = parts;
  twice.push_back(parts[0]);
  CHECK(refusal_of_limit(twice) == "part2.json: part 3/3 is there twice");
  auto missing = parts;
  missing.pop_back();
  CHECK(refusal_of_limit(missing) == "merge: part 2/3 is missing");
  auto other = parts;
  other[1].second["bearable"] = "no_roll";
  CHECK(refusal_of_limit(other) == "part0.json: is of another table than part2.json, allowed parts of one");
  CHECK(refusal_of_limit({{"x.json", nlohmann::ordered_json::array()}}).find("is no whole part of a table") !=
        std::string::npos);
  CHECK(refusal_of_limit({}).find("no files") != std::string::npos);
}

TEST_CASE("a part that is no part is refused in one line, whatever is in it") {
  const LimitJson part = slope_limit_json({stump(), quick(), {kKeys[0]}, {}}, sweep(stump(0.3), {kKeys[0]}, quick()));
  CHECK(refusal_of_limit({{"a.json", part}}) == "merged");
  const auto changed = [&](const char* at, LimitJson value) {
    LimitJson other = part;
    other[LimitJson::json_pointer(at)] = std::move(value);
    return other;
  };
  const LimitJson object = {{"key", "programme.speed_kmh"}, {"values", {4, 8}}};
  const std::pair<const char*, LimitJson> bad[] = {
      {"/over", {{"a", object}}},                     // a table where a list belongs
      {"/over/0/key", "\x1b[2Jprogramme.speed_kmh"},  // an escape code, which a terminal would obey
      {"/over/0/key", ""},
      {"/over/0/values", {{"a", 4}, {"b", 8}}},
      {"/cells", {{"a", part["cells"][0]}, {"b", part["cells"][1]}}},
      {"/cells/0/fails_as", "\x1b]0;x\x07"},
      {"/cells/0/fails_as", "two\nlines"},
      {"/cells/0/limit_deg", 1e300},  // no slope
      {"/cells/0/limit_deg", -1},
      {"/cells/0/slides_at_deg", 91},
      {"/cells/0/again_deg", "5"},
      {"/cells/0/runs", 2147483647},  // more than any cell takes
      {"/cells/0/runs", 4294967297},
      {"/cells/0/runs", -1},
      {"/cells/0/runs", 1e300},
      {"/cells/0/number", 1e300},
      {"/cells/0/number", 18446744073709551615u},
      {"/shard/part", 1.5},
      {"/shard/of", 2147483647},
      {"/shard/of", 0},
      {"/bearable", "\x1b[2J"},
      {"/resolution_deg", 1e300},
  };
  for (const auto& [at, value] : bad) {
    const auto& this_at = at;
    CAPTURE(this_at);
    CHECK(refusal_of_limit({{"a.json", changed(at, value)}}).starts_with("a.json: is no whole part of a table"));
  }
}

TEST_CASE("the runs of many cells are summed without overflow") {
  LimitJson whole = slope_limit_json({stump(), quick(), {kKeys[0]}, {}}, sweep(stump(0.3), {kKeys[0]}, quick()));
  for (LimitJson& cell : whole["cells"]) cell["runs"] = 2000000000;
  CHECK(slope_limit_table(whole).find("4000000000 runs.") != std::string::npos);
}

TEST_CASE("what is nested deeper than a table is refused while it is read") {
  const auto said = [](const std::string& text) {
    try {
      part_of(text, "a.json");
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string("read");
  };
  CHECK(said("{\"a\": [[{\"b\": 1}]]}") == "read");
  for (const std::size_t depth : {9u, 60000u, 1000000u}) {
    CAPTURE(depth);
    CHECK(said(std::string(depth, '[') + std::string(depth, ']')).starts_with("a.json: is nested more than 8 deep"));
    std::string tables;
    for (std::size_t i = 0; i < depth; ++i) tables += "{\"a\":";
    CHECK(said(tables).starts_with("a.json: is nested more than 8 deep"));
  }
  CHECK(said("[1, 2").starts_with("a.json: is not JSON"));
  CHECK(said("").starts_with("a.json: is not JSON"));
}

TEST_CASE("what cannot be swept is refused by its key") {
  const auto said = [](const SweptKey& key) {
    try {
      sweep(stump(), {key}, quick());
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string("swept");
  };
  CHECK(said({"programme.sped_kmh", 1, 2, 2}).find("did you mean programme.speed_kmh") != std::string::npos);
  CHECK(said({"terrain.slope_deg", 1, 2, 2}).find("is what is looked for") != std::string::npos);
  CHECK(said({"ballast.rear.fill_fraction", 0, 2, 2}) ==
        "--over: ballast.rear.fill_fraction: 2 is out of range, allowed 0 to 1");
  CHECK(said({"programme.sped_kmh", 1, 2, 2}).starts_with("--over: "));
  for (const char* words : {"title", "vehicle.name", "vehicle_file", "ballast.rear.medium", "vehicle.front_drive",
                            "terrain.feature[0].kind"}) {
    CAPTURE(words);
    CHECK(said({words, 1, 2, 3}).starts_with(std::string("--over: ") + words + ": holds no number but "));
  }
  for (const char* text : {"x", "a=1", "a=1:2", "a=1:2:1", "a=1:2:x", "a=nan:2:3", "a=1:2:99", "=::"})
    CHECK_THROWS_AS(swept_key(text), InputError);
  for (const char* text : {"0/3", "4/3", "1", "1/", "a/b", "1/0", "-1/3"}) CHECK_THROWS_AS(shard_of(text), InputError);
  CHECK(swept_key("programme.speed_kmh=2:10:5").steps == 5);
  CHECK(shard_of("2/5").part == 1);
}

TEST_CASE("no limit is given above the slope from which it slides, and that slope is closed in as far") {
  Scene scene = test_scene("first_slope");
  scene.programme.duration = 5;
  SlopeLimitAsk ask;
  ask.coarse = 10 * kDegree;
  ask.steepest = 45 * kDegree;
  const SlopeLimit limit = slope_limit(scene, ask);
  CHECK_FALSE(limit.slope);
  CHECK_FALSE(limit.open);
  CHECK(limit.no_limit == NoLimit::slides_first);
  REQUIRE(limit.slides_at);
  // Against single runs: at this slope it comes off its line by a metre, a fine step below it does not.
  const auto off = [&](double slope) {
    Scene there = scene;
    there.terrain.slope = slope;
    there.programme.drop_height = 0;
    const Recording recording = run(there);
    return std::abs(recording.states.back().X_GV.p.y - recording.states.front().X_GV.p.y);
  };
  CHECK(off(*limit.slides_at) > 1);
  CHECK(off(*limit.slides_at - ask.fine) <= 1);
  const SlopeLimitRequest request{scene, ask, {}, {}};
  const auto cell = slope_limit_json(request, {{0, {}, limit}})["cells"][0];
  CHECK(cell["limit_deg"].is_null());
  CHECK_NEAR(cell["slides_at_deg"].get<double>(), *limit.slides_at / kDegree, 1e-9);
  CHECK(cell["reason"] == "from there on it slides away and does not meet what lies ahead");
  const std::string text = slope_limit_table(slope_limit_json(request, {{0, {}, limit}}));
  CHECK(text.find("no limit: from there on it slides away") != std::string::npos);
}

TEST_CASE("over 45 degrees is never said where any run's tyres slid") {
  // Straight down it slides along its own line, and nothing lifts or goes over.
  Scene scene = test_scene("first_slope", {"start.heading_deg=180"});
  scene.programme.duration = 3;
  SlopeLimitAsk ask;
  ask.bearable = Bearable::no_roll;
  ask.coarse = 15 * kDegree;
  const SlopeLimit limit = slope_limit(scene, ask);
  CHECK_FALSE(limit.open);
  CHECK_FALSE(limit.slope);
  REQUIRE(limit.slides_at);
  CHECK(*limit.slides_at / kDegree > 15);
  CHECK(*limit.slides_at / kDegree < 45);
  // With grip without limit there is nothing to slide, and it may be said.
  scene.terrain.soil.adhesion_unlimited = true;
  CHECK(slope_limit(scene, ask).open);
}

TEST_CASE("a programme it cannot judge is refused with the reason") {
  const auto said = [](const Scene& scene) {
    try {
      slope_limit(scene, quick());
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string("judged");
  };
  CHECK(said(test_scene("trailer_pushes")).find("cannot judge a trailer that pushes (it brakes)") != std::string::npos);
  CHECK(said(test_scene("trailer_pushes", {"programme.action=[]"})).find("(it faces downhill)") != std::string::npos);
  CHECK(said(test_scene("first_slope", {"programme.tilt_rate_deg_per_s=1"})).find("programme.tilt_rate_deg_per_s: ") !=
        std::string::npos);
}

TEST_CASE("the example of docs/run.md answers with a number") {
  const SlopeLimit limit = slope_limit(test_scene("over_a_stump", {"terrain.feature[0].height_m=0.1"}), {});
  REQUIRE(limit.slope);
  CHECK_FALSE(limit.open);
  CHECK(*limit.slope / kDegree > 5);
}

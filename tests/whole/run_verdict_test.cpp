// What a run says first is the worst of how it ended and of the set-up at rest; everything else that holds follows.
#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "render/text/motion/outcome_words.h"
#include "render/text/motion/run_report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/words.h"
#include "sim/motion/run.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#ifdef SIDEHILL_SCREEN
#include "render/screen/desk/verdict.h"
#include "tests/kit/table.h"
#endif

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct Ran {
  Answer found;
  Recording recording;
  std::string text;
  nlohmann::ordered_json json;
};

Ran ran(const std::string& scene, const std::vector<std::string>& changes) {
  Ran out;
  const Scene asked = test_scene(scene, changes);
  out.found = with_uncertainty(answer(asked, 1));
  out.recording = run(asked);
  out.text = run_table(out.found, out.recording);
  out.json = to_json(out.found, out.recording);
  return out;
}

// Over its front axle's figure, with little left on this slope.
const std::vector<std::string> kBale{"ballast.loader_payload_kg=900", "terrain.slope_deg=13"};

bool among(const nlohmann::ordered_json& list, const char* key) { return std::ranges::find(list, key) != list.end(); }

}  // namespace

TEST_CASE("a run's text and JSON have one list, and its cautions are those of the answer") {
  const Ran r = ran("bucket_up", kBale);
  REQUIRE(r.recording.outcome == Outcome::stands);
  REQUIRE(r.json["verdict"] == "over_limit");
  REQUIRE(among(r.json["also"], "little_left"));
  CHECK(r.text.starts_with("OVER ITS LIMITS AS SET UP"));
  const std::size_t first_blank = r.text.find("\n\n");
  for (const StandCause cause : verdict_on(r.found).also) {
    INFO(cause_title(cause));
    CHECK(r.text.find(cause_title(cause)) < first_blank);
  }
  const std::string cautions = r.text.substr(r.text.find("\nCautions\n"));
  REQUIRE_FALSE(warnings(r.found).empty());
  for (const std::string& caution : warnings(r.found)) CHECK(has(cautions, caution));
  for (const std::string& caution : r.found.model.cautions) CHECK(has(cautions, caution));
}

TEST_CASE("the verdict of a run is not better than how it ended, and that of rest has its own key") {
  const Ran thrown = ran("bucket_up", {"programme.drop_height_m=0.6"});
  REQUIRE(overturns(thrown.recording.outcome));
  REQUIRE(to_json(thrown.found)["verdict"] != "tipped");
  CHECK(thrown.json["verdict"] == "tipped");
  CHECK(thrown.json["at_rest"]["verdict"] == to_json(thrown.found)["verdict"]);
  CHECK(thrown.json["at_rest"]["also"] == to_json(thrown.found)["also"]);
  CHECK_FALSE(among(thrown.json["also"], "stands"));
  CHECK(thrown.text.starts_with("OVERTURNS"));
  const Ran ice = ran("first_slope", {"terrain.soil.adhesion=0.1"});
  CHECK(ice.json["verdict"] == "slides");
  const Ran stump = ran("over_a_stump", {});
  REQUIRE(stump.recording.outcome == Outcome::lifts_and_returns);
  CHECK(stump.json["verdict"] == "lifts_under_way");
  CHECK(stump.text.starts_with(outcome_line(stump.found.scene, stump.recording)));
  // Worse at rest than in a run that was too short to show it.
  const Ran brief = ran("first_slope", {"terrain.slope_deg=60", "programme.duration_s=0.1"});
  REQUIRE(brief.recording.outcome != Outcome::on_frame);
  CHECK(brief.json["verdict"] == to_json(brief.found)["verdict"]);
  CHECK_FALSE(brief.text.starts_with("STANDS"));
  const Ran gone = [] {
    Ran r = ran("bucket_up", {});
    r.recording.outcome = Outcome::diverged;
    r.recording.divergence = "a speed, at 1 s";
    return r;
  }();
  CHECK(to_json(gone.found, gone.recording)["verdict"] == "unsolved");
}

#ifdef SIDEHILL_SCREEN
namespace {

std::string said_by(const Verdict& verdict) {
  std::string all = verdict.title + " | " + verdict.detail;
  for (const std::string& words : verdict.more) all += " | " + words;
  return all;
}

void run_to_its_end(Session& session) {
  session.settle_doubts();
  session.play();
  for (int i = 0; i < 2000 && !session.finished(); ++i) session.advance(0.1, 10);
  REQUIRE(session.finished());
}

}  // namespace

TEST_CASE("the band at the end of a run on ice says that it still slides, how far it slid and how fast") {
  Table table;
  table.session.set_number("terrain.soil.adhesion", 0.1);
  run_to_its_end(table.session);
  const Recording& recording = *table.session.recording();
  REQUIRE(recording.outcome == Outcome::slides);
  const std::string line = outcome_line(table.session.scene_of_run(), recording);
  REQUIRE(has(line, "still slide at the end, at "));
  const Verdict ended = moment_of(table.session);
  CHECK(ended.tone == Tone::slide);
  CHECK(has(ended.detail, line.substr(line.find("its tyres slide"))));
  CHECK(has(ended.detail, "the run has ended"));
}

TEST_CASE("the band at the end of a run keeps the figures of an overload and says nothing twice") {
  Table table("bucket_up");
  table.session.set_number("ballast.loader_payload_kg", 900);
  table.session.set_number("terrain.slope_deg", 13);
  run_to_its_end(table.session);
  REQUIRE(table.session.recording()->outcome == Outcome::stands);
  const Verdict ended = moment_of(table.session);
  const std::string all = said_by(ended);
  CAPTURE(all);
  CHECK(ended.title == cause_title(StandCause::over_limit));
  CHECK(ended.tone == Tone::limit);
  REQUIRE_FALSE(table.session.verdict().over.empty());
  CHECK(has(all, limit_words(table.session.verdict().over.front())));
  CHECK(all.find("OVER ITS LIMITS") == all.rfind("OVER ITS LIMITS"));
  CHECK(has(all, "LITTLE LEFT: "));
  CHECK(has(all, "the run has ended"));
}
#endif

TEST_CASE("a run that stops before it is decided says so first, and never just stands") {
  const auto first_line = [](const Ran& ran) { return ran.text.substr(0, ran.text.find('\n')); };
  const Ran falls = ran("bucket_up", {"programme.drop_height_m=2", "programme.duration_s=0.5"});
  CHECK(cut_off(falls.found.model, falls.recording) == CutOff::in_the_air);
  CHECK(has(first_line(falls), "NOT KNOWN"));
  CHECK_FALSE(has(first_line(falls), "STANDS"));
  CHECK(falls.json["verdict"] == "unsolved");
  CHECK(falls.json["cut_off"] == "in_the_air");
  // What is over its limits is not as bad as not to know: the text keeps the order of the JSON.
  const Ran heavy =
      ran("bucket_up", {"programme.drop_height_m=2", "programme.duration_s=0.5", "ballast.loader_payload_kg=900"});
  REQUIRE(heavy.json["verdict"] == "unsolved");
  REQUIRE(among(heavy.json["also"], "over_limit"));
  CHECK(has(first_line(heavy), "NOT KNOWN"));
  const Ran tips = ran("raised_while_driving", {"programme.duration_s=9"});
  CHECK(cut_off(tips.found.model, tips.recording) == CutOff::going_over);
  CHECK(has(first_line(tips), "going over"));
  CHECK(tips.json["cut_off"] == "going_over");
  CHECK(has(tips.json["also"].dump(), "unsolved"));
  // What is decided says nothing of it: at rest, on its side, driving on, with a wheel up for good.
  for (const char* name : {"first_slope", "raised_while_driving", "over_a_stump", "trailer_pushes"}) {
    CAPTURE(name);
    const Ran whole = ran(name, {});
    CHECK(cut_off(whole.found.model, whole.recording) == CutOff::no);
    CHECK(whole.json["cut_off"].is_null());
    CHECK_FALSE(has(whole.text, "NOT KNOWN"));
  }
}

TEST_CASE("what is over its limit in the bend asked for alone is over its limit, and the bend is named") {
  const auto found = [](const std::vector<std::string>& more) {
    std::vector<std::string> changes = {"terrain.slope_deg=16"};
    changes.insert(changes.end(), more.begin(), more.end());
    return answer(test_scene("first_slope", changes), 4);
  };
  const Answer still = found({}), bend = found({"manoeuvre.speed_kmh=12", "manoeuvre.turn_radius_m=5"});
  CHECK(verdict_on(still).over.empty());
  const StandVerdict verdict = verdict_on(bend);
  REQUIRE_FALSE(verdict.over.empty());
  CHECK(verdict.headline == StandCause::over_limit);
  for (const OverLimit& limit : verdict.over) {
    CHECK(limit.doing);
    // By hand: the load of that wheel in the bend that puts most on it.
    double most = 0;
    for (const ManoeuvreAnswer& m : bend.manoeuvres)
      if (m.rest) most = std::max(most, m.rest->load[static_cast<std::size_t>(limit.where)]);
    CHECK(limit.kind == LimitKind::tyre);
    CHECK(std::abs(limit.margin.load - most / kStandardGravity) < 1e-6);
  }
  CHECK(has(answer_table(bend), "in the\nbend asked for"));
  bool warned = false;
  for (const std::string& words : warnings(bend))
    warned = warned || has(words, "over its rating in the bend asked for");
  CHECK(warned);
}

TEST_CASE("the first lines of a run say which limits nothing is known of, as the answer at rest does") {
  const std::vector<std::string> kNoAxles{"vehicle.front.capacity_kg=0", "vehicle.rear.capacity_kg=0",
                                          "programme.duration_s=1"};
  const Ran known = ran("first_slope", {"programme.duration_s=1"}), unknown = ran("first_slope", kNoAxles);
  const auto first_lines = [](const Ran& r) { return r.text.substr(0, r.text.find("\n\n")); };
  CHECK(has(first_lines(unknown), "Limits of axles NOT KNOWN."));
  CHECK_FALSE(has(first_lines(known), "NOT KNOWN"));
}

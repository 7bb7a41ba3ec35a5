// What is not there is not spoken of, and what is left out is: liquid where no tyre holds any, the job's implement
// where the scene hangs none, and which front axle's share is meant.
#include <doctest/doctest.h>

#include <algorithm>
#include <regex>
#include <string>
#include <vector>

#include "render/page/answer_charts.h"
#include "render/page/set_ups_chart.h"
#include "render/text/job/rules_report.h"
#include "render/text/job/set_ups_report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/insight/report_facts.h"
#include "sim/rest/mass_sums.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/program.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

const std::string kOfLiquid = "The liquid takes room from the air", kWithout = "WITHOUT THE JOB'S IMPLEMENT: ";
const std::string kPlough = " --set job_file=plough_heavy";

Scene dry(std::vector<std::string> more = {}) {
  more.insert(more.begin(), {"terrain.slope_deg=10", "ballast.rear.fill_fraction=0"});
  return test_scene("first_slope", more);
}

bool speaks_of_liquid(const page::Chart& chart) {
  for (const std::string& words : chart.limits)
    if (has(words, kOfLiquid)) return true;
  return false;
}

// Behind `words` up to the end of its paragraph or sentence.
std::string behind(const std::string& text, const std::string& words) {
  const std::size_t at = text.find(words);
  REQUIRE(at != text.npos);
  return text.substr(at + words.size(), text.find('.', at) - at - words.size());
}

}  // namespace

TEST_CASE("what liquid does to a tyre is a limit of the answer only where a tyre holds some") {
  const Answer empty = answer(dry(), 1), filled = answer(dry({"ballast.rear.fill_fraction=0.75"}), 1);
  CHECK_FALSE(has(answer_table(empty), kOfLiquid));
  CHECK(has(answer_table(filled), kOfLiquid));
  CHECK_FALSE(has(to_json(empty)["uncertainty"].get<std::string>(), kOfLiquid));
  CHECK(has(to_json(filled)["uncertainty"].get<std::string>(), kOfLiquid));
  CHECK_FALSE(speaks_of_liquid(page::slopes_chart(empty)));
  CHECK(speaks_of_liquid(page::slopes_chart(filled)));
  const auto claims = [](const Scene& scene) {
    return has(ballast_table(scene, build(scene)), "Liquid spares the soil");
  };
  CHECK_FALSE(claims(dry({"job_file=hill_bale"})));
  CHECK(claims(dry({"job_file=hill_bale", "ballast.rear.fill_fraction=0.75"})));
  // Foam does not flow.
  CHECK_FALSE(holds_liquid(dry({"ballast.rear.medium=polyurethane", "ballast.rear.fill_fraction=1"}).ballast));
  // A comparison that proposes liquid speaks of it, whatever the scene has.
  const Scene wet = dry({"ballast.rear.fill_fraction=0.75"});
  CHECK(speaks_of_liquid(page::set_ups_chart(compare_set_ups({{"as it is", dry()}, {"filled", wet}}))));
  CHECK_FALSE(speaks_of_liquid(page::set_ups_chart(
      compare_set_ups({{"as it is", dry()}, {"lighter", dry({"ballast.loader_payload_kg=100"})}}))));
}

TEST_CASE("every answer with slopes says first that the job's implement is not on the machine") {
  const std::string scene = "scenes/first_slope.toml";
  for (const std::string& line :
       {"solve " + scene, "ballast " + scene, "compare " + scene + " --with nothing", "loader " + scene + " --steps 2",
        "slope-limit " + scene + " --set programme.duration_s=2", "run " + scene + " --set programme.duration_s=1"}) {
    CAPTURE(line);
    // A --set behind --with is of that set-up alone.
    const std::size_t end = line.find(" --with");
    const std::string with = end == line.npos ? line + kPlough : line.substr(0, end) + kPlough + line.substr(end);
    const std::string said = program(with).out;
    const std::size_t at = said.find(kWithout);
    REQUIRE(at != said.npos);
    CHECK(std::ranges::count(said.substr(0, at), '\n') < 14);
    CHECK(has(said.substr(at, 200), "its 900 kg"));
    CHECK(has(program(with + " --units us").out, "its 1,984 lb"));
    CHECK_FALSE(has(program(line).out, kWithout));
  }
  const std::string job = "job_file=plough_heavy";
  CHECK(without_implement(dry()).empty());
  CHECK(has(without_implement(dry({job})), "ballast.implement.*"));
  CHECK(without_implement(dry({job, "ballast.implement.mass_kg=900"})).empty());
  CHECK(has(without_implement(dry({job, "ballast.implement.mass_kg=50"})), "50 kg of its 900 kg"));
  CHECK(has(without_implement(dry({job, "job.hitch=drawbar"})), "ballast.trailer.mass_kg, all of its mass"));
  CHECK(
      has(without_implement(dry({job, "job.hitch=drawbar", "job.implement_mass_kg=0"})), "WITHOUT WHAT THE JOB DRAWS"));
  CHECK(without_implement(dry({job, "job.hitch=drawbar", "ballast.trailer.mass_kg=5000"})).empty());
}

TEST_CASE("what is frozen or overloaded stands before the implement that is left out") {
  for (const std::string& line : {"slope-limit " + std::string("scenes/first_slope.toml --set programme.duration_s=2"),
                                  std::string("loader scenes/first_slope.toml --steps 2")}) {
    CAPTURE(line);
    const std::string said =
        program(line + kPlough + " --set ballast.rear.medium=water --set settings.temperature_c=-15").out;
    const std::size_t frozen = said.find("FROZEN"), without = said.find(kWithout);
    REQUIRE(frozen != said.npos);
    REQUIRE(without != said.npos);
    CHECK(frozen < without);
  }
}

TEST_CASE("a report is not to be signed while its slopes leave out the job's implement") {
  const Scene scene = test_scene("first_slope", {"job_file=plough_heavy"});
  const auto barred = [](const Scene& one) {
    return std::ranges::any_of(report_facts(answer(one, 1), false).bars,
                               [](const SignBar& bar) { return bar.kind == BarKind::without_implement; });
  };
  CHECK(barred(scene));
  CHECK_FALSE(barred(test_scene("first_slope", {"job_file=plough_heavy", "ballast.implement.mass_kg=900"})));
}

TEST_CASE("ballast gives the front axle's share as compare does, and says why the tables' own is another") {
  for (const std::string& job : {std::string("job_file=plough_heavy"), std::string("job_file=hill_bale")}) {
    CAPTURE(job);
    const Scene scene = test_scene("first_slope", {job});
    const Model model = build(scene);
    const std::string said = ballast_table(scene, model);
    const std::string words =
        std::regex_replace(behind(said, "Front axle's share on the level: "), std::regex("\\s+"), " ");
    const SetUpComparison all = compare_set_ups({{"as it is", scene}});
    std::string cell;
    for (const SetUpRow& row : set_up_rows())
      if (row.key == "front_axle_fraction") cell = cell_words(row, all.set_ups.front(), Units::si);
    CHECK(words.starts_with(cell + " as the scene loads it"));
    const RuleReport report = rules_on(scene, model);
    const AxleShare& tractor = report.tractor;
    CHECK(has(words, percent(tractor.front / (tractor.front + tractor.rear)) + " of the tractor with its ballast"));
    CHECK(has(words, "with the job's implement") == (scene.job.implement_mass > 0));
    CHECK(has(said, "front axle's share of the tractor with its ballast, no load and no implement"));
  }
}

// `sidehill rolling-test` as it is met: text and JSON of the report, and the built program from outside.
#include "render/text/machine/rolling_report.h"

#include <filesystem>
#include <fstream>

#include "sim/codes/rolling_file.h"
#include "tests/kit/near.h"
#include "tests/kit/program.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

using ReportJson = nlohmann::json;
namespace fs = std::filesystem;

const std::string kExampleTractor = SIDEHILL_SOURCE_DIR "/scenes/rolling_test/narrow_tractor.toml";

// A file that goes away again.
struct Draft {
  fs::path path;
  explicit Draft(const std::string& text)
      : path(fs::temp_directory_path() / ("sidehill_rolling_" + std::to_string(getpid()) + ".toml")) {
    std::ofstream(path) << text;
  }
  ~Draft() { fs::remove(path); }
};

}  // namespace

TEST_CASE("the program answers every printed example from a file") {
  // Commission Delegated Regulation (EU) No 1322/2014, Annex IX, B4, examples 6.1 to 6.6.
  std::ifstream file(SIDEHILL_SOURCE_DIR "/tests/data/rolling_examples.json");
  const ReportJson examples = ReportJson::parse(file);
  for (const ReportJson& sample : examples.at("samples")) {
    std::string text;
    for (const auto& [key, value] : sample.at("input").items()) text += key + " = " + value.dump() + "\n";
    const Draft draft(text);
    const Said said = program("rolling-test '" + draft.path.string() + "' --json");
    CHECK(said.code == 0);
    const ReportJson answer = ReportJson::parse(said.out);
    const ReportJson &found = answer.at("velocities_rad_s"), &printed = sample.at("printed_blocks");
    REQUIRE(found.size() == printed.size());
    for (std::size_t b = 0; b < printed.size(); ++b) {
      REQUIRE(found[b].size() == 10);
      for (std::size_t i = 0; i < 10; ++i)
        CHECK_NEAR(found[b][i].get<double>(), printed[b].at("O" + std::to_string(i)).get<double>(), 0.0006);
    }
    const bool continues = sample.at("printed_verdict") == "THE TILTING CONTINUES";
    CHECK(answer.at("verdict") == (continues ? "continues" : "stops"));
    CHECK(answer.at("sequences").size() == printed.size());
  }
}

TEST_CASE("text and JSON say what they are and are not") {
  const RollingReport report = rolling_report("here", load_rolling_tractor(kExampleTractor));
  const std::string text = rolling_table(report);
  for (const char* words : {"THE ROLLING STOPS", "It is not a type approval", "B2: ", "B1: ", "O5", "needs", "38°",
                            "No slope is safe", "1322/2014", "slope 0.588 rad", "Mc"})
    CHECK_MESSAGE(text.find(words) != text.npos, words);
  const auto json = to_json(report);
  CHECK(json.at("verdict") == "stops");
  CHECK(json.at("constants").at("slope_rad") == 0.588);
  CHECK(json.at("constants").at("restitution") == 0.2);
  CHECK(json.at("constants").at("penetration_plus_deformation_m") == 0.2);
  CHECK(json.at("constants").at("gravity_m_s2") == 9.8);
  CHECK(json.at("tractor").at("H6") == 2.05);
  CHECK(json.at("stages").size() == 3 + 4 + 5);
  CHECK(json.at("lateral_stability").at("balance_tilt_deg").get<double>() > 38);
  CHECK(json.at("cautions").size() >= 3);
  CHECK(json.at("what_it_is_not").get<std::string>().find("type approval") != std::string::npos);
}

TEST_CASE("what the example says to try does what it says") {
  const RollingTractor t = load_rolling_tractor(kExampleTractor);
  CHECK(rolling_test(t).verdict == RollingVerdict::stops);
  RollingTractor changed = t;
  changed.H6 = 1.9;
  CHECK(rolling_test(changed).verdict == RollingVerdict::continues);
  changed = t, changed.L6 = 0.35;
  CHECK(rolling_test(changed).verdict == RollingVerdict::continues);
  changed = t, changed.L6 = -0.5;
  CHECK(rolling_test(changed).blocks.back().sequence == RollingSequence::b3_in_front);
}

TEST_CASE("not feasible is an answer, without velocities") {
  RollingTractor t = load_rolling_tractor(kExampleTractor);
  t.B7 = 2;
  const auto json = to_json(rolling_report("wide", t));
  CHECK(json.at("verdict") == "not_feasible");
  CHECK(json.at("velocities_rad_s").empty());
  CHECK(json.at("geometry").is_null());
  CHECK(rolling_table(rolling_report("wide", t)).find("NOT FEASIBLE") != std::string::npos);
}

TEST_CASE("the program: text, exit codes, one line for bad input") {
  const Said text = program("rolling-test '" + kExampleTractor + "'");
  CHECK(text.code == 0);
  CHECK(text.out.find("THE ROLLING STOPS") != text.out.npos);
  CHECK(program("--help").out.find("rolling-test") != std::string::npos);

  const Draft draft("H1 = 0.7\nH2 = 1\n");
  for (const std::string& arguments : {std::string("rolling-test"), "rolling-test '" + draft.path.string() + "'",
                                       std::string("rolling-test /nowhere.toml"), std::string("rolling-test /")}) {
    const Said said = program(arguments + " 2>&1 >/dev/null");
    CAPTURE(said.out);
    CHECK(said.code == 2);
    CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
    CHECK(program(arguments + " 2>/dev/null").out.empty());
  }
  CHECK(program("rolling-test '" + draft.path.string() + "' 2>&1").out.find(":2: H2: unknown key") !=
        std::string::npos);
}

TEST_CASE("the rolling data are no scene and stay out of the list of scenes") {
  CHECK(program("list scenes --json").out.find("narrow_tractor.toml") == std::string::npos);
}

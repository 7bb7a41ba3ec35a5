// The verb "card" from outside: what it refuses, what it writes, and that Ctrl-C leaves nothing behind.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "sim/base/text_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/program.h"

using namespace sidehill;

namespace {

const std::string kFirst = "'" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml' ";
const std::string kNoLoader = "--set vehicle_file=orchard_60kw --set ballast.loader_payload_kg=0 ";

std::string in_quotes(const std::filesystem::path& path) { return "'" + path.string() + "' "; }

}  // namespace

TEST_CASE(
    "card writes one PDF, says the worst first, prints the same numbers as JSON, and replaces with --force only") {
  const Folder folder;
  const std::filesystem::path file = folder / "card.pdf";
  const Said said = program("card " + kFirst + in_quotes(file) + kNoLoader);
  CHECK(said.code == 0);
  const std::string first = read_text(file);
  CHECK(first.substr(0, 4) == "%PDF");
  const Said again = program("card " + kFirst + in_quotes(file) + kNoLoader + "2>&1 >/dev/null </dev/null");
  CHECK(again.code == 2);
  CHECK(has(again.out, "is there already"));
  CHECK(read_text(file) == first);
  const Said json =
      program("card " + kFirst + in_quotes(file) + kNoLoader + "--json --force --units us --paper letter");
  CHECK(json.code == 0);
  const auto answer = nlohmann::json::parse(json.out);
  CHECK(answer["rows"].size() == 1);
  CHECK(said.out.starts_with(std::to_string(answer["worst"]["slope_deg"].get<int>()) + "° = "));
  CHECK(has(said.out, file.string()));
}

TEST_CASE("card refuses bad input in one line and writes nothing") {
  const Folder folder;
  const auto refused = [&](const std::string& arguments, const std::string& words) {
    const Said said = program("card " + arguments + " 2>&1 >/dev/null");
    CAPTURE(said.out);
    CHECK(said.code == 2);
    CHECK(has(said.out, words));
    CHECK(std::ranges::count(said.out, '\n') == 1);
  };
  refused(kFirst + in_quotes(folder / "card.png"), "give it a name in .pdf");
  refused(kFirst + in_quotes(folder / "no" / "card.pdf"), "card.pdf");
  refused(kFirst + in_quotes(folder / "card.pdf") + "--set ballast.rear.fill_fraction=2", "ballast.rear.fill_fraction");
  refused(kFirst + in_quotes(folder / "card.pdf") + "--paper a3", "--paper");
  CHECK(std::filesystem::is_empty(folder.path));
}

TEST_CASE("Ctrl-C stops a card within a second, with exit code 130 and no file") {
  const Folder folder;
  const std::string file = in_quotes(folder / "card.pdf");
  const std::string scene = "'" SIDEHILL_SOURCE_DIR "/scenes/bucket_up.toml' ";
  // The shell in the background ignores SIGINT for its own children, so a process of its own gets it.
  const Said said = shell("timeout --preserve-status -k 20 -s INT 0.4 '" SIDEHILL_PROGRAM "' card " + scene + file +
                          "2>&1; echo code $?");
  CAPTURE(said.out);
  CHECK(has(said.out, "code 130"));
  CHECK(has(said.out, "stopped, no file is written"));
  CHECK(std::filesystem::is_empty(folder.path));
}

// sheet, label and handout as they are met: what they write, and one clear line for what cannot be.
#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>

#include "sim/base/text_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/program.h"

using namespace sidehill;

namespace {

const std::string kFirst = "'" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml' ";

void check_page_refused(const std::string& arguments, const std::string& words) {
  const Said said = program(arguments + " 2>&1 >/dev/null");
  INFO(arguments, " said ", said.out);
  CHECK(said.code == 2);
  CHECK(has(said.out, words));
  CHECK(std::ranges::count(said.out, '\n') == 1);
}

}  // namespace

TEST_CASE("bad input to sheet, label and handout gives one line and exit code 2") {
  const Folder folder;
  const std::string pdf = "'" + (folder / "a.pdf").string() + "' ", txt = "'" + (folder / "a.txt").string() + "' ";
  for (const std::string verb : {"sheet ", "label "}) {
    check_page_refused(verb + kFirst + pdf + "--set ballast.rear.fill_fraction=0", "no tyre holds liquid");
    check_page_refused(verb + kFirst + pdf + "--axle middle", "--axle: middle not in {front,rear}");
    check_page_refused(verb + kFirst + pdf + "--axle front", "--axle front: its tyres hold no liquid, allowed rear");
    check_page_refused(verb + kFirst + txt, "is written as PDF, give it a name in .pdf");
    check_page_refused(verb + kFirst + pdf + "--paper a5", "a5 not in {a4,letter}");
    check_page_refused(verb + kFirst + pdf + "--units metric", "metric not in {si,kn,us}");
    check_page_refused(verb + "/nowhere.toml " + pdf, "/nowhere.toml");
    check_page_refused(verb + kFirst + pdf + "--set settings.filling_temperature_c=-35",
                       "settings.filling_temperature_c");
  }
  check_page_refused("sheet " + kFirst, "say where the filling sheet goes");
  check_page_refused("handout stump " + txt, "is written as PDF, give it a name in .pdf");
  check_page_refused("handout nosuch " + pdf, "there is none of that name or number");
  check_page_refused("handout stump " + pdf + "--set terrain.slope=3", "terrain.slope");
  CHECK(folder.files() == 0);
}

TEST_CASE("a page that is there is replaced with --force only") {
  const Folder folder;
  for (const std::string& verb : {"sheet " + kFirst, "label " + kFirst, std::string("handout side_slope ")}) {
    CAPTURE(verb);
    const std::string more = verb.starts_with("handout") ? " --no-picture" : "";
    const auto file = folder / "a.pdf";
    std::ofstream(file) << "my notes";
    check_page_refused(verb + "'" + file.string() + "'" + more, "is there already; --force replaces it");
    CHECK(read_text(file) == "my notes");
    const Said said = program(verb + "'" + file.string() + "' --force" + more);
    CHECK(said.code == 0);
    CHECK(said.out == file.string() + "\n");
    const std::string written = read_text(file);
    CHECK(written.substr(0, 4) == "%PDF");
    CHECK(program(verb + "'" + file.string() + "' --force --paper letter --units us" + more).code == 0);
    CHECK(read_text(file) != written);
    CHECK(program(verb + "'" + file.string() + "' --force" + more).code == 0);
    CHECK(read_text(file) == written);
  }
  CHECK(folder.files() == 1);
}

TEST_CASE("sheet --json prints the numbers of the page, in SI whatever the units, with or without a page") {
  const Folder folder;
  const Said alone = program("sheet " + kFirst + "--json");
  CHECK(alone.code == 0);
  const auto json = nlohmann::json::parse(alone.out);
  REQUIRE(json["axles"].size() == 1);
  CHECK(json["axles"][0]["axle"] == "rear");
  CHECK(json["axles"][0]["litres_both"].get<double>() > 100);
  CHECK(folder.files() == 0);
  const Said both = program("sheet " + kFirst + "'" + (folder / "a.pdf").string() + "' --json --units us");
  CHECK(both.out == alone.out);
  CHECK(folder.files() == 1);
  const auto two =
      nlohmann::json::parse(program("sheet " + kFirst + "--json --set ballast.front.fill_fraction=0.4").out);
  CHECK(two["axles"].size() == 2);
  const auto front = nlohmann::json::parse(
      program("sheet " + kFirst + "--json --axle front --set ballast.front.fill_fraction=0.4").out);
  REQUIRE(front["axles"].size() == 1);
  CHECK(front["axles"][0]["axle"] == "front");
}

TEST_CASE("a hand-out of a changed scene has the answer of the changed scene, or is refused") {
  const Folder folder;
  const std::string file = "'" + (folder / "a.pdf").string() + "' ";
  CHECK(program("handout 1 " + file + "--no-picture").code == 0);
  const std::string before = read_text(folder / "a.pdf");
  CHECK(program("handout 1 " + file + "--no-picture --force --set ballast.loader_payload_kg=100").code == 0);
  CHECK(read_text(folder / "a.pdf") != before);
}

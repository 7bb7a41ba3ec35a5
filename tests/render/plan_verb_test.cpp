// `sidehill plan` from outside: what it says first, JSON that agrees with the table, one line for bad input, Ctrl-C.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/program.h"
#include "tests/kit/share.h"

using namespace sidehill;

namespace {

const std::string kPlanScenes = std::string(SIDEHILL_SOURCE_DIR) + "/scenes/";
// In a checked build at two headings in place of 36.
const std::string kJob =
    std::string("first_slope.toml --set job_file=plough_heavy --set job.headings=") + (kShare > 1 ? "across" : "any");
const std::string kPlough = "plan " + kPlanScenes + kJob;

// What the program says of the plough's plan: worked out once.
const Said& plough_text() {
  static const Said said = program(kPlough);
  return said;
}

const nlohmann::json& plough_json() {
  static const auto json = nlohmann::json::parse(program(kPlough + " --json").out);
  return json;
}

std::string one_line(const std::string& text) {
  std::string out;
  for (const char c : text)
    if (c != '\n' && c != ' ')
      out += c;
    else if (!out.ends_with(' '))
      out += ' ';
  return out;
}

void write_text(const std::string& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

void refused(const std::string& arguments, const std::string& what, const std::string& allowed) {
  CAPTURE(arguments);
  const Said said = program(arguments + " 2>&1 >/dev/null");
  CAPTURE(said.out);
  CHECK(said.code == 2);
  CHECK(has(said.out, what));
  CHECK(has(said.out, allowed));
  CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
}

}  // namespace

TEST_CASE("the first line names what to choose, with its interval, and what it rests on that is not known") {
  const Said& said = plough_text();
  CHECK(said.code == 0);
  CHECK(said.out.starts_with("Choose: "));
  const std::string text = one_line(said.out);
  CHECK(has(text, "NOT KNOWN whether it keeps these limits"));
  CHECK(has(text, "As it is it BREAKS A LIMIT (rear axle carries at most what its maker allows)"));
  CHECK(has(text, "effort from our own estimates"));
  CHECK(has(text, "Frame up and belt on"));
  const auto& json = plough_json();
  CHECK(json.at("verdict") == "holds");
  CHECK(json.at("set_ups").size() >= 3);
  CHECK(json.at("set_ups").size() <= 7);
  for (const auto& set_up : json.at("set_ups")) {
    CHECK(has(text, set_up.at("name").get<std::string>()));
    CHECK(has(text, fmt::format("{:.1f}° = ", set_up.at("gives_way_deg").get<double>())));
    CHECK(set_up.at("gives_way_low_deg").get<double>() < set_up.at("gives_way_deg").get<double>());
  }
  CHECK(has(text, "Choose: " + json.at("set_ups")[0].at("name").get<std::string>()));
}

TEST_CASE("what --set of a set-up gives is what solve and ballast say of it") {
  const auto& first = plough_json().at("set_ups")[0];
  std::string sets;
  for (const auto& set : first.at("set")) sets += " --set " + set.get<std::string>();
  const std::string scene = kPlanScenes + kJob + sets;
  const auto ballast = nlohmann::json::parse(program("ballast " + scene + " --json").out);
  CHECK(std::abs(ballast.at("total_mass_kg").get<double>() - first.at("total_mass_kg").get<double>()) < 1e-6);
  if (!first.at("worse_drained").get<bool>())
    CHECK(std::abs(ballast.at("job_slope").at("gives_way_deg").get<double>() -
                   first.at("gives_way_deg").get<double>()) < 1e-6);
  if (!first.at("drained_before_frost").get<bool>())
    CHECK(ballast.at("breaks_limit") == !first.at("limits_broken").empty());
}

TEST_CASE("other wheels on hand are named, priced, and set by what --set says of them") {
  const Folder folder;
  const std::string job = (folder / "job.toml").string();
  write_text(job,
             "format = 1\nname = \"j\"\nwork = \"mowing_on_slopes\"\nsteepest_deg = 15\nheadings = \"across\"\n"
             "[[wheels]]\nname = \"hired pair\"\nfit = \"beside\"\ndual_spacing_m = 0.6\nprice_eur = 900\n");
  const std::string scene = kPlanScenes + "first_slope.toml --set job_file=" + job;
  const auto json = nlohmann::json::parse(program("plan " + scene + " --json").out);
  bool seen = false;
  for (const auto& set_up : json.at("set_ups")) {
    if (!has(set_up.at("name").get<std::string>(), "dual wheels (hired pair) on the rear axle")) continue;
    seen = true;
    CHECK(set_up.at("cost_eur") == 900);
    std::string sets;
    for (const auto& set : set_up.at("set")) sets += " --set '" + set.get<std::string>() + "'";
    const auto ballast = nlohmann::json::parse(program("ballast " + scene + sets + " --json").out);
    CHECK(std::abs(ballast.at("total_mass_kg").get<double>() - set_up.at("total_mass_kg").get<double>()) < 1e-6);
    CHECK(std::abs(ballast.at("job_slope").at("gives_way_deg").get<double>() -
                   set_up.at("gives_way_deg").get<double>()) < 1e-6);
  }
  CHECK(seen);
}

TEST_CASE("nothing possible is the first thing said, and --strict makes it exit code 4") {
  const std::string bale = "plan " + kPlanScenes + "bale_on_spike.toml --set job_file=hill_bale";
  const Said said = program(bale + " --strict");
  CHECK(said.code == 4);
  CHECK(said.out.starts_with("NOTHING ON HAND DOES IT"));
  CHECK(has(one_line(said.out), "LIMIT NOT MET, whatever is filled in or hung on: front axle carries"));
  const Said json = program(bale + " --json");
  CHECK(json.code == 0);
  CHECK(nlohmann::json::parse(json.out).at("verdict") == "nothing_possible");
}

TEST_CASE("bad questions are refused in one line") {
  refused("plan " + kPlanScenes + "first_slope.toml", "job.work = none", "job_file");
  refused(kPlough + " --best tallest", "--best", "lightest");
  refused(kPlough + " --left-deg -1", "--left-deg -1", "0 to 60");
  refused(kPlough + " --slip 1", "--slip 1", "0.001 to 0.999");
  refused(kPlough + " --best cheapest", "no price", "price_eur");
  const Folder folder;
  const std::string job = (folder / "job.toml").string();
  const auto with = [&](const std::string& more) {
    write_text(job, "format = 1\nname = \"j\"\nwork = \"light_pull\"\n" + more);
    return "plan " + kPlanScenes + "first_slope.toml --set job_file=" + job;
  };
  refused(with("[[medium]]\nmedium = \"water\"\n[[medium]]\nmedium = \"water\"\n"), "water is listed twice", "once");
  refused(with("[[medium]]\nmedium = \"water\"\nprice_low_eur_per_l = 2\nprice_high_eur_per_l = 1\n"), "price_low",
          "up to price_high");
  const Said empty = program(with(""));
  CHECK(empty.code == 0);
  CHECK(has(one_line(empty.out), "The job lists nothing on hand"));
}

TEST_CASE("Ctrl-C in the search gives what was found so far and exit code 130") {
  const Folder folder;
  const std::string job = (folder / "job.toml").string();
  std::string text = "format = 1\nname = \"much\"\nwork = \"light_pull\"\nsteepest_deg = 5\nheadings = \"any\"\n";
  for (const char* medium : {"water", "calcium_chloride", "propylene_glycol"})
    text += fmt::format("[[medium]]\nmedium = \"{}\"\n", medium);
  for (const char* place : {"front", "rear", "front_wheels", "rear_wheels"})
    text += fmt::format("[[weight]]\nname = \"{0}\"\nplace = \"{0}\"\nmass_kg = 20\npieces = 12\n", place);
  write_text(job, text);
  const Said said = shell("timeout --preserve-status -s INT 0.5 " SIDEHILL_PROGRAM " plan " + kPlanScenes +
                          "first_slope.toml --json --set job_file=" + job);
  CHECK(said.code == 130);
  const auto json = nlohmann::json::parse(said.out);
  CHECK(json.at("stopped") == true);
  CHECK(json.at("set_ups").size() >= 1);
}

TEST_CASE("a set-up is saved as a scene that gives the same answers, and nothing is replaced unasked") {
  const Folder folder;
  const std::string file = (folder / "plan.toml").string();
  const auto json = nlohmann::json::parse(program(kPlough + " --json --save " + file).out);
  const auto ballast = nlohmann::json::parse(program("ballast " + file + " --json").out);
  const auto& first = json.at("set_ups")[0];
  CHECK(std::abs(ballast.at("total_mass_kg").get<double>() - first.at("total_mass_kg").get<double>()) < 1e-6);
  CHECK(ballast.at("job").get<std::string>().starts_with("plough in heavy land"));
  refused(kPlough + " --save " + file + " </dev/null", "plan.toml", "--force");
  refused(kPlough + " --save " + file + "x", ".tomlx", ".toml");
  refused(kPlough + " --set-up 2", "--set-up", "--save");
  const std::string job = (folder / "job.toml").string();
  write_text(job, "format = 1\nname = \"j\"\nwork = \"light_pull\"\nsteepest_deg = 40\n");
  const std::string small = "plan " + kPlanScenes + "first_slope.toml --set job_file=" + job;
  refused(small + " --set-up 9 --save " + file, "--set-up 9", "1 to 7");
  refused(small + " --save " + (folder / "b.toml").string(), "no plan is possible", "--set-up 1");
  CHECK(folder.files() == 2);
}

// `sidehill grip` and `sidehill soil` from outside: JSON that agrees with the tables, one line for bad input.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/kit/cells.h"
#include "tests/kit/has.h"
#include "tests/kit/program.h"

using namespace sidehill;

namespace {

const std::string kGripSizes =
    "grip --width-m 0.467 --diameter-m 1.755 --section-height-m 0.395 --deflection-m 0.079 --cone-index-kpa 900 "
    "--load-kn 20";
const std::string kSoilSizes = "soil --width-m 0.467 --diameter-m 1.755 --pressure-kpa 100 --load-kn 26";

void check_one_line(const std::string& arguments, const std::string& option, const std::string& allowed) {
  CAPTURE(arguments);
  const Said said = program(arguments + " 2>&1 >/dev/null");
  CAPTURE(said.out);
  CHECK(said.code == 2);
  CHECK(has(said.out, option));
  CHECK(has(said.out, allowed));
  CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
  CHECK(program(arguments + " 2>/dev/null").out.empty());
}

nlohmann::json json_of(const std::string& arguments) {
  const Said said = program(arguments + " --json");
  CAPTURE(arguments);
  REQUIRE(said.code == 0);
  return nlohmann::json::parse(said.out);
}

}  // namespace

TEST_CASE("grip agrees with the table of the equations, and takes sizes in place of the mobility number") {
  const std::vector<CsvRow> rows = read_csv("job/traction_grid.csv");
  for (std::size_t i = 0; i < rows.size(); i += 17) {
    const CsvRow& row = rows[i];
    const auto json =
        json_of(fmt::format("grip --mobility {} --slip {} --tyre {}", row.at("Bn"), row.at("slip"), row.at("set")));
    check_relative(json.at("gross_traction_ratio").get<double>(), cell(row, "GTR"));
    check_relative(json.at("motion_resistance_ratio").get<double>(), cell(row, "MRR"));
    check_relative(json.at("net_traction_ratio").get<double>(), cell(row, "NTR"));
    check_relative(json.at("tractive_efficiency").get<double>(), cell(row, "TE"));
  }
  // Source: tests/data/job/mobility_number.csv, 18.4-38 at 20 kN and 900 kPa.
  check_relative(json_of(kGripSizes).at("mobility_number").get<double>(), 41.0182);
  const Said text = program(kGripSizes);
  CHECK(text.code == 0);
  CHECK(has(text.out, "check against the print"));
}

TEST_CASE("grip refuses bad input in one line that names the option") {
  check_one_line("grip", "--mobility is missing", "all six");
  check_one_line("grip --mobility 0", "--mobility 0", "allowed 0.1 to 10000");
  check_one_line("grip --mobility nan", "--mobility nan", "allowed 0.1 to 10000");
  check_one_line("grip --mobility 40 --slip 1", "--slip 1", "allowed 0 to 0.999");
  check_one_line("grip --mobility 40 --slip -0.1", "--slip -0.1", "allowed 0 to 0.999");
  check_one_line("grip --mobility 40 --tyre square", "--tyre \"square\"", "allowed bias or radial");
  check_one_line("grip --mobility 40 --load-kn 20", "--mobility", "not both");
  check_one_line("grip --width-m 0.4", "--diameter-m is missing", "all six");
  check_one_line("grip --mobility forty", "--mobility", "forty");
  const auto with = [](const std::string& from, const std::string& to) {
    std::string line = kGripSizes;
    const std::size_t at = line.find(from);
    REQUIRE(at != line.npos);
    return line.replace(at, from.size(), to);
  };
  check_one_line(with("kpa 900", "kpa 0"), "--cone-index-kpa 0", "allowed 10 to 20000 kPa");
  check_one_line(with("load-kn 20", "load-kn 0"), "--load-kn 0", "allowed 0.1 to 500 kN");
  check_one_line(with("deflection-m 0.079", "deflection-m 0.5"), "--deflection-m 0.5",
                 "allowed 0 to the section height");
  check_one_line(with("section-height-m 0.395", "section-height-m 0.9"), "--section-height-m 0.9",
                 "less than half the diameter");
}

TEST_CASE("soil agrees with the tables, for one depth and for the usual ones") {
  const std::vector<CsvRow> rows = read_csv("job/keller_stress_depth.csv");
  for (std::size_t i = 0; i < rows.size(); i += 11) {
    const CsvRow& row = rows[i];
    const auto json = json_of(fmt::format(
        "soil --width-m {} --diameter-m {} --pressure-kpa {} --recommended-kpa {} --load-kn {} --concentration {} "
        "--depth-m {}",
        row.at("w_m"), row.at("d_m"), row.at("p_kPa"), row.at("prec_kPa"), row.at("F_kN"), row.at("nu"),
        row.at("z_m")));
    check_relative(json.at("stress_kpa").get<double>(), cell(row, "sigma_z_kPa"), 0.02);
    CHECK(json.at("range") == "within");
  }
  const auto usual = json_of(kSoilSizes);
  CHECK(usual.at("stress_kpa").size() == 3);
  CHECK(usual.at("depths_m").size() == 3);
  CHECK(has(program(kSoilSizes).out, "stress at 50 cm"));
}

TEST_CASE("soil outside the range of its model gives null, and says so first") {
  const std::string light = "soil --width-m 0.65 --diameter-m 1.81 --pressure-kpa 160 --load-kn 11 --depth-m 0.3";
  CHECK(json_of(light).at("stress_kpa").is_null());
  CHECK(program(light).out.starts_with("Outside the range of the model"));
}

TEST_CASE("soil refuses bad input in one line that names the option") {
  check_one_line("soil", "--width-m", "required");
  const auto more = [](const std::string& words) { return kSoilSizes + " " + words; };
  check_one_line(more("--concentration 2"), "--concentration 2", "allowed 3 to 6");
  check_one_line(more("--concentration 7"), "--concentration 7", "allowed 3 to 6");
  check_one_line(more("--depth-m -0.1"), "--depth-m -0.1", "allowed 0 to 3 m");
  check_one_line(more("--recommended-kpa 0"), "--recommended-kpa 0", "allowed 20 to 1000 kPa");
  check_one_line("soil --width-m 0 --diameter-m 1.7 --pressure-kpa 100 --load-kn 20", "--width-m 0",
                 "allowed 0.1 to 1.5 m");
  check_one_line("soil --width-m 0.5 --diameter-m 1.7 --pressure-kpa 100 --load-kn inf", "--load-kn inf",
                 "allowed 0.1 to 200 kN");
}

TEST_CASE("a set-up of compare that changes nothing says so and why") {
  const std::string scene = "compare '" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml' ";
  const std::string dry = "--set ballast.rear.fill_fraction=0 ";
  const std::string same = program(scene + dry + "--with weights 2>&1 >/dev/null").out;
  CHECK(has(same, "--with weights: the scene has no liquid to replace"));
  CHECK(std::count(same.begin(), same.end(), '\n') == 1);
  CHECK(program(scene + "--with weights 2>&1 >/dev/null").out.empty());
}

TEST_CASE("the grip that slopes rest on is named, and a wet job on dry ground says so") {
  const std::string scene = "'" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml' ";
  const std::string wet = scene + "--set job_file=hill_bale ";
  for (const std::string& line : {"ballast " + wet, "compare " + wet + "--with nothing"}) {
    CAPTURE(line);
    std::string said = program(line).out;
    std::ranges::replace(said, '\n', ' ');
    said.erase(std::unique(said.begin(), said.end(), [](char a, char b) { return a == ' ' && b == ' '; }), said.end());
    CHECK(has(said, "Slopes rest on a grip of 0.60"));
    CHECK(has(said, "THE JOB SAYS WET"));
  }
  CHECK_FALSE(has(program("ballast " + wet + "--set job.wet=false").out, "THE JOB SAYS WET"));
  CHECK_FALSE(has(program("ballast " + wet + "--set terrain.soil.adhesion=0.3").out, "THE JOB SAYS WET"));
}

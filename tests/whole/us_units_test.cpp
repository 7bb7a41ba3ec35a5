// `--units us` on every verb that prints quantities: nothing metric is left, the numbers are those of the SI answer,
// columns line up, and what other programs read stays SI.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <regex>
#include <string>
#include <vector>

#include "render/page/report.h"
#include "render/text/words/columns.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/page_words.h"
#include "tests/kit/program.h"
#include "tests/kit/share.h"
#include "tests/kit/slope_words.h"

using namespace sidehill;

namespace {

const std::string kFolder = SIDEHILL_SOURCE_DIR "/scenes/";

// Every verb that prints quantities, over scenes that make it say what it seldom says.
const std::vector<std::string>& verb_lines() {
  static const std::vector<std::string> lines = {
      "solve SCENES/first_slope.toml --envelope --sensitivity",
      "solve SCENES/bucket_up.toml",
      "solve SCENES/bale_on_spike.toml",
      "solve SCENES/trailer_pushes.toml",
      "solve SCENES/wide_or_narrow.toml",
      "solve SCENES/first_slope.toml --set settings.temperature_c=-15 --set terrain.slope_deg=20",
      ("solve SCENES/first_slope.toml --set manoeuvre.turn_radius_m=8 --set manoeuvre.speed_kmh=20 --set "
       "manoeuvre.braking_m_per_s2=3"),
      "run SCENES/over_a_stump.toml",
      "run SCENES/trailer_pushes.toml",
      "run SCENES/turn_uphill.toml",
      "slope-limit SCENES/raised_while_driving.toml --over programme.speed_kmh=2:4:2",
      "ballast SCENES/first_slope.toml --set job_file=hill_bale",
      "compare SCENES/first_slope.toml --with nothing --with weights --set job_file=hill_bale",
      "loader SCENES/bucket_up.toml --steps 3",
      "loader SCENES/bale_on_spike.toml --steps 3",
      "weigh SCENES/weighing/utility_tractor.toml",
      "weigh --plan",
      "lesson stump --guess 2",
      "lesson side_slope --tell",
      "lesson wet_grass --tell",
      "lesson hole --tell",
      "lesson uphill_turn --tell",
      "lesson trailer_pushes --tell",
      "lesson stuck_wheels --tell",
      "lesson high_hitch --tell",
      "lesson raised_bucket --tell",
      "lesson raised_on_the_way --tell",
      "lesson water_or_cast_weights --tell",
      "lesson wide_or_narrow --tell",
      "rolling-test SCENES/rolling_test/narrow_tractor.toml",
      "fill 18.4-38 --medium calcium_chloride_3_5 --coldest-c -20 --tyres 2 --load-kg 2000 --price-eur-per-l 0.2:0.6",
      "fill 18.4-38 --medium own --own-density-kg-per-m3 1250 --own-first-ice-c -30 --coldest-c -20",
      "fill 18.4-38 --medium water --coldest-c -20 --fill 1 --load-kg 9000",
      "fill 7.50-16 --valve-clock 9 --load-kg 600 --pressure-kpa 220",
      ("grip --width-m 0.467 --diameter-m 1.755 --section-height-m 0.395 --deflection-m 0.079 --cone-index-kpa 900 "
       "--load-kn 20"),
      ("grip --width-m 0.467 --diameter-m 1.755 --section-height-m 0.395 --deflection-m 0.009 --cone-index-kpa 900 "
       "--load-kn 2"),
      "soil --width-m 0.467 --diameter-m 1.755 --pressure-kpa 100 --recommended-kpa 100 --load-kn 26",
      "soil --width-m 0.65 --diameter-m 1.81 --pressure-kpa 400 --load-kn 92 --depth-m 0.3",
      "machine --class utility_75kw --front-axle-kg 1710 --rear-axle-kg 2740 --rear-tyre 18.4R34 --rear-track-m 1.80",
      "list machines",
      "list jobs",
      "list tyres",
      "list media",
      "list media --tyre 18.4-38 --coldest-c -20 --price water=0.2..0.6"};
  return lines;
}

std::string in_scenes(std::string line) {
  for (std::size_t at = 0; (at = line.find("SCENES/", at)) != line.npos;) line.replace(at, 7, kFolder);
  return line;
}

// What the program says to a line; each is run once.
const Said& program_said(const std::string& line) {
  static std::map<std::string, Said> all;
  const auto at = all.find(line);
  return at != all.end() ? at->second : all.emplace(line, program(in_scenes(line))).first->second;
}

// Words on one line: where a paragraph is broken differs with the units.
std::string flat(const std::string& text) { return std::regex_replace(text, std::regex("\\s+"), " "); }

// The first metric unit left in words for people, with what stands around it; empty where there is none. Options, keys
// and files are no words: "--load-kg", "ballast.load.mass_kg", "utility_75kw.toml".
std::string metric_in(const std::string& text) {
  static const std::regex unit(
      "(^|[ "
      "(+~\"\\n])((kg|kPa|kN|km/h|kJ|litres?|mm|cm|kilograms?|millimetres?|tonnes?|kW|L|m2|m/s2?|kg/m3|kN/m2?|bar)"
      "(?![A-Za-z0-9_=])|[0-9.]+ (m|t|N|J|C|K)(?![A-Za-z0-9_/.=-]))");
  static const std::regex celsius("°C");
  std::smatch found;
  if (!std::regex_search(text, found, celsius) && !std::regex_search(text, found, unit)) return {};
  const auto at = static_cast<std::size_t>(found.position(0));
  return text.substr(at > 40 ? at - 40 : 0, 80);
}

// One measure in words: its number in SI and how coarsely it is said [SI].
struct Measure {
  double value = 0, step = 0;
};

// All of one unit in order; `factor` to SI. Thousands may be set apart.
std::vector<Measure> measures_in(const std::string& text, const std::string& unit, double factor, double offset = 0) {
  std::vector<Measure> all;
  const std::regex form("(^|[ (~!+=-])(-?[0-9]{1,3}(?:[ ,][0-9]{3})+|-?[0-9]+(?:\\.[0-9]+)?) " + unit +
                        "(?![A-Za-z0-9/]| m2| ft2| m/| s/| m s/| lbf)");
  for (std::sregex_iterator it(text.begin(), text.end(), form), end; it != end; ++it) {
    // A difference of temperatures has no offset: "+-1.5 °C", "7 °C to spare".
    const bool off = unit.starts_with("°") && ((*it)[1].str() == "+" || it->suffix().str().starts_with(" to spare"));
    if (off) continue;
    std::string number = (*it)[2].str();
    std::erase_if(number, [](char c) { return c == ' ' || c == ','; });
    const std::size_t point = number.find('.');
    const double step = point == number.npos ? 1 : std::pow(10.0, -static_cast<double>(number.size() - point - 1));
    all.push_back({std::strtod(number.c_str(), nullptr) * factor + offset, step * factor});
  }
  return all;
}

struct UnitPair {
  const char *si, *us;
  double si_factor, us_factor, si_offset = 0, us_offset = 0;
};
// Source: NIST SP 811 (2008) appendix B.8, typed in here anew.
constexpr UnitPair kPairs[] = {
    {"kg", "lb", 1, 0.45359237},       {"kN", "lbf", 1e3, 4.4482216152605},    {"kPa", "psi", 1e3, 6894.757293168},
    {"km/h", "mph", 1 / 3.6, 0.44704}, {"L", "gal", 1e-3, 3.785411784e-3},     {"mm", "in", 1e-3, 0.0254},
    {"cm", "in", 1e-2, 0.0254},        {"kJ", "ft lbf", 1e3, 1.3558179483314}, {"°C", "°F", 1, 5.0 / 9, 0, -160.0 / 9}};

}  // namespace

TEST_CASE("no verb leaves a metric unit in words for people, and columns keep apart") {
  for (std::size_t i = 0; i < verb_lines().size(); i += round_step()) {
    const std::string& line = verb_lines()[i];
    CAPTURE(line);
    const Said& us = program_said(line + " --units us");
    CHECK(us.code == program_said(line).code);
    CHECK(us.out.size() > 100);
    for (std::size_t at = 0; at < us.out.size();) {
      const std::size_t end = std::min(us.out.find('\n', at), us.out.size());
      const std::string one = us.out.substr(at, end - at);
      CAPTURE(one);
      CHECK(metric_in(one) == "");
      at = end + 1;
    }
    static const std::regex touching("[0-9] (ft )?(lb|in|lbf|psi|gal|mph)[0-9]");
    CHECK_FALSE(std::regex_search(us.out, touching));
  }
  // What the test looks for is there without the option, so it is able to fail.
  for (const char* line : {"solve SCENES/first_slope.toml", "list tyres", "list media", "fill 18.4-38", "weigh --plan",
                           "loader SCENES/bucket_up.toml --steps 2", "run SCENES/over_a_stump.toml",
                           "rolling-test SCENES/rolling_test/narrow_tractor.toml"})
    CHECK(metric_in(program(in_scenes(line)).out) != "");
}

TEST_CASE("no verb gives a slope of ground in degrees alone") {
  for (std::size_t i = 0; i < verb_lines().size(); i += round_step()) {
    CAPTURE(verb_lines()[i]);
    CHECK(slope_in_degrees_alone(program_said(verb_lines()[i]).out) == "");
  }
}

TEST_CASE("every number of the SI answer stands in the US one, converted") {
  std::array<std::size_t, std::size(kPairs)> compared{};
  for (std::size_t at_line = 0; at_line < verb_lines().size(); at_line += round_step()) {
    const std::string& line = verb_lines()[at_line];
    CAPTURE(line);
    const std::string si = flat(program_said(line).out), us = flat(program_said(line + " --units us").out);
    for (std::size_t i = 0; i < std::size(kPairs); ++i) {
      const UnitPair& pair = kPairs[i];
      const std::vector<Measure> want = measures_in(si, pair.si, pair.si_factor, pair.si_offset);
      const std::vector<Measure> have = measures_in(us, pair.us, pair.us_factor, pair.us_offset);
      CAPTURE(pair.si);
      // In the same order; the US text may have more of them: what is in metres or tonnes in SI.
      std::size_t at = 0;
      for (const Measure& number : want) {
        const auto fits = [&](const Measure& other) {
          return std::abs(other.value - number.value) <= 0.75 * number.step + 0.6 * other.step;
        };
        const std::size_t from = at;
        while (at < have.size() && !fits(have[at])) ++at;
        CAPTURE(number.value);
        CAPTURE(from);
        CHECK(at < have.size());
        if (at >= have.size()) break;
        ++at;
        ++compared[i];
      }
    }
  }
  for (std::size_t i = 0; i < std::size(kPairs); ++i) {
    CAPTURE(kPairs[i].si);
    if (kShare == 1) CHECK(compared[i] > 2);
  }
}

TEST_CASE("thousands are set apart wherever a number of US units stands") {
  static const std::regex together(
      "(^|[ (])[0-9]{4,} (lb|lbf|to [0-9,]+\\)|\\+-[0-9]+ lb)|\\(on air [0-9]{4,}\\)|to [0-9]{4,}\\)");
  for (const char* line :
       {"solve SCENES/first_slope.toml",
        "fill 18.4-38 --medium calcium_chloride_3_5 --coldest-c -20 --tyres 2 --load-kg 2000 --price-eur-per-l 0.2:0.6",
        "list media --tyre 18.4-38 --coldest-c -20 --price water=0.2..0.6"}) {
    CAPTURE(line);
    std::smatch found;
    const std::string us = program_said(std::string(line) + " --units us").out;
    CHECK(std::regex_search(us, std::regex("[0-9],[0-9]{3}")));
    CHECK_FALSE_MESSAGE(std::regex_search(us, found, together), found.str());
  }
}

TEST_CASE("an unknown system of units is refused in one line that names them") {
  for (const char* word : {"foo", "0", "US"}) {
    const Said said =
        shell("'" SIDEHILL_PROGRAM "' grip --mobility 40 --units " + std::string(word) + " 2>&1 >/dev/null");
    CAPTURE(said.out);
    CHECK(said.code == 2);
    CHECK(has(said.out, "--units: " + std::string(word) + " not in {si,kn,us}"));
    CHECK(std::ranges::count(said.out, '\n') == 1);
  }
}

// Two long ones of words and numbers alone: in the build that people run.
TEST_CASE("what other programs read is SI whatever the units" * doctest::skip(kShare > 1)) {
  const std::vector<std::string>& lines = verb_lines();
  for (std::size_t i = 0; i < lines.size(); i += round_step()) {
    const std::string& line = lines[i];
    if (line == "weigh --plan") continue;  // words only
    CAPTURE(line);
    const Said si = program(in_scenes(line) + " --json"), us = program(in_scenes(line) + " --json --units us");
    CHECK(si.out.size() > 50);
    CHECK(si.out == us.out);
  }
  for (const char* line : {"solve SCENES/first_slope.toml --csv", "run SCENES/over_a_stump.toml --csv",
                           "compare SCENES/first_slope.toml --with nothing --csv"}) {
    const Said si = program(in_scenes(line));
    CHECK(si.out.size() > 50);
    CHECK(si.out == program(in_scenes(line) + " --units us").out);
  }
}

TEST_CASE("tables line up in US units") {
  // A head of right-aligned columns, and how many rows below it must end where it does.
  struct Table {
    std::string line, head;
    std::vector<std::string> columns;
    int rows;
  };
  for (const Table& table :
       {Table{"solve SCENES/first_slope.toml", "Masses ", {"mass", "ahead", "left", "up", "front*", "rear*"}, 6},
        Table{"solve SCENES/bale_on_spike.toml",
              "With and without",
              {"mass", "ahead", "left", "up", "front*", "rear*"},
              4},
        Table{"list tyres", "size ", {"width", "diameter", "room", "75 % water", "marked", "carries", "up to"}, 20},
        Table{"list machines", "name ", {"power", "mass", "rear track"}, 5},
        Table{"list jobs", "job ", {"steepest", "coldest"}, 5}}) {
    CAPTURE(table.line);
    const std::string text = program(in_scenes(table.line) + " --units us").out;
    std::size_t at = text.find(table.head);
    REQUIRE(at != text.npos);
    std::vector<std::string> lines;
    for (int i = 0; i <= table.rows; ++i) {
      const std::size_t end = text.find('\n', at);
      REQUIRE(end != text.npos);
      lines.push_back(text.substr(at, end - at));
      at = end + 1;
    }
    for (const std::string& column : table.columns) {
      const std::size_t found = lines[0].find(" " + column);
      REQUIRE(found != text.npos);
      const std::size_t edge = found + 1 + column.size();
      for (std::size_t row = 1; row < lines.size(); ++row) {
        std::u32string cells;  // one for each column of the terminal
        for (const char c : lines[row])
          if ((static_cast<unsigned char>(c) & 0xC0) != 0x80)
            cells += static_cast<char32_t>(static_cast<unsigned char>(c));
        CAPTURE(column);
        CAPTURE(lines[row]);
        REQUIRE(cells.size() >= edge);
        CHECK(cells[edge - 1] != U' ');
        CHECK((cells.size() == edge || cells[edge] == U' '));
      }
    }
  }
}

TEST_CASE("words behind long US units begin in one column") {
  const std::string text =
      program("machine --class utility_75kw --front-axle-kg 1710 --rear-axle-kg 2740 --units us").out;
  CHECK(has(text, " ft lbf s/rad "));
  std::size_t column = 0, rows = 0;
  for (std::size_t at = text.find("  estimated  "); at != text.npos; at = text.find("  estimated  ", at + 1), ++rows) {
    const std::size_t here = at - text.rfind('\n', at);
    if (rows == 0) column = here;
    CHECK(here == column);
  }
  CHECK(rows > 30);
}

TEST_CASE("report and charts in US units leave nothing metric" * doctest::skip(kShare > 1)) {
  for (const char* name : {"first_slope", "bucket_up", "bale_on_spike", "trailer_pushes"}) {
    CAPTURE(name);
    const Scene scene = load_scene(kFolder + name + ".toml",
                                   std::vector<std::string>{"manoeuvre.turn_radius_m=8", "manoeuvre.speed_kmh=20"});
    const Answer found = with_reasons(with_uncertainty(answer(scene)));
    const std::string si = words_on(page::report_pages(found)),
                      us = words_on(page::report_pages(found, {}, text::Units::us));
    CHECK(metric_in(si) != "");
    CHECK(slope_in_degrees_alone(si) == "");
    for (std::size_t at = 0; at < us.size();) {
      const std::size_t end = us.find('\n', at);
      const std::string one = us.substr(at, end - at);
      CAPTURE(one);
      CHECK(metric_in(one) == "");
      at = end + 1;
    }
    CHECK(has(us, " lb"));
  }
  const Folder folder;
  for (const char* of : {"heading", "slopes", "why", "fills", "loads", "time"}) {
    const std::string file = (folder / (std::string(of) + ".svg")).string();
    const Said said = program(in_scenes("chart SCENES/over_a_stump.toml '" + file + "' --of " + of +
                                        " --units us --set "
                                        "ballast.front_weights_kg=2000"));
    REQUIRE(said.code == 0);
    const std::string svg = read_text(file);
    static const std::regex words(">([^<>]+)</text>");
    std::size_t texts = 0;
    std::string all;
    for (std::sregex_iterator it(svg.begin(), svg.end(), words), end; it != end; ++it, ++texts) {
      CAPTURE(of);
      CAPTURE((*it)[1].str());
      CHECK(metric_in((*it)[1].str()) == "");
      static const std::regex mark("[0-9]+°");  // of an axis
      if (!std::regex_match((*it)[1].str(), mark)) all += (*it)[1].str() + " ";
    }
    CHECK(slope_in_degrees_alone(all) == "");
    CHECK(texts > 5);
    if (std::string(of) == "loads") CHECK(has(svg, "[lb]"));
  }
}

TEST_CASE("a bale's density and its tolerance stand by the cubic foot") {
  const std::string us = program(in_scenes("solve SCENES/bale_on_spike.toml --sensitivity --units us")).out;
  std::size_t rows = 0;
  for (std::size_t at = 0; at < us.size();) {
    const std::size_t end = std::min(us.find('\n', at), us.size());
    const std::string row = us.substr(at, end - at);
    at = end + 1;
    if (!has(row, "ballast.bale.density_kg_per_m3")) continue;
    CAPTURE(row);
    CHECK(has(row, " lb/ft3"));
    CHECK_FALSE(has(row, "lb/gal"));
    ++rows;
  }
  CHECK(rows == 2);  // what is not known exactly; what one unit more changes
  const Answer found = answer(load_scene(kFolder + "bale_on_spike.toml"));
  const std::string page = flat(words_on(page::report_pages(found, {}, text::Units::us)));
  CHECK(std::regex_search(page, std::regex("density of the bale [^a-z]* lb/ft3")));
  CHECK_FALSE(std::regex_search(page, std::regex("density of the bale [^a-z]* lb/gal")));
}

TEST_CASE("a recording is read in the units asked for, moments too") {
  const Folder folder;
  const std::string file = (folder / "stump.run").string();
  REQUIRE(program(in_scenes("run SCENES/over_a_stump.toml --record '" + file + "'")).code == 0);
  for (const char* options : {"", " --at 1"}) {
    const std::string us = program("replay '" + file + "'" + options + " --units us").out;
    CAPTURE(us);
    CHECK(us.size() > 200);
    CHECK(metric_in(us) == "");
  }
  CHECK(has(program("replay '" + file + "' --at 1 --units us").out, " lbf\n"));
  CHECK(program("replay '" + file + "' --csv --units us").out == program("replay '" + file + "' --csv").out);
}

TEST_CASE("a column is as wide as its longest cell") {
  const std::vector<text::Column> columns{{6, false}, {5}, {5}};
  CHECK(text::lines_of_cells("", columns, {{"a", "1", "2"}, {"b", "12.3°", "4"}}) ==
        "a           1    2\nb       12.3°    4\n");
  CHECK(text::lines_of_cells("> ", columns, {{"words alone are no column"}, {"b", "1"}}) ==
        "> words alone are no column\n> b         1\n");
  CHECK(text::columns_of("12.3°") == 5);
}

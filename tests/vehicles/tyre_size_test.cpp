// Sizes read from a sidewall, and how well the room inside follows from them.
//
// How the rule for the room was found, and what it is worth. The chart prints "75 %, valve level", which are not quite
// the same: liquid up to the top of the rim fills 69 to 82 % of the room, more on large rims. The rule is a ring with
// tread and walls taken off; of its numbers one is fitted here, how much fuller a flat section is (0.33), by least
// squares over the 36 sizes, with the chart taken half-way between both readings. Widths, heights and treads are
// recalled design values. With all 36, over 25 L (32 sizes): all within the tolerance (8 % or 1.9 L) in both readings,
// root mean square error 3.9 % at 75 %, 2.4 % at rim level. By series at 75 %: 3.9 % for drive tyres (21 sizes), 4.2 %
// for low sections (6), 7.8 % for narrow fronts (9, mostly printed to a whole gallon out of two to ten). Fitted on one
// half and tried on the other, 200 random halves: within the tolerance for 97 % of the sizes over 25 L at 75 % and for
// all at rim level, root mean square error 4.1 %. The recalled values were not looked for anew on the halves, so the
// truth is a little worse. Metric and diameter-first sizes, and drive tyres on rims under 20 in, have no row here at
// all.
#include "vehicles/tyre_size.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "sim/base/constants.h"
#include "tests/kit/csv.h"
#include "tests/kit/near.h"
#include "vehicles/cavity.h"
#include "vehicles/tyre_library.h"

using namespace sidehill;

namespace {

// Fill at which the surface of an upright tyre stands at the top of the rim, where the valve is.
double rim_top_fill(const TyreSize& size) {
  const double rim = size.rim_diameter / 2;
  const Cavity cavity = cavity_of(size.overall_diameter / 2, rim, size.section_width, size.cavity_volume);
  double low = 0.5, high = 1;
  for (int i = 0; i < 40; ++i) {
    const double fill = (low + high) / 2;
    (liquid_place(cavity, fill, 0).level < rim ? low : high) = fill;
  }
  return (low + high) / 2;
}

constexpr double kRound = std::numbers::pi / 4;

struct ChartRow {
  TyreSize size;
  double volume = 0;    // printed [m3]
  double flatness = 0;  // 1 - section height over measured width [-], at least 0
  double round = 0;     // room if every section were as round as one that is as high as wide [m3]
  double rim_fill = 0;
};

// Source: printed US tyre liquid-fill chart, 36 of its sizes.
std::vector<ChartRow> chart() {
  std::vector<ChartRow> rows;
  for (const CsvRow& row : read_csv("liquid_fill_table.csv")) {
    ChartRow r;
    r.size = parse_tyre_size(row.at("tyre_size"));
    r.volume = std::stod(row.at("volume_L")) * 1e-3;
    const double aspect = (r.size.overall_diameter - r.size.rim_diameter) / 2 / r.size.measured_width;
    r.flatness = std::max(0.0, 1 - aspect);
    r.round = r.size.cavity_volume / section_fullness(aspect) * kRound;
    r.rim_fill = rim_top_fill(r.size);
    rows.push_back(r);
  }
  return rows;
}

bool within(double volume, double printed) { return std::abs(volume - printed) <= std::max(0.08 * printed, 1.9e-3); }

// Slope of the fullness over flatness: the one number of the rule that is fitted.
double fitted(const std::vector<ChartRow>& rows) {
  double xy = 0, xx = 0;
  for (const ChartRow& r : rows) {
    const double fullness = kRound * r.volume / std::sqrt(r.rim_fill * 0.75) / r.round;
    const double w =
        std::pow(std::max(0.03, 1.9e-3 / r.volume), -2);  // printed to a whole gallon: small ones are coarse
    xy += w * r.flatness * (fullness - kRound), xx += w * r.flatness * r.flatness;
  }
  return xy / xx;
}

std::string refusal_of_size(const std::string& text) {
  try {
    parse_tyre_size(text);
  } catch (const std::invalid_argument& e) {
    return e.what();
  }
  return "";
}

}  // namespace

TEST_CASE("printed fill volumes follow from the size") {
  std::map<SizeSeries, std::vector<double>> errors;
  int over_25 = 0, at_75 = 0, at_rim = 0;
  for (const ChartRow& r : chart()) {
    const double by_percent = 0.75 * r.size.cavity_volume, by_level = r.rim_fill * r.size.cavity_volume;
    errors[r.size.series].push_back(by_percent / r.volume - 1);
    if (r.volume <= 25e-3) continue;
    ++over_25;
    at_75 += within(by_percent, r.volume);
    at_rim += within(by_level, r.volume);
  }
  REQUIRE(over_25 >= 30);
  CHECK(at_75 >= 0.9 * over_25);
  CHECK(at_rim >= 0.9 * over_25);
  for (const auto& [series, list] : errors) {
    double mean = 0, square = 0;
    for (const double e : list) mean += e / static_cast<double>(list.size()), square += e * e;
    const double rms = std::sqrt(square / static_cast<double>(list.size()));
    const auto& this_series = series;
    const auto& this_list = list;
    MESSAGE("series " << static_cast<int>(this_series) << ": " << this_list.size() << " sizes, mean error "
                      << 100 * mean << " %, rms " << 100 * rms << " %");
    CHECK(rms < 0.1);
  }
}

TEST_CASE("honest number: the rule fitted on half of the chart holds on the other half") {
  std::vector<ChartRow> rows = chart();
  CHECK_NEAR(fitted(rows), 0.33, 0.005);  // the rule in the program is this fit and not a better one
  CHECK_NEAR(section_fullness(0.8) - section_fullness(0.9), 0.033, 1e-12);
  std::mt19937 random(7);
  int tried = 0, at_75 = 0, at_rim = 0;
  double square = 0;
  for (int split = 0; split < 200; ++split) {
    std::shuffle(rows.begin(), rows.end(), random);
    const auto half = static_cast<std::ptrdiff_t>(rows.size() / 2);
    const double slope = fitted({rows.begin(), rows.begin() + half});
    for (auto r = rows.begin() + half; r != rows.end(); ++r) {
      if (r->volume <= 25e-3) continue;
      const double room = (1 + slope * r->flatness / kRound) * r->round;
      ++tried;
      at_75 += within(0.75 * room, r->volume);
      at_rim += within(r->rim_fill * room, r->volume);
      square += std::pow(0.75 * room / r->volume - 1, 2);
    }
  }
  const double share_75 = static_cast<double>(at_75) / tried, share_rim = static_cast<double>(at_rim) / tried;
  MESSAGE("held-out halves: " << 100 * share_75 << " % within at 75 %, " << 100 * share_rim << " % at rim top, rms "
                              << 100 * std::sqrt(square / tried) << " %");
  CHECK(share_75 > 0.93);
  CHECK(share_rim > 0.93);
}

TEST_CASE("neither small nor large, high nor flat sections lie to one side of the chart") {
  // A rule that makes lugs and walls no deeper for a small tyre puts them all on one side.
  std::map<std::string, std::vector<double>> groups;
  for (const ChartRow& r : chart()) {
    if (r.volume <= 25e-3) continue;
    const double by_level = r.rim_fill * r.size.cavity_volume / r.volume - 1;
    const double inches = r.size.section_width / kInch;
    if (r.size.series == SizeSeries::drive)
      groups[inches < 12 ? "small lugged" : inches < 16 ? "middle lugged" : "large lugged"].push_back(by_level);
    else
      groups[r.size.series == SizeSeries::narrow_front ? "narrow front" : "low section"].push_back(by_level);
  }
  CHECK(groups.size() == 5);
  for (const auto& [name, errors] : groups) {
    const auto& this_name = name;
    CAPTURE(this_name);
    const auto& this_errors = errors;
    CAPTURE(this_errors.size());
    double mean = 0;
    for (const double e : errors) mean += e / static_cast<double>(errors.size());
    CHECK_NEAR(mean, 0, 0.035);
  }
}

TEST_CASE("two decimals name an older, narrower rim's width, tenths on the rim a low section") {
  // Source: design section width and diameter of UN R106, annex 5, as recalled [mm]; 7.50-16 as in the machine file.
  struct Design {
    const char* size;
    double width, diameter;
  };
  for (const Design& d : {Design{"6.00-16", 165, 735}, Design{"7.50-16", 205, 805}, Design{"9.00-16", 234, 855},
                          Design{"10.00-16", 274, 895}, Design{"11.00-16", 315, 965}}) {
    CAPTURE(d.size);
    const TyreSize size = parse_tyre_size(d.size);
    CHECK_NEAR(size.measured_width, d.width * 1e-3, 0.01 * size.measured_width);
    CHECK_NEAR(size.overall_diameter, d.diameter * 1e-3, 0.01 * size.overall_diameter);
  }
  // The older 11 and today's 12.4 are one tyre's width, as the double marking 12.4/11-28 says.
  CHECK_NEAR(parse_tyre_size("11.00-16").measured_width, parse_tyre_size("12.4/11-28").section_width, 1e-3);
  CHECK(parse_tyre_size("18.4-38").measured_width == parse_tyre_size("18.4-38").section_width);
  const TyreSize low = parse_tyre_size("18.4-16.1"), high = parse_tyre_size("18.4-24");
  CHECK(low.series == SizeSeries::low_section);
  CHECK(low.cavity_volume == parse_tyre_size("18.4L-16.1").cavity_volume);
  CHECK(low.overall_diameter - low.rim_diameter < 0.95 * (high.overall_diameter - high.rim_diameter));
  CHECK(parse_tyre_size("12.4-16").series == SizeSeries::drive);
  CHECK(parse_tyre_size("12-16.5").series == SizeSeries::drive);  // wide-base rims have half inches
  CHECK(parse_tyre_size("12.4-16").volume_uncertainty == 0.08);   // no size of the chart stands on such a rim
}

TEST_CASE("dimensions follow from the size within 2 % of design values") {
  // Source: tyre_dimensions.csv, recalled design values: a starting library, so a coarse check.
  int compared = 0;
  for (const CsvRow& row : read_csv("tyre_dimensions.csv")) {
    if (row.at("designation").find("OTR") != std::string::npos) continue;
    CAPTURE(row.at("designation"));
    const TyreSize size = parse_tyre_size(row.at("designation"));
    CHECK_NEAR(size.overall_diameter, std::stod(row.at("overall_diameter_mm")) * 1e-3, 0.015 * size.overall_diameter);
    CHECK_NEAR(size.section_width, std::stod(row.at("section_width_mm")) * 1e-3, 0.01 * size.section_width);
    CHECK_NEAR(size.rim_diameter, std::stod(row.at("rim_nominal_diameter_mm")) * 1e-3, 1e-4);
    ++compared;
  }
  CHECK(compared > 60);
}

TEST_CASE("every form is read") {
  const TyreSize drive = parse_tyre_size("18.4R38");
  CHECK(drive.series == SizeSeries::drive);
  CHECK(drive.radial);
  CHECK(drive.designation == "18.4R38");
  CHECK_FALSE(parse_tyre_size("18.4-38").radial);
  CHECK(parse_tyre_size("7.50-16").series == SizeSeries::narrow_front);
  CHECK(parse_tyre_size("14.9/13-28").section_width == doctest::Approx(14.9 * kInch));
  CHECK(parse_tyre_size("28LR26").series == SizeSeries::low_section);
  CHECK(parse_tyre_size("16.5L-16.1").rim_diameter == doctest::Approx(16.1 * kInch));

  const TyreSize metric = parse_tyre_size(" vf 480/70 r38  145D ");
  CHECK(metric.designation == "VF480/70R38");
  CHECK(metric.flexion == Flexion::very_high);
  // UN R106 par. 6.2: 38 x 25.4 + 2 x 0.70 x 480 = 1637.2 mm.
  CHECK_NEAR(metric.overall_diameter, 1.6372, 1e-9);
  REQUIRE(metric.service.has_value());
  CHECK(metric.service->load_index == 145);
  CHECK(metric.service->speed_symbol == "D");
  CHECK(parse_tyre_size("IF710/70R42").flexion == Flexion::improved);

  CHECK_NEAR(parse_tyre_size("600/50-22.5").overall_diameter, 22.5 * kInch + 0.6, 1e-9);
  CHECK_NEAR(parse_tyre_size("10.0/75-15.3").section_width, 0.254, 1e-9);
  const TyreSize garden = parse_tyre_size(
      "23\xC3\x97"
      "8.50-12 4PR");
  CHECK_NEAR(garden.overall_diameter, 23 * kInch, 1e-9);
  CHECK(garden.designation == "23x8.50-12");

  const TyreSize twice = parse_tyre_size("600/65R38 153A8/150D TL");
  CHECK(twice.service->load_index == 153);
  CHECK(twice.service->speed_symbol == "A8");
  CHECK(parse_tyre_size("18.4R38 146A8 (143B) R-1W").service->load_index == 146);
  CHECK_FALSE(parse_tyre_size("18.4-38 8PR").service.has_value());
}

TEST_CASE("a wrong size gets a hint at what it resembles") {
  const std::pair<const char*, const char*> slips[] = {
      {"18.4x38", "18.4-38"},       {"18,4-38", "18.4-38"},      {"18.4/38", "18.4-38"},
      {"184-38", "18.4-38"},        {"18.4 38", "18.4-38"},      {"38-18.4", "18.4-38"},
      {"480-70R38", "480/70R38"},   {"480/70/38", "480/70R38"},  {"480x70-38", "480/70-38"},
      {"23-8.50-12", "23x8.50-12"}, {"18.4-83", "18.4R38"},      {"VF480-70R38", "VF480/70R38"},
      {"480/07R38", "480/70R38"},   {"18.4-38 999D", "18.4-38"}, {"18.4-38 soft", "18.4-38"},
      {"18.40-38", "18.4-38"},      {"28L26", "28L-26"},
  };
  for (const auto& [typed, meant] : slips) {
    const std::string line = refusal_of_size(typed);
    const auto& this_typed = typed;
    CAPTURE(this_typed);
    CAPTURE(line);
    CHECK(line.find("did you mean " + std::string(meant) + "?") != std::string::npos);
    CHECK(line.find('"' + std::string(typed) + '"') != std::string::npos);
    CHECK(line.find("forms are") != std::string::npos);
    CHECK(line.find('\n') == std::string::npos);
  }
  for (const char* nonsense : {"", " ", "tractor", "-", "0-0", "1e99-38", "18.4-38-", "480/70R38R38", "\x01\xff",
                               "99.9-99", "5/300R3", "18.4-380", "2000/70R38"}) {
    CAPTURE(nonsense);
    CHECK(refusal_of_size(nonsense).starts_with("tyre size \""));
    CHECK_FALSE(is_tyre_size(nonsense));
  }
  CHECK(refusal_of_size("tractor").find("did you mean") == std::string::npos);
  CHECK(refusal_of_size(std::string(100000, '1')).size() < 500);
  CHECK(refusal_of_size("18.4\n-38x").find('\n') == std::string::npos);
}

TEST_CASE("any text at all is read or refused, and what is read is a wheel") {
  std::mt19937 random(3);
  const std::string letters = "0123456789.-/xXRLIFV A8D()PR";
  int read = 0;
  for (int i = 0; i < 20000; ++i) {
    std::string text = i % 2 ? "480/70R38 145D" : "18.4-38";
    for (unsigned n = random() % 4; n-- > 0;) text[random() % text.size()] = letters[random() % letters.size()];
    try {
      const TyreSize size = parse_tyre_size(text);
      CAPTURE(text);
      REQUIRE(size.cavity_volume > 0);
      REQUIRE(size.cavity_volume < 5);
      REQUIRE(size.overall_diameter > size.rim_diameter);
      ++read;
    } catch (const std::invalid_argument&) {
    }
  }
  CHECK(read > 1000);
}

TEST_CASE("room inside: no ring, no room") {
  constexpr SizeSeries drive = SizeSeries::drive;
  CHECK(tyre_cavity_volume(drive, 0.467, 0.9, 0.9652) == 0);
  CHECK(tyre_cavity_volume(drive, -1, 1.7, 0.9652) == 0);
  CHECK(tyre_cavity_volume(drive, std::nan(""), 1.7, 0.9652) == 0);
  CHECK(tyre_cavity_volume(drive, 0.467, 0.99, 0.9652) == 0);  // thinner than its tread
  CHECK(tyre_cavity_volume(drive, 0.01, 1.7, 0.9652) == 0);    // narrower than its walls
  // By hand: 0.4 m wide, 1.6 on 0.9 m, lugs and casing 18 mm + 0.063 x 0.4, walls twice 6 mm + 0.01 x 0.4.
  const double outer = 0.8 - 0.018 - 0.0252, width = 0.4 - 0.02, full = std::numbers::pi / 4 + 0.33 * (1 - 0.875);
  CHECK_NEAR(tyre_cavity_volume(drive, 0.4, 1.6, 0.9), full * std::numbers::pi * (outer * outer - 0.45 * 0.45) * width,
             1e-9);
  CHECK(tyre_cavity_volume(SizeSeries::narrow_front, 0.2, 0.8, 0.4) > tyre_cavity_volume(drive, 0.2, 0.8, 0.4));
  // A circle as high as wide fills pi/4 of its square.
  CHECK_NEAR(section_fullness(1), std::numbers::pi / 4, 1e-12);
  CHECK(section_fullness(1.2) == section_fullness(1));
  CHECK(section_fullness(0.3) == 0.90);
}

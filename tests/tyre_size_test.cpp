// Sizes read from a sidewall, and how well the room inside follows from them.
//
// How the rule for the room was found, and what it is worth. The chart prints "75 %, valve level", which are not quite
// the same: liquid up to the top of the rim fills 69 to 82 % of the room, more on large rims. The two numbers of the
// rule, k = 0.613 + 0.0033 S, are a least-squares fit over the 36 sizes here, with the chart taken half-way between
// both readings. With all 36: root mean square error of the 75 % reading 3.7 % for drive tyres (21 sizes), 3.2 % for L
// sizes (6), 7.5 % for narrow fronts (9, mostly printed to a whole gallon out of two to ten). Fitted on one half and
// tried on the other, 200 random halves: within the tolerance (8 % or 1.9 L) for 96 % of the sizes over 25 L at 75 %
// and for 97 % at rim level, root mean square error 4.4 %. The section heights are recalled design dimensions and were
// not refitted on the halves, so the truth is a little worse. Metric and diameter-first sizes have no row here at all.
#include "vehicles/tyre_size.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "tests/csv.h"
#include "tests/near.h"
#include "vehicles/cavity.h"
#include "vehicles/tyre_library.h"
#include "vehicles/units.h"

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

struct ChartRow {
  TyreSize size;
  double volume = 0;   // printed [m3]
  double annulus = 0;  // pi/4 (D^2 - d^2) S [m3]
  double rim_fill = 0;
};

// Source: printed US tyre liquid-fill chart, 36 of its sizes.
std::vector<ChartRow> chart() {
  std::vector<ChartRow> rows;
  for (const CsvRow& row : read_csv("liquid_fill_table.csv")) {
    ChartRow r;
    r.size = parse_tyre_size(row.at("tyre_size"));
    r.volume = std::stod(row.at("volume_L")) * 1e-3;
    const double outer = r.size.overall_diameter, rim = r.size.rim_diameter;
    r.annulus = std::numbers::pi / 4 * (outer * outer - rim * rim) * r.size.section_width;
    r.rim_fill = rim_top_fill(r.size);
    rows.push_back(r);
  }
  return rows;
}

bool within(double volume, double printed) { return std::abs(volume - printed) <= std::max(0.08 * printed, 1.9e-3); }

struct Line {
  double at_zero = 0, per_inch = 0;
};
Line fitted(const std::vector<ChartRow>& rows) {
  double w0 = 0, wx = 0, wy = 0, wxx = 0, wxy = 0;
  for (const ChartRow& r : rows) {
    const double x = r.size.section_width / kInch;
    const double y = r.volume / std::sqrt(r.rim_fill * 0.75) / r.annulus;
    const double w =
        std::pow(std::max(0.04, 1.9e-3 / r.volume), -2);  // printed to a whole gallon: small ones are coarse
    w0 += w, wx += w * x, wy += w * y, wxx += w * x * x, wxy += w * x * y;
  }
  const double slope = (w0 * wxy - wx * wy) / (w0 * wxx - wx * wx);
  return {(wy - slope * wx) / w0, slope};
}

std::string refusal(const std::string& text) {
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
    MESSAGE("series " << static_cast<int>(series) << ": " << list.size() << " sizes, mean error " << 100 * mean
                      << " %, rms " << 100 * rms << " %");
    CHECK(rms < 0.1);
  }
}

TEST_CASE("honest number: the rule fitted on half of the chart holds on the other half") {
  std::vector<ChartRow> rows = chart();
  const Line all = fitted(rows);
  CHECK_NEAR(all.at_zero, 0.613, 0.006);  // the rule in the program is this fit and not a better one
  CHECK_NEAR(all.per_inch, 0.0033, 0.0004);
  std::mt19937 random(7);
  int tried = 0, at_75 = 0, at_rim = 0;
  double square = 0;
  for (int split = 0; split < 200; ++split) {
    std::shuffle(rows.begin(), rows.end(), random);
    const auto half = static_cast<std::ptrdiff_t>(rows.size() / 2);
    const Line line = fitted({rows.begin(), rows.begin() + half});
    for (auto r = rows.begin() + half; r != rows.end(); ++r) {
      if (r->volume <= 25e-3) continue;
      const double room = (line.at_zero + line.per_inch * r->size.section_width / kInch) * r->annulus;
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

TEST_CASE("a wrong size is told what it resembles") {
  const std::pair<const char*, const char*> slips[] = {
      {"18.4x38", "18.4-38"},       {"18,4-38", "18.4-38"},      {"18.4/38", "18.4-38"},
      {"184-38", "18.4-38"},        {"18.4 38", "18.4-38"},      {"38-18.4", "18.4-38"},
      {"480-70R38", "480/70R38"},   {"480/70/38", "480/70R38"},  {"480x70-38", "480/70-38"},
      {"23-8.50-12", "23x8.50-12"}, {"18.4-83", "18.4R38"},      {"VF480-70R38", "VF480/70R38"},
      {"480/07R38", "480/70R38"},   {"18.4-38 999D", "18.4-38"}, {"18.4-38 soft", "18.4-38"},
      {"18.40-38", "18.4-38"},      {"28L26", "28L-26"},
  };
  for (const auto& [typed, meant] : slips) {
    const std::string line = refusal(typed);
    CAPTURE(typed);
    CAPTURE(line);
    CHECK(line.find("did you mean " + std::string(meant) + "?") != std::string::npos);
    CHECK(line.find('"' + std::string(typed) + '"') != std::string::npos);
    CHECK(line.find("forms are") != std::string::npos);
    CHECK(line.find('\n') == std::string::npos);
  }
  for (const char* nonsense : {"", " ", "tractor", "-", "0-0", "1e99-38", "18.4-38-", "480/70R38R38", "\x01\xff",
                               "99.9-99", "5/300R3", "18.4-380", "2000/70R38"}) {
    CAPTURE(nonsense);
    CHECK(refusal(nonsense).starts_with("tyre size \""));
    CHECK_FALSE(is_tyre_size(nonsense));
  }
  CHECK(refusal("tractor").find("did you mean") == std::string::npos);
  CHECK(refusal(std::string(100000, '1')).size() < 500);
  CHECK(refusal("18.4\n-38x").find('\n') == std::string::npos);
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
  CHECK(tyre_cavity_volume(0.467, 0.9, 0.9652) == 0);
  CHECK(tyre_cavity_volume(-1, 1.7, 0.9652) == 0);
  CHECK(tyre_cavity_volume(std::nan(""), 1.7, 0.9652) == 0);
  CHECK_NEAR(tyre_cavity_volume(0.4, 1.6, 0.9),
             (0.613 + 0.0033 * 0.4 / kInch) * std::numbers::pi / 4 * (1.6 * 1.6 - 0.9 * 0.9) * 0.4, 1e-9);
}

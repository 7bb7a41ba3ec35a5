// Size designations read (see tyre_size.h).
#include "vehicles/tyre_size.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <regex>
#include <span>
#include <stdexcept>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr const char* kForms =
    "forms are 18.4-38 or 18.4R38 (inches), 480/70R38 (metric, IF or VF before it), 28L-26, 600/50-22.5, 23x8.50-12; "
    "behind it, if known, load index and speed symbol as 145D";

// Section height over nominal width, by nominal width [in]; linear between, held beyond the ends.
// Source: design dimensions of UN R106 and US tables as recalled: our reading, not a copy of any table.
struct Height {
  double width, ratio;
};
constexpr std::array<Height, 9> kDrive{{{7.2, 0.93},
                                        {9.5, 0.913},
                                        {11.2, 0.874},
                                        {14.9, 0.864},
                                        {16.9, 0.844},
                                        {18.4, 0.844},
                                        {20.8, 0.823},
                                        {23.1, 0.802},
                                        {24.5, 0.795}}};
constexpr std::array<Height, 6> kNarrowFront{
    {{4.0, 1.10}, {6.0, 1.07}, {7.5, 1.05}, {9.0, 0.98}, {10.0, 0.962}, {11.0, 1.0}}};
constexpr std::array<Height, 8> kLowOnSmallRim{
    {{7.5, 0.96}, {9.5, 0.80}, {11.0, 0.73}, {12.5, 0.74}, {14.0, 0.80}, {16.5, 0.785}, {19.0, 0.78}, {21.5, 0.745}}};
constexpr std::array<Height, 5> kLowOnLargeRim{
    {{14.0, 0.75}, {17.5, 0.723}, {21.0, 0.722}, {28.0, 0.665}, {30.5, 0.65}}};

// Measured over nominal width, by nominal width [in]. Two decimals name the width on the narrow rims of long ago; an 11
// of that marking measures what is called 12.4 today, as 12.4/11-28 says. One decimal names the width as it measures.
// Source: design widths of UN R106 (112, 150, 205, 234, 274, 315 mm) as recalled: our estimate.
constexpr std::array<Height, 6> kFrontWidth{
    {{4.0, 1.10}, {5.5, 1.075}, {7.5, 1.076}, {9.0, 1.024}, {10.0, 1.079}, {11.0, 1.127}}};
constexpr std::array<Height, 2> kLowWidth{{{7.5, 1.09}, {9.5, 1.0}}};  // 7.5L-15 measures 208 mm (recalled)

double height_ratio(std::span<const Height> table, double width) {
  if (width <= table.front().width) return table.front().ratio;
  for (std::size_t i = 1; i < table.size(); ++i) {
    const Height &a = table[i - 1], &b = table[i];
    if (width <= b.width) return std::lerp(a.ratio, b.ratio, (width - a.width) / (b.width - a.width));
  }
  return table.back().ratio;
}

double inch_height_ratio(SizeSeries series, double width, double rim) {
  if (series == SizeSeries::narrow_front) return height_ratio(kNarrowFront, width);
  if (series == SizeSeries::low_section) {
    return rim < 20 ? height_ratio(kLowOnSmallRim, width) : height_ratio(kLowOnLargeRim, width);
  }
  if (width == 15.5) return 0.768;                                        // 15.5-38, the one low drive section
  if (width == std::floor(width) && rim != std::floor(rim)) return 0.70;  // 10-16.5, 12-16.5: wide-base rims
  return height_ratio(kDrive, width);
}

double width_ratio(SizeSeries series, double width) {
  if (series == SizeSeries::narrow_front) return height_ratio(kFrontWidth, width);
  return series == SizeSeries::low_section ? height_ratio(kLowWidth, width) : 1.0;
}

// Rims whose diameter has tenths but no half (15.3, 16.1) are made for implement and low-section tyres alone.
bool low_section_rim(double rim) {
  const double rest = rim - std::floor(rim);
  return rest > 0.05 && std::abs(rest - 0.5) > 0.05;
}

// Fit of chart volumes scatters by 4 % (drive); the rest of the series, and drive tyres on rims under 20 in, rest on
// fewer or no rows of it.
double volume_uncertainty(SizeSeries series, double rim_diameter) {
  switch (series) {
    case SizeSeries::drive:
      return rim_diameter < 20 * kInch ? 0.08 : 0.05;
    case SizeSeries::narrow_front:
    case SizeSeries::low_section:
      return 0.08;
    case SizeSeries::aspect:
    case SizeSeries::diameter:
      return 0.10;
  }
  return 0.10;
}

// Lug or rib and what lies under it, from the outside to the room inside: `least` [m] and a share of the section width.
// Source: depths of regular lugs (23 mm at 9.5, 38 mm at 20.8 in) and ribs (10 mm at 4, 20 mm at 10 in) as recalled
// from US design standards, and 6 to 14 mm of casing: our estimate.
struct Tread {
  double least, by_width;
};
Tread tread_of(SizeSeries series) {
  switch (series) {
    case SizeSeries::narrow_front:
      return {0.011, 0.071};
    case SizeSeries::low_section:  // industrial lugs and ribs, three quarters as deep
    case SizeSeries::diameter:
      return {0.016, 0.053};
    case SizeSeries::drive:
    case SizeSeries::aspect:
      return {0.018, 0.063};
  }
  return {0.018, 0.063};
}

// Upper case, single blanks, the multiplication sign as X, a dash of any length as '-'.
std::string tidy(std::string_view text) {
  std::string s(text);
  const auto replace = [&s](std::string_view from, std::string_view to) {
    for (std::size_t at = s.find(from); at != std::string::npos; at = s.find(from, at + to.size())) {
      s = s.substr(0, at).append(to).append(s, at + from.size());
    }
  };
  replace("\xC3\x97", "X");
  replace("\xE2\x80\x93", "-");
  replace("\xE2\x80\x91", "-");
  std::string out;
  for (const char c : s) {
    const auto u = static_cast<unsigned char>(c);
    if (std::isspace(u)) {
      if (!out.empty() && out.back() != ' ') out += ' ';
    } else {
      out += static_cast<char>(std::toupper(u));
    }
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

double number(const std::ssub_match& match) { return std::stod(match.str()); }

// What stands behind the size. False with a reason for a word that is neither a service description nor a common mark.
bool read_marks(const std::string& rest, TyreSize& size, std::string& why) {
  static const std::regex service(
      R"(^[ (]*(\d{1,3}) ?(A[1-8]|[B-HJ-NP-WY])(/\d{1,3}(A[1-8]|[B-HJ-NP-WY]))?\)?(?= |\(|$))");
  static const std::regex mark(
      R"(^ *(\d{1,2} ?PR|TL|TT|NHS|IMP|IND|CFO|CHO|NRO|R-?[1-4]W?|F-?[123]|I-?[13]|\*{1,3})(?= |$))");
  std::string left = rest;
  std::smatch m;
  while (!left.empty() && left != " ") {
    if (std::regex_search(left, m, mark)) {
    } else if (std::regex_search(left, m, service)) {
      const int index = std::stoi(m[1].str());
      if (index > kMaxLoadIndex) {
        why = "load index " + m[1].str() + " is above " + std::to_string(kMaxLoadIndex);
        return false;
      }
      if (!size.service) size.service = Service{index, m[2].str()};
    } else {
      why = "\"" + left.substr(left.front() == ' ' ? 1 : 0) + "\" behind the size is not understood";
      return false;
    }
    left = m.suffix().str();
  }
  return true;
}

// True if the sizes make a wheel; else says which number does not.
bool plausible(const TyreSize& size, std::string& why) {
  const double width = size.section_width, rim = size.rim_diameter;
  const double height = (size.overall_diameter - rim) / 2;
  if (!(width >= 0.075 && width <= 1.3)) {
    why = "a width of " + std::to_string(std::lround(width * 1000)) + " mm is outside 75 to 1300 mm";
  } else if (!(rim >= 4 * kInch && rim <= 60 * kInch)) {
    why = "a rim of " + std::to_string(std::lround(rim / kInch)) + " in is outside 4 to 60 in";
  } else if (!(height >= 0.2 * width && height <= 1.3 * width)) {
    why = "a section " + std::to_string(std::lround(height * 1000)) + " mm high and " +
          std::to_string(std::lround(width * 1000)) + " mm wide is no tyre's";
  } else if (!(rim >= 0.28 * size.overall_diameter && size.overall_diameter <= 2.6)) {
    why = "tyre and rim do not go together";
  } else {
    return true;
  }
  return false;
}

std::optional<TyreSize> read(std::string_view text, std::string& why) {
  static const std::regex aspect_form(
      R"(^(IF|VF)? ?(\d{2,4}(\.\d{1,2})?) ?/ ?(\d{2,3}) ?([-RDB]) ?(\d{1,2}(\.\d)?)(?![\d.]))");
  static const std::regex inch_form(R"(^(\d{1,2}(\.\d{1,2})?) ?(L?)(/\d{1,2})? ?([-R]) ?(\d{1,2}(\.\d)?)(?![\d.]))");
  static const std::regex diameter_form(
      R"(^(\d{2}(\.\d{1,2})?) ?X ?(\d{1,2}(\.\d{1,2})?) ?([-R]) ?(\d{1,2}(\.\d)?)(?![\d.]))");
  const std::string s = text.size() <= 80 ? tidy(text) : std::string();
  TyreSize size;
  std::smatch m;
  if (std::regex_search(s, m, aspect_form) && number(m[4]) >= 25) {
    const double width = number(m[2]), aspect = number(m[4]) / 100;
    if (m[1].matched) size.flexion = m[1].str() == "IF" ? Flexion::improved : Flexion::very_high;
    size.series = SizeSeries::aspect;
    size.radial = m[5].str() == "R";
    size.section_width = width * (width < 60 ? kInch : 1e-3);
    size.rim_diameter = number(m[6]) * kInch;
    size.overall_diameter = size.rim_diameter + 2 * aspect * size.section_width;
    if (aspect > 1.05) {
      why = "an aspect of " + m[4].str() + " is outside 25 to 105";
      return std::nullopt;
    }
    size.designation = m[1].str() + m[2].str() + "/" + m[4].str() + m[5].str() + m[6].str();
  } else if (std::regex_search(s, m, inch_form)) {
    const double width = number(m[1]), rim = number(m[6]);
    const bool two_decimals = m[2].length() == 3;
    size.series = m[3].length() > 0      ? SizeSeries::low_section
                  : two_decimals         ? SizeSeries::narrow_front
                  : low_section_rim(rim) ? SizeSeries::low_section
                                         : SizeSeries::drive;
    if (size.series == SizeSeries::narrow_front && width > 14) {
      why = "two decimals mark narrow front tyres, none as wide as this";
      return std::nullopt;
    }
    size.radial = m[5].str() == "R";
    size.section_width = width * kInch;
    size.rim_diameter = rim * kInch;
    size.overall_diameter = (rim + 2 * inch_height_ratio(size.series, width, rim) * width) * kInch;
    size.designation = m[1].str() + m[3].str() + m[4].str() + m[5].str() + m[6].str();
  } else if (std::regex_search(s, m, diameter_form)) {
    size.series = SizeSeries::diameter;
    size.radial = m[5].str() == "R";
    size.overall_diameter = number(m[1]) * kInch;
    size.section_width = number(m[3]) * kInch;
    size.rim_diameter = number(m[6]) * kInch;
    size.designation = m[1].str() + "x" + m[3].str() + m[5].str() + m[6].str();
  } else {
    return std::nullopt;
  }
  if (!plausible(size, why) || !read_marks(m.suffix().str(), size, why)) return std::nullopt;
  size.measured_width = size.section_width * width_ratio(size.series, size.section_width / kInch);
  size.cavity_volume = tyre_cavity_volume(size.series, size.measured_width, size.overall_diameter, size.rim_diameter);
  size.volume_uncertainty = volume_uncertainty(size.series, size.rim_diameter);
  return size;
}

// Short and printable, whatever was typed.
std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text.substr(0, 40)) out += static_cast<unsigned char>(c) < 32 || c == 127 ? '?' : c;
  return out + (text.size() > 40 ? "...\"" : "\"");
}

}  // namespace

double section_fullness(double aspect) {
  constexpr double kSlope = 0.33;  // our estimate, fitted (see the header)
  return std::min(kPi / 4 + kSlope * std::max(0.0, 1 - aspect), 0.90);
}

double tyre_cavity_volume(SizeSeries series, double section_width, double overall_diameter, double rim_diameter) {
  if (!(section_width > 0) || !(rim_diameter >= 0) || !(overall_diameter > rim_diameter)) return 0;
  const Tread tread = tread_of(series);
  const double inner = rim_diameter / 2;
  const double outer = overall_diameter / 2 - tread.least - tread.by_width * section_width;
  const double width = section_width - 2 * (0.006 + 0.01 * section_width);  // side walls: our estimate
  if (!(outer > inner) || !(width > 0)) return 0;
  const double aspect = (overall_diameter - rim_diameter) / 2 / section_width;
  return section_fullness(aspect) * kPi * (outer * outer - inner * inner) * width;
}

std::optional<TyreSize> read_tyre_size(std::string_view text) {
  std::string why;
  return read(text, why);
}

bool is_tyre_size(std::string_view text) { return read_tyre_size(text).has_value(); }

TyreSize parse_tyre_size(std::string_view text) {
  std::string why;
  if (const std::optional<TyreSize> size = read(text, why)) return *size;
  const std::string resembles = resembling_tyre_size(text);
  std::string line = "tyre size " + quoted(text) + ": ";
  if (!why.empty()) line += why + "; ";
  if (!resembles.empty()) line += "did you mean " + resembles + "? ";
  throw std::invalid_argument(line + kForms);
}

}  // namespace sidehill

// Load indices, speed symbols and the tyre's air (see load_index.h).
#include "vehicles/load_index.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace sidehill {
namespace {

// [kg], by index from 0.
constexpr std::array<double, kMaxLoadIndex + 1> kMass{
    45,   46.2,  47.5,  48.7,  50,    51.5,  53,    54.5,  56,    58,    60,    61.5,  63,    65,   67,   69,   71,
    73,   75,    77.5,  80,    82.5,  85,    87.5,  90,    92.5,  95,    97.5,  100,   103,   106,  109,  112,  115,
    118,  121,   125,   128,   132,   136,   140,   145,   150,   155,   160,   165,   170,   175,  180,  185,  190,
    195,  200,   206,   212,   218,   224,   230,   236,   243,   250,   257,   265,   272,   280,  290,  300,  307,
    315,  325,   335,   345,   355,   365,   375,   387,   400,   412,   425,   437,   450,   462,  475,  487,  500,
    515,  530,   545,   560,   580,   600,   615,   630,   650,   670,   690,   710,   730,   750,  775,  800,  825,
    850,  875,   900,   925,   950,   975,   1000,  1030,  1060,  1090,  1120,  1150,  1180,  1215, 1250, 1285, 1320,
    1360, 1400,  1450,  1500,  1550,  1600,  1650,  1700,  1750,  1800,  1850,  1900,  1950,  2000, 2060, 2120, 2180,
    2240, 2300,  2360,  2430,  2500,  2575,  2650,  2725,  2800,  2900,  3000,  3075,  3150,  3250, 3350, 3450, 3550,
    3650, 3750,  3875,  4000,  4125,  4250,  4375,  4500,  4625,  4750,  4875,  5000,  5150,  5300, 5450, 5600, 5800,
    6000, 6150,  6300,  6500,  6700,  6900,  7100,  7300,  7500,  7750,  8000,  8250,  8500,  8750, 9000, 9250, 9500,
    9750, 10000, 10300, 10600, 10900, 11200, 11500, 11800, 12150, 12500, 12850, 13200, 13600, 14000};

constexpr double kKmh = 1 / 3.6;
constexpr std::array<SpeedSymbol, 29> kSpeeds{{
    {"A1", 5 * kKmh},  {"A2", 10 * kKmh}, {"A3", 15 * kKmh}, {"A4", 20 * kKmh}, {"A5", 25 * kKmh}, {"A6", 30 * kKmh},
    {"A7", 35 * kKmh}, {"A8", 40 * kKmh}, {"B", 50 * kKmh},  {"C", 60 * kKmh},  {"D", 65 * kKmh},  {"E", 70 * kKmh},
    {"F", 80 * kKmh},  {"G", 90 * kKmh},  {"J", 100 * kKmh}, {"K", 110 * kKmh}, {"L", 120 * kKmh}, {"M", 130 * kKmh},
    {"N", 140 * kKmh}, {"P", 150 * kKmh}, {"Q", 160 * kKmh}, {"R", 170 * kKmh}, {"S", 180 * kKmh}, {"T", 190 * kKmh},
    {"U", 200 * kKmh}, {"H", 210 * kKmh}, {"V", 240 * kKmh}, {"W", 270 * kKmh}, {"Y", 300 * kKmh},
}};

}  // namespace

double load_index_mass(int index) {
  if (index < 0 || index > kMaxLoadIndex) {
    throw std::invalid_argument("load index " + std::to_string(index) + ": 0 to " + std::to_string(kMaxLoadIndex) +
                                " are known (146 is 3000 kg)");
  }
  return kMass[static_cast<std::size_t>(index)];
}

std::optional<int> load_index_for(double mass) {
  if (!(mass <= kMass.back())) return std::nullopt;
  return static_cast<int>(std::lower_bound(kMass.begin(), kMass.end(), mass) - kMass.begin());
}

std::span<const SpeedSymbol> speed_symbols() { return kSpeeds; }

double speed_symbol_speed(std::string_view symbol) {
  std::string upper(symbol);
  for (char& c : upper) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  for (const SpeedSymbol& known : kSpeeds) {
    if (known.symbol == upper) return known.speed;
  }
  throw std::invalid_argument(
      "speed symbol \"" + std::string(symbol) +
      "\" is unknown: A1 to A8 (5 to 40 km/h), B 50, C 60, D 65, E 70, F 80, G 90, J 100 and faster");
}

Service parse_service(std::string_view text) {
  Service service;
  std::size_t at = 0;
  for (; at < text.size() && at < 4 && text[at] >= '0' && text[at] <= '9'; ++at)
    service.load_index = 10 * service.load_index + (text[at] - '0');
  const std::size_t end = std::min(text.find('/'), text.size());
  service.speed_symbol = at < end ? text.substr(at, end - at) : std::string_view();
  if (at == 0 || service.load_index > kMaxLoadIndex || service.speed_symbol.empty())
    throw std::invalid_argument("a service description is a load index and a speed symbol, as 146A8 or 145D");
  speed_symbol_speed(service.speed_symbol);
  if (end < text.size()) parse_service(text.substr(end + 1));
  return service;
}

LoadMargin load_margin(double load, double capacity) {
  LoadMargin m{load, capacity, capacity - load, 0};
  if (capacity > 0) {
    m.used = load / capacity;
  } else if (load > 0) {
    m.used = std::numeric_limits<double>::infinity();
  }
  return m;
}

LoadMargin load_margin(double load, const Service& service, double speed) {
  // A hair of room, so that 40 km/h typed in metres per second still counts as 40.
  const bool allowed = speed <= speed_symbol_speed(service.speed_symbol) * (1 + 1e-3);
  const double mass = load_index_mass(service.load_index);
  return load_margin(load, allowed ? mass : 0.0);
}

namespace {
constexpr double kThumb = 1.25;
bool positive(double a, double b, double c) { return a > 0 && b > 0 && c > 0; }
}  // namespace

double rule_of_thumb_load(double pressure, double reference_mass, double reference_pressure) {
  if (!positive(pressure, reference_mass, reference_pressure)) return 0;
  return reference_mass * std::pow(std::min(1.0, pressure / reference_pressure), 1 / kThumb);
}

std::optional<double> rule_of_thumb_pressure(double mass, double reference_mass, double reference_pressure) {
  if (!positive(mass, reference_mass, reference_pressure)) return 0.0;
  if (mass > reference_mass) return std::nullopt;
  return reference_pressure * std::pow(mass / reference_mass, kThumb);
}

double pressure_at_temperature(double pressure, double set_temperature, double temperature, double air_volume_ratio,
                               double atmosphere) {
  const double absolute = std::max(0.0, pressure + atmosphere);
  if (!(set_temperature > 0) || !(temperature > 0) || !(air_volume_ratio > 0)) return pressure;
  return absolute * temperature / set_temperature / air_volume_ratio - atmosphere;
}

double atmosphere_at(double altitude) {
  const double h = std::clamp(altitude, -500.0, 11000.0);
  return kStandardAtmosphere * std::pow(1 - 0.0065 * h / 288.15, 5.25588);
}

}  // namespace sidehill

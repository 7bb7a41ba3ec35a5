#include "render/text/words/units.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <system_error>

#include "render/text/words/us_units.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::text {
namespace {

// Liquids are read in pounds for each gallon, what lies dry in pounds for each cubic foot.
constexpr std::string_view kBaleDensity = "ballast.bale.density_kg_per_m3";
constexpr ShownUnit kSolidDensity{"lb/ft3", kFoot* kFoot* kFoot / kPound, 0, 1};

struct Both {
  ShownUnit si, us;
};

// 2 digits: as fine as whole kilograms.
constexpr ShownUnit kWeight{"kN", 1e-3, 0, 2};

Both both(Quantity quantity) {
  const auto same = [](ShownUnit unit) { return Both{unit, unit}; };
  switch (quantity) {
    case Quantity::number:
      return same({"", 1, 0, 2});
    case Quantity::share:
      return same({"%", 100, 0, 0});
    case Quantity::angle:
      return same({"°", 1 / kDegree, 0, 1});
    case Quantity::turning_rate:
      return same({"°/s", 1 / kDegree, 0, 1});
    case Quantity::time:
      return same({"s", 1, 0, 2});
    case Quantity::hours:
      return same({"h", 1.0 / 3600, 0, 0});
    case Quantity::mass:
      return {{"kg", 1, 0, 0}, {"lb", 1 / kPound, 0, 0}};
    case Quantity::force:
      return {{"kN", 1e-3, 0, 1}, {"lbf", 1 / kPoundForce, 0, 0}};
    case Quantity::load:
      return {{"kg", 1 / kStandardGravity, 0, 0}, {"lb", 1 / kPoundForce, 0, 0}};
    case Quantity::length:
      return {{"m", 1, 0, 2}, {"in", 1 / kInch, 0, 1}};
    case Quantity::small_length:
      return {{"mm", 1e3, 0, 0}, {"in", 1 / kInch, 0, 2}};
    case Quantity::speed:
      return {{"km/h", 3.6, 0, 1}, {"mph", 3600 / kMile, 0, 1}};
    case Quantity::slow_speed:
      return {{"m/s", 1, 0, 2}, {"ft/s", 1 / kFoot, 0, 1}};
    case Quantity::acceleration:
      return {{"m/s2", 1, 0, 1}, {"ft/s2", 1 / kFoot, 0, 1}};
    case Quantity::pressure:
      return {{"kPa", 1e-3, 0, 0}, {"psi", 1 / kPsi, 0, 1}};
    case Quantity::volume:
      return {{"L", 1e3, 0, 0}, {"gal", 1 / kGallon, 0, 1}};
    case Quantity::temperature:
      return {{"°C", 1, -kZeroCelsius, 0}, {"°F", 1.8, 32 - 1.8 * kZeroCelsius, 0}};
    case Quantity::power:
      return {{"kW", 1e-3, 0, 0}, {"hp", 1 / kHorsepower, 0, 0}};
    case Quantity::energy:
      return {{"kJ", 1e-3, 0, 1}, {"ft lbf", 1 / kFootPound, 0, 0}};
    case Quantity::mass_per_power:
      return {{"kg/kW", 1e3, 0, 0}, {"lb/hp", kHorsepower / kPound, 0, 0}};
    case Quantity::density:
      return {{"kg/m3", 1, 0, 0}, {"lb/gal", kGallon / kPound, 0, 2}};
    case Quantity::inertia:
      return {{"kg m2", 1, 0, 0}, {"lb ft2", 1 / (kPound * kFoot * kFoot), 0, 0}};
    case Quantity::stiffness:
      return {{"kN/m", 1e-3, 0, 0}, {"lbf/in", kInch / kPoundForce, 0, 0}};
    case Quantity::damping:
      return {{"kN s/m", 1e-3, 0, 1}, {"lbf s/in", kInch / kPoundForce, 0, 1}};
    case Quantity::turning_stiffness:
      return {{"kN m/rad", 1e-3, 0, 0}, {"ft lbf/rad", 1 / kFootPound, 0, 0}};
    case Quantity::turning_damping:
      return {{"kN m s/rad", 1e-3, 0, 1}, {"ft lbf s/rad", 1 / kFootPound, 0, 0}};
    case Quantity::cost:
      return same({"EUR", 1, 0, 0});
    case Quantity::price:
      return {{"EUR/L", 1, 0, 2}, {"EUR/gal", 1e3 * kGallon, 0, 2}};
    case Quantity::area:
      return {{"m2", 1, 0, 2}, {"ft2", 1 / (kFoot * kFoot), 0, 2}};
  }
  return same({});
}

std::string with_unit(const std::string& number, std::string_view unit) {
  if (unit.empty() || unit.starts_with("°")) {
    const bool spaced = unit.size() > 2 && unit != "°/s";  // "20 °C", but "20°"
    return number + (spaced ? " " : "") + std::string(unit);
  }
  return number + " " + std::string(unit);
}

// "4 ft 7.9 in". Whole inches beyond what a tape measure of a workshop reaches.
std::string feet_and_inches(double metres) {
  const double most = 30 * kFoot;
  const double step = std::abs(metres) < most ? 0.1 : 1;
  const double inches = std::round(std::abs(metres) / kInch / step) * step;
  const std::string sign = metres < 0 && inches > 0 ? "-" : "";
  const int digits = step < 1 ? 1 : 0;
  if (inches < 12) return sign + grouped(inches, digits, Units::us) + " in";
  const double feet = std::floor(inches / 12 + 1e-9);
  return sign + grouped(feet, 0, Units::us) + " ft " + grouped(std::abs(inches - 12 * feet), digits, Units::us) + " in";
}

double handy(double step) {
  const double ten = std::pow(10.0, std::floor(std::log10(step)));
  double best = ten;
  for (double candidate : {ten, 2 * ten, 5 * ten, 10 * ten})
    if (std::abs(std::log(candidate / step)) < std::abs(std::log(best / step))) best = candidate;
  return best;
}

}  // namespace

// fmt prints "-0.0" for a small negative number; thousands are set apart as each side of the ocean reads them.
std::string grouped(double value, int digits, Units units) {
  std::string text = fmt::format("{:.{}f}", value, digits);
  if (text.find_first_not_of("-0.") == std::string::npos && text.front() == '-') text.erase(0, 1);
  const std::size_t point = std::min(text.find('.'), text.size()), from = text.front() == '-' ? 1 : 0;
  // Four figures and more in kilograms are set apart too, as everywhere in our tables.
  for (std::size_t at = point; at > from + 3;) {
    at -= 3;
    text.insert(at, 1, units == Units::us ? ',' : ' ');
  }
  return text;
}

int us_digits(double ratio, int digits) {
  const double exactly = digits - std::log10(std::abs(ratio));
  return static_cast<int>(std::ceil(exactly < 0 ? exactly : exactly - 0.25));
}

ShownUnit shown_unit(Quantity quantity, Units units) {
  if (units == Units::kn && quantity == Quantity::load) return kWeight;
  if (units == Units::kn && quantity == Quantity::mass)
    return {kWeight.name, kWeight.factor * kStandardGravity, 0, kWeight.digits};
  const Both unit = both(quantity);
  return units == Units::us ? unit.us : unit.si;
}

std::string shown(Quantity quantity, std::optional<double> si, Units units) {
  if (!si) return "never";
  const ShownUnit unit = shown_unit(quantity, units);
  const double value = *si * unit.factor + unit.offset;
  if (!std::isfinite(value)) return "-";
  if (quantity == Quantity::length && units == Units::us) return feet_and_inches(*si);
  return with_unit(grouped(value, unit.digits, units), unit.name);
}

int read_digits(Quantity quantity, int digits, Units units) {
  if (units == Units::si) return digits;
  const double ratio = shown_unit(quantity, units).factor / shown_unit(quantity, Units::si).factor;
  return std::max(0, us_digits(ratio, digits));
}

std::string number_in(double value, int digits, Units units) {
  if (units == Units::us) return grouped(value, digits, units);
  const std::string text = fmt::format("{:.{}f}", value, digits);  // thousands stand together, as in our tables of it
  return text.find_first_not_of("-0.") == text.npos && text.front() == '-' ? text.substr(1) : text;
}

std::string measured(Quantity quantity, double si, int digits, Units units) {
  const ShownUnit unit = shown_unit(quantity, units);
  const double value = si * unit.factor + unit.offset;
  if (!std::isfinite(value)) return "-";
  return with_unit(number_in(value, read_digits(quantity, digits, units), units), unit.name);
}

ReadUnit read_unit(std::string_view name, Units units, std::string_view key) {
  ReadUnit read{std::string(name)};
  if (units == Units::si || name.empty() || (units == Units::kn && name != "kg")) return read;
  if (key == kBaleDensity) return {std::string(kSolidDensity.name), kSolidDensity.factor, 0};
  for (const KeyUnit& file : kKeyUnits) {
    if (file.name != name || file.quantity == Quantity::angle) continue;
    const ShownUnit unit = shown_unit(file.quantity, units);
    read = {std::string(unit.name), file.to_si * unit.factor, file.offset * unit.factor + unit.offset};
    return read;
  }
  if (name == "kN/m2") return {"psi", 1e3 / kPsi, 0};
  if (name == "m2") return {"ft2", 1 / (kFoot * kFoot), 0};
  if (name == "bar") return {"psi", 1e5 / kPsi, 0};
  return read;
}

std::string read_in(const std::string& sentence, Units units) {
  return units == Units::us ? in_us_units(sentence) : units == Units::kn ? in_kilonewtons(sentence) : sentence;
}

std::string shown_change(Quantity quantity, double si, Units units) {
  const ShownUnit unit = shown_unit(quantity, units);
  const double value = si * unit.factor;
  if (!std::isfinite(value)) return "-";
  const std::string text = grouped(value, unit.digits, units);
  const bool nothing = text.find_first_of("123456789") == std::string::npos;
  return with_unit((value > 0 && !nothing ? "+" : "") + text, unit.name);
}

std::string shown_change(Quantity quantity, double from, double to, Units units) {
  const ShownUnit unit = shown_unit(quantity, units);
  const auto number = [&unit](double si) { return si * unit.factor + unit.offset; };
  return shown_change(quantity, difference_as_shown(number(from), number(to), unit.digits) / unit.factor, units);
}

namespace {

// The unit stands once behind both numbers, unless it is a sign that clings to each.
std::string two_sides(std::string low, const std::string& high, std::string_view unit) {
  if (unit == "°") low = with_unit(low, unit);
  return low + " to " + with_unit(high, unit);
}

std::string interval_shown(Quantity quantity, const std::optional<double>& low, const std::optional<double>& high,
                           Units units, bool change) {
  if (!low && !high) return "not known";
  const ShownUnit unit = shown_unit(quantity, units);
  const double offset = change ? 0 : unit.offset;
  const double from = low.value_or(high.value_or(0)) * unit.factor + offset;
  const double to = high.value_or(low.value_or(0)) * unit.factor + offset;
  if (!std::isfinite(from) || !std::isfinite(to)) return "-";
  const auto number = [&](double value, int digits) {
    const std::string text = grouped(value, digits, units);
    const bool nothing = text.find_first_of("123456789") == std::string::npos;
    return (change && value > 0 && !nothing ? "+" : "") + text;
  };
  if (!low || !high) return with_unit(number(from, unit.digits), unit.name) + (low ? " or more" : " or less");
  int digits = unit.digits;  // a width that is there is never shown as none
  while (from != to && digits < unit.digits + 2 && number(from, digits) == number(to, digits)) ++digits;
  return two_sides(number(from, digits), number(to, digits), unit.name);
}

}  // namespace

std::string shown_interval(Quantity quantity, double low, std::optional<double> high, Units units) {
  return interval_shown(quantity, low, high, units, false);
}

std::string shown_change_interval(Quantity quantity, std::optional<double> low, std::optional<double> high,
                                  Units units) {
  return interval_shown(quantity, low, high, units, true);
}

TypedUnit typed_unit(std::string_view key, Units units, double most) {
  TypedUnit typed;
  const KeyUnit of_key = key_unit(key);
  typed.quantity = of_key.quantity;
  typed.suffix = of_key.suffix;
  typed.to_si = of_key.to_si;
  typed.si_offset = of_key.offset;
  ShownUnit unit = shown_unit(typed.quantity, units);
  if (units == Units::us && typed.quantity == Quantity::length && most > 10) unit = {"ft", 1 / kFoot, 0, 1};
  if (units == Units::us && typed.quantity == Quantity::small_length) unit.digits = 2;
  if (units == Units::us && key == kBaleDensity) unit = kSolidDensity;
  typed.unit = unit.name;
  typed.digits = unit.digits;
  // A file's own unit is not scaled to and fro: 0.1 typed is 0.1 written.
  const bool weighed = units == Units::kn && typed.quantity == Quantity::mass;
  const bool as_in_file = is_metric(units) && !weighed && typed.quantity != Quantity::share &&
                          typed.quantity != Quantity::force && typed.quantity != Quantity::energy;
  typed.factor = as_in_file ? 1 : typed.to_si * unit.factor;
  typed.offset = as_in_file ? 0 : typed.si_offset * unit.factor + unit.offset;
  return typed;
}

std::string key_words(std::string_view key) {
  const std::string_view suffix = typed_unit(key, Units::si).suffix;
  std::string text(key.substr(0, key.size() - suffix.size()));
  if (std::ranges::count(text, '.') > 1) text.erase(0, text.find('.') + 1);
  std::ranges::replace(text, '_', ' ');
  std::ranges::replace(text, '.', ' ');
  return text;
}

bool is_slope(std::string_view key) { return key.ends_with("slope_deg") || key.ends_with("steepest_deg"); }

std::string slope_as_typed(const std::string& number) {
  const std::size_t point = number.find('.');
  const auto digits = static_cast<int>(point == number.npos ? 0 : number.size() - point - 1);
  return degrees_and_percent(std::strtod(number.c_str(), nullptr) * kDegree, digits);
}

std::string change_words(std::string_view change) {
  const std::size_t equals = std::min(change.find('='), change.size());
  const std::string_view key = change.substr(0, equals), typed = change.substr(std::min(equals + 1, change.size()));
  double number = 0;
  const auto [end, error] = std::from_chars(typed.data(), typed.data() + typed.size(), number);
  if (error != std::errc() || end != typed.data() + typed.size()) {
    std::string words(typed);
    std::erase(words, '"');
    std::ranges::replace(words, '_', ' ');
    return key_words(key) + " " + words;
  }
  const TypedUnit unit = typed_unit(key, Units::si);
  const std::string shown = trimmed_number(unit.shown(number), 6);
  return key_words(key) + " " + (is_slope(key) ? slope_as_typed(shown) : with_unit(shown, unit.unit));
}

double typed_step(const TypedUnit& unit, double file_step, Units units) {
  const double step = std::abs(file_step * unit.factor);
  if (units == Units::si || (units == Units::kn && unit.quantity != Quantity::mass) || !(step > 0) ||
      !std::isfinite(step))
    return step;
  const bool as_it_is = unit.quantity == Quantity::angle || unit.quantity == Quantity::share ||
                        unit.quantity == Quantity::number || unit.quantity == Quantity::time;
  return as_it_is ? step : handy(step);
}

std::string trimmed_number(double value, int digits) {
  std::string text = fmt::format("{:.{}f}", std::isfinite(value) ? value : 0.0, digits);
  if (text.find('.') != text.npos) {
    while (text.ends_with('0')) text.pop_back();
    if (text.ends_with('.')) text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

const char* units_name(Units units) {
  constexpr const char* kNames[] = {"Metric, weights in kg", "Metric, weights in kN", "US (ft, lb, psi)"};
  return kNames[static_cast<int>(units)];
}

const char* weight_unit(Units units) {
  constexpr const char* kNames[] = {"kg", "kN", "lb"};
  return kNames[static_cast<int>(units)];
}

}  // namespace sidehill::text

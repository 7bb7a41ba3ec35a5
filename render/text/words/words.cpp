#include "render/text/words/words.h"

#include <fmt/format.h>

#include <cmath>

#include "sim/base/constants.h"

namespace sidehill::text {
namespace {

// fmt prints "-0.0" for a small negative number; nobody wants to read that.
std::string fixed(double value, int digits) {
  std::string text = fmt::format("{:.{}f}", value, digits);
  if (text.find_first_not_of("-0.") == std::string::npos && text.front() == '-') text.erase(0, 1);
  return text;
}

// Per cent of a slope [rad] as degrees_and_percent has them: of the degrees as shown, in digits alone. Empty where
// there are none.
std::string percent_of_slope(double slope, int digits, bool limit) {
  constexpr double kTensFrom = 65, kNoneAbove = 80;  // [deg]; at 65 a tenth of a degree is one per cent
  if (!std::isfinite(slope)) return {};
  const double shown = std::stod(fixed(slope / kDegree, digits));
  if (shown < 0 || shown > kNoneAbove) return {};
  const double step = shown < kTensFrom ? 1 : 10, share = 100 * std::tan(shown * kDegree) / step;
  return fmt::format("{:.0f}", step * (limit ? std::floor(share + 1e-9) : std::round(share)));
}

}  // namespace

const char* const kCautionLine =
    "Frame up and belt on. Load low. Go slow. The maker's limits and local rules come first. No slope is safe: holes, "
    "soft "
    "ground and turns take their share.";

std::string answer_limits_words(bool liquid) {
  return std::string(
             "Left out: ground that gives way, a driver's doing, wind, a frame or rim that bends, tyres that come off "
             "their rims.\n") +
         (liquid ? "The liquid takes room from the air and stiffens the tyre: that stiffening is our estimate.\n"
                 : "") +
         "A few millimetres in the measures move the lift-off by 0.2°; published methods differ by several degrees.";
}

const char* wheel_name(int wheel) {
  return wheel >= 0 && wheel < kWheels ? kWheelWords[static_cast<std::size_t>(wheel)].name.data() : "no";
}

std::string_view side_on_slope(int wheel, double heading) {
  // Of the machine's left; less than a fifth is neither up nor down. Facing up or down the slope, both wheels of an
  // axle are on the same side, so that it does not say which wheel is meant.
  const double left_uphill = -std::sin(heading);
  if (std::abs(left_uphill) > 0.2) return (left_uphill > 0) == is_left(wheel) ? "uphill" : "downhill";
  return "";
}

std::string no_answer_words(std::size_t lost, std::size_t headings) {
  return fmt::format("no answer at {} of {} headings: the worst may be among them", lost, headings);
}

std::string degrees(std::optional<double> angle, int digits) {
  if (!angle) return "never";
  if (!std::isfinite(*angle)) return "-";
  return fixed(*angle / kDegree, digits) + "°";
}

std::string degrees_and_percent(std::optional<double> slope, int digits, bool limit) {
  const std::string text = degrees(slope, digits);
  const std::string share = slope ? percent_of_slope(*slope, digits, limit) : "";
  return share.empty() ? text : fmt::format("{} = {} %", text, share);
}

std::string range_in_degrees_and_percent(double low, std::optional<double> high) {
  const std::string from = percent_of_slope(low, 1, false);
  if (!high)
    return from.empty() ? degrees(low) + " or more" : fmt::format("{} or more = {} % or more", degrees(low), from);
  if (degrees(low) == degrees(*high)) return degrees_and_percent(low);
  const std::string text = fmt::format("{} to {}", degrees(low), degrees(*high)),
                    to = percent_of_slope(*high, 1, false);
  if (from.empty() && to.empty()) return text;
  if (to.empty()) return fmt::format("{} = {} % or more", text, from);
  if (from.empty()) return fmt::format("{} = {} % or less", text, to);
  return from == to ? fmt::format("{} = {} %", text, from) : fmt::format("{} = {} to {} %", text, from, to);
}

double difference_as_shown(double from, double to, int digits) {
  const double difference = to - from;
  if (!std::isfinite(difference)) return difference;
  const auto as_shown = [digits](double value) { return std::stod(fmt::format("{:.{}f}", value, digits)); };
  return as_shown(to) - as_shown(from);
}

double angle_between_as_shown(double from, double to) {
  return difference_as_shown(from / kDegree, to / kDegree) * kDegree;
}

std::string signed_degrees(double angle) {
  if (!std::isfinite(angle)) return "-";
  const std::string text = fixed(angle / kDegree, 0);
  return (angle > 0 && text != "0" ? "+" : "") + text + "°";
}

std::string force_angle_words(std::optional<double> angle) {
  return angle && std::isfinite(*angle) ? "force angle " + degrees(angle) : "-";
}

std::string kilograms(double mass) {
  if (!std::isfinite(mass)) return "-";
  std::string digits = fixed(mass, 0);
  for (int at = static_cast<int>(digits.size()) - 3; at > (mass < 0 ? 1 : 0); at -= 3)
    digits.insert(static_cast<std::size_t>(at), 1, ' ');
  return digits + " kg";
}

std::string kilonewtons(double force) { return std::isfinite(force) ? fixed(force / 1e3, 1) + " kN" : "-"; }
std::string metres(double length) { return std::isfinite(length) ? fixed(length, 2) + " m" : "-"; }
std::string percent(double share) { return std::isfinite(share) ? fixed(share * 100, 0) + " %" : "-"; }

std::string over_words(double used) {
  const double over = 100 * (used - 1);
  if (!std::isfinite(over)) return "-";
  if (over > 0 && over < 0.05) return "under 0.1 %";
  return fixed(over, over < 9.95 ? 1 : 0) + " %";
}

std::string used_words(double used) { return used > 1 ? over_words(used) + " too much" : percent(used); }

std::string heading_words(double heading) {
  const double deg = std::remainder(heading / kDegree, 360);
  const double across = std::abs(deg);
  if (across < 7.5) return "facing uphill";
  if (across > 172.5) return "facing downhill";
  const std::string side = deg > 0 ? "uphill side to the right" : "uphill side to the left";
  if (across < 82.5) return "climbing at an angle, " + side;
  if (across > 97.5) return "going down at an angle, " + side;
  return "across, " + side;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string event_words(const Event& event) {
  const std::string wheel = event.wheel >= 0 ? std::string(wheel_name(event.wheel)) + " wheel" : "machine";
  switch (event.kind) {
    case EventKind::touch_down:
      return wheel + " touches down";
    case EventKind::settled:
      return wheel + " has come to rest";
    case EventKind::lift_off:
      return wheel + (event.time > 0 ? " lifts" : " is in the air from the start");
    case EventKind::lands:
      return wheel + " is back on the ground";
    case EventKind::stop_hit:
      return "front axle meets its stop";
    case EventKind::slide:
      return wheel + " slides";
    case EventKind::point_of_no_return:
      return "point of no return";
    case EventKind::hull_touches:
      return "body touches the ground";
    case EventKind::frame_touches:
      return "frame touches the ground";
    case EventKind::at_rest:
      return "it lies still";
  }
  return "-";
}

}  // namespace sidehill::text

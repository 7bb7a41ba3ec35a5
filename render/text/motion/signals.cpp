#include "render/text/motion/signals.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "render/text/rest/answer_json.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/motion/under_way.h"
#include "sim/scene/scene_file.h"

namespace sidehill::text {
namespace {

constexpr double kNothing = std::numeric_limits<double>::quiet_NaN();

struct Signal {
  std::string name;
  std::function<double(const Model&, const State&)> value;  // not a number: nothing to say
};

double transfer(const State& s, std::size_t left) {  // of an axle: 0 even, 1 all on one wheel
  const double a = s.wheels[left].load, b = s.wheels[left + 1].load;
  return a + b > 0 ? (b - a) / (a + b) : 0;
}

const std::vector<Signal>& signals() {
  static const std::vector<Signal> all = [] {
    std::vector<Signal> list = {
        {"time_s", [](const Model&, const State& s) { return s.time; }},
        {"slope_deg", [](const Model&, const State& s) { return s.slope / kDegree; }},
        {"x_m", [](const Model&, const State& s) { return s.X_GV.p.x; }},
        {"y_m", [](const Model&, const State& s) { return s.X_GV.p.y; }},
        {"z_m", [](const Model&, const State& s) { return s.X_GV.p.z; }},
        {"speed_m_per_s", [](const Model&, const State& s) { return glm::dot(s.v_G, s.X_GV.R[0]); }},
        {"roll_deg", [](const Model&, const State& s) { return std::atan2(s.X_GV.R[1].z, s.X_GV.R[2].z) / kDegree; }},
        {"pitch_deg",
         [](const Model&, const State& s) { return std::asin(std::clamp(-s.X_GV.R[0].z, -1.0, 1.0)) / kDegree; }},
        {"roll_rate_deg_per_s", [](const Model&, const State& s) { return glm::dot(s.w_G, s.X_GV.R[0]) / kDegree; }},
        {"pitch_rate_deg_per_s", [](const Model&, const State& s) { return glm::dot(s.w_G, s.X_GV.R[1]) / kDegree; }},
        {"yaw_rate_deg_per_s", [](const Model&, const State& s) { return glm::dot(s.w_G, s.X_GV.R[2]) / kDegree; }},
        {"front_axle_angle_deg", [](const Model&, const State& s) { return s.axle_angle / kDegree; }},
        {"boom_angle_deg", [](const Model&, const State& s) { return s.boom_angle / kDegree; }},
        {"centre_of_gravity_x_m", [](const Model&, const State& s) { return s.centre_of_gravity_G.x; }},
        {"centre_of_gravity_y_m", [](const Model&, const State& s) { return s.centre_of_gravity_G.y; }},
        {"centre_of_gravity_z_m", [](const Model&, const State& s) { return s.centre_of_gravity_G.z; }},
        {"load_transfer_front", [](const Model&, const State& s) { return transfer(s, kFrontLeft); }},
        {"load_transfer_rear", [](const Model&, const State& s) { return transfer(s, kRearLeft); }},
        {"load_transfer_whole",
         [](const Model&, const State& s) {
           return load_transfer(s.wheels[0].load + s.wheels[2].load, s.wheels[1].load + s.wheels[3].load);
         }},
        {"angle_left_deg",
         [](const Model& m, const State& s) { return angle_left(m, s).value_or(kNothing) / kDegree; }},
        {"energy_left_j",
         [](const Model& m, const State& s) {
           const auto left = remaining(m, s);
           return left ? left->energy : kNothing;
         }},
        {"time_to_point_of_no_return_s",
         [](const Model& m, const State& s) {
           const auto left = remaining(m, s);
           return left && left->time ? *left->time : kNothing;
         }},
        {"bucket_angle_deg", [](const Model&, const State& s) { return s.bucket_angle / kDegree; }},
        {"steer_deg", [](const Model&, const State& s) { return s.steer / kDegree; }},
        {"articulation_deg", [](const Model&, const State& s) { return s.articulation / kDegree; }},
        {"engine_speed_m_per_s", [](const Model&, const State& s) { return s.engine_speed; }},
        {"hitch_pull_n", [](const Model&, const State& s) { return s.pull; }},
        {"kinetic_energy_j", [](const Model&, const State& s) { return s.kinetic_energy; }}};
    for (int w = 0; w < kWheels; ++w) {
      const auto i = static_cast<std::size_t>(w);
      const auto add = [&](const char* what, const char* unit, auto value) {
        list.push_back({fmt::format("{}_{}{}", what, wheel_key(w), unit),
                        [i, value](const Model&, const State& s) { return value(s.wheels[i]); }});
      };
      add("load", "_n", [](const WheelState& wheel) { return wheel.load; });
      add("sliding", "", [](const WheelState& wheel) { return wheel.sliding ? 1.0 : 0.0; });
      add("spin", "_rad_per_s", [](const WheelState& wheel) { return wheel.spin_rate; });
      add("liquid_swing", "_deg", [](const WheelState& wheel) { return wheel.liquid_swing / kDegree; });
    }
    return list;
  }();
  return all;
}

std::vector<const Signal*> columns_of(const std::vector<std::string>& names) {
  std::vector<const Signal*> columns;
  if (names.empty())
    for (const Signal& signal : signals()) columns.push_back(&signal);
  else
    columns.push_back(&signals().front());
  for (const std::string& name : names) {
    const auto at = std::find_if(signals().begin(), signals().end(), [&](const Signal& s) { return s.name == name; });
    if (at == signals().end())
      throw InputError(
          fmt::format("--signals: {}: there is no such signal, allowed {}", name, fmt::join(signal_names(), ", ")));
    if (&*at != columns.front()) columns.push_back(&*at);
  }
  return columns;
}

}  // namespace

std::vector<std::string> signal_names() {
  std::vector<std::string> names;
  for (const Signal& signal : signals()) names.push_back(signal.name);
  return names;
}

std::string signals_csv(const Recording& recording, const std::vector<std::string>& names) {
  const std::vector<const Signal*> columns = columns_of(names);
  std::string csv;
  for (const Signal* signal : columns) csv += signal->name + ",";
  csv.back() = '\n';
  const Model model = build(parse_scene(recording.scene_text, "recording"));
  for (const State& state : recording.states) {
    std::string line;
    for (const Signal* signal : columns) {
      const double value = signal->value(model, state);
      line += (line.empty() ? "" : ",") + (std::isfinite(value) ? fmt::format("{:.7g}", value) : "");
    }
    csv += line + "\n";
  }
  return csv;
}

std::vector<std::pair<std::string, double>> signals_of(const Model& model, const State& state,
                                                       const std::vector<std::string>& names) {
  std::vector<std::pair<std::string, double>> values;
  for (const Signal* signal : columns_of(names)) values.emplace_back(signal->name, signal->value(model, state));
  return values;
}

std::string signal_row(const std::string& name, double value, Units units) {
  constexpr double kFar = 100;  // lengths of a run are read in feet [m]
  const TypedUnit typed = typed_unit(name, units, kFar);
  const auto line = [](const std::string& head, const std::string& text) {
    return fmt::format("  {:32}{:>16}\n", head, text);
  };
  if (!std::isfinite(value)) return line(name, "-");
  if (units == Units::si || typed.unit.empty() || name.ends_with("_rad_per_s"))
    return line(name, fmt::format("{:.7g}", value));
  return line(key_words(name), fmt::format("{:.7g} {}", typed.shown(value), typed.unit));
}

}  // namespace sidehill::text

#include "sim/insight/trial.h"

#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

#include "sim/base/attitude.h"
#include "sim/base/constants.h"
#include "sim/base/enum_table.h"
#include "sim/base/errors.h"
#include "sim/model/tyre_force.h"
#include "sim/motion/run.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_checks.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "vehicles/loader_tool.h"

namespace sidehill {
namespace {

// Numbers of our own (splitmix64, S. Vigna, public domain): the library's distributions differ from one to the next.
struct Dice {
  std::uint64_t at;
  std::uint64_t next() {
    at += 0x9e3779b97f4a7c15ull;
    std::uint64_t z = at;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ull;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebull;
    return z ^ (z >> 31);
  }
  double unit() { return static_cast<double>(next() >> 11) * 0x1p-53; }
  double between(double low, double high) { return low + (high - low) * unit(); }
  bool chance(double share) { return unit() < share; }
  int upto(int count) { return static_cast<int>(next() % static_cast<std::uint64_t>(count)); }
};

const std::vector<Vehicle>& machines() {
  static const std::vector<Vehicle> all = [] {
    std::vector<Vehicle> list;
    for (const auto& file : vehicle_files()) list.push_back(load_vehicle(file.filename().string(), file.parent_path()));
    if (list.empty()) throw InputError("trial: no machines: " + data_sought());
    return list;
  }();
  return all;
}

// Forks, spike or grapple instead of the bucket, bales instead of its load. Dice of its own: the other draws stay.
void choose_tool(BallastPlan& plan, const Loader& loader, Dice dice) {
  dice.at ^= 0x70a1ull;
  if (dice.chance(0.6)) return;
  plan.loader_tool = static_cast<LoaderTool>(dice.upto(count_of<LoaderTool>()));
  if (dice.chance(0.3)) plan.loader_tool_mass = dice.between(0.5, 1.5) * loader.bucket_mass;
  if (dice.chance(0.3)) plan.loader_load_ahead = dice.between(0.3, 1.2);
  if (!dice.chance(0.5)) return;
  BallastPlan with = plan;
  with.loader_payload = 0;
  with.bale = {dice.between(0.6, 1.6), dice.between(0.6, 1.3), 0, 0, dice.between(100, 400), 1};
  if (dice.chance(0.3)) with.bale.width = with.bale.height = std::exchange(with.bale.diameter, 0);
  if (dice.chance(0.3)) with.bale.count = 2;
  if (with.loader_pin_height >= lowest_pin_height(loader, with)) plan = with;
}

void load_up(Scene& s, Dice& dice) {
  BallastPlan& plan = s.ballast;
  Vehicle& v = s.vehicle;
  const Medium media_list[] = {Medium::water, Medium::calcium_chloride};
  for (std::size_t axle = 0; axle < 2; ++axle) {
    if (!dice.chance(axle == 0 ? 0.2 : 0.6)) continue;
    const Medium medium = media_list[dice.upto(2)];
    const double fill = dice.between(0.05, 0.9);
    for (std::size_t i : {2 * axle, 2 * axle + 1}) {
      plan.fill[i].medium = medium;
      plan.fill[i].fill_fraction = dice.chance(0.1) ? dice.between(0, 0.9) : fill;
    }
  }
  if (v.front_mount.max_mass > 0 && dice.chance(0.3)) plan.front_weights = dice.between(0, v.front_mount.max_mass);
  if (v.rear_mount.max_mass > 0 && dice.chance(0.3)) plan.rear_weights = dice.between(0, v.rear_mount.max_mass);
  if (dice.chance(0.2))
    plan.implement = {dice.between(100, 1200), dice.between(-2.2, -1.2), dice.between(0.5, 1.3), 2.2};
  if (dice.chance(0.1)) v.rear.dual_spacing = dice.between(1.05, 1.3) * v.rear.tyre.section_width;
  if (dice.chance(0.15)) {
    v.tank = {
        dice.between(0.3, 1.5), 1000, {dice.between(-1.2, 0.5), 0, dice.between(1.2, 1.8)}, dice.between(0.35, 0.6)};
    plan.tank_fraction = dice.unit();
  }
  if (!v.loader.fitted) return;
  plan.loader_pin_height = dice.between(v.loader.min_pin_height, v.loader.max_pin_height);
  if (dice.chance(0.6)) plan.loader_payload = dice.between(0, v.loader.rated_payload);
  choose_tool(plan, v.loader, dice);
  if (plan.loader_pin_height < 0.8 || !dice.chance(0.2)) return;
  plan.hanging_mass = dice.between(20, 0.5 * v.loader.rated_payload);
  plan.hanging_rope = dice.between(0.3, std::min(2.0, plan.loader_pin_height - 0.1));
}

void lay_ground(Scene& s, Dice& dice) {
  s.terrain.slope = dice.between(0, 45) * kPi / 180;
  s.terrain.soil.adhesion_unlimited = dice.chance(0.15);
  s.terrain.soil.adhesion = dice.between(0.15, 1.1);
  s.terrain.soil.adhesion_across_ratio = dice.chance(0.5) ? 1 : dice.between(0.5, 1.5);
  s.terrain.soil.rolling_resistance = dice.between(0.01, 0.15);
  const Vec3 along = forward_G(s.start.heading), left = left_G(s.start.heading);
  for (int i = dice.upto(4); i > 0; --i) {
    Feature f;
    f.kind = static_cast<FeatureKind>(dice.upto(count_of<FeatureKind>()));
    if (f.kind == FeatureKind::rough && dice.chance(0.7)) f.kind = FeatureKind::bump;  // strips take long
    const double aside = dice.between(-1.6, 1.6), ahead = dice.between(2, 14);  // one after the other, by any compiler
    const Vec3 at = ahead * along + aside * left;
    f.x = at.x, f.y = at.y;
    f.angle = s.start.heading + kPi / 2 + dice.between(-0.5, 0.5);
    f.length = dice.between(0.3, 3);
    f.width = dice.between(0.5, 5);
    f.height = dice.between(0.02, 0.5);
    f.seed = static_cast<std::uint32_t>(dice.next());
    if (f.kind == FeatureKind::rough) f.length = f.width = dice.between(4, 15), f.height = dice.between(0.02, 0.3);
    if (f.kind == FeatureKind::kerb) f.height = std::min(f.height, 0.25);
    s.terrain.features.push_back(f);
  }
}

void plan_drive(Scene& s, Dice& dice) {
  Programme& p = s.programme;
  p.duration = 6;
  p.drop_height = dice.chance(0.5) ? 0 : dice.between(0, 0.4);
  p.front_drive = s.vehicle.front_drive && dice.chance(0.3);
  if (dice.chance(0.7)) p.speed = dice.between(0.5, 8), p.drive_from = dice.between(0, 1);
  double at = 0.5;
  for (int i = dice.upto(4); i > 0; --i) {
    Action a;
    a.what = static_cast<ActionKind>(dice.upto(count_of<ActionKind>()));
    if (a.what == ActionKind::loader && !s.vehicle.loader.fitted) continue;
    if (a.what == ActionKind::front_drive && !s.vehicle.front_drive) continue;
    a.at = at += dice.between(0, 1.5);
    a.speed = dice.between(-3, 8);
    a.radius = dice.between(4, 30) * (dice.chance(0.5) ? 1 : -1);
    a.pedal = dice.unit();
    a.pin_height = dice.between(lowest_pin_height(s.vehicle.loader, s.ballast), s.vehicle.loader.max_pin_height);
    a.rope = dice.between(0.5, 6);
    p.actions.push_back(a);
  }
  if (dice.chance(0.1)) {
    s.ballast.trailer.mass = dice.chance(0.2) ? dice.between(1, 300) : dice.between(300, 8000);
    s.ballast.trailer.drawbar_load = s.ballast.trailer.mass * dice.between(0, 0.2);
    s.ballast.trailer.braked = dice.unit();
  }
}

bool finite(const State& s) {
  double sum = s.axle_angle + s.axle_rate + s.boom_angle + s.kinetic_energy + s.engine_speed + s.pull + s.articulation;
  const auto add = [&](const Vec3& v) { sum += v.x + v.y + v.z; };
  for (int c = 0; c < 3; ++c) add(s.X_GV.R[c]);
  add(s.X_GV.p), add(s.v_G), add(s.w_G), add(s.centre_of_gravity_G), add(s.hanging_G), add(s.tank_G);
  for (const WheelState& w : s.wheels) {
    add(w.centre_G), add(w.axle_G), add(w.contact_G), add(w.force_G), add(w.liquid_G);
    sum += w.spin_angle + w.spin_rate + w.load + w.liquid_swing;
  }
  return std::isfinite(sum);
}

// What engine, flywheel and rams can have put in until then, and what tyres and stops can hold from the start [J].
double put_in(const Scene& s, const Model& model, double weight, double time) {
  double most = 0.03 * weight;
  const bool drives = s.programme.speed != 0 || !s.programme.actions.empty();
  if (drives) most += model.engine_power * (1.3 * time + 0.9);  // flywheel: see drive_line.cpp
  if (model.loader.fitted)
    most += 4 * model.gravity * (model.loader.boom.mass + model.rope_load.mass) * 2 * model.loader.length;
  if (s.ballast.trailer.mass > 0) {  // it runs downhill and pushes
    const double fastest = 10 + model.gravity * time;
    most += s.ballast.trailer.mass * fastest * fastest;
  }
  return most;
}

}  // namespace

Scene random_scene(std::uint64_t number) {
  Dice dice{number * 0x2545f4914f6cdd1dull + 1};
  Scene s;
  s.title = fmt::format("trial {}", number);
  s.vehicle = machines()[static_cast<std::size_t>(dice.upto(static_cast<int>(machines().size())))];
  s.settings.engine = Engine::own;
  s.start.heading = dice.between(-kPi, kPi);
  if (s.vehicle.front_axle.kind == AxleKind::articulated && dice.chance(0.5))
    s.start.articulation = dice.between(-0.6, 0.6);
  load_up(s, dice);
  lay_ground(s, dice);
  plan_drive(s, dice);
  // Onto values that a file can state exactly, so that what is written comes back.
  for (const Field& field : scene_fields())
    if (const auto* n = std::get_if<NumberField>(&field.kind)) set_file_value(*n, s, file_value(*n, s));
  return s;
}

TrialRun try_scene(std::uint64_t number) {
  TrialRun out;
  out.number = number;
  const auto began = std::chrono::steady_clock::now();
  const Scene scene = random_scene(number);
  if (const auto conflict = find_conflict(scene)) {
    out.fault = Fault::refused;
    out.words = conflict->key + ": " + conflict->message;
    return out;
  }
  try {
    const Model model = build(scene);
    const Recording recording = [&] {
      Runner runner(scene, model);
      runner.advance(scene.programme.duration + 1);
      return runner.recording();
    }();
    out.outcome = recording.outcome;
    const double weight = total_mass(model) * model.gravity;
    const auto energy = [&](const State& s) {
      return s.kinetic_energy + weight * (R_WG(s.slope) * s.centre_of_gravity_G).z;
    };
    // What the tyres hold where it is set down counts as there from the beginning.
    double pressed_in = 0;
    for (std::size_t i = 0; i < kWheels; ++i)
      pressed_in += radial_energy(model.wheels[i].tyre, recording.states.front().wheels[i].penetration);
    const double begin = energy(recording.states.front()) + pressed_in;
    out.gain = -1e30;
    for (const State& state : recording.states) {
      if (!finite(state)) out.fault = Fault::not_a_number;
      out.gain = std::max(out.gain, (energy(state) - begin - put_in(scene, model, weight, state.time)) / weight);
    }
    if (recording.outcome == Outcome::diverged) out.fault = Fault::diverged, out.words = recording.divergence;
    if (out.fault == Fault::none && out.gain > 0) out.fault = Fault::energy;
  } catch (const InputError& error) {
    out.fault = Fault::refused;
    out.words = error.what();
  }
  out.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
  return out;
}

Trials trial(std::uint64_t first, long runs) {
  Trials out;
  constexpr long kAtOnce = 1000;
  machines();
  for (long begin = 0; begin < runs; begin += kAtOnce) {
    const long count = std::min(kAtOnce, runs - begin);
    std::vector<TrialRun> part(static_cast<std::size_t>(count));
    tbb::parallel_for(std::size_t{0}, part.size(),
                      [&](std::size_t i) { part[i] = try_scene(first + static_cast<std::uint64_t>(begin) + i); });
    for (const TrialRun& run : part) {
      if (out.runs++ == 0) out.most_gain = out.slowest = run;
      ++out.faults[static_cast<std::size_t>(run.fault)];
      ++out.outcomes[static_cast<std::size_t>(run.outcome)];
      if (run.fault != Fault::none) out.faulty.push_back(run);
      if (run.gain > out.most_gain.gain) out.most_gain = run;
      if (run.seconds > out.slowest.seconds) out.slowest = run;
    }
  }
  return out;
}

}  // namespace sidehill

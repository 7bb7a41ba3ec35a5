#include "sim/insight/uncertainty.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/base/errors.h"
#include "sim/model/fill_density.h"
#include "sim/scene/scene.h"
#include "sim/scene/scene_checks.h"
#include "vehicles/loader_tool.h"
#include "vehicles/tyre_cavity.h"

namespace sidehill {
namespace {

// How far a leaning tyre's pressure may move to its downhill edge [widths]. Our estimate, wide enough for the one
// tractor that was measured and published (Majdan et al. 2021, Applied Sciences 11(1):381), which tips late.
constexpr double kPressureMoves = 0.125;

Facts facts_of(const Model& model, const StaticSolution& s) {
  Facts f{s.first_lift_off,        s.tip_over, s.slide, s.rigid_lift_off, s.margin, {}, false, total_mass(model),
          centre_of_gravity(model)};
  if (s.rest) f.load = s.rest->load, f.rests = true;
  return f;
}

void widen(Interval& interval, double change) {
  double& side = change < 0 ? interval.low : interval.high;
  side = std::hypot(side, change);
}

void widen(std::optional<Interval>& interval, std::optional<double> middle, std::optional<double> moved) {
  if (!middle) return;
  if (moved)
    widen(*interval, *moved - *middle);
  else
    interval->open = true;
}

// Collects the squares; `low` and `high` hold sizes until the end.
struct Collector {
  const Scene& scene;
  const Model& model;
  const std::stop_token& stop;
  Uncertainty out;
  const Facts& middle = out.middle;

  bool stopped() const { return stop.stop_requested(); }

  // Both ends of one doubt; an end that makes no machine counts as not there. Only listed, it does not widen the
  // intervals by itself.
  void add(Doubt doubt, const Model* ends[2], bool only_listed = false) {
    if (stopped()) return;
    const Uncertainty before = only_listed ? out : Uncertainty{};  // small: a few dozen causes
    std::optional<double> end[2];
    Moved both{doubt.key, doubt.tolerance, {}};
    for (int side = 0; side < 2; ++side) {
      if (!ends[side]) continue;
      const Facts moved = facts_of(*ends[side], solve_statics(*ends[side], stop));
      both.ends[static_cast<std::size_t>(side)] = moved;
      widen(out.first_lift_off, middle.first_lift_off, moved.first_lift_off);
      widen(out.tip_over, middle.tip_over, moved.tip_over);
      widen(out.slide, middle.slide, moved.slide);
      widen(out.rigid_lift_off, middle.rigid_lift_off, moved.rigid_lift_off);
      widen(out.margin, middle.margin, moved.margin);
      widen(out.mass, moved.mass - middle.mass);
      for (int k = 0; k < 3; ++k)
        widen(out.centre_of_gravity[static_cast<std::size_t>(k)], moved.centre[k] - middle.centre[k]);
      for (std::size_t i = 0; i < kWheels && middle.rests; ++i) {
        if (moved.rests)
          widen(out.load[i], moved.load[i] - middle.load[i]);
        else
          out.load[i].open = true;
      }
      if (middle.first_lift_off && moved.first_lift_off) {
        const double change = *moved.first_lift_off - *middle.first_lift_off;
        end[side] = *moved.first_lift_off;
        doubt.low = std::min(doubt.low, change);
        doubt.high = std::max(doubt.high, change);
      }
    }
    if (only_listed)
      out = before;
    else
      out.moved.push_back(std::move(both));
    if (end[0] && end[1] && doubt.tolerance > 0) doubt.per_unit = (*end[1] - *end[0]) / (2 * doubt.tolerance);
    out.doubts.push_back(std::move(doubt));
  }

  void add(Doubt doubt, const std::optional<Model>& low, const std::optional<Model>& high) {
    const Model* ends[2] = {low ? &*low : nullptr, high ? &*high : nullptr};
    add(std::move(doubt), ends);
  }

  std::optional<Model> built(const Scene& moved) const {
    try {
      if (find_conflict(moved)) return std::nullopt;
      return build(moved, &model);
    } catch (const InputError&) {
      return std::nullopt;
    }
  }

  void move_fields(std::string_view key, const std::vector<const Field*>& fields, double tolerance) {
    if (fields.empty() || !(tolerance > 0) || stopped()) return;
    std::optional<Model> ends[2];
    for (int side = 0; side < 2; ++side) {
      Scene moved = scene;
      for (const Field* field : fields) {
        const auto& number = std::get<NumberField>(field->kind);
        const double value = file_value(number, scene) + (side == 0 ? -tolerance : tolerance);
        set_file_value(number, moved, std::clamp(value, number.min, number.max));
      }
      ends[side] = built(moved);
    }
    add({std::string(key), std::string(fields.front()->unit), tolerance, 0, 0, 0}, ends[0], ends[1]);
  }

  // The same change to both tyres of an axle.
  template <class Change>
  void move_tyres(std::string what, std::string unit, double tolerance, std::size_t axle, Change change,
                  bool both = true) {
    std::optional<Model> ends[2];
    for (int side = both ? 0 : 1; side < 2; ++side) {
      ends[side] = model;
      for (std::size_t i = 2 * axle; i < 2 * axle + 2; ++i) change(ends[side]->wheels[i].tyre, side == 0 ? -1.0 : 1.0);
    }
    add({std::move(what), std::move(unit), tolerance, 0, 0, 0}, ends[0], ends[1]);
  }
};

void settle(Interval& interval, double middle) {
  interval.low = middle - interval.low;
  interval.high = middle + interval.high;
}

void settle(std::optional<Interval>& interval, std::optional<double> middle) {
  if (middle) settle(*interval, *middle);
}

// The scene as even ground without features, where each answer takes a millisecond.
Scene even(Scene scene) {
  scene.terrain.features.clear();
  return scene;
}

std::optional<double> said(const Scene& scene, std::string_view key) {
  for (const Tolerance& tolerance : scene.tolerances)
    if (tolerance.key == key) return tolerance.value;
  return std::nullopt;
}

void move_room(Collector& c, std::size_t axle) {
  const Axle& there = axle == 0 ? c.scene.vehicle.front : c.scene.vehicle.rear;
  const auto& fill =
      c.scene.ballast.fill;  // frozen or cured it is no liquid of the model, but takes the room all the same
  const bool filled = fill[2 * axle].fill_fraction > 0 || fill[2 * axle + 1].fill_fraction > 0;
  const std::string key = axle == 0 ? "vehicle.front.tyre.cavity_volume_l" : "vehicle.rear.tyre.cavity_volume_l";
  if (!filled) return;
  const double room = cavity_volume(cavity_of(there.tyre));
  const auto given = said(c.scene, key);
  const double tolerance = given ? *given * 1e-3 : 2 * cavity_uncertainty(there.tyre) * room;
  std::optional<Model> ends[2];
  for (int side = 0; side < 2; ++side) {
    Scene moved = c.scene;
    (axle == 0 ? moved.vehicle.front : moved.vehicle.rear).tyre.cavity_volume =
        room + (side == 0 ? -tolerance : tolerance);
    ends[side] = c.built(moved);
  }
  c.add({key, "L", tolerance * 1e3, 0, 0, 0}, ends[0], ends[1]);
}

// What lies on the loader, and the tool under it, where nobody measured them: moved from the usual of their kind, for
// the 0 in the scene only says that there is no measure.
void move_usual_tool(Collector& c, std::vector<const Field*>& moved_together) {
  const auto move = [&](const char* key, double BallastPlan::*number, double usual) {
    if (c.scene.ballast.*number > 0) return;  // as any number that is given
    const Field* field = find_field(key);
    moved_together.push_back(field);
    const double usual_off = default_tolerance(*field, c.scene);
    if (usual_off == 0) return;  // there is none
    const double off = said(c.scene, key).value_or(usual_off);
    if (!(off > 0) || c.stopped()) return;
    std::optional<Model> ends[2];
    for (int side = 0; side < 2; ++side) {
      Scene moved = c.scene;
      moved.ballast.*number = std::max(usual + (side == 0 ? -off : off), 0.01 * usual);  // 0 would be the usual again
      ends[side] = c.built(moved);
    }
    c.add({key, std::string(field->unit), off, 0, 0, 0}, ends[0], ends[1]);
  };
  const BallastPlan& plan = c.scene.ballast;
  move("ballast.loader_tool_mass_kg", &BallastPlan::loader_tool_mass, tool_mass(c.scene.vehicle.loader, plan));
  move("ballast.loader_load_ahead_m", &BallastPlan::loader_load_ahead, load_from_pin(plan).x);
}

// Where the load acts under a tyre: with the tread as the tyre bends sideways (share of the side give, to either side),
// towards the downhill edge as it leans (pressure offset, outwards). Neither is known but within bounds, for all tyres
// alike, so the widest place either way is taken together and not as squares; each is listed alone as well. What
// somebody knows of one tyre (a tolerance of their own) bounds it instead.
void move_place_of_load(Collector& c, std::vector<const Field*>& moved_together) {
  std::optional<Model> shares[2], lean, both[2];
  for (int side = 0; side < 2; ++side) shares[side] = both[side] = c.model;
  lean = c.model;
  double share = 0, offset = 0;
  for (std::size_t axle = 0; axle < 2; ++axle) {
    const std::string key = axle == 0 ? "vehicle.front.tyre." : "vehicle.rear.tyre.";
    const Field* of_share = find_field(key + "side_give_share");
    moved_together.push_back(of_share);
    if (c.model.wheels[2 * axle].tyre.laterally_rigid && c.model.wheels[2 * axle].tyre.rigid) continue;
    const double by = said(c.scene, of_share->key).value_or(default_tolerance(*of_share, c.scene));
    const double width = (axle == 0 ? c.scene.vehicle.front : c.scene.vehicle.rear).tyre.section_width;
    const double out = said(c.scene, key + "pressure_offset_m").value_or(kPressureMoves * width);
    share = std::max(share, by);
    offset = std::max(offset, out);
    for (std::size_t i = 2 * axle; i < 2 * axle + 2; ++i) {
      for (std::optional<Model>* ends : {shares, both}) {
        ends[0]->wheels[i].tyre.side_give_share = std::clamp(c.model.wheels[i].tyre.side_give_share - by, 0.0, 1.0);
        ends[1]->wheels[i].tyre.side_give_share = std::clamp(c.model.wheels[i].tyre.side_give_share + by, 0.0, 1.0);
      }
      lean->wheels[i].tyre.pressure_offset += out;
      both[0]->wheels[i].tyre.pressure_offset += out;
    }
  }
  const auto list = [&](const char* name, const char* unit, double tolerance, const std::optional<Model>& low,
                        const std::optional<Model>& high) {
    const Model* ends[2] = {low ? &*low : nullptr, high ? &*high : nullptr};
    c.add({name, unit, tolerance, 0, 0, 0}, ends, true);
  };
  if (share > 0) list("side_give_share of all tyres", "", share, shares[0], shares[1]);
  if (offset > 0) list("pressure_offset_m of all tyres, outwards only", "m", offset, std::nullopt, lean);
  if (share > 0 || offset > 0)
    c.add({"place of the load under the tyres, both together", "", 0, 0, 0, 0}, both[0], both[1]);
}

// Forces along the ground shared otherwise than by the usual rule; nobody has measured which holds. Side force: in
// proportion to the tyres' loads instead of by their stiffness. Lengthwise: each rear tyre as stiff whatever its load,
// instead of stiffer the more it carries. Across the slope that changes next to nothing, at oblique headings the
// machine's yaw balance depends on it.
void move_sharing(Collector& c) {
  if (c.model.wheels[kRearLeft].tyre.laterally_rigid && c.model.wheels[kFrontLeft].tyre.laterally_rigid) return;
  std::optional<Model> by_load = c.model, evenly = c.model;
  for (WheelModel& wheel : by_load->wheels) wheel.tyre.holds_by_load = true;
  for (WheelModel& wheel : evenly->wheels) wheel.tyre.holds_evenly = true;
  c.add({"sharing of side force between the tyres", "", 0, 0, 0, 0}, std::nullopt, by_load);
  c.add({"sharing of lengthwise force between the rear tyres", "", 0, 0, 0, 0}, std::nullopt, evenly);
}

}  // namespace

double default_tolerance(const Field& field, const Scene& scene) {
  const auto* number = std::get_if<NumberField>(&field.kind);
  if (!number) return 0;
  const double value = std::abs(file_value(*number, scene)), width = field.doubt.width;
  switch (field.doubt.kind) {
    case UsualDoubt::Kind::absolute:
      return width;
    case UsualDoubt::Kind::share:
      return width * value;
    case UsualDoubt::Kind::if_any:
      return value > 0 ? width : 0;
    case UsualDoubt::Kind::rule:
      return field.doubt.rule(scene);
    case UsualDoubt::Kind::not_said:
    case UsualDoubt::Kind::chosen:
    case UsualDoubt::Kind::idle:
    case UsualDoubt::Kind::elsewhere:
      break;
  }
  return 0;
}

Uncertainty uncertainty(const Scene& given, const Model& model, const StaticSolution& statics,
                        const std::stop_token& stop) {
  const Scene scene = even(given);
  Model on_even = model;
  on_even.terrain.features.clear();
  const bool same_ground = given.terrain.features.empty();
  Collector c{scene, on_even, stop, {}};
  c.out.middle = facts_of(on_even, same_ground ? statics : solve_statics(on_even, stop));
  for (auto [interval, middle] : {std::pair{&c.out.first_lift_off, c.middle.first_lift_off},
                                  {&c.out.tip_over, c.middle.tip_over},
                                  {&c.out.slide, c.middle.slide},
                                  {&c.out.rigid_lift_off, c.middle.rigid_lift_off},
                                  {&c.out.margin, c.middle.margin}})
    if (middle) *interval = Interval{};
  std::vector<const Field*> moved_together;
  for (const Alias& alias : scene_aliases()) {
    const auto targets = targets_of(alias.key);
    if (targets.empty() || said(scene, alias.targets[0]) || said(scene, alias.targets[1])) continue;
    const double by_default = std::max(default_tolerance(*targets[0], scene), default_tolerance(*targets[1], scene));
    c.move_fields(alias.key, targets, said(scene, alias.key).value_or(by_default));
    moved_together.insert(moved_together.end(), targets.begin(), targets.end());
  }
  move_place_of_load(c, moved_together);
  move_usual_tool(c, moved_together);
  for (const Field& field : scene_fields()) {
    if (!std::holds_alternative<NumberField>(field.kind) || field.doubt.kind == UsualDoubt::Kind::elsewhere) continue;
    if (std::find(moved_together.begin(), moved_together.end(), &field) != moved_together.end()) continue;
    if (field.there && !field.there(scene)) continue;
    c.move_fields(field.key, {&field}, said(scene, field.key).value_or(default_tolerance(field, scene)));
  }
  for (std::size_t i = 0; i < scene.ballast.point_masses.size(); ++i) {
    const PointMass& added = scene.ballast.point_masses[i];
    for (const FieldOf<PointMass>& field : point_mass_fields()) {
      const auto* number = std::get_if<NumberFieldOf<PointMass>>(&field.kind);
      if (!number || field.doubt.kind == UsualDoubt::Kind::idle) continue;
      std::optional<Model> ends[2];
      const bool is_share = field.doubt.kind == UsualDoubt::Kind::share;
      const double by = field.doubt.width * (is_share ? file_value(*number, added) : 1);
      for (int side = 0; side < 2; ++side) {
        Scene moved = scene;
        *number->at(moved.ballast.point_masses[i]) += (side == 0 ? -by : by) * number->to_si;
        ends[side] = c.built(moved);
      }
      c.add({fmt::format("{}: {}", added.name, field.name), std::string(field.unit), by, 0, 0, 0}, ends[0], ends[1]);
    }
  }
  for (std::size_t axle = 0; axle < 2; ++axle) {
    const std::string name = axle == 0 ? "front" : "rear";
    move_room(c, axle);
    if (const double off = fill_density_tolerance(scene, axle); off > 0) {
      const Model light = with_denser_fill(c.model, scene, axle, -2), heavy = with_denser_fill(c.model, scene, axle, 2);
      const Model* ends[2] = {&light, &heavy};
      c.add({name + " tyres: density of the filling", "kg/m3", off, 0, 0, 0}, ends);
    }
    const TyreLaw& law = c.model.wheels[2 * axle].tyre;
    if (law.vertical_stiffness_uncertainty > 0)
      c.move_tyres(name + " tyres: stiffening by filling and temperature", "kN/m",
                   2e-3 * law.vertical_stiffness_uncertainty, axle, [](TyreLaw& t, double sign) {
                     t.vertical_stiffness = std::max(t.vertical_stiffness + 2 * sign * t.vertical_stiffness_uncertainty,
                                                     0.2 * t.vertical_stiffness);
                   });
  }
  move_sharing(c);
  Uncertainty& out = c.out;
  settle(out.first_lift_off, c.middle.first_lift_off);
  settle(out.tip_over, c.middle.tip_over);
  settle(out.slide, c.middle.slide);
  settle(out.rigid_lift_off, c.middle.rigid_lift_off);
  settle(out.margin, c.middle.margin);
  settle(out.mass, c.middle.mass);
  for (int k = 0; k < 3; ++k) settle(out.centre_of_gravity[static_cast<std::size_t>(k)], c.middle.centre[k]);
  for (std::size_t i = 0; i < kWheels; ++i) settle(out.load[i], c.middle.load[i]);
  std::stable_sort(out.doubts.begin(), out.doubts.end(),
                   [](const Doubt& a, const Doubt& b) { return std::max(-a.low, a.high) > std::max(-b.low, b.high); });
  return out;
}

std::optional<double> stiffening_doubt(const Model& model, const std::stop_token& stop) {
  double squares = 0;
  for (std::size_t axle = 0; axle < 2; ++axle) {
    std::optional<double> slope[2];
    if (model.wheels[2 * axle].tyre.vertical_stiffness_uncertainty == 0 &&
        model.wheels[2 * axle + 1].tyre.vertical_stiffness_uncertainty == 0)
      continue;
    for (int side = 0; side < 2; ++side) {
      Model moved = model;
      for (std::size_t i = 2 * axle; i < 2 * axle + 2; ++i) {
        TyreLaw& tyre = moved.wheels[i].tyre;
        const double by = (side == 0 ? -1 : 1) * tyre.vertical_stiffness_uncertainty;
        tyre.vertical_stiffness = std::max(tyre.vertical_stiffness + by, 0.2 * tyre.vertical_stiffness);
      }
      slope[side] = first_lift_off(moved, stop).slope;
    }
    if (!slope[0] || !slope[1]) return std::nullopt;
    squares += (*slope[1] - *slope[0]) * (*slope[1] - *slope[0]);  // twice half the difference
  }
  return std::sqrt(squares);
}

}  // namespace sidehill

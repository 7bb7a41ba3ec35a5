#include "sim/own_machine/weighing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "vehicles/cavity.h"
#include "vehicles/tyre_size.h"

namespace sidehill {
namespace {

constexpr double kMostPitch = 25 * kDegree;  // that a plan asks for

// Geometry of the raised machine: pitch, and how far apart the wheel centres stand over the ground.
struct RaisedAxle {
  double angle = 0;  // from level, nose up [rad]
  double apart = 0;  // [m]
};

RaisedAxle raised(const Weighing& w) {
  const double between = std::hypot(w.wheelbase, w.front_radius - w.rear_radius);
  const double level = std::asin((w.front_radius - w.rear_radius) / between);
  const double standing = w.front_raised ? w.rear_radius : w.front_radius;
  const double sunk = w.standing_radius_then.value_or(standing) - standing;
  const double front = w.front_radius + (w.front_raised ? w.height : sunk);
  const double rear = w.rear_radius + (w.front_raised ? sunk : w.height);
  const double then = std::asin(std::clamp((front - rear) / between, -1.0, 1.0));
  return {then - level, between * std::cos(then)};
}

double front_share_then(const Weighing& w, double mass) {
  return w.front_then ? *w.front_then : mass - w.rear_then.value_or(0);
}

}  // namespace

TyreLiquid liquid_in_tyre(double free_radius, double rim_radius, double section_width, double fill, double density) {
  const Cavity cavity =
      cavity_of(free_radius, rim_radius, section_width,
                tyre_cavity_volume(SizeSeries::drive, section_width, 2 * free_radius, 2 * rim_radius));
  return {density * fill * cavity_volume(cavity), -liquid_place(cavity, fill, 0).z};
}

WeighedCentre centre_of_gravity_of(const Weighing& w) {
  WeighedCentre out;
  out.mass = w.front + w.rear;
  out.x = w.front * w.wheelbase / out.mass;
  if (w.wheel[0] && w.wheel[1] && w.wheel[2] && w.wheel[3] && w.front_track > 0 && w.rear_track > 0)
    out.y = ((*w.wheel[0] - *w.wheel[1]) * w.front_track + (*w.wheel[2] - *w.wheel[3]) * w.rear_track) / (2 * out.mass);
  const RaisedAxle then = raised(w);
  out.angle = then.angle;
  // The part that pitches: everything but the liquid, which stays under its wheel centres.
  const double solid = out.mass - w.front_liquid - w.rear_liquid;
  const double x_solid = (out.mass * out.x - w.front_liquid * w.wheelbase) / solid;
  const double moment = (front_share_then(w, out.mass) - w.front_liquid) * then.apart / solid;
  const double over_rear = (x_solid * std::cos(then.angle) - moment) / std::sin(then.angle);
  const double front_liquid = w.front_radius - w.front_liquid_depth, rear_liquid = w.rear_radius - w.rear_liquid_depth;
  out.z =
      (solid * (over_rear + w.rear_radius) + w.front_liquid * front_liquid + w.rear_liquid * rear_liquid) / out.mass;
  return out;
}

std::optional<WeighingConflict> find_weighing_conflict(const Weighing& w) {
  if (!w.front_then && !w.rear_then)
    return WeighingConflict{"raised_front_kg",
                            "missing, as is raised_rear_kg: at least one axle's load when raised is needed"};
  if (!(w.front > 0) || !(w.rear > 0))
    return WeighingConflict{"front_kg",
                            "an axle that carries nothing cannot be weighed, allowed more than 0 kg on each"};
  const double between = std::hypot(w.wheelbase, w.front_radius - w.rear_radius);
  if (w.height > 0.7 * between)
    return WeighingConflict{w.front_raised ? "raise_front_m" : "raise_rear_m",
                            fmt::format("{:g} would tip the machine, allowed up to {:.2f} m", w.height, 0.7 * between)};
  if (std::abs(raised(w).angle) < 0.01)
    return WeighingConflict{
        w.front_raised ? "raise_front_m" : "raise_rear_m",
        "pitches the machine by less than half a degree, allowed more: no height follows from that"};
  if (w.front_liquid >= w.front || w.rear_liquid >= w.rear)
    return WeighingConflict{w.front_liquid >= w.front ? "front_liquid_kg" : "rear_liquid_kg",
                            "is as much as the whole axle load, allowed less"};
  for (const bool front : {true, false}) {
    const double radius = front ? w.front_radius : w.rear_radius;
    if ((front ? w.front_liquid : w.rear_liquid) > 0 && (front ? w.front_liquid_depth : w.rear_liquid_depth) >= radius)
      return WeighingConflict{front ? "front_liquid_depth_m" : "rear_liquid_depth_m",
                              fmt::format("lies under the ground, allowed less than the wheel's {:g} m", radius)};
  }
  const double standing = w.front_raised ? w.rear_radius : w.front_radius;
  if (std::abs(w.standing_radius_then.value_or(standing) - standing) > 0.15)
    return WeighingConflict{"raised_standing_radius_m",
                            fmt::format("no tyre gives so much more, allowed within 0.15 m of {:g} m", standing)};
  const double mass = w.front + w.rear;
  for (const bool front : {true, false})
    if (const auto& then = front ? w.front_then : w.rear_then; then && *then > mass)
      return WeighingConflict{
          front ? "raised_front_kg" : "raised_rear_kg",
          fmt::format("{:g} is more than the whole machine, allowed up to the {:.0f} kg weighed level", *then, mass)};
  if (w.front_then && w.rear_then && std::abs(*w.front_then + *w.rear_then - mass) > 0.03 * mass)
    return WeighingConflict{
        "raised_front_kg",
        fmt::format("and raised_rear_kg add to {:.0f} kg, allowed within 3 % of the {:.0f} kg weighed level",
                    *w.front_then + *w.rear_then, mass)};
  const double z = centre_of_gravity_of(w).z;
  if (!(z > 0.05 && z < 4))
    return WeighingConflict{
        w.front_then ? "raised_front_kg" : "raised_rear_kg",
        fmt::format("puts the centre of gravity {:.2f} m up, allowed 0.05 to 4 m: check which axle was raised", z)};
  return {};
}

WeighingError error_of(const Weighing& weighing, const WeighingTolerance& t) {
  const WeighedCentre middle = centre_of_gravity_of(weighing);
  WeighingError out;
  const auto scale = [&](double load) { return std::max(t.scale * load, t.scale_least); };
  // Half the difference between both ends.
  const auto move = [&](std::string what, double tolerance, bool length, auto change) {
    if (!(tolerance > 0)) return;
    WeighedCentre end[2];
    for (int side = 0; side < 2; ++side) {
      Weighing w = weighing;
      change(w, side == 0 ? -tolerance : tolerance);
      end[side] = centre_of_gravity_of(w);
    }
    WeighingDoubt doubt{std::move(what), tolerance, length, {}};
    doubt.change = 0.5 * Vec3(end[1].x - end[0].x, end[1].y.value_or(0) - end[0].y.value_or(0), end[1].z - end[0].z);
    const double mass = 0.5 * (end[1].mass - end[0].mass);
    for (int k = 0; k < 3; ++k) out.centre[k] = std::hypot(out.centre[k], doubt.change[k]);
    out.mass = std::hypot(out.mass, mass);
    out.doubts.push_back(doubt);
  };
  constexpr const char* kWheel[] = {"front left, level", "front right, level", "rear left, level", "rear right, level"};
  if (middle.y) {
    for (std::size_t i = 0; i < 4; ++i)
      move(kWheel[i], scale(*weighing.wheel[i]), false, [&](Weighing& w, double d) {
        *w.wheel[i] += d;
        (i < 2 ? w.front : w.rear) += d;
      });
    move("front track", t.length, true, [](Weighing& w, double d) { w.front_track += d; });
    move("rear track", t.length, true, [](Weighing& w, double d) { w.rear_track += d; });
  } else {
    move("front axle, level", scale(weighing.front), false, [](Weighing& w, double d) { w.front += d; });
    move("rear axle, level", scale(weighing.rear), false, [](Weighing& w, double d) { w.rear += d; });
  }
  if (weighing.front_then)
    move("front axle, raised", scale(*weighing.front_then), false, [](Weighing& w, double d) { *w.front_then += d; });
  else
    move("rear axle, raised", scale(*weighing.rear_then), false, [](Weighing& w, double d) { *w.rear_then += d; });
  move("wheelbase", t.length, true, [](Weighing& w, double d) { w.wheelbase += d; });
  move("front radius", t.length, true, [](Weighing& w, double d) { w.front_radius += d; });
  move("rear radius", t.length, true, [](Weighing& w, double d) { w.rear_radius += d; });
  move("raised height", t.length, true, [](Weighing& w, double d) { w.height += d; });
  move("standing radius, raised", t.length, true, [](Weighing& w, double d) {
    w.standing_radius_then = w.standing_radius_then.value_or(w.front_raised ? w.rear_radius : w.front_radius) + d;
  });
  move("front liquid", t.liquid * weighing.front_liquid, false, [](Weighing& w, double d) { w.front_liquid += d; });
  move("rear liquid", t.liquid * weighing.rear_liquid, false, [](Weighing& w, double d) { w.rear_liquid += d; });
  if (weighing.front_liquid > 0)
    move("front liquid's depth", t.depth, true, [](Weighing& w, double d) { w.front_liquid_depth += d; });
  if (weighing.rear_liquid > 0)
    move("rear liquid's depth", t.depth, true, [](Weighing& w, double d) { w.rear_liquid_depth += d; });
  std::ranges::stable_sort(out.doubts, [](const WeighingDoubt& a, const WeighingDoubt& b) {
    return std::abs(a.change.z) > std::abs(b.change.z);
  });
  return out;
}

Weighing weighed_at(const Weighing& weighing, double z) {
  Weighing w = weighing;
  const double mass = w.front + w.rear, x = w.front * w.wheelbase / mass;
  const double solid = mass - w.front_liquid - w.rear_liquid;
  const double x_solid = (mass * x - w.front_liquid * w.wheelbase) / solid;
  const double front_liquid = w.front_radius - w.front_liquid_depth, rear_liquid = w.rear_radius - w.rear_liquid_depth;
  const double over_rear =
      (mass * z - w.front_liquid * front_liquid - w.rear_liquid * rear_liquid) / solid - w.rear_radius;
  const RaisedAxle then = raised(w);
  w.front_then =
      w.front_liquid + solid * (x_solid * std::cos(then.angle) - over_rear * std::sin(then.angle)) / then.apart;
  w.rear_then = mass - *w.front_then;
  return w;
}

std::optional<double> least_raise(const Weighing& weighing, const WeighingTolerance& tolerance, double z,
                                  double wanted) {
  for (int step = 1; step <= 30; ++step) {
    const double height = 0.05 * step;
    Weighing w = weighing;
    w.height = height;
    if (std::abs(raised(w).angle) > kMostPitch) break;
    w = weighed_at(w, z);
    if (find_weighing_conflict(w)) continue;
    // Only what the sheet reads: the other axle's load would be known better or worse.
    if (!weighing.front_then && weighing.rear_then) w.front_then.reset();
    if (!weighing.rear_then && weighing.front_then) w.rear_then.reset();
    if (error_of(w, tolerance).centre.z <= wanted) return height;
  }
  return std::nullopt;
}

}  // namespace sidehill

// A steady bend or braking on a slope, without time: the machine at rest under what it feels. Knows no file, no engine.
#pragma once
#include <optional>
#include <stop_token>
#include <vector>

#include "sim/rest/statics.h"

namespace sidehill {

enum class ManoeuvreKind { turning_left, turning_right, braking };

struct ManoeuvreAnswer {
  ManoeuvreKind kind = ManoeuvreKind::turning_left;
  double acceleration = 0;       // inertial, its size along the ground [m/s2]
  LiftOff lift_off;              // slope at which the first wheel lifts while doing it
  std::optional<double> margin;  // lift_off - slope [rad]
  std::optional<double> slide;   // slope at which an axle's adhesion gives out while doing it [rad]
  std::optional<Rest> rest;      // on the scene's slope; empty = it goes over
  std::optional<double>
      acceleration_at_limit;  // on the scene's slope, the first wheel lifts at this one [m/s2]; none = not up to 15
  std::optional<double> speed_at_limit;  // of a bend of this radius [m/s]; none for braking
};

// On the scene's slope, doing what is asked for: whether a wheel has lifted; whether it goes over.
bool lifts_under_way(const ManoeuvreAnswer& answer);
bool tips_under_way(const ManoeuvreAnswer& answer);

// The model under d'Alembert's forces: a bend of `lateral` = speed^2 / radius [m/s2], positive to the left, pushes to
// the right; `braking` [m/s2] pushes ahead. Source: d'Alembert; the liquid's surface follows what it feels.
Model accelerated(const Model& model, double lateral, double braking);

// What the scene's manoeuvre asks for: both ways round, and braking, each alone. Assumes steady motion, no roll rate,
// no steering angle in the geometry; braking holds at the rear wheels only. Empty if nothing is asked for. Once
// `stop` is requested it comes back soon, and what it gives then means nothing.
std::vector<ManoeuvreAnswer> manoeuvres(const Scene& scene, const Model& model, const std::stop_token& stop = {});

}  // namespace sidehill

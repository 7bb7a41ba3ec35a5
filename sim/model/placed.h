// Where the parts of the machine are for a pose of the chassis and its joints: the one place that says what goes along
// with the chassis and what with the front axle. Knows the Model; no force, no time.
// Frames as in sim/model/model.h.
#pragma once
#include <array>

#include "sim/model/model.h"

namespace sidehill {

struct PlacedMachine {
  Pose X_GV, X_GA;  // A: origin at the pin; of an articulated machine turned with the front half
  // Of each wheel: origin at its centre, attitude of what carries it. Neither steered nor rolled.
  std::array<Pose, kWheels> X_GH;
};

// `axle_angle` on the pin, `articulation` of the joint [rad]; without it the angle the model was built with.
PlacedMachine placed(const Model& model, const Pose& X_GV, double axle_angle);
PlacedMachine placed(const Model& model, const Pose& X_GV, double axle_angle, double articulation);

// What swings or turns by itself, in G: where it is now.
struct LooseParts {
  Vec3 rope_load_G{0.0}, tank_liquid_G{0.0};
  std::array<Vec3, kWheels> liquid_G{};
  std::array<double, kWheels> turned{};  // of each wheel about its axle since the model's own attitude, forward [rad]
  double boom_turned = 0;                // of the boom, from the model's own angle, up positive [rad]
};

// Everything as one lump, in G; with the front axle and its wheels, or without. Liquid and what hangs stay level: they
// go along as points.
MassProperties lump_of(const Model& model, const PlacedMachine& at, const LooseParts& loose, bool with_axle);

// How far the axle has turned past its stop, with the sign of the turn [rad]; 0 up to the stop, and where nothing
// turns.
double beyond_stop(const Model& model, double axle_angle);

// Of the pin that carries the bucket, in V, with the boom at that angle over the horizontal [rad].
Vec3 bucket_pin(const LoaderModel& loader, double boom_angle);

}  // namespace sidehill

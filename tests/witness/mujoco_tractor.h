// A witness: a whole tractor that MuJoCo moves by its own joints, springs and contacts; nothing of our forces, contacts
// or statics is in it. From the Model it takes masses, places, stiffnesses and dampers, from the Terrain heights.
// Every tyre is a hub, a light tread that slides on it sideways, up and down and lengthwise against springs and dampers
// along the wheel's own axes, and a thin stiff disc on the tread that meets the ground at its deepest point. So the
// ground's force acts where the tread stands: a side give of share 1 (Tyre::side_give_share). A tread sticks until it
// slips by friction; no side force relaxes while it rolls. Fillings and dual tyres are not built.
// For tests only; MuJoCo is included by the witness files and nowhere else.
#pragma once
#include <array>
#include <memory>

#include "sim/model/model.h"

namespace sidehill {

struct MujocoTractorSetup {
  double time_step = 5e-4;      // [s]
  bool sideways_rigid = false;  // no tread slides sideways
  bool drives = false;          // all wheels turn; else the rear ones are held
  double friction = 2;          // of tread on ground [-]
  double tread_mass = 3;        // taken from the wheel's, on the tread's side of the springs [kg]
};

class MujocoTractor {
 public:
  // Stands on undeflected tyres on level ground, heading as in the model. Throws std::runtime_error for what is not
  // built and with MuJoCo's words.
  MujocoTractor(const Model& model, const MujocoTractorSetup& setup);
  ~MujocoTractor();
  MujocoTractor(MujocoTractor&&) noexcept;
  MujocoTractor& operator=(MujocoTractor&&) noexcept;

  void step(double slope);      // of the ground in this step [rad]; throws std::runtime_error if the numbers run away
  void drive_at(double speed);  // rolls at that speed from now on, kept up by the rear wheels [m/s]
  double time() const;          // [s]
  Pose X_GV() const;            // chassis
  std::array<double, kWheels> loads() const;    // of the ground on each tread, along its normal [N]; enum Wheel
  std::array<double, kWheels> pressed() const;  // of each tyre's spring and damper on its hub, upwards [N]

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill

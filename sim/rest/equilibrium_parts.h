// What equilibrium.cpp and balance.cpp share, and nobody else: forces on a trial pose, the imbalance, one step.
#pragma once
#include <Eigen/Dense>

#include "sim/model/tyre_contact.h"
#include "sim/rest/equilibrium.h"

namespace sidehill {

constexpr int kUnknowns = 8;
using Vector = Eigen::Matrix<double, kUnknowns, 1>;
using Matrix = Eigen::Matrix<double, kUnknowns, kUnknowns>;

struct WheelForces {
  HubContact hub;       // by geometry alone
  TyreContact contact;  // the same, its point moved to where the load acts
  Vec3 centre_G, axle_G, liquid_G{0.0}, force_G{0.0};
  bool touches = false;
  double carrying = 1;                    // tyres of this hub that carry
  double load = 0, across = 0, held = 0;  // normal; sideways to the left; lengthwise forward [N]
  double along = 0, aside = 0;            // how far the wheel has moved from where it took hold, forward, left [m]
  double bend = 0;                        // of the tyre sideways: rim to the left of the tread [m]
};

struct Forces {
  std::array<WheelForces, kWheels> wheels;
  Vec3 sum{0.0}, moment{0.0};  // of everything; moment about V's origin
  double joint = 0;            // on the axle about its pin
  Vec3 com{0.0};
  double energy = 0;
};

// Contacts of wheels worked out before, null where there are none: of wheels that stand just so still, or nearly.
struct Known {
  std::array<const WheelForces*, kWheels> wheel{};
  std::array<bool, kWheels> moved{};  // since then, a little: the ground is taken as even round each contact
};

// Everything that acts on a trial pose. `known`: contacts that need not be worked out.
Forces forces_at(const EquilibriumSystem& system, const TrialPose& trial, const Known& known = {});

// What is left until a contact changes: see contact_slacks. `f`: the forces at `trial`, likewise below.
double slack(const EquilibriumSystem& system, const TrialPose& trial, const Forces& f, const ContactChange& change);

// The imbalance, scaled so that every entry is of order one.
Vector residual(const EquilibriumSystem& system, const Question& question, const TrialPose& trial, const Forces& f);

// A step of the unknowns: across and up [m], three turns [rad], axle [rad], hold [weight], slope [rad] or moment
// [weight x m]; laterally rigid: the axles' side forces [weight] in place of "across" and of the turn about z.
TrialPose stepped(const EquilibriumSystem& system, const Question& question, const TrialPose& trial, const Vector& d);

// What a hand of stiffness 1 [weights/m] adds to the slopes of the imbalance. The liquid's flow is left out.
Matrix slopes_of_hand(const EquilibriumSystem& system, const TrialPose& trial, const Forces& f);

// A tyre's stiffness at rest [N/m]: one said to be harder than a rigid one counts as rigid, for its load would be all
// rounding.
double stiffness_at_rest(const TyreLaw& tyre);

}  // namespace sidehill

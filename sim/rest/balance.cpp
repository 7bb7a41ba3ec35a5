// Newton's iteration for the balance of sim/rest/equilibrium.h, and the contacts that change under it.
#include <algorithm>
#include <cmath>

#include "sim/rest/equilibrium_parts.h"

namespace sidehill {
namespace {

// `at_trial`: the forces there; a wheel that a step does not move meets the ground as before. `rough`: the ground is
// taken as even round each contact, which costs far less where footprints are sampled.
Matrix slopes_of_residual(const EquilibriumSystem& system, const Question& question, const TrialPose& trial,
                          const Forces& at_trial, const Vector& r, int size, bool rough) {
  Known none, rear, all;
  for (std::size_t i = 0; i < kWheels; ++i) all.wheel[i] = &at_trial.wheels[i];
  if (rough) rear = none = all;
  for (std::size_t i = 0; rough && i < kWheels; ++i) {
    none.moved[i] = true;
    rear.moved[i] = i < 2;
  }
  rear.wheel[kRearLeft] = all.wheel[kRearLeft], rear.wheel[kRearRight] = all.wheel[kRearRight];
  // Steps of the difference quotients. Of places: small enough that even a rigid tyre's load changes little against the
  // weight. Of forces, in which everything is linear, and of the slope: large against the rounding of rigid loads.
  const auto step_of = [&](int k) {
    const bool force = k == 6 || (k == 7 && question.sought == Sought::moment_at_tilt) ||
                       (system.laterally_rigid && (k == 0 || k == 4));
    return force ? 1e-3 : k == 7 ? 1e-6 : system.difference;
  };
  Matrix jacobian = Matrix::Identity();
  for (int k = 0; k < size; ++k) {
    const double step = step_of(k);
    Vector d = Vector::Zero();
    d[k] = step;
    const TrialPose next = stepped(system, question, trial, d);
    // Laterally rigid, every step also puts the heading right.
    const bool known = !system.laterally_rigid;
    const Forces f = known && k >= 6   ? forces_at(system, next, all)
                     : known && k == 5 ? forces_at(system, next, rear)
                                       : forces_at(system, next, known ? none : Known{});
    jacobian.col(k).head(size) = ((residual(system, question, next, f) - r) / step).head(size);
  }
  return jacobian;
}

// Cuts a Newton step back to what the linear picture can be trusted for.
void limit(const EquilibriumSystem& system, const Question& question, Vector& d) {
  constexpr double kMostTurn = 0.1, kMostMove = 0.1;  // [rad], [m]
  double furthest = std::max({std::abs(d[1]) / kMostMove, std::abs(d[2]) / kMostTurn, std::abs(d[3]) / kMostTurn,
                              std::abs(d[5]) / kMostTurn, 1.0});
  if (!system.laterally_rigid) furthest = std::max({furthest, std::abs(d[0]) / kMostMove, std::abs(d[4]) / kMostTurn});
  if (question.sought != Sought::pose_at_slope && question.sought != Sought::moment_at_tilt)
    furthest = std::max(furthest, std::abs(d[7]) / kMostTurn);
  d /= furthest;
}

// The slopes of the balance before that asked the same. False: there are none.
bool take_slopes(const EquilibriumSystem& system, const Question& question, const TrialPose& trial, const Forces& f,
                 Matrix& inverse) {
  if (!system.slopes) return false;
  const Slopes::Kept& kept = system.slopes->of[static_cast<std::size_t>(question.sought)];
  if (!kept.valid) return false;
  inverse = Eigen::Map<const Matrix>(kept.inverse.data());
  const double stiffer = system.hand.stiffness - kept.hand;
  if (stiffer != 0) inverse = (inverse.inverse() + stiffer * slopes_of_hand(system, trial, f)).inverse().eval();
  return true;
}

void keep_slopes(const EquilibriumSystem& system, const Question& question, bool valid, const Matrix& inverse) {
  if (!system.slopes) return;
  Slopes::Kept& kept = system.slopes->of[static_cast<std::size_t>(question.sought)];
  kept.valid = valid;
  kept.hand = system.hand.stiffness;
  Eigen::Map<Matrix>(kept.inverse.data()) = inverse;
}

// Makes the inverse right along a step that was taken. Source: Broyden 1965, Math. Comp. 19, the first method, in the
// form of Sherman and Morrison.
void correct(Matrix& inverse, const Vector& step, const Vector& change) {
  const Vector seen = inverse * change;
  const double scale = step.dot(seen);
  if (std::abs(scale) < 0.1 * step.squaredNorm()) return;
  inverse += (step - seen) / scale * (step.transpose() * inverse);
}

}  // namespace

NewtonResult balance(const EquilibriumSystem& system, const Question& question, TrialPose& trial) {
  constexpr int kPatience = 10;
  constexpr double kFar = 1e-3;
  const double enough = question.enough;
  // More than that where a nearly unloaded axle still holds the machine and its shares swing with every newton: no step
  // gains any more, and this is as good as it gets.
  constexpr double kRounding = 1e-6;
  constexpr double kGain = 0.25;     // of the imbalance left over: worth another step with the same slopes, corrected
  constexpr double kGainAsIs = 0.1;  // the same, where they are left as they are
  const bool swings = system.laterally_rigid;  // shares of load swing too fast for slopes to be corrected by one step
  const int size = question.sought == Sought::pose_at_slope ? 7 : 8;
  NewtonResult result;
  const auto unwanted = [&] { return system.unwanted.stop_requested(); };
  if (unwanted()) return result;
  trial.moment_axis = question.about.axis_G;
  Forces f = forces_at(system, trial);
  Vector r = residual(system, question, trial, f);
  double norm = r.head(size).lpNorm<Eigen::Infinity>();
  Matrix inverse = Matrix::Identity();
  Eigen::PartialPivLU<Matrix> exact;  // between rigid tyres the last digits of an inverse are missed
  bool rough = !swings && std::any_of(system.uneven.begin(), system.uneven.end(), [](bool uneven) { return uneven; });
  bool own = false;  // the slopes were worked out in this call
  bool known = !swings && take_slopes(system, question, trial, f, inverse);
  while (norm > enough) {
    if (unwanted()) return result;
    bool fresh = false;  // the slopes belong to the present trial
    if (!known) {
      if (result.iterations == question.most_iterations) break;
      if (result.iterations >= kPatience && norm > kFar) break;  // it wanders: there is no balance near
      ++result.iterations;
      const Matrix slopes = slopes_of_residual(system, question, trial, f, r, size, rough);
      if (swings)
        exact.compute(slopes);
      else
        inverse = slopes.inverse();
      fresh = !rough;
      own = true;
    }
    // Slopes cost much, residuals little: the same slopes, corrected by what each step shows, serve as long as it
    // gains.
    for (;;) {
      Vector d = swings ? Vector(-exact.solve(r)) : Vector(-inverse * r);
      for (int k = size; k < kUnknowns; ++k) d[k] = 0;
      if (!d.allFinite()) {
        if (own) return result;
        known = false;  // carried too far
        break;
      }
      limit(system, question, d);
      TrialPose next = stepped(system, question, trial, d);
      Forces f_next = forces_at(system, next);
      Vector r_next = residual(system, question, next, f_next);
      double norm_next = r_next.head(size).lpNorm<Eigen::Infinity>();
      // On uneven ground the forces have kinks where a sample of the footprint comes or goes; shorter steps get past
      // them.
      for (int halving = 0; fresh && halving < 6 && !(norm_next < norm) && (norm < 1e-2 || system.one_sided);
           ++halving) {
        d *= 0.5;
        next = stepped(system, question, trial, d);
        f_next = forces_at(system, next);
        r_next = residual(system, question, next, f_next);
        norm_next = r_next.head(size).lpNorm<Eigen::Infinity>();
      }
      if (!std::isfinite(norm_next)) {
        if (own) return result;
        known = false;
        break;
      }
      if (system.laterally_rigid && fresh && norm < kRounding && !(norm_next < norm)) {
        result.norm = norm;
        result.converged = true;
        return result;
      }
      const bool gains = norm_next < (swings ? kGainAsIs : kGain) * norm;
      known = gains;
      rough = rough && (gains || !own);
      if (gains && norm > kRounding && !swings) correct(inverse, d, r_next - r);
      if (gains || fresh) {  // a full Newton step is taken even if it does not gain: kinks are handled a level above
        trial = next;
        f = f_next;
        r = r_next;
        norm = norm_next;
      }
      fresh = false;
      if (!gains || norm <= enough) break;
    }
  }
  result.norm = norm;
  result.converged = norm <= std::max(1e-7, enough);
  if (known || result.iterations > 0) keep_slopes(system, question, known, inverse);
  return result;
}

namespace {

// Corrects which stop bears by what a balanced trial shows. Returns whether it changed.
bool correct_stop(const Model& m, TrialPose& trial) {
  if (m.axle_kind == AxleKind::fixed) return false;
  if (trial.stop == 0 && std::abs(trial.axle_angle) - m.stop_angle > 1e-12) {
    trial.stop = trial.axle_angle > 0 ? 1 : -1;
    return true;
  }
  if (trial.stop != 0 && trial.stop * trial.axle_angle < m.stop_angle - 1e-12) {
    trial.stop = 0;
    return true;
  }
  return false;
}

// Corrects the touching set and the bearing stop by what a balanced trial shows. Returns whether anything changed.
bool correct_contacts(const EquilibriumSystem& system, TrialPose& trial) {
  const Model& m = *system.model;
  const double slack = 1e-9 * system.weight;
  const Forces f = forces_at(system, trial);
  bool changed = false;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const double press =
        trial.touching[i] ? f.wheels[i].load : -f.wheels[i].contact.penetration * stiffness_at_rest(m.wheels[i].tyre);
    if (press >= -slack) continue;
    trial.touching[i] = !trial.touching[i];
    changed = true;
  }
  return correct_stop(m, trial) || changed;
}

// Balances and corrects until nothing changes. False: a set on the way had no balance.
bool settle_contacts(const EquilibriumSystem& system, const Question& question, TrialPose& trial, int& iterations) {
  for (int change = 0; change < 12; ++change) {
    const NewtonResult step = balance(system, question, trial);
    iterations += step.iterations;
    if (!step.converged) return false;
    if (!correct_contacts(system, trial)) return true;
  }
  return false;
}

}  // namespace

NewtonResult balance_with_stop(const EquilibriumSystem& system, const Question& question, TrialPose& trial) {
  // A stop just touched bears nothing either way, so a set that keeps changing there is an answer all the same.
  constexpr int kMostChanges = 6;
  NewtonResult result;
  for (int change = 0; change < kMostChanges; ++change) {
    const NewtonResult step = balance(system, question, trial);
    result = {step.converged, result.iterations + step.iterations, step.norm};
    if (!step.converged || !correct_stop(*system.model, trial)) break;
  }
  return result;
}

NewtonResult balance_one_sided(const EquilibriumSystem& system, const Question& question, TrialPose& trial,
                               bool try_others) {
  NewtonResult result;
  const TrialPose start = trial;
  result.converged = settle_contacts(system, question, trial, result.iterations);
  if (result.converged || !try_others) return result;
  // A contact too many or too few leaves no balance near. Others are tried in turn, each for a few iterations only.
  Question brief = question;
  brief.most_iterations = 10;
  const auto attempt = [&](TrialPose other) {
    result.converged = settle_contacts(system, brief, other, result.iterations);
    if (result.converged) trial = other;
    return result.converged;
  };
  const Model& m = *system.model;
  // An axle whose last wheel leaves the ground swings on its pin until the other comes down, or drops to one of its
  // stops.
  if (m.axle_kind != AxleKind::fixed && (start.touching[kFrontLeft] || start.touching[kFrontRight])) {
    TrialPose swung = start, hanging = start;
    std::swap(swung.touching[kFrontLeft], swung.touching[kFrontRight]);
    if (start.touching[kFrontLeft] != start.touching[kFrontRight] && attempt(swung)) return result;
    hanging.touching[kFrontLeft] = hanging.touching[kFrontRight] = false;
    for (int stop : {-1, 1}) {
      hanging.stop = stop;
      hanging.axle_angle = stop * m.stop_angle;
      if (attempt(hanging)) return result;
    }
  }
  // With rigid tyres a newly met stop leaves no freedom at all, and no balance until some wheel leaves.
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (!start.touching[i]) continue;
    for (int stop : {trial.stop, start.stop}) {
      TrialPose other = start;
      other.touching[i] = false;
      other.stop = stop;
      if (attempt(other)) return result;
      if (trial.stop == start.stop) break;
    }
  }
  return result;
}

}  // namespace sidehill

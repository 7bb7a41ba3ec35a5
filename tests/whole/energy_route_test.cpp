// A second road to the resting pose: the least of an energy written anew from the Model, found by a damped Newton
// method that looks at that energy alone. Nothing of sim/rest/equilibrium is used but its answer.
//
// Where the comparison is exact, and why. Gravity, radial springs and the axle's stop have a potential as they are. A
// tangential spring as the program has it does not quite: its force acts at the place on the wheel that touches just
// now, and that place wanders over the tread while the machine settles. So the places that touch, the directions of
// the ground forces there and the shares of the rear wheels are held while the least is sought, then taken anew from
// the pose found, until nothing moves. Held, the springs are true springs between body and ground; at rest they pull
// as the program's do. This holds on even ground at any heading and slope, wheels up and axle on its stop included.
// Left out: a filling that moves and a pressure that shifts with lean (test_machine sets neither here).
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>
#include <random>

#include "sim/base/constants.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

using V7 = Eigen::Matrix<double, 7, 1>;  // place [m], three small turns [rad], axle angle [rad]
using M7 = Eigen::Matrix<double, 7, 7>;

struct Placed {
  Vec3 p{0.0}, pin{0.0};
  Mat3 R{1.0}, R_axle{1.0};
  double axle_angle = 0;
};

// What is held while the least is sought, of each wheel.
struct Held {
  Vec3 in_wheel{0.0};          // place that touches, from the wheel centre, in the axes of axle or chassis [m]
  Vec3 ahead{0.0}, left{0.0};  // in the ground
  double stiffness_along = 0, part = 0, moved = 0;
};

struct EnergyRoute {
  EnergyRoute(const Model& model, double slope) : m(model), gravity(slope_gravity(model, slope)) {
    const double c = std::cos(m.start.heading), s = std::sin(m.start.heading);
    start.R = Mat3(-s, c, 0, -c, -s, 0, 0, 0, 1);  // heading 0 faces up the slope, +y
    start.p = {m.start.x, m.start.y, m.wheels[kRearLeft].tyre.radius};
    at = start;
    hold_contacts();
  }

  Placed at;

  void set_slope(double slope) { gravity = slope_gravity(m, slope); }

  Vec3 centre(const Placed& q, std::size_t i) const {
    return i < 2 ? q.pin + q.R_axle * (m.wheels[i].centre - m.pin) : q.p + q.R * m.wheels[i].centre;
  }

  // Straight "down" of the wheel's own plane.
  static Vec3 down(const Vec3& axle) {
    const Vec3 d = Vec3(0, 0, -1) + axle.z * axle;
    return d / glm::length(d);
  }

  double load(const Placed& q, std::size_t i) const {
    const Mat3& R = i < 2 ? q.R_axle : q.R;
    const double depth = -(centre(q, i) + m.wheels[i].tyre.radius * down(R[1])).z;
    return m.wheels[i].tyre.vertical_stiffness * std::max(0.0, depth);
  }

  Placed moved(const Placed& q, const V7& d) const {
    Placed out = q;
    out.p += Vec3(d[0], d[1], d[2]);
    const Vec3 w(d[3], d[4], d[5]);
    const double angle = glm::length(w);
    if (angle > 0) out.R = glm::mat3_cast(glm::angleAxis(angle, w / angle)) * q.R;
    out.axle_angle += d[6];
    finish(out);
    return out;
  }

  double energy(const Placed& q) const {
    double e = 0;
    const auto weigh = [&](double mass, const Vec3& place) { e -= mass * glm::dot(gravity, place - start.p); };
    weigh(m.chassis.mass, q.p + q.R * m.chassis.com);
    if (m.loader.fitted) weigh(m.loader.boom.mass, q.p + q.R * (m.loader.pivot + m.loader.boom.com));
    weigh(m.axle.mass, q.pin + q.R_axle * m.axle.com);
    double held_along = 0;  // how far the rear wheels have run, by shares
    for (std::size_t i = 0; i < kWheels; ++i) {
      const WheelModel& w = m.wheels[i];
      const Mat3& R = i < 2 ? q.R_axle : q.R;
      const Vec3 middle = centre(q, i);
      weigh(w.dry.mass, middle + R * w.dry.com);
      const double pressed = load(q, i);
      e += 0.5 * pressed * pressed / w.tyre.vertical_stiffness;
      const Held& h = held[i];
      const Vec3 from_start = middle + R * h.in_wheel - (start.p + start.R * w.centre);
      if (touches[i]) e += 0.5 * w.tyre.lateral_stiffness * std::pow(glm::dot(from_start, h.left), 2);
      if (i < 2) continue;
      const double along = glm::dot(from_start, h.ahead);
      e += 0.5 * h.stiffness_along * std::pow(along - h.moved, 2);
      held_along += h.part * along;
    }
    // The brakes: a spring whose far end is pulled along until V's origin is where it started.
    e += 0.5 * kBrake * std::pow(held_along - brake_end, 2);
    if (m.axle_kind == AxleKind::pivoting)
      e += 0.5 * m.stop_stiffness * std::pow(std::max(0.0, std::abs(q.axle_angle) - m.stop_angle), 2);
    return e;
  }

  V7 slope_of(const Placed& q) const {
    V7 g = V7::Zero();
    for (int k = 0; k < 7; ++k)
      g[k] = (energy(moved(q, unit(k, kStep))) - energy(moved(q, unit(k, -kStep)))) / (2 * kStep);
    if (m.axle_kind == AxleKind::fixed) g[6] = 0;
    return g;
  }

  M7 curve_of(const Placed& q) const {
    M7 curve;
    for (int k = 0; k < 7; ++k)
      curve.col(k) = (slope_of(moved(q, unit(k, kStep))) - slope_of(moved(q, unit(k, -kStep)))) / (2 * kStep);
    if (m.axle_kind == AxleKind::fixed) curve.row(6).setZero(), curve.col(6).setZero(), curve(6, 6) = 1e6;
    return 0.5 * (curve + curve.transpose());
  }

  // Downhill in energy by Newton steps, damped until the energy falls. False: it runs away.
  bool settle() {
    double e = energy(at);
    for (int i = 0; i < 200; ++i) {
      const V7 g = slope_of(at);
      if (!g.allFinite() || at.R[2].z < 0.3) return false;
      if (g.lpNorm<Eigen::Infinity>() < 1e-3) return true;  // [N], [N m]; weights are tens of thousands
      const M7 curve = curve_of(at);
      double damping = 0;
      for (int attempt = 0;; ++attempt) {
        if (attempt == 40) return g.lpNorm<Eigen::Infinity>() < 0.1;  // rounding: no step gains any more
        const Eigen::LLT<M7> factor(curve + damping * M7::Identity());
        damping = std::max(10 * damping, 1.0);
        if (factor.info() != Eigen::Success) continue;  // not a bowl: make it one
        V7 d = -factor.solve(g);
        d *= std::min(1.0, 0.05 / d.lpNorm<Eigen::Infinity>());
        const Placed next = moved(at, d);
        const double e_next = energy(next);
        const bool falls = e_next < e + 1e-4 * g.dot(d);
        const bool level = std::abs(e_next - e) < 1e-9 && slope_of(next).norm() < g.norm();
        if (!falls && !level) continue;
        at = next;
        e = e_next;
        break;
      }
    }
    return false;
  }

  // Takes anew what was held; how far any of it moved [m].
  double hold_contacts() {
    finish(at);
    double change = 0, rear = 0, run = 0;
    for (std::size_t i = 0; i < kWheels; ++i) {
      const WheelModel& w = m.wheels[i];
      const Mat3& R = i < 2 ? at.R_axle : at.R;
      Vec3 contact = centre(at, i) + w.tyre.radius * down(R[1]);
      contact.z = 0;  // the force acts at ground level, under the lowest point of the disc
      Held h;
      h.in_wheel = glm::transpose(R) * (contact - centre(at, i));
      h.ahead = glm::normalize(glm::cross(R[1], Vec3(0, 0, 1)));
      h.left = glm::cross(Vec3(0, 0, 1), h.ahead);
      change = std::max(change, glm::length(h.in_wheel - held[i].in_wheel) + glm::length(h.left - held[i].left));
      const double n = load(at, i);
      touches[i] = n > 0;
      if (i >= 2) {
        rear += n;
        h.part = n;
        h.stiffness_along = w.tyre.longitudinal_stiffness * n / w.tyre.reference_load;
        h.moved = glm::dot(contact - (start.p + start.R * w.centre), h.ahead);  // for now: how far it ran itself
      }
      held[i] = h;
    }
    if (!(rear > 0)) return change;
    for (std::size_t i = 2; i < kWheels; ++i) held[i].part /= rear, run += held[i].part * held[i].moved;
    for (std::size_t i = 2; i < kWheels; ++i) held[i].moved = run;
    const double astray = glm::dot(at.p - start.p, start.R[0]);
    brake_end -= astray;
    return change + std::abs(astray);
  }

  // The least with everything held up to date.
  bool find_rest() {
    for (int i = 0; i < 200; ++i) {
      if (!settle()) return false;
      if (hold_contacts() < 1e-9) return true;
    }
    return false;
  }

  EnergyRoute copy() const { return *this; }
  void restore(const EnergyRoute& o) { at = o.at, held = o.held, touches = o.touches, brake_end = o.brake_end; }

  static constexpr double kStep = 1e-5;  // of the difference quotients [m], [rad]
  static constexpr double kBrake = 1e6;  // any stiffness gives the same rest [N/m]

  static Vec3 slope_gravity(const Model& model, double slope) {
    return {0, -model.gravity * std::sin(slope), -model.gravity * std::cos(slope)};
  }
  static V7 unit(int k, double size) {
    V7 d = V7::Zero();
    d[k] = size;
    return d;
  }
  void finish(Placed& q) const {
    q.pin = q.p + q.R * m.pin;
    q.R_axle = q.R * about_x(q.axle_angle);
  }

  const Model& m;
  Vec3 gravity;
  Placed start;
  std::array<Held, kWheels> held{};
  std::array<bool, kWheels> touches{true, true, true, true};
  double brake_end = 0;
};

Scene random_machine(std::mt19937_64& random, int round) {
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  Scene scene = test_machine(kMachines[round % 5], {"ballast.rear.fill_fraction=0", "ballast.front.fill_fraction=0"});
  scene.vehicle.chassis.mass *= between(0.7, 1.4);
  scene.vehicle.chassis.centre_of_gravity.z *= between(0.8, 1.1);
  scene.vehicle.chassis.centre_of_gravity.y = between(-0.04, 0.04);
  scene.vehicle.rear.track *= between(0.95, 1.2);
  scene.vehicle.front_axle.pin_height *= between(0.8, 1.2);
  if (round % 7 == 3) scene.vehicle.front_axle.kind = AxleKind::fixed;
  for (Axle* axle : {&scene.vehicle.front, &scene.vehicle.rear}) {
    axle->tyre.vertical_stiffness *= between(0.6, 2);
    axle->tyre.lateral_stiffness *= between(0.6, 2);
    axle->tyre.longitudinal_stiffness *= between(0.6, 2);
    axle->tyre.pressure_offset = axle->tyre.side_give_share = 0;  // a load that moves with the bend has no energy
  }
  scene.start.heading = between(-180, 180) * kDegree;
  scene.terrain.slope = between(0, 40) * kDegree;
  if (round % 3 == 0) {  // top-heavy and across a steep slope: a wheel comes up before it goes over
    scene.vehicle.chassis.centre_of_gravity.z *= 1.2;
    scene.start.heading = std::copysign(between(70, 110), scene.start.heading) * kDegree;
    scene.terrain.slope = between(15, 45) * kDegree;
    scene.vehicle.front_axle.stop_angle = between(4, 8) * kDegree;
  }
  return scene;
}

// How far the two roads lie apart.
struct Apart {
  bool found = false, bowl = false;
  double load = 0, place = 0, turn = 0;  // [weights], [m], [rad]
};

Apart compare(const Model& m, const Rest& rest) {
  Apart out;
  EnergyRoute route(m, 0);
  // Raised slowly, as the program's angles are meant. Right at a lift-off there is no rest to find: the side force of
  // the wheel that leaves ends at once. What counts is the last step.
  const int steps = 1 + static_cast<int>(m.terrain.slope / kDegree / 2);
  for (int i = 0; i <= steps; ++i) {
    route.set_slope(m.terrain.slope * i / steps);
    const EnergyRoute before = route.copy();
    out.found = route.find_rest();
    if (!out.found) route.restore(before);
  }
  const double weight = total_mass(m) * m.gravity;
  for (std::size_t i = 0; i < kWheels; ++i)
    out.load = std::max(out.load, std::abs(route.load(route.at, i) - rest.load[i]) / weight);
  out.place = glm::length(route.at.p - rest.X_GV.p);
  for (int k = 0; k < 3; ++k) out.turn = std::max(out.turn, glm::length(route.at.R[k] - rest.X_GV.R[k]));
  out.turn = std::max(out.turn, std::abs(route.at.axle_angle - rest.axle_angle));
  out.bowl = Eigen::LLT<M7>(route.curve_of(route.at)).info() == Eigen::Success;
  return out;
}

// Whether the energy curves up every way where the program says that the machine rests. If not it would fall.
bool is_least(const Model& m, const Rest& rest) {
  EnergyRoute route(m, m.terrain.slope);
  route.at.p = rest.X_GV.p;
  route.at.R = rest.X_GV.R;
  route.at.axle_angle = rest.axle_angle;
  route.hold_contacts();
  return Eigen::LLT<M7>(route.curve_of(route.at)).info() == Eigen::Success;
}

}  // namespace

TEST_CASE("the least of the energy is where the forces balance, on random machines at any heading and slope") {
  std::mt19937_64 random(17);
  std::map<RestStatus, int> compared;
  Apart worst;
  for (int round = 0; round < 240; ++round) {
    const Model m = build(random_machine(random, round));
    const StaticSolution s = solve_statics(m);
    INFO("round ", round, ", slope ", m.terrain.slope / kDegree, ", heading ", m.start.heading / kDegree);
    REQUIRE(s.status != RestStatus::unsolved);
    // Balances on a knife's edge are no rest: the next case has them.
    if (!s.rest || !is_least(m, *s.rest)) continue;
    const Apart apart = compare(m, *s.rest);
    CHECK(apart.found);
    CHECK(apart.bowl);  // a least, not a saddle
    CHECK_NEAR(apart.load, 0, 1e-5);
    CHECK_NEAR(apart.place, 0, 2e-6);
    CHECK_NEAR(apart.turn, 0, 2e-6);
    worst.load = std::max(worst.load, apart.load);
    worst.place = std::max(worst.place, apart.place);
    worst.turn = std::max(worst.turn, apart.turn);
    ++compared[s.status];
  }
  MESSAGE("apart at most: load ", worst.load, " of the weight, place ", worst.place, " m, turn ", worst.turn,
          "; stands ", compared[RestStatus::stands], ", wheel up ", compared[RestStatus::wheel_up], ", on stop ",
          compared[RestStatus::on_stop]);
  CHECK(compared[RestStatus::stands] >= 60);
  CHECK(compared[RestStatus::wheel_up] >= 1);
  CHECK(compared[RestStatus::on_stop] >= 1);
}

// Past lift-off a machine can also balance on two wheels, from which it would fall.
TEST_CASE("what the program calls a rest is a least of the energy") {
  std::mt19937_64 random(17);
  for (int round = 0; round < 240; ++round) {
    const Model m = build(random_machine(random, round));
    const StaticSolution s = solve_statics(m);
    INFO("round ", round);
    if (s.rest) CHECK(is_least(m, *s.rest));
  }
}

// A stop may bear while all four wheels carry.
TEST_CASE("an axle that comes to its stop before any wheel lifts leans on it") {
  Scene scene = test_machine("utility_75kw", {"ballast.rear.fill_fraction=0", "ballast.front.fill_fraction=0"});
  scene.vehicle.rear.tyre.vertical_stiffness *= 0.6;
  scene.vehicle.front.tyre.side_give_share = scene.vehicle.rear.tyre.side_give_share = 0;
  scene.vehicle.front_axle.stop_angle = 0.5 * kDegree;
  scene.start.heading = -90 * kDegree;
  scene.terrain.slope = 20 * kDegree;
  const Model m = build(scene);
  const StaticSolution s = solve_statics(m);
  REQUIRE(s.rest);
  CHECK(std::abs(s.rest->axle_angle) / kDegree > 0.5 - 1e-6);
  const Apart apart = compare(m, *s.rest);
  INFO("axle ", s.rest->axle_angle / kDegree, " deg");
  CHECK_NEAR(apart.load, 0, 1e-5);
  CHECK_NEAR(apart.turn, 0, 2e-6);
}

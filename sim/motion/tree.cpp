#include "sim/motion/tree.h"

#include <algorithm>
#include <cmath>

namespace sidehill {
namespace {

// Inertia along the axes of G about the body's centre of mass.
Mat3 inertia_now(const TreeBody& body, const BodyNow& now) {
  const Mat3& I = body.props.inertia;
  return now.R * I * glm::transpose(now.R);
}

Mat3 turn(const Vec3& axis, double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  if (axis.x == 1) return Mat3(1, 0, 0, 0, c, s, 0, -s, c);
  if (axis.y == 1) return Mat3(c, 0, -s, 0, 1, 0, s, 0, c);
  if (axis.y == -1) return Mat3(c, 0, s, 0, 1, 0, -s, 0, c);
  return about(axis, angle);
}

// A symmetric 6 x 6 matrix and a 6-vector; turning above, moving below.
struct Six {
  double at[6];
};
struct Spatial {
  double at[6][6];  // only row >= column is kept
};

// Inertia about `about` of a body of mass m, centre of mass c from there, inertia I about its centre.
void set_inertia(Spatial& out, double m, const Vec3& c, const Mat3& I) {
  double(*a)[6] = out.at;
  a[0][0] = I[0][0] + m * (c.y * c.y + c.z * c.z);
  a[1][1] = I[1][1] + m * (c.x * c.x + c.z * c.z);
  a[2][2] = I[2][2] + m * (c.x * c.x + c.y * c.y);
  a[1][0] = I[0][1] - m * c.x * c.y;
  a[2][0] = I[0][2] - m * c.x * c.z;
  a[2][1] = I[1][2] - m * c.y * c.z;
  const Vec3 h = m * c;
  a[3][0] = 0, a[3][1] = h.z, a[3][2] = -h.y;
  a[4][0] = -h.z, a[4][1] = 0, a[4][2] = h.x;
  a[5][0] = h.y, a[5][1] = -h.x, a[5][2] = 0;
  a[3][3] = a[4][4] = a[5][5] = m;
  a[4][3] = a[5][3] = a[5][4] = 0;
}

Six times(const Spatial& A, const Six& x) {
  Six y;
  for (int i = 0; i < 6; ++i) {
    double sum = A.at[i][i] * x.at[i];
    for (int j = 0; j < i; ++j) sum += A.at[i][j] * x.at[j];
    for (int j = i + 1; j < 6; ++j) sum += A.at[j][i] * x.at[j];
    y.at[i] = sum;
  }
  return y;
}

double dot(const Six& a, const Six& b) {
  double sum = 0;
  for (int i = 0; i < 6; ++i) sum += a.at[i] * b.at[i];
  return sum;
}

Six six(const Vec3& a, const Vec3& b) { return {{a.x, a.y, a.z, b.x, b.y, b.z}}; }
Vec3 turning(const Six& x) { return {x.at[0], x.at[1], x.at[2]}; }
Vec3 moving(const Six& x) { return {x.at[3], x.at[4], x.at[5]}; }

// A x = b for a symmetric positive matrix, by L D L^T.
Six solved(const Spatial& A, Six b) {
  double L[6][6], D[6];
  for (int j = 0; j < 6; ++j) {
    double d = A.at[j][j];
    for (int k = 0; k < j; ++k) d -= L[j][k] * L[j][k] * D[k];
    D[j] = d;
    for (int i = j + 1; i < 6; ++i) {
      double sum = A.at[i][j];
      for (int k = 0; k < j; ++k) sum -= L[i][k] * L[j][k] * D[k];
      L[i][j] = sum / d;
    }
  }
  for (int i = 0; i < 6; ++i)
    for (int k = 0; k < i; ++k) b.at[i] -= L[i][k] * b.at[k];
  for (int i = 0; i < 6; ++i) b.at[i] /= D[i];
  for (int i = 5; i >= 0; --i)
    for (int k = i + 1; k < 6; ++k) b.at[i] -= L[k][i] * b.at[k];
  return b;
}

// Attitude turned on by w for one step.
Quat turned(const Quat& q, const Vec3& w, double time_step) {
  const double rate = glm::length(w), half = 0.5 * rate * time_step;
  const double scale = rate > 1e-9 ? std::sin(half) / rate : 0.5 * time_step;
  return glm::normalize(Quat(std::cos(half), scale * w.x, scale * w.y, scale * w.z) * q);
}

}  // namespace

void look(const Tree& tree, const TreeMotion& motion, TreeNow& now) {
  const TreeBody& base = tree.bodies.front();
  BodyNow& b = now[0];
  b.R = glm::mat3_cast(motion.q_GB);
  b.com = motion.com;
  const Vec3 arm = b.R * base.props.com;
  b.p = b.com - arm;
  b.w = motion.w;
  b.v = motion.v - glm::cross(b.w, arm);
  b.axis = Vec3(0.0);
  for (std::size_t i = 1; i < tree.bodies.size(); ++i) {
    const TreeBody& body = tree.bodies[i];
    const BodyNow& parent = now[static_cast<std::size_t>(body.parent)];
    BodyNow& here = now[i];
    here.axis = parent.R * body.axis;
    here.R = body.round ? parent.R : parent.R * turn(body.axis, motion.angle[i]);
    const Vec3 out = parent.R * body.place;
    here.p = parent.p + out;
    here.v = parent.v + glm::cross(parent.w, out);
    here.w = parent.w + motion.rate[i] * here.axis;
    here.com = here.p + here.R * body.props.com;
  }
}

void step(const Tree& tree, const TreeNow& now, const TreeForces& forces, double time_step, TreeMotion& motion) {
  const std::size_t n = tree.bodies.size();
  std::array<Spatial, kMaxBodies> inertia;
  std::array<Six, kMaxBodies> bias, S, U, drift;
  std::array<double, kMaxBodies> D{}, u{};
  const Vec3& O = forces.about;
  for (std::size_t i = 0; i < n; ++i) {
    const BodyNow& b = now[i];
    const TreeBody& body = tree.bodies[i];
    const double m = body.props.mass;
    const Vec3 c = b.com - O;
    const Mat3 I = inertia_now(body, b);
    set_inertia(inertia[i], m, c, I);
    // Momentum turns with the body: force on it = velocity x momentum, less what acts from outside. Written about O.
    const Vec3 v_O = b.v + glm::cross(b.w, O - b.p);
    const Vec3 P = m * (v_O + glm::cross(b.w, c));
    const Vec3 L = I * b.w + glm::cross(c, P);
    bias[i] = six(glm::cross(b.w, L) + glm::cross(v_O, P) - forces.moment[i], glm::cross(b.w, P) - forces.force[i]);
    if (i == 0) continue;
    const Vec3 moves = glm::cross(b.p - O, b.axis);  // of O, as the hinge turns
    S[i] = six(b.axis, moves);
    const BodyNow& parent = now[static_cast<std::size_t>(body.parent)];
    const Vec3 parent_O = parent.v + glm::cross(parent.w, O - parent.p);
    const double rate = motion.rate[i];
    drift[i] =
        six(rate * glm::cross(parent.w, b.axis), rate * (glm::cross(parent.w, moves) + glm::cross(parent_O, b.axis)));
  }
  for (std::size_t i = n - 1; i > 0; --i) {
    const std::size_t parent = static_cast<std::size_t>(tree.bodies[i].parent);
    Spatial& I = inertia[i];
    U[i] = times(I, S[i]);
    D[i] = dot(S[i], U[i]);
    u[i] = forces.torque[i] - dot(S[i], bias[i]);
    const double inverse = 1 / D[i];
    Spatial& to = inertia[parent];
    for (int r = 0; r < 6; ++r) {
      const double part = U[i].at[r] * inverse;
      for (int k = 0; k <= r; ++k) {
        I.at[r][k] -= part * U[i].at[k];
        to.at[r][k] += I.at[r][k];
      }
    }
    const Six carried = times(I, drift[i]);
    for (int r = 0; r < 6; ++r) bias[parent].at[r] += bias[i].at[r] + carried.at[r] + U[i].at[r] * (u[i] * inverse);
  }
  // Gravity as an upward acceleration of everything, taken off again at the end.
  std::array<Six, kMaxBodies> a;
  Six push = bias[0];
  for (double& x : push.at) x = -x;
  a[0] = solved(inertia[0], push);
  for (std::size_t i = 1; i < n; ++i) {
    a[i] = a[static_cast<std::size_t>(tree.bodies[i].parent)];
    for (int r = 0; r < 6; ++r) a[i].at[r] += drift[i].at[r];
    const double turn_rate = (u[i] - dot(U[i], a[i])) / D[i];
    for (int r = 0; r < 6; ++r) a[i].at[r] += S[i].at[r] * turn_rate;
    motion.rate[i] += turn_rate * time_step;
    motion.angle[i] += motion.rate[i] * time_step;
  }
  // The centre of mass goes through O's acceleration field: a_c = a_O + alpha x c + w x v_c (spatial to ordinary).
  const BodyNow& base = now[0];
  const Vec3 alpha = turning(a[0]);
  const Vec3 ordinary = moving(a[0]) + glm::cross(alpha, base.com - O) + glm::cross(base.w, motion.v) + forces.gravity;
  motion.v += time_step * ordinary;
  motion.w += time_step * alpha;
  motion.com += time_step * motion.v;
  motion.q_GB = turned(motion.q_GB, motion.w, time_step);
}

double tree_mass(const Tree& tree) {
  double mass = 0;
  for (const TreeBody& body : tree.bodies) mass += body.props.mass;
  return mass;
}

Vec3 centre_of_mass(const Tree& tree, const TreeNow& now) {
  Vec3 sum(0.0);
  for (std::size_t i = 0; i < tree.bodies.size(); ++i) sum += tree.bodies[i].props.mass * now[i].com;
  return sum / tree_mass(tree);
}

double kinetic_energy(const Tree& tree, const TreeNow& now) {
  double energy = 0;
  for (std::size_t i = 0; i < tree.bodies.size(); ++i) {
    const BodyNow& b = now[i];
    const MassProperties& props = tree.bodies[i].props;
    const Vec3 v = b.v + glm::cross(b.w, b.com - b.p), w = glm::transpose(b.R) * b.w;
    energy += 0.5 * props.mass * glm::dot(v, v) + 0.5 * glm::dot(w, props.inertia * w);
  }
  return energy;
}

Vec3 momentum(const Tree& tree, const TreeNow& now) {
  Vec3 sum(0.0);
  for (std::size_t i = 0; i < tree.bodies.size(); ++i)
    sum += tree.bodies[i].props.mass * (now[i].v + glm::cross(now[i].w, now[i].com - now[i].p));
  return sum;
}

Vec3 angular_momentum(const Tree& tree, const TreeNow& now, const Vec3& about) {
  Vec3 sum(0.0);
  for (std::size_t i = 0; i < tree.bodies.size(); ++i) {
    const BodyNow& b = now[i];
    const MassProperties& props = tree.bodies[i].props;
    const Vec3 v = b.v + glm::cross(b.w, b.com - b.p);
    sum += b.R * (props.inertia * (glm::transpose(b.R) * b.w)) + props.mass * glm::cross(b.com - about, v);
  }
  return sum;
}

}  // namespace sidehill

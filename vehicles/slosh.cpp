// Rayleigh-Ritz for the first swinging mode of liquid in a ring (see slosh.h).
//
// Lengths in outer radii; x ahead, z up, t the angle from straight down, so x = r sin t, z = -r cos t. The mode is odd
// in x; only x > 0 is worked on. Minimise  integral of b |grad f|^2 over the liquid  /  integral of b f^2 along the
// surface, b the cavity's width at that radius: the minimum is omega^2 R / g. The trial functions are odd, and harmonic
// but for those of the neck over the rim. Which ones serve depends on where the surface lies: below the rim (a
// segment), across the rim (two surfaces joined by a bend), above it (a ring with a free top).
#include "vehicles/slosh.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "sim/base/constants.h"
#include "vehicles/quadrature.h"

namespace sidehill {
namespace {

// visit(value, weight) over from..to, running through both ends with zero speed (they may hold square roots).
template <class Visit>
void integrate(double from, double to, Visit visit) {
  for (std::size_t k = 0; k < 2 * kNode.size(); ++k) {
    const double u = 0.5 * (1 + (k % 2 ? kNode[k / 2] : -kNode[k / 2]));
    visit(from + (to - from) * u * u * (3 - 2 * u), kWeight[k / 2] / 2 * (to - from) * 6 * u * (1 - u));
  }
}

struct Ring {
  double inner, level;
  bool ellipse;
  double width(double r) const {
    if (!ellipse) return 1;
    const double u = (2 * r - 1 - inner) / (1 - inner);
    return std::sqrt(std::max(0.0, 1 - u * u));
  }
};

struct Trial {
  double f, x, z;  // value and gradient
};
using Trials = std::vector<Trial>;

// Im (p + i q)^n with its gradient, p along minus z.
void add_powers(Trials& out, double p, double q, double scale, int first, int last) {
  for (int n = first; n <= last; ++n) {
    const double r = std::hypot(p, q), t = std::atan2(q, p), rn = std::pow(r / scale, n);
    const double slope = n * (r > 0 ? rn / r : (n == 1 ? 1 / scale : 0.0));
    // d/dp of Im w^n = n Im w^(n-1), d/dq = n Re w^(n-1)
    out.push_back({rn * std::sin(n * t), slope * std::cos((n - 1) * t), -slope * std::sin((n - 1) * t)});
  }
}

void trials_at(const Ring& ring, double x, double z, Trials& out) {
  out.clear();
  const double h = ring.level, ri = ring.inner;
  if (h <= -ri) {  // a segment: powers about its own middle
    const double chord = std::sqrt(std::max(1 - h * h, 1e-12)), middle = 0.5 * (h - 1);
    add_powers(out, middle - z, x, chord, 1, 12);
    return;
  }
  const double r = std::hypot(x, z), t = std::atan2(x, -z);
  add_powers(out, -z, x, 1, 1, 8);
  for (int n = 1; n <= 6; ++n) {  // the same of the inverted point
    const double rn = std::pow(ri / r, n);
    const double along = -n * rn / r * std::sin(n * t), around = n * rn / r * std::cos(n * t);
    out.push_back({rn * std::sin(n * t), along * x / r - around * z / r, along * z / r + around * x / r});
  }
  if (h <
      ri) {  // joined by a bend: flow around the rim, and its strip modes in (log r, t), which leave both walls alone
    out.push_back({t, -z / (r * r), x / (r * r)});
    const double strip = std::log(1 / ri), sigma = std::log(r / ri) / strip;
    const double most = std::max(std::acos(std::clamp(-h / ri, -1.0, 1.0)), std::acos(-h));  // keeps them within 1
    for (int n = 1; n <= 4; ++n) {
      const double k = n * kPi / strip, down = std::exp(-2 * k * t), scale = std::exp(k * (t - most));
      const double rising = 0.5 * scale * (1 - down), flat = 0.5 * scale * (1 + down);
      const double along = -k * std::sin(n * kPi * sigma) * rising / r,
                   around = k * std::cos(n * kPi * sigma) * flat / r;
      out.push_back(
          {std::cos(n * kPi * sigma) * rising, along * x / r - around * z / r, along * z / r + around * x / r});
    }
    return;
  }
  // A free top over the rim: where the neck is thin the potential falls from one side to the other within its width.
  const double neck = std::sqrt(2 * ri * std::max(h - ri, 1e-6));
  for (const double w : {neck, 3 * neck, 0.5}) {
    const double a = std::atan(x / w), slope = w / (w * w + x * x);
    out.push_back({a, slope, 0});
    out.push_back({a * z, slope * z, a});
    out.push_back({a * z * z, slope * z * z, 2 * a * z});
  }
}

struct Ritz {
  std::size_t n = 0;
  std::vector<double> stiffness, mass;  // full, symmetric
};

void accumulate(std::vector<double>& into, const Trials& trials, double weight, bool gradient) {
  const std::size_t n = trials.size();
  if (into.empty()) into.assign(n * n, 0.0);
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j <= i; ++j)
      into[i * n + j] +=
          weight * (gradient ? trials[i].x * trials[j].x + trials[i].z * trials[j].z : trials[i].f * trials[j].f);
}

Ritz assemble(const Ring& ring) {
  Ritz ritz;
  Trials trials;
  const double h = ring.level, ri = ring.inner;
  const auto area = [&](double from, double to) {
    integrate(from, to, [&](double r, double wr) {
      const double end = h >= r ? kPi : (h <= -r ? 0.0 : std::acos(-h / r));
      for (const auto& [a, b] : {std::pair{0.0, 0.5 * end}, std::pair{0.5 * end, 0.9 * end}, std::pair{0.9 * end, end}})
        integrate(a, b, [&](double t, double wt) {
          trials_at(ring, r * std::sin(t), -r * std::cos(t), trials);
          accumulate(ritz.stiffness, trials, wr * wt * r * ring.width(r), true);
        });
    });
  };
  const double lowest = std::max(ri, -h);
  if (h > ri) {
    area(ri, h);
    area(h, 1);
  } else {
    area(lowest, 1);
  }
  const double x_end = std::sqrt(std::max(1 - h * h, 0.0)), x_start = std::sqrt(std::max(ri * ri - h * h, 0.0));
  const double x_middle = x_start + 0.3 * (x_end - x_start);
  for (const auto& [a, b] : {std::pair{x_start, x_middle}, std::pair{x_middle, x_end}})
    integrate(a, b, [&](double x, double w) {
      trials_at(ring, x, h, trials);
      accumulate(ritz.mass, trials, w * ring.width(std::hypot(x, h)), false);
    });
  ritz.n = trials.size();
  return ritz;
}

// Smallest lambda with K c = lambda M c: trial functions made orthogonal in K one after the other, those that add
// nothing new dropped; then the largest mu of M in that basis.
double smallest(const Ritz& ritz) {
  const std::size_t n = ritz.n;
  const auto at = [n](const std::vector<double>& m, std::size_t i, std::size_t j) {
    return i >= j ? m[i * n + j] : m[j * n + i];
  };
  const auto product = [&](const std::vector<double>& m, const std::vector<double>& v) {
    std::vector<double> out(n, 0.0);
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j) out[i] += at(m, i, j) * v[j];
    return out;
  };
  const auto dot = [](const std::vector<double>& a, const std::vector<double>& b) {
    double sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
    return sum;
  };
  std::vector<std::vector<double>> basis, k_basis;
  for (std::size_t i = 0; i < n; ++i) {
    const double own = at(ritz.stiffness, i, i);
    if (!(own > 0)) continue;
    std::vector<double> v(n, 0.0);
    v[i] = 1 / std::sqrt(own);
    for (int twice = 0; twice < 2; ++twice)
      for (std::size_t k = 0; k < basis.size(); ++k) {
        const double share = dot(k_basis[k], v);
        for (std::size_t j = 0; j < n; ++j) v[j] -= share * basis[k][j];
      }
    std::vector<double> kv = product(ritz.stiffness, v);
    const double left = dot(v, kv);
    if (!(left > 1e-5)) continue;  // what is left is mostly the quadrature's error, and would pass for a slow mode
    for (double& c : v) c /= std::sqrt(left);
    for (double& c : kv) c /= std::sqrt(left);
    basis.push_back(v);
    k_basis.push_back(kv);
  }
  const std::size_t m = basis.size();
  if (m == 0) return 0;
  Eigen::MatrixXd mass(static_cast<Eigen::Index>(m), static_cast<Eigen::Index>(m));
  for (std::size_t i = 0; i < m; ++i) {
    const std::vector<double> mv = product(ritz.mass, basis[i]);
    for (std::size_t j = 0; j < m; ++j)
      mass(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) = dot(basis[j], mv);
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(mass, Eigen::EigenvaluesOnly);
  const double mu = solver.eigenvalues().maxCoeff();
  return mu > 0 ? 1 / mu : 0;
}

}  // namespace

Slosh first_slosh(const Cavity& cavity, double fill_fraction) {
  if (!(fill_fraction > 0.001 && fill_fraction < 0.999) || !(cavity.outer_radius > 0)) return {};
  const LiquidPlace at = liquid_place(cavity, fill_fraction, 0);
  const Ring ring{std::max(cavity.inner_radius / cavity.outer_radius, 1e-3), at.level / cavity.outer_radius,
                  cavity.shape == SectionShape::ellipse};
  Slosh slosh;
  slosh.lambda = smallest(assemble(ring));
  if (!(slosh.lambda > 0)) return {};
  slosh.pendulum_length = cavity.outer_radius / slosh.lambda;
  slosh.gyration_squared = -at.z * slosh.pendulum_length;
  return slosh;
}

double slosh_frequency(const Slosh& slosh, double gravity) {
  if (!(slosh.pendulum_length > 0) || !(gravity > 0)) return 0;
  return std::sqrt(gravity / slosh.pendulum_length) / (2 * kPi);
}

}  // namespace sidehill

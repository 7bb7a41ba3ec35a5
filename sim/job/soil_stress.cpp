#include "sim/job/soil_stress.h"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr double kLeastAlpha = 1, kMostAlpha = 16;             // of the carried code [-]
constexpr double kLeastSoilLoad = 10e3, kMostSoilLoad = 40e3;  // of the wheels measured, about [N]
using SoilQuadrature = boost::math::quadrature::gauss<double, 30>;

// Half the patch's length at `y` from its middle [m].
double half_length(const ContactPatch& p, double y) {
  const double across = std::pow(2 * y / p.width, p.exponent);
  return across < 1 ? p.length / 2 * std::pow(1 - across, 1 / p.exponent) : 0;
}

// The shape across the tyre, 1 where it is greatest.
double shape_across(const StressField& f, double y) {
  const double u = f.patch.width / 2 - y;
  return u > 0 ? f.top * u * std::exp(-f.delta * u) : 0;
}

}  // namespace

std::optional<ContactPatch> contact_patch(const SoilWheel& w) {
  if (!(w.width > 0 && w.diameter > 0 && w.pressure > 0 && w.recommended > 0 && w.load > 0)) return std::nullopt;
  const double over = std::log(w.pressure / w.recommended);
  ContactPatch p;
  p.width = w.width;
  p.length = 0.47 + 0.11 * w.diameter * w.diameter - 0.16 * over;
  const double square = w.width * w.diameter * w.width * w.diameter;
  p.exponent = 2.1 * square + 2;
  p.peak = 1e3 * (34.4 + 1.13 * w.pressure * 1e-3 + 0.72 * w.load * 1e-3 - 33.4 * over);
  if (!(p.length > 0 && p.peak > 0)) return std::nullopt;
  const double quarter = std::tgamma(1 + 1 / p.exponent);
  p.area = p.length * p.width * quarter * quarter / std::tgamma(1 + 2 / p.exponent);
  p.mean = w.load / p.area;
  return p;
}

StressField stress_field(const SoilWheel& w) {
  StressField f;
  const std::optional<ContactPatch> patch = contact_patch(w);
  if (!patch) return f;
  f.patch = *patch;
  f.delta = 9.3 - 7.3 * w.width;
  if (!(f.delta > 0)) {
    f.range = StressRange::too_wide;
    return f;
  }
  const double where = std::min(1 / f.delta, w.width / 2);  // u of the greatest value
  f.top = 1 / (where * std::exp(-f.delta * where));
  // The whole at endless alpha. y = width/2 sin(t) takes the steep end of the patch off the integral.
  const double half = w.width / 2;
  const double whole = f.patch.peak * 4 *
                       SoilQuadrature::integrate(
                           [&](double t) {
                             const double y = half * std::sin(t);
                             return half_length(f.patch, y) * shape_across(f, y) * half * std::cos(t);
                           },
                           0.0, kPi / 2);
  const double k = w.load / whole;
  f.alpha = k / (1 - k);
  f.range = !(k < 1) || f.alpha > kMostAlpha ? StressRange::peak_too_low
            : f.alpha < kLeastAlpha          ? StressRange::peak_too_high
                                             : StressRange::within;
  return f;
}

double surface_stress(const StressField& f, double x, double y) {
  const double half = half_length(f.patch, std::abs(y));
  if (!(std::abs(x) < half)) return 0;
  return f.patch.peak * shape_across(f, std::abs(y)) * (1 - std::pow(std::abs(x) / half, f.alpha));
}

std::optional<double> stress_below(const StressField& f, double nu, double depth) {
  if (f.range != StressRange::within || !(depth >= 0)) return std::nullopt;
  if (depth == 0) return surface_stress(f, 0, 0);
  // x = rho tan t, y = z tan u with rho = z / cos u: what is left is cos^(nu-1) u cos^nu t times the surface's stress.
  const double widest = std::atan(f.patch.width / 2 / depth);
  const double sum = SoilQuadrature::integrate(
      [&](double u) {
        const double y = depth * std::tan(u), rho = depth / std::cos(u);
        const double half = half_length(f.patch, y);
        if (!(half > 0)) return 0.0;
        const double along = SoilQuadrature::integrate(
            [&](double t) {
              const double part = std::min(rho * std::tan(t) / half, 1.0);
              return std::pow(std::cos(t), nu) * (1 - std::pow(part, f.alpha));
            },
            0.0, std::atan(half / rho));
        return std::pow(std::cos(u), nu - 1) * shape_across(f, y) * along;
      },
      0.0, widest);
  return f.patch.peak * 4 * nu / kTwoPi * sum;
}

double stress_below_circle(double pressure, double load, double nu, double depth) {
  const double square = load / (kPi * pressure);  // of the radius
  return pressure * (1 - std::pow(depth * depth / (depth * depth + square), nu / 2));
}

double stress_below_square(double pressure, double load, double nu, double depth) {
  const double half_squared = load / pressure / 4;
  const auto part = [&](double angle) {
    const double edge = half_squared / (std::cos(angle) * std::cos(angle));  // squared distance of the edge there
    return 1 - std::pow(depth * depth / (depth * depth + edge), nu / 2);
  };
  return pressure * 4 / kPi * SoilQuadrature::integrate(part, 0.0, kPi / 4);
}

std::vector<std::string> stress_cautions(const SoilWheel& w, const StressField& f) {
  std::vector<std::string> all;
  switch (f.range) {
    case StressRange::within:
      break;
    case StressRange::peak_too_high:
      all.emplace_back(
          "Outside the range of the model: the greatest stress that it gives under the tyre is too high for this load "
          "(much air pressure for little load, alpha below 1). The stress at depth is not known.");
      break;
    case StressRange::peak_too_low:
      all.emplace_back(
          "Outside the range of the model: the contact area cannot carry this load under the greatest stress that it "
          "gives (alpha above 16). The stress at depth is not known.");
      break;
    case StressRange::no_patch:
      all.emplace_back(
          "Outside the range of the model: the air pressure is so far from the recommended one that it gives no "
          "contact "
          "area. Nothing is known.");
      break;
    case StressRange::too_wide:
      all.emplace_back(
          "Outside the range of the model: it has no shape of the stress across a tyre this wide (1.27 m or more). The "
          "stress at depth is not known.");
      break;
  }
  if (w.load < kLeastSoilLoad || w.load > kMostSoilLoad)
    all.emplace_back("The load is outside those of the wheels measured for the model, about 10 to 40 kN.");
  return all;
}

const char* concentration_words(double nu) {
  constexpr const char* kWords[] = {"elastic", "hard, dry soil", "normal soil", "soft, wet soil"};
  return kWords[static_cast<int>(std::clamp(std::round(nu), 3.0, 6.0)) - 3];
}

}  // namespace sidehill

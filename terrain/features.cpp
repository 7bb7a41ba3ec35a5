// Closed forms of the ground's features (see features.h for shapes and sources).
#include "terrain/features.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr double kFlatOfPlateau = 0.6;  // part of a half extent that is level; our choice
constexpr double kFlatOfStrip = 0.8;    // the same for rough strips
constexpr double kEdge = 0.06;          // of a kerb [m]

struct Fade {
  double value;
  double slope;  // d value / d s
};

// 1 for |s| <= flat, cos^2 down to 0 at |s| = 1, 0 beyond. Slope continuous.
inline Fade fade(double s, double flat) {
  const double size = std::abs(s);
  if (size <= flat) return {1, 0};
  if (!(size < 1)) return {0, 0};
  const double step = kPi / (1 - flat);
  const double angle = step * (size - flat);
  return {0.5 * (1 + std::cos(angle)), std::copysign(0.5 * step * std::sin(angle), -s)};
}

struct Turn {
  double cosine = 1, sine = 0;
};
inline Turn turn_of(const Feature& feature) {
  if (feature.angle == 0) return {};
  return {std::cos(feature.angle), std::sin(feature.angle)};
}
inline glm::dvec2 to_feature(const Turn& turn, glm::dvec2 d) {
  return glm::dvec2(turn.cosine * d.x + turn.sine * d.y, turn.cosine * d.y - turn.sine * d.x);
}
inline glm::dvec2 to_ground(const Turn& turn, glm::dvec2 d) {
  return glm::dvec2(turn.cosine * d.x - turn.sine * d.y, turn.sine * d.x + turn.cosine * d.y);
}

inline double reach_squared(const Feature& feature) {
  const double length = feature.length, width = info(feature.kind).round ? 0 : feature.width;
  return 0.25 * (length * length + width * width);
}

// ---- rough ground -------------------------------------------------------------------------------------------------

constexpr std::size_t kWaves = 16;

// What does not depend on the seed: directions a golden angle apart, so that no two waves run nearly parallel, and
// lengths in equal ratios from 8 m down to 0.5 m.
struct Wave {
  double per_metre_u, per_metre_v;  // turns per metre
  double amplitude;                 // for a standard deviation of one
};
constexpr std::array<Wave, kWaves> make_waves() {
  constexpr double kGoldenCos = -0.73736887807831970, kGoldenSin = 0.67549029426152380;  // of 137.508 deg
  constexpr double kRatio = 1.2030250360821166;                                          // 16^(1/15)
  constexpr double kRootRatio = 1.0968249796946260;
  std::array<Wave, kWaves> waves{};
  double c = 1, s = 0, per_metre = 1.0 / 8, amplitude = 1, sum = 0;
  for (Wave& wave : waves) {
    wave = {c * per_metre, s * per_metre, amplitude};
    sum += amplitude * amplitude / 2;
    const double next = c * kGoldenCos - s * kGoldenSin;
    s = s * kGoldenCos + c * kGoldenSin;
    c = next;
    per_metre *= kRatio;
    amplitude /= kRootRatio;
  }
  // sqrt is not constexpr: Newton's iteration is.
  double root = 1;
  for (int i = 0; i < 40; ++i) root = 0.5 * (root + sum / root);
  for (Wave& wave : waves) wave.amplitude /= root;
  return waves;
}
constexpr std::array<Wave, kWaves> kWaveTable = make_waves();

// A well-mixed 32-bit number (Source: the finaliser of MurmurHash3, A. Appleby, public domain).
inline std::uint32_t mix(std::uint32_t x) {
  x ^= x >> 16;
  x *= 0x85ebca6bU;
  x ^= x >> 13;
  x *= 0xc2b2ae35U;
  return x ^ (x >> 16);
}

// sin and cos of `turns` whole turns, |error| < 1e-12: Taylor series at a quarter of the angle, doubled twice. Written
// out because the loop over the waves then vectorises, which calls into the maths library do not.
struct SinCos {
  double sine, cosine;
};
inline SinCos sin_cos_turns(double turns) {
  constexpr double kRound = 6755399441055744.0;  // 1.5 * 2^52: adding it rounds to a whole number
  const double x = (turns - ((turns + kRound) - kRound)) * (kPi / 2);
  const double x2 = x * x;
  // 1/3!, 1/5!, ... and 1/2!, 1/4!, ...: products, not quotients, which take several times as long.
  constexpr double k2 = 1.0 / 2, k3 = k2 / 3, k4 = k3 / 4, k5 = k4 / 5, k6 = k5 / 6, k7 = k6 / 7, k8 = k7 / 8,
                   k9 = k8 / 9, k10 = k9 / 10, k11 = k10 / 11, k12 = k11 / 12, k13 = k12 / 13;
  const double s = x * (1 - x2 * (k3 - x2 * (k5 - x2 * (k7 - x2 * (k9 - x2 * (k11 - x2 * k13))))));
  const double c = 1 - x2 * (k2 - x2 * (k4 - x2 * (k6 - x2 * (k8 - x2 * (k10 - x2 * k12)))));
  const double s2 = 2 * s * c, c2 = 1 - 2 * s * s;
  return {2 * s2 * c2, 1 - 2 * s2 * s2};
}

HeightAndGradient waves_at(std::uint32_t seed, glm::dvec2 p) {
  const std::uint32_t base = mix(seed * 0x9e3779b9U + 0x7f4a7c15U);
  std::array<double, kWaves> phase{}, per_v{}, height{}, slope{};
  for (std::uint32_t i = 0; i < kWaves; ++i) {
    // The seed shifts every wave and mirrors some, so that strips differ in more than the place of one pattern.
    const std::uint32_t bits = mix(base + i * 0x9e3779b9U);
    phase[i] = static_cast<double>(static_cast<std::int32_t>(bits)) * 0x1p-32;
    per_v[i] = (bits & 1U) ? kWaveTable[i].per_metre_v : -kWaveTable[i].per_metre_v;
  }
  // Separate from the sums, whose order is fixed, so that this loop can run two waves at a time.
  for (std::size_t i = 0; i < kWaves; ++i) {
    const SinCos at = sin_cos_turns(kWaveTable[i].per_metre_u * p.x + per_v[i] * p.y + phase[i]);
    height[i] = kWaveTable[i].amplitude * at.sine;
    slope[i] = kWaveTable[i].amplitude * at.cosine;
  }
  HeightAndGradient result;
  for (std::size_t i = 0; i < kWaves; ++i) {
    result.height += height[i];
    result.gradient.x += slope[i] * kWaveTable[i].per_metre_u;
    result.gradient.y += slope[i] * per_v[i];
  }
  result.gradient *= 2 * kPi;
  return result;
}

HeightAndGradient rough_at(const Feature& feature, glm::dvec2 p) {
  const Fade along = fade(2 * p.x / feature.length, kFlatOfStrip), across = fade(2 * p.y / feature.width, kFlatOfStrip);
  const double window = along.value * across.value;
  if (window == 0) return {};
  const HeightAndGradient waves = waves_at(feature.seed, p);
  const double deviation = feature.height / 4;
  const glm::dvec2 window_gradient(along.slope * 2 / feature.length * across.value,
                                   across.slope * 2 / feature.width * along.value);
  return {deviation * waves.height * window, deviation * (waves.gradient * window + waves.height * window_gradient)};
}

// ---- the single things --------------------------------------------------------------------------------------------

HeightAndGradient ridge_at(const Feature& feature, glm::dvec2 p) {
  const double s = 2 * p.x / feature.length;
  if (!(std::abs(s) < 1)) return {};
  const Fade ends = fade(2 * p.y / feature.width, kFlatOfPlateau);
  if (ends.value == 0) return {};
  const SinCos at = sin_cos_turns(0.5 * s);
  const double profile = 0.5 * (1 + at.cosine), slope = -kPi / feature.length * at.sine;
  return {feature.height * profile * ends.value,
          feature.height * glm::dvec2(slope * ends.value, profile * ends.slope * 2 / feature.width)};
}

// A raised strip with steep edges, up and down along u.
HeightAndGradient kerb_at(const Feature& feature, glm::dvec2 p) {
  const double half = feature.length / 2, edge = std::min(kEdge, half);
  const Fade along = fade(p.x / half, 1 - edge / half * (1 - 1e-9));
  const Fade ends = fade(2 * p.y / feature.width, kFlatOfPlateau);
  return {feature.height * along.value * ends.value,
          feature.height * glm::dvec2(along.slope / half * ends.value, along.value * ends.slope * 2 / feature.width)};
}

HeightAndGradient mound_at(const Feature& feature, glm::dvec2 d) {
  const double distance = std::sqrt(d.x * d.x + d.y * d.y);
  const Fade flank = fade(2 * distance / feature.length, kFlatOfPlateau);
  HeightAndGradient result{feature.height * flank.value, glm::dvec2(0.0)};
  if (flank.slope != 0) result.gradient = d * (feature.height * flank.slope * 2 / (feature.length * distance));
  return result;
}

}  // namespace

HeightAndGradient feature_at(const Feature& feature, glm::dvec2 p_G) {
  const glm::dvec2 d(p_G.x - feature.x, p_G.y - feature.y);
  if (!(d.x * d.x + d.y * d.y < reach_squared(feature))) return {};
  HeightAndGradient result;
  if (info(feature.kind).round) {
    result = mound_at(feature, d);
  } else {
    const Turn turn = turn_of(feature);
    const glm::dvec2 p = to_feature(turn, d);
    result = feature.kind == FeatureKind::rough  ? rough_at(feature, p)
             : feature.kind == FeatureKind::kerb ? kerb_at(feature, p)
                                                 : ridge_at(feature, p);
    result.gradient = to_ground(turn, result.gradient);
  }
  if (info(feature.kind).sunk) return {-result.height, -result.gradient};
  return result;
}

double feature_steepest(const Feature& feature) {
  const auto of_fade = [](double flat) { return 0.5 * kPi / (1 - flat); };
  const double ends = 2 / feature.width * of_fade(kFlatOfPlateau);
  switch (feature.kind) {
    case FeatureKind::hole:
    case FeatureKind::stump:
      return feature.height * of_fade(kFlatOfPlateau) * 2 / feature.length;
    case FeatureKind::kerb:
      return feature.height * std::hypot(0.5 * kPi / std::min(kEdge, feature.length / 2) / (1 - 1e-9), ends);
    case FeatureKind::rough: {
      double heights = 0, gradients = 0;
      for (const Wave& wave : kWaveTable) {
        heights += wave.amplitude;
        gradients += 2 * kPi * wave.amplitude * std::hypot(wave.per_metre_u, wave.per_metre_v);
      }
      const double window = of_fade(kFlatOfStrip) * std::hypot(2 / feature.length, 2 / feature.width);
      return feature.height / 4 * (gradients + heights * window);
    }
    case FeatureKind::bump:
    case FeatureKind::ditch:
      break;
  }
  return feature.height * std::hypot(kPi / feature.length, ends);
}

double feature_highest(const Feature& feature) {
  if (info(feature.kind).sunk) return 0;
  if (feature.kind != FeatureKind::rough) return feature.height;
  double heights = 0;
  for (const Wave& wave : kWaveTable) heights += wave.amplitude;
  return feature.height / 4 * heights;
}

double feature_reach(const Feature& feature) { return std::sqrt(reach_squared(feature)); }

bool feature_near(const Feature& feature, glm::dvec2 p_G, double radius) {
  const glm::dvec2 d(p_G.x - feature.x, p_G.y - feature.y);
  const double far = feature_reach(feature) + radius;
  if (!(d.x * d.x + d.y * d.y <= far * far)) return false;
  if (info(feature.kind).round) return true;
  const glm::dvec2 p = to_feature(turn_of(feature), d);
  const double u = std::max(std::abs(p.x) - feature.length / 2, 0.0);
  const double v = std::max(std::abs(p.y) - feature.width / 2, 0.0);
  return u * u + v * v <= radius * radius;
}

}  // namespace sidehill

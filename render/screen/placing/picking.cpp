#include "render/screen/placing/picking.h"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <glm/geometric.hpp>
#include <glm/matrix.hpp>
#include <limits>
#include <optional>
#include <utility>

#include "sim/base/closed_in.h"

namespace sidehill::screen {
namespace {

// How far the ground can lie over and under the even slope anywhere [m].
std::pair<double, double> band_of(const Terrain& terrain) {
  double low = 0, high = 0;
  for (const Feature& feature : terrain.features) {
    switch (feature.kind) {
      case FeatureKind::ditch:
      case FeatureKind::hole:
        low -= feature.height;
        break;
      case FeatureKind::rough:
        // Sixteen waves of a joint standard deviation of height / 4 reach at most sqrt(2 x 16) of it.
        low -= 1.5 * feature.height, high += 1.5 * feature.height;
        break;
      case FeatureKind::bump:
      case FeatureKind::stump:
      case FeatureKind::kerb:
        high += feature.height;
        break;
    }
  }
  return {low, high};
}

bool finite(const Vec3& v) { return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z); }

// Where a height goes from above nothing to below.
template <class Height>
double crossing(const Height& over, double above, double below) {
  return closed_in(above, below, 1e-9, [&](double at) { return !(over(at) > 0); }).second;
}

// Where it is least between two places with one dip between them; the first place below nothing will do as well.
template <class Height>
double lowest_between(const Height& over, double from, double to) {
  constexpr int kBits = std::numeric_limits<double>::digits / 2;  // a minimum is not found more finely
  std::optional<double> under;
  const auto seen = [&](double at) {
    const double height = over(at);
    if (height <= 0 && !under) under = at;
    return height;
  };
  const double lowest = boost::math::tools::brent_find_minima(seen, from, to, kBits).first;
  return under.value_or(lowest);
}

}  // namespace

std::optional<Ray> ray_through(const Camera& camera, glm::dvec2 pixel, double width, double height) {
  if (!(width >= 1) || !(height >= 1)) return {};
  const glm::dmat4 to_clip = projection_matrix(camera, width / height);
  // Sideways and upwards per metre of depth, straight from the perspective's two scales.
  const double across = (2 * pixel.x / width - 1) / to_clip[0][0], up = (1 - 2 * pixel.y / height) / to_clip[1][1];
  const glm::dmat4 view = view_matrix(camera);
  const Vec3 right_W(view[0][0], view[1][0], view[2][0]), up_W(view[0][1], view[1][1], view[2][1]),
      back_W(view[0][2], view[1][2], view[2][2]);
  const Ray ray{eye(camera), glm::normalize(across * right_W + up * up_W - back_W)};
  if (!finite(ray.from) || !finite(ray.along)) return {};
  return ray;
}

std::optional<GroundHit> ground_under(const Terrain& terrain, double slope, const Ray& ray, double farthest) {
  const glm::dmat3 R_GW = glm::transpose(R_WG(slope));
  const Vec3 o = R_GW * ray.from, d = R_GW * ray.along;
  const auto place = [&](double t) { return glm::dvec2(o.x + t * d.x, o.y + t * d.y); };
  const auto over = [&](double t) { return o.z + t * d.z - ground_at(terrain, place(t)).height; };
  const auto hit_at = [&](double t) { return GroundHit{place(t), t}; };
  const auto [low, high] = band_of(terrain);
  if (!(o.z > low)) return {};
  // Only where the ray is between the lowest and the highest ground can it meet any.
  double from = 0, to = farthest;
  if (std::abs(d.z) > 1e-12) {
    const double a = (high - o.z) / d.z, b = (low - o.z) / d.z;
    from = std::max(from, std::min(a, b)), to = std::min(to, std::max(a, b));
  } else if (o.z > high) {
    return {};
  }
  if (!(from <= to)) return {};
  if (low == 0 && high == 0) return hit_at(from);
  if (!(over(from) >= 0)) {  // on the very top of the band, or under ground
    if (from == 0 || over(from) < -1e-9) return {};
    return hit_at(from);
  }
  constexpr double kStep = 0.02;  // [m]: a third of a kerb's edge
  constexpr int kMostSteps = 8000;
  const int steps = std::clamp(static_cast<int>(std::ceil((to - from) / kStep)), 1, kMostSteps);
  const double step = (to - from) / steps;
  // Two samples before the one at hand: where the height dips between them, a crest may reach through in between.
  double t0 = from, t1 = from, h0 = over(from), h1 = h0;
  for (int i = 1; i <= steps; ++i) {
    const double t = from + i * step;
    double height = over(t);
    if (!std::isfinite(height)) return {};
    // At the band's floor a hair over ground is rounding: there is nothing below.
    if (i == steps && to < farthest && d.z < 0) height = std::min(height, 0.0);
    if (h1 < h0 && h1 < height && h1 < 2 * step) {
      const double dip = lowest_between(over, t0, t);
      if (over(dip) <= 0) return hit_at(crossing(over, t0, dip));
    }
    if (height <= 0) return hit_at(crossing(over, t1, t));
    t0 = t1, h0 = h1;
    t1 = t, h1 = height;
  }
  return {};
}

std::vector<MachineBox> machine_boxes(const Scene& scene) {
  const Vehicle& v = scene.vehicle;
  const auto across = [](const Axle& axle) {
    return (axle.track + axle.tyre.section_width) / 2 + std::max(axle.dual_spacing, 0.0);
  };
  const double half_width = std::max(across(v.rear), across(v.front)), ground = -v.rear.tyre.free_radius;
  const double ahead = std::max(v.chassis.length_ahead, v.wheelbase + v.front.tyre.free_radius);
  const double wheel_top = std::max(v.chassis.bonnet_height, 2 * v.rear.tyre.free_radius);
  std::vector<MachineBox> boxes{
      {{-v.rear.tyre.free_radius, -half_width, ground}, {ahead, half_width, ground + wheel_top}}};
  if (v.frame.kind != FrameKind::none && v.frame.top_height > wheel_top) {
    const double half = v.frame.width / 2, depth = v.frame.kind == FrameKind::cab ? 0.0 : 0.3;
    boxes.push_back({{std::min(v.frame.x_rear, v.frame.x_front) - depth, -half, ground},
                     {v.frame.x_front + depth, half, ground + v.frame.top_height}});
  }
  return boxes;
}

std::optional<double> machine_under(const std::vector<MachineBox>& boxes, const State& state, const Ray& ray) {
  const Pose X_VW = inverse(Pose{R_WG(state.slope), Vec3(0)} * state.X_GV);
  const Vec3 o = X_VW * ray.from, d = X_VW.R * ray.along;
  std::optional<double> nearest;
  for (const MachineBox& box : boxes) {
    double from = 0, to = std::numeric_limits<double>::infinity();
    for (int k = 0; k < 3 && from <= to; ++k) {
      if (std::abs(d[k]) < 1e-12) {
        if (o[k] < box.low[k] || o[k] > box.high[k]) to = -1;
        continue;
      }
      const double a = (box.low[k] - o[k]) / d[k], b = (box.high[k] - o[k]) / d[k];
      from = std::max(from, std::min(a, b)), to = std::min(to, std::max(a, b));
    }
    if (from <= to && (!nearest || from < *nearest)) nearest = from;
  }
  return nearest;
}

}  // namespace sidehill::screen

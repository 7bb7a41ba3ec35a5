#include "render/screen/scene3d/slope_wedge.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <glm/geometric.hpp>

#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

constexpr double kLength = 1.9, kArc = 1.35, kBeyond = 0.3;  // along the ground, radius of the arc, past both [m]

Vec3 level() { return {0, -1, 0}; }  // the slope rises along +y
Vec3 downhill(double slope) { return {0, -std::cos(slope), -std::sin(slope)}; }

double turn(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c) { return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x); }

// Corners of the outline of a set of points, anticlockwise (Andrew's monotone chain).
std::vector<glm::dvec2> hull_of(std::vector<glm::dvec2> points) {
  std::ranges::sort(points, [](glm::dvec2 a, glm::dvec2 b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  std::vector<glm::dvec2> hull;
  for (int half = 0; half < 2; ++half) {
    const std::size_t begin = hull.size();
    for (const glm::dvec2 p : points) {
      while (hull.size() >= begin + 2 && turn(hull[hull.size() - 2], hull.back(), p) <= 0) hull.pop_back();
      hull.push_back(p);
    }
    if (!hull.empty()) hull.pop_back();
    std::ranges::reverse(points);
  }
  return hull;
}

bool inside(const std::vector<glm::dvec2>& hull, glm::dvec2 p) {
  if (hull.size() < 3) return false;
  for (std::size_t i = 0; i < hull.size(); ++i)
    if (turn(hull[i], hull[(i + 1) % hull.size()], p) < 0) return false;
  return true;
}

}  // namespace

std::optional<SlopeWedge> slope_wedge(const Scene& scene, const State& state,
                                      const std::function<Vec3(glm::dvec2)>& on_ground) {
  if (std::abs(state.slope) < 0.2 * kDegree) return {};
  const Vehicle& v = scene.vehicle;
  const BallastPlan& plan = scene.ballast;
  const double behind = std::max({v.rear.tyre.free_radius, plan.rear_weights > 0 ? 0.5 - v.rear_mount.x : 0.0,
                                  plan.implement.mass > 0 ? 0.6 - plan.implement.x : 0.0});
  const double ahead = v.chassis.length_ahead + (v.loader.fitted ? 1.0 : 0.2);
  const double half_width =
      std::max((v.rear.track + v.rear.tyre.section_width) / 2 + std::max(v.rear.dual_spacing, 0.0),
               v.loader.fitted ? v.loader.bucket_width / 2 : 0.0);
  // The rectangle round the machine along x and y of G.
  glm::dvec2 low(1e9), high(-1e9);
  for (const double x : {-behind, ahead})
    for (const double y : {-half_width, half_width}) {
      const Vec3 p = state.X_GV * Vec3(x, y, 0);
      low = glm::min(low, glm::dvec2(p)), high = glm::max(high, glm::dvec2(p));
    }
  constexpr double kRoom = 0.45;  // [m]
  SlopeWedge wedge;
  wedge.slope = state.slope;
  const double middle_x = (low.x + high.x) / 2, middle_y = (low.y + high.y) / 2;
  for (const double y : {low.y + 0.6 * kLength, middle_y + kLength / 2, high.y})
    for (const double x : {low.x - kRoom, high.x + kRoom}) wedge.apexes.push_back(on_ground({x, y}));
  for (const double x : {low.x + 0.3, middle_x, high.x - 0.3}) {
    wedge.apexes.push_back(on_ground({x, low.y - 0.3}));
    wedge.apexes.push_back(on_ground({x, high.y + kLength + 0.3}));
  }
  return wedge;
}

std::size_t wedge_place(const Drawing& drawing, const Camera& camera, double aspect) {
  const SlopeWedge& wedge = *drawing.wedge;
  std::vector<glm::dvec2> machine;
  for (const Vec3& p : drawing.extent)
    if (const auto spot = project(camera, p, aspect, 1)) machine.push_back(*spot);
  const std::vector<glm::dvec2> hull = hull_of(machine);
  const Vec3 from = eye(camera);
  const double far = glm::length(drawing.focus - from);
  double least = 1e30;
  std::size_t best = 0;
  for (std::size_t i = 0; i < wedge.apexes.size(); ++i) {
    const Vec3 apex = wedge.apexes[i], low = apex + kLength * downhill(wedge.slope), flat = apex + kLength * level();
    double cost = 0;
    std::array<glm::dvec2, 3> corners{};
    std::size_t seen = 0;
    for (const Vec3& p : {apex, low, flat, (apex + low) / 2.0, (apex + flat) / 2.0, (low + flat) / 2.0}) {
      const auto spot = project(camera, p, aspect, 1);
      if (!spot || spot->x < 0.04 * aspect || spot->x > 0.96 * aspect || spot->y < 0.05 || spot->y > 0.95) {
        cost += 2;  // out of the picture
        continue;
      }
      if (seen < 3) corners[seen++] = *spot;
      // Behind the machine it is hidden; before it, it hides the machine.
      if (inside(hull, *spot)) cost += glm::length(p - from) > far ? 2 : 1;
    }
    // Seen edge on, it is no angle any more.
    const double area = seen == 3 ? std::abs(turn(corners[0], corners[1], corners[2])) / 2 : 0;
    const double whole = kLength * kLength * std::sin(std::abs(wedge.slope)) / 2 /
                         std::pow(2 * far * std::tan(camera.field_of_view / 2), 2);
    cost += 4 * (1 - std::min(1.0, area / whole)) + 0.05 * glm::length(apex - drawing.focus);
    if (cost < least) least = cost, best = i;
  }
  return best;
}

std::vector<Outline> wedge_outlines(const SlopeWedge& wedge, std::size_t place) {
  const Vec3 apex = wedge.apexes[place], down = downhill(wedge.slope);
  const double flat = kLength * std::cos(wedge.slope);
  Outline face{{apex, apex + kLength * down, apex + flat * level()}, true, false, true, Ink::slope};
  Outline ground{{apex - 0.25 * down, apex + (kLength + kBeyond) * down}, false, false, false, Ink::slope};
  Outline horizontal{{apex, apex + (flat + kBeyond) * level()}, false, true, false, Ink::level};
  Outline arc{{}, false, false, false, Ink::slope};
  constexpr int kSteps = 14;
  for (int i = 0; i <= kSteps; ++i) arc.points.push_back(apex + kArc * downhill(wedge.slope * i / kSteps));
  return {std::move(face), std::move(ground), std::move(horizontal), std::move(arc)};
}

Vec3 wedge_label(const SlopeWedge& wedge, std::size_t place) {
  return wedge.apexes[place] + kArc * downhill(wedge.slope / 2);
}

}  // namespace sidehill::screen

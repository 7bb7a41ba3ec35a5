#include "render/screen/scene3d/drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/scene3d/drawing_parts.h"
#include "render/screen/scene3d/slope_wedge.h"
#include "render/text/words/ground_words.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

constexpr double kOverGround = 0.015;    // lines on the ground lie this far over it, so that they show [m]
constexpr double kArrowPerWeight = 2.6;  // arrow that carries the whole machine [m]
constexpr double kLongestArrow = 2.6;    // a blow at a landing is many times the weight: its number says so [m]

struct View {
  const Scene& scene;
  const Model& model;
  const State& state;
  Mat3 R;  // R_WG
};

Vec3 on_ground_G(const Terrain& terrain, glm::dvec2 p_G) {
  return Vec3(p_G, ground_at(terrain, p_G).height + kOverGround);
}

// Where a plumb line from a point (in G) meets the ground. Features are gentle enough for a few rounds of substitution.
Vec3 plumb_foot_G(const View& view, Vec3 p_G) {
  const Vec3 down = glm::transpose(view.R) * Vec3(0, 0, -1);
  Vec3 foot = p_G;
  for (int i = 0; i < 8; ++i) {
    const double height = ground_at(view.model.terrain, {foot.x, foot.y}).height;
    foot = p_G + down * ((p_G.z - height) / std::max(-down.z, 0.2));
  }
  return foot;
}

// A line laid over the ground, in W.
void drape(const View& view, std::vector<Vec3>& line, Vec3 from_G, Vec3 to_G) {
  constexpr double kStep = 0.25;
  const int steps = std::clamp(static_cast<int>(glm::length(to_G - from_G) / kStep), 1, 80);
  for (int i = 0; i < steps; ++i) {
    const Vec3 p = from_G + (to_G - from_G) * (static_cast<double>(i) / steps);
    line.push_back(view.R * on_ground_G(view.model.terrain, {p.x, p.y}));
  }
}

Outline draped_outline(const View& view, const std::vector<Vec3>& corners_G) {
  Outline outline;
  for (std::size_t i = 0; i < corners_G.size(); ++i)
    drape(view, outline.points, corners_G[i], corners_G[(i + 1) % corners_G.size()]);
  return outline;
}

bool inside(const std::vector<Vec3>& corners, Vec3 p) {  // convex, either way round, seen along z
  int left = 0, right = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vec3 a = corners[i], b = corners[(i + 1) % corners.size()];
    const double turn = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    if (turn > 0) ++left;
    if (turn < 0) ++right;
  }
  return left == 0 || right == 0;
}

double weight(const Model& model) { return std::max(total_mass(model) * model.gravity, 1.0); }

// A wheel counts as lifted if it carries nothing while another does, and the machine stands on its wheels. Free fall
// and a machine on its side need no marker.
bool lifted(const View& view, int wheel) {
  double sum = 0;
  for (const WheelState& w : view.state.wheels) sum += w.load;
  return !view.state.hull_touches && view.state.X_GV.R[2].z > 0.4 && sum > 0.2 * weight(view.model) &&
         view.state.wheels[static_cast<std::size_t>(wheel)].load < 0.002 * weight(view.model);
}

// Where a wheel stands farthest out: of dual wheels, below the outer tyre.
Vec3 outer_contact_G(const View& view, int wheel) {
  const WheelState& w = view.state.wheels[static_cast<std::size_t>(wheel)];
  const double dual = view.model.wheels[static_cast<std::size_t>(wheel)].dual;
  if (!(dual > 0)) return w.contact_G;
  const double out = (is_left(wheel) ? dual : -dual) - glm::dot(w.contact_G - w.centre_G, w.axle_G);
  return w.contact_G + out * w.axle_G;
}

// Of the wheels that carry, the one nearest to lifting: the one whose load is the least share of what it would carry on
// level ground. (The least load by itself says less: a front axle is light at all times. The most overloaded wheel is
// another fact; the panels say it.) What hardly carries on the level already counts as near: an eighth of the weight is
// half of an even share. -1 where none carries less than 19 parts in 20 of that.
int nearest_to_lifting(const View& view) {
  const double whole_weight = weight(view.model);
  const Vec3 middle_V = inverse(view.state.X_GV) * view.state.centre_of_gravity_G;
  const double on_front = std::clamp(middle_V.x / view.model.wheelbase, 0.0, 1.0);
  int nearest = -1;
  double least = 0.95;
  for (int i = 0; i < kWheels; ++i) {
    const double load = view.state.wheels[static_cast<std::size_t>(i)].load;
    if (!(load > 0)) continue;
    const double level = whole_weight * (is_front(i) ? on_front : 1 - on_front) / 2;
    const double share = load / std::max(level, whole_weight / 8);
    if (share < least) least = share, nearest = i;
  }
  return nearest;
}

// A hand's breadth is read in centimetres, what is higher than a wheel in metres.
std::string gap_words(double gap, Units units) {
  if (units == Units::us) return shown(Quantity::small_length, gap, units);
  if (gap >= 0.995) return shown(Quantity::length, gap, units);
  return gap < 0.095 ? fmt::format("{:.1f} cm", 100 * gap) : fmt::format("{:.0f} cm", 100 * gap);
}

void add_loads(Drawing& drawing, const View& view, Units units) {
  const int nearest = nearest_to_lifting(view);
  for (int i = 0; i < kWheels; ++i) {
    const WheelState& w = view.state.wheels[static_cast<std::size_t>(i)];
    const TyreMeasures tyre = tyre_measures(view.scene.vehicle, i);
    const Vec3 n_G = ground_at(view.model.terrain, {w.contact_G.x, w.contact_G.y}).normal;
    if (lifted(view, i)) {
      drawing.rings.push_back(
          {view.R * w.centre_G, view.R * w.axle_G, 1.07 * tyre.radius, 0.95 * tyre.width, Ink::lifted});
      Vec3 down = -(n_G - glm::dot(n_G, w.axle_G) * w.axle_G);
      if (glm::length(down) > 1e-6) down = glm::normalize(down);
      const double gap = glm::dot(w.centre_G + tyre.radius * down - w.contact_G, n_G);
      const std::string height = gap > 0.005 ? gap_words(gap, units) : "";
      drawing.labels.push_back({view.R * w.centre_G + Vec3(0, 0, 1.07 * tyre.radius),
                                height.empty() ? "LIFTED" : "LIFTED " + height, LabelKind::lifted, "", false,
                                fmt::format("{} wheel lifted{}", kWheelWords[static_cast<std::size_t>(i)].title,
                                            height.empty() ? "" : ", " + height + " over the ground")});
      continue;
    }
    if (!(w.load > 0)) continue;
    // At the contact, before the outer side of the (outer) tyre, where it can be seen; the length is the load.
    Vec3 out = is_left(i) ? w.axle_G : -w.axle_G;
    out = glm::normalize(out - glm::dot(out, n_G) * n_G);
    const Vec3 foot = outer_contact_G(view, i) + out * (tyre.width / 2 + 0.02);
    const Vec3 foot_G = on_ground_G(view.model.terrain, {foot.x, foot.y});
    const double wanted = kArrowPerWeight * w.load / weight(view.model), length = std::min(kLongestArrow, wanted);
    drawing.arrows.push_back({view.R * foot_G, view.R * (foot_G + length * n_G),
                              i == nearest ? Ink::nearest_to_lifting : Ink::load, wanted > length});
    const std::string load = shown(Quantity::load, w.load, units);
    drawing.labels.push_back({view.R * foot_G, load, LabelKind::wheel_load, "", false,
                              fmt::format("{} wheel carries {}{}", kWheelWords[static_cast<std::size_t>(i)].title, load,
                                          i == nearest ? ", nearest to lifting" : "")});
  }
}

// Corners the machine stands on, in G. With a swinging front axle the chassis rests on the rear tyres and the pivot
// pin: what holds it upright is the triangle under those, until the axle meets its stop.
std::vector<Vec3> support_corners(const View& view) {
  const auto at = [&](int wheel) { return outer_contact_G(view, wheel); };
  // (The front half of an articulated machine is heavy and stands on wheels of its own: there all four count.)
  if (view.model.axle_kind == AxleKind::pivoting && !view.state.on_stop)
    return {at(kRearLeft), at(kRearRight), plumb_foot_G(view, view.state.X_GV * view.model.pin)};
  return {at(kRearLeft), at(kRearRight), at(kFrontRight), at(kFrontLeft)};
}

void add_support(Drawing& drawing, const View& view) {
  if (view.state.hull_touches) return;
  Outline main = draped_outline(view, support_corners(view));
  main.filled = true;
  main.ink = Ink::support;
  drawing.outlines.push_back(std::move(main));
  const auto at = [&](int wheel) { return outer_contact_G(view, wheel); };
  Outline contacts = draped_outline(view, {at(kRearLeft), at(kRearRight), at(kFrontRight), at(kFrontLeft)});
  contacts.dashed = true;
  contacts.ink = Ink::support_contacts;
  drawing.outlines.push_back(std::move(contacts));
}

// From the plumb line's foot to the nearest edge of what the machine stands on; that edge is lit.
void add_way_to_edge(Drawing& drawing, const View& view, Vec3 foot_G, Units units) {
  const std::vector<Vec3> corners = support_corners(view);
  double least = 1e30;
  Vec3 from{0.0}, to{0.0}, nearest{0.0};
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vec3 a = corners[i], b = corners[(i + 1) % corners.size()];
    const glm::dvec2 way(b - a), out(foot_G - a);
    const double t = std::clamp(glm::dot(out, way) / std::max(glm::dot(way, way), 1e-9), 0.0, 1.0);
    const Vec3 place = a + t * (b - a);
    const double away = glm::length(glm::dvec2(foot_G - place));
    if (away < least) least = away, from = a, to = b, nearest = place;
  }
  Outline edge{{}, false, false, false, Ink::nearest_edge}, way{{}, false, false, false, Ink::to_edge};
  drape(view, edge.points, from, to);
  edge.points.push_back(view.R * on_ground_G(view.model.terrain, {to.x, to.y}));
  drape(view, way.points, foot_G, nearest);
  way.points.push_back(view.R * on_ground_G(view.model.terrain, {nearest.x, nearest.y}));
  const Vec3 middle = (way.points.front() + way.points.back()) / 2.0;
  drawing.outlines.push_back(std::move(edge));
  drawing.outlines.push_back(std::move(way));
  const std::string length = shown(Quantity::length, least, units);
  const bool past = !drawing.gravity->inside;
  constexpr double kAtEdge = 0.005;  // rounds to nothing [m]
  drawing.labels.push_back(
      {middle, least < kAtEdge ? "at the edge" : length + (past ? " past the edge" : " to the edge"), LabelKind::edge,
       "", false,
       past ? "The plumb line meets the ground " + length + " past the edge of what the machine stands on"
            : "From the plumb line's foot to the nearest edge of what the machine stands on: " + length});
}

void add_gravity(Drawing& drawing, const View& view, const Overlays& overlays) {
  const Vec3 foot_G = plumb_foot_G(view, view.state.centre_of_gravity_G);
  GravityMark mark;
  mark.centre = view.R * view.state.centre_of_gravity_G;
  mark.foot = view.R * (foot_G + Vec3(0, 0, kOverGround));
  mark.inside = view.state.hull_touches || inside(support_corners(view), foot_G);
  drawing.gravity = mark;
  if (!view.state.hull_touches && overlays.support) add_way_to_edge(drawing, view, foot_G, overlays.units);
  const Vec3 p = view.state.centre_of_gravity_G;
  const double height = p.z - ground_at(view.model.terrain, {p.x, p.y}).height;
  drawing.labels.push_back(
      {mark.centre, "CG " + shown(Quantity::length, height, overlays.units), LabelKind::centre_of_gravity, "", false,
       fmt::format("Centre of gravity, {} over the ground here", shown(Quantity::length, height, overlays.units))});
  if (!overlays.stands.empty()) {
    drawing.labels.push_back({mark.foot, overlays.stands_short.empty() ? overlays.stands : overlays.stands_short,
                              LabelKind::margin, "", false, overlays.stands});
  } else if (overlays.margin) {
    const bool up = !drawing.rings.empty() && *overlays.margin >= 0;
    const std::string angle = force_angle_words(overlays.margin);
    drawing.labels.push_back(
        {mark.foot, angle, LabelKind::margin, "", false, angle + (up ? ", a wheel up" : ", as it moves")});
  }
}

void add_slope_wedge(Drawing& drawing, const View& view) {
  drawing.wedge = slope_wedge(view.scene, view.state,
                              [&](glm::dvec2 p_G) { return view.R * on_ground_G(view.model.terrain, p_G); });
  if (!drawing.wedge) return;
  const std::string text = "Slope " + degrees_and_percent(view.state.slope);
  drawing.labels.push_back({wedge_label(*drawing.wedge, 0), text, LabelKind::slope, "", false,
                            "The ground rises " + degrees_and_percent(view.state.slope)});
}

std::string feature_text(const Feature& feature, Units units) {
  return fmt::format("{} {} {}", feature_name(feature), shown(Quantity::length, feature.height, units),
                     is_sunk(feature) ? "deep" : "high");
}

// The edge of a feature as a line on the ground: where it is exactly flat again.
Outline feature_rim(const View& view, const Feature& feature) {
  std::vector<Vec3> corners;
  if (is_round(feature)) {
    constexpr int kSides = 24;
    for (int i = 0; i < kSides; ++i) {
      const double a = kTwoPi * i / kSides;
      corners.push_back(Vec3(feature.x, feature.y, 0) + feature.length / 2 * Vec3(std::cos(a), std::sin(a), 0));
    }
  } else {
    const Mat3 turned = about_z(feature.angle);
    for (const glm::dvec2 c : {glm::dvec2(-1, -1), glm::dvec2(1, -1), glm::dvec2(1, 1), glm::dvec2(-1, 1)})
      corners.push_back(Vec3(feature.x, feature.y, 0) +
                        turned * Vec3(c.x * feature.length / 2, c.y * feature.width / 2, 0));
  }
  Outline rim = draped_outline(view, corners);
  rim.ink = Ink::feature;
  return rim;
}

void add_features(Drawing& drawing, const View& view, Units units) {
  const Vec3 focus_G = glm::transpose(view.R) * drawing.focus;
  for (const Feature& feature : view.model.terrain.features) {
    const double away = glm::length(glm::dvec2(feature.x - focus_G.x, feature.y - focus_G.y));
    if (away - feature_reach(feature) < 25 && feature.height > 0)
      drawing.outlines.push_back(feature_rim(view, feature));
    if (away > 12) continue;
    drawing.labels.push_back({view.R * on_ground_G(view.model.terrain, {feature.x, feature.y}),
                              feature_text(feature, units), LabelKind::feature});
  }
}

}  // namespace

Drawing draw(const Scene& scene, const Model& model, const State& state, const Overlays& overlays) {
  Drawing drawing;
  const View view{scene, model, state, R_WG(state.slope)};
  add_machine(drawing, scene, model, state, overlays);
  drawing.ground.slope = state.slope;
  drawing.ground.features = model.terrain.features;
  drawing.ground.lines = overlays.ground_lines;
  const Vec3 focus_G = glm::transpose(view.R) * drawing.focus;
  drawing.ground.focus_G = {focus_G.x, focus_G.y};
  if (overlays.wheel_loads) add_loads(drawing, view, overlays.units);
  if (overlays.support) add_support(drawing, view);
  if (overlays.centre_of_gravity) add_gravity(drawing, view, overlays);
  if (overlays.slope_wedge) add_slope_wedge(drawing, view);
  add_features(drawing, view, overlays.units);
  if (overlays.few_labels)
    std::erase_if(drawing.labels, [](const Label& l) {
      return l.kind != LabelKind::lifted && l.kind != LabelKind::margin && l.kind != LabelKind::slope &&
             l.kind != LabelKind::centre_of_gravity;
    });
  if (!overlays.labels) std::erase_if(drawing.labels, [](const Label& l) { return l.kind != LabelKind::lifted; });
  return drawing;
}

}  // namespace sidehill::screen

#include "render/screen/placing/placing.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/placing/picking.h"
#include "render/screen/placing/placing_parts.h"
#include "render/screen/placing/placing_preview.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

constexpr double kReach = 11;  // a knob or the ring is taken hold of from so far [px]

// Degrees are what a person reads: a snapped angle is exactly so many of them.
double snapped_angle(double angle, bool free) { return free ? angle : std::round(angle / kTurnStep) * 5 * kDegree; }

// The smallest thing whose outline holds the place: what lies on a rough strip can still be taken.
int thing_at(const Scene& scene, glm::dvec2 p_G) {
  int found = kNothing;
  double least = 0;
  for (std::size_t i = 0; i < scene.terrain.features.size(); ++i) {
    const Feature& f = scene.terrain.features[i];
    if (!feature_near(f, p_G, 0.05)) continue;
    const double area = f.length * (is_round(f) ? f.length : f.width);
    if (found == kNothing || area < least) found = static_cast<int>(i), least = area;
  }
  return found;
}

struct Sight {
  std::optional<Ray> ray;
  std::optional<double> machine;  // distance [m]
  std::optional<GroundHit> ground;
};

Sight look(const MouseNow& mouse, const Camera& camera, const Scene& scene, const State& shown, const ViewRect& view) {
  Sight sight;
  sight.ray = ray_through(camera, mouse.at - glm::dvec2(view.x, view.y), view.width, view.height);
  if (!sight.ray) return sight;
  sight.machine = machine_under(machine_boxes(scene), shown, *sight.ray);
  sight.ground = ground_under(scene.terrain, shown.slope, *sight.ray);
  return sight;
}

double pixels_between(const Camera& camera, const ViewRect& view, Vec3 p_W, glm::dvec2 at) {
  const auto spot = project(camera, p_W, view.width, view.height);
  return spot ? glm::length(*spot + glm::dvec2(view.x, view.y) - at) : 1e9;
}

double pixels_to_path(const Camera& camera, const ViewRect& view, const std::vector<Vec3>& ring, glm::dvec2 at) {
  double least = 1e9;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const auto a = project(camera, ring[i], view.width, view.height);
    const auto b = project(camera, ring[(i + 1) % ring.size()], view.width, view.height);
    if (!a || !b) continue;
    const glm::dvec2 p = at - glm::dvec2(view.x, view.y) - *a, along = *b - *a;
    const double length = glm::dot(along, along);
    const double part = length > 0 ? std::clamp(glm::dot(p, along) / length, 0.0, 1.0) : 0.0;
    least = std::min(least, glm::length(p - part * along));
  }
  return least;
}

// Knobs of what is chosen first, then the machine, then the things on the ground.
void find_hot(Placing& placing, const MouseNow& mouse, const Camera& camera, const Scene& scene, const State& shown,
              const ViewRect& view, const Sight& sight) {
  placing.hot = Grip::none, placing.hot_item = kNothing;
  if (!mouse.inside || placing.tool != Tool::move) return;
  const auto take = [&](Grip grip, int item) { placing.hot = grip, placing.hot_item = item; };
  double nearest = kReach * mouse.scale;
  for (const Knob& knob : knobs_of(scene, shown.slope, placing.selected)) {
    const double pixels = pixels_between(camera, view, knob.place, mouse.at);
    if (pixels < nearest) nearest = pixels, take(knob.grip, placing.selected);
  }
  if (placing.hot != Grip::none) return;
  if (sight.machine && (!sight.ground || *sight.machine < sight.ground->distance)) return take(Grip::machine, kMachine);
  if (placing.selected == kMachine &&
      pixels_to_path(camera, view, ring_of(scene, shown.slope), mouse.at) < kReach * mouse.scale)
    return take(Grip::heading, kMachine);
  if (!sight.ground) return;
  const int thing = thing_at(scene, sight.ground->place_G);
  if (thing != kNothing) take(Grip::feature, thing);
}

// Where the mouse points on the even slope, or `lift` over it: a drag across a bump must not jump with it.
std::optional<glm::dvec2> even_ground(const Sight& sight, const State& shown, double lift) {
  if (!sight.ray) return {};
  Ray ray = *sight.ray;
  ray.from -= R_WG(shown.slope) * Vec3(0, 0, lift);
  const auto hit = ground_under(Terrain{}, shown.slope, ray);
  if (!hit) return {};
  return hit->place_G;
}

void take_hold(Placing& placing, Grip grip, int item, const Scene& scene, const MouseNow& mouse, const State& shown,
               const Sight& sight) {
  placing.selected = item;
  placing.grip = Grip::none;
  placing.lift = 0;
  // What is moved stays under the mouse where it was touched.
  if (grip == Grip::machine && sight.machine) {
    const Vec3 touched_G = glm::transpose(R_WG(shown.slope)) * (sight.ray->from + *sight.machine * sight.ray->along);
    placing.lift = touched_G.z;
  } else if (grip == Grip::feature && sight.ground) {
    placing.lift = ground_at(scene.terrain, sight.ground->place_G).height;
  }
  const auto from_G = even_ground(sight, shown, placing.lift);
  if (!from_G && grip != Grip::height) return;
  placing.grip = grip;
  placing.before = scene;
  placing.from_px = mouse.at;
  placing.from_G = from_G.value_or(glm::dvec2(0.0));
  placing.dragging = false;
  ++placing.stroke;
}

// How many metres at a place one pixel up the view stands for.
double metres_per_pixel(const Camera& camera, const ViewRect& view, Vec3 p_W) {
  const glm::dmat4 to_eye = view_matrix(camera);
  const Vec3 up_W(to_eye[0][1], to_eye[1][1], to_eye[2][1]);
  const auto a = project(camera, p_W, view.width, view.height),
             b = project(camera, p_W + 0.1 * up_W, view.width, view.height);
  if (!a || !b) return 0;
  const double pixels = glm::length(*b - *a);
  return pixels > 1e-6 ? 0.1 / pixels : 0;
}

Scene dragged(const Placing& placing, const MouseNow& mouse, const Camera& camera, const State& shown,
              const ViewRect& view, glm::dvec2 now_G) {
  const Scene& before = placing.before;
  const glm::dvec2 moved = now_G - placing.from_G;
  if (placing.selected == kMachine) {
    Start start = before.start;
    if (placing.grip == Grip::machine) {
      const glm::dvec2 p = snapped(glm::dvec2(start.x, start.y) + moved, mouse.shift);
      start.x = p.x, start.y = p.y;
    } else {
      const glm::dvec2 middle = machine_middle_G(before);
      const glm::dvec2 a = placing.from_G - middle, b = now_G - middle;
      if (glm::length(a) < 1e-6 || glm::length(b) < 1e-6) return before;
      const double turned = std::atan2(a.x * b.y - a.y * b.x, glm::dot(a, b));
      start.heading = snapped_angle(std::remainder(start.heading + turned, kTwoPi), mouse.shift);
      const glm::dvec2 rear = middle - before.vehicle.wheelbase / 2 * forward_G(start.heading);
      start.x = rear.x, start.y = rear.y;
    }
    return with_start(before, start);
  }
  const Feature* held = feature_at_index(before, placing.selected);
  if (!held) return before;
  Feature f = *held;
  const glm::dvec2 u(std::cos(f.angle), std::sin(f.angle)), v(-u.y, u.x), from_middle = now_G - glm::dvec2(f.x, f.y);
  switch (placing.grip) {
    case Grip::feature: {
      const glm::dvec2 p = snapped(glm::dvec2(f.x, f.y) + moved, mouse.shift);
      f.x = p.x, f.y = p.y;
      break;
    }
    case Grip::length: {
      const double out = is_round(f) ? glm::length(from_middle) : std::abs(glm::dot(from_middle, u));
      f.length = std::max(kSmallestExtent, snapped(2 * out, kPlaces, mouse.shift));
      break;
    }
    case Grip::width:
      f.width = std::max(kSmallestExtent, snapped(2 * std::abs(glm::dot(from_middle, v)), kPlaces, mouse.shift));
      break;
    case Grip::height: {
      const Vec3 middle_W = R_WG(shown.slope) * Vec3(f.x, f.y, 0);
      const double up = (placing.from_px.y - mouse.at.y) * metres_per_pixel(camera, view, middle_W);
      f.height = std::max(0.0, snapped(f.height + (is_sunk(f) ? -up : up), kHeights, mouse.shift));
      break;
    }
    case Grip::turn:
      if (glm::length(from_middle) > 1e-6)
        f.angle = snapped_angle(std::atan2(from_middle.y, from_middle.x), mouse.shift);
      break;
    case Grip::none:
    case Grip::machine:
    case Grip::heading:
      break;
  }
  return with_feature_changed(before, placing.selected, f);
}

std::optional<Scene> on_wheel(Placing& placing, const MouseNow& mouse, const Scene& scene) {
  const auto changed = [&](const Feature& f) {
    return mouse.control ? raised(f, mouse.wheel) : resized(f, mouse.wheel);
  };
  if (placing.next) {
    placing.next = changed(*placing.next);
    return {};
  }
  const Feature* f = feature_at_index(scene, placing.selected);
  if (!f || placing.grip != Grip::none) return {};
  ++placing.stroke;
  Scene edited = with_feature_changed(scene, placing.selected, changed(*f));
  if (same(edited, scene)) return {};
  return edited;
}

}  // namespace

bool takes_mouse(const Placing& placing) {
  return placing.grip != Grip::none || placing.hot != Grip::none || (puts(placing.tool) && placing.over_G);
}

bool takes_wheel(const Placing& placing, const MouseNow& mouse) {
  return (mouse.shift || mouse.control) && (placing.next || placing.selected >= 0) && placing.tool != Tool::look;
}

void choose(Placing& placing, Tool tool, const Scene& scene) {
  if (tool == placing.tool && puts(tool)) tool = Tool::move;
  placing.tool = tool;
  placing.grip = Grip::none;
  placing.hot = Grip::none, placing.hot_item = kNothing;
  placing.menu.reset();
  placing.next.reset();
  if (tool == Tool::look) placing.selected = kNothing;
  if (puts(tool)) {
    placing.selected = kNothing;
    placing.next = usual_feature(tool, scene.start.heading);
    // Another strip is another piece of ground.
    placing.next->seed = static_cast<std::uint32_t>(scene.terrain.features.size() + 1);
  }
}

std::optional<Scene> on_mouse(Placing& placing, const MouseNow& mouse, const Camera& camera, const Scene& scene,
                              const State& shown, const ViewRect& view) {
  forget_what_is_gone(placing, scene);
  const Sight sight = look(mouse, camera, scene, shown, view);
  const bool behind_machine = sight.machine && (!sight.ground || *sight.machine < sight.ground->distance);
  placing.over_G.reset();
  if (mouse.inside && sight.ground && !behind_machine) placing.over_G = sight.ground->place_G;

  if (placing.grip != Grip::none) {
    if (!mouse.held) {
      placing.grip = Grip::none;
    } else {
      if (glm::length(mouse.at - placing.from_px) >= kMeant * mouse.scale) placing.dragging = true;
      // Height needs no ground under the mouse; the rest waits until there is some again.
      const auto now_G = even_ground(sight, shown, placing.lift);
      if (!placing.dragging || (!now_G && placing.grip != Grip::height)) return {};
      Scene edited = dragged(placing, mouse, camera, shown, view, now_G.value_or(placing.from_G));
      if (same(edited, scene)) return {};
      return edited;
    }
  }
  find_hot(placing, mouse, camera, scene, shown, view, sight);
  if (!mouse.inside) return {};

  if (mouse.wheel != 0 && std::isfinite(mouse.wheel) && takes_wheel(placing, mouse))
    return on_wheel(placing, mouse, scene);
  if (mouse.right_clicked && placing.tool != Tool::look) {
    if (puts(placing.tool)) choose(placing, Tool::move, scene);
    placing.selected = placing.hot_item;
    placing.menu = mouse.at;
    placing.menu_G = sight.ground ? snapped(sight.ground->place_G, mouse.shift) : glm::dvec2(0.0);
    if (!sight.ground && placing.selected == kNothing) placing.menu.reset();
    return {};
  }
  if (!mouse.pressed) return {};
  if (puts(placing.tool) && placing.over_G && placing.next) {
    if (scene.terrain.features.size() >= kMostListEntries) return {};
    Feature f = *placing.next;
    const glm::dvec2 p = snapped(*placing.over_G, mouse.shift);
    f.x = p.x, f.y = p.y;
    Scene edited = with_feature(scene, f);
    const Tool tool = placing.tool;
    choose(placing, Tool::move, scene);
    take_hold(placing, Grip::feature, static_cast<int>(edited.terrain.features.size()) - 1, edited, mouse, shown,
              sight);
    if (mouse.shift) choose(placing, tool, edited);  // several in a row
    return edited;
  }
  if (placing.tool == Tool::move) {
    if (placing.hot == Grip::none)
      placing.selected = kNothing;
    else
      take_hold(placing, placing.hot, placing.hot_item, scene, mouse, shown, sight);
  }
  return {};
}

}  // namespace sidehill::screen

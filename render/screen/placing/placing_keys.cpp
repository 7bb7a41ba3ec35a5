#include <imgui.h>

#include <algorithm>
#include <glm/geometric.hpp>

#include "render/screen/kit/ui.h"
#include "render/screen/placing/placing_parts.h"
#include "sim/base/constants.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

bool same(const Feature& a, const Feature& b) {
  return a.kind == b.kind && a.x == b.x && a.y == b.y && a.angle == b.angle && a.length == b.length &&
         a.width == b.width && a.height == b.height && a.seed == b.seed && a.name == b.name;
}

}  // namespace

const Feature* feature_at_index(const Scene& scene, int index) {
  return index >= 0 && index < static_cast<int>(scene.terrain.features.size())
             ? &scene.terrain.features[static_cast<std::size_t>(index)]
             : nullptr;
}

void forget_what_is_gone(Placing& placing, const Scene& scene) {
  const auto gone = [&](int item) { return item >= 0 && !feature_at_index(scene, item); };
  if (gone(placing.selected)) placing.selected = kNothing, placing.menu.reset();
  if (gone(placing.hot_item)) placing.hot = Grip::none, placing.hot_item = kNothing;
  if (placing.grip != Grip::none && placing.selected == kNothing) placing.grip = Grip::none;
}

bool same(const Scene& a, const Scene& b) {
  return a.start.x == b.start.x && a.start.y == b.start.y && a.start.heading == b.start.heading &&
         std::ranges::equal(a.terrain.features, b.terrain.features,
                            [](const Feature& x, const Feature& y) { return same(x, y); });
}

Feature resized(Feature f, double steps) {
  const double factor = std::pow(1.1, std::clamp(steps, -20.0, 20.0));
  f.length = std::max(kSmallestExtent, snapped(f.length * factor, kHeights, false));
  if (!is_round(f)) f.width = std::max(kSmallestExtent, snapped(f.width * factor, kHeights, false));
  return within_limits(f);
}

Feature raised(Feature f, double steps) {
  f.height = std::max(0.0, snapped(f.height + steps / kHeights, kHeights, false));
  return within_limits(f);
}

std::optional<Scene> on_keys(Placing& placing, const KeysNow& keys, const Scene& scene) {
  forget_what_is_gone(placing, scene);
  if (keys.escape) {
    placing.menu.reset();
    if (placing.grip != Grip::none) {
      placing.grip = Grip::none;
      if (!placing.dragging || same(placing.before, scene)) return {};
      return placing.before;
    }
    if (puts(placing.tool))
      choose(placing, Tool::move, scene);
    else if (placing.selected != kNothing)
      placing.selected = kNothing;
    else
      choose(placing, Tool::look, scene);
    return {};
  }
  if (placing.grip != Grip::none || placing.tool == Tool::look) return {};
  const int things = static_cast<int>(scene.terrain.features.size());
  if (keys.next || keys.previous) {
    // Machine, then each thing, then the machine again.
    if (puts(placing.tool)) choose(placing, Tool::move, scene);
    const int at = placing.selected == kMachine ? 0 : placing.selected == kNothing ? -1 : placing.selected + 1;
    const int count = things + 1;
    const int to = at < 0 ? (keys.next ? 0 : count - 1) : (at + (keys.next ? 1 : count - 1)) % count;
    placing.selected = to == 0 ? kMachine : to - 1;
    return {};
  }
  if (keys.put && placing.next) {
    if (things >= static_cast<int>(kMostListEntries)) return {};
    Feature f = *placing.next;
    const Vehicle& v = scene.vehicle;
    const glm::dvec2 p = snapped(glm::dvec2(scene.start.x, scene.start.y) +
                                     (v.wheelbase + placing.ahead + f.length / 2) * forward_G(scene.start.heading),
                                 false);
    f.x = p.x, f.y = p.y;
    ++placing.stroke;
    Scene edited = with_feature(scene, f);
    choose(placing, Tool::move, scene);
    placing.selected = things;
    return edited;
  }
  const double step = keys.shift ? 0.01 : 0.1;
  const glm::dvec2 moved(step * std::clamp(keys.right, -10, 10), step * std::clamp(keys.up, -10, 10));
  const double turned = kTurnStep * std::clamp(keys.turn, -10, 10);
  Scene edited = scene;
  if (placing.selected == kMachine) {
    Start start = scene.start;
    if (keys.turn != 0) {
      const glm::dvec2 middle = machine_middle_G(scene);
      start.heading = std::remainder(start.heading + turned, kTwoPi);
      const glm::dvec2 rear = middle - scene.vehicle.wheelbase / 2 * forward_G(start.heading);
      start.x = rear.x, start.y = rear.y;
    }
    start.x += moved.x, start.y += moved.y;
    edited = with_start(scene, start);
  } else if (const Feature* chosen = feature_at_index(scene, placing.selected)) {
    if (keys.remove) {
      ++placing.stroke;
      edited = without_feature(scene, placing.selected);
      placing.selected = kNothing;
      placing.menu.reset();
      return edited;
    }
    Feature f = *chosen;
    f.x += moved.x, f.y += moved.y;
    if (keys.turn != 0) f.angle = std::remainder(f.angle + turned, kTwoPi);
    if (keys.bigger != 0) f = resized(f, keys.bigger);
    edited = with_feature_changed(scene, placing.selected, f);
  }
  if (same(edited, scene)) return {};
  ++placing.stroke;
  return edited;
}

std::optional<Scene> use_placing(Placing& placing, const Ui& ui, const Camera& camera, const Scene& scene,
                                 const State& shown, const Rect& view) {
  const ImGuiIO& io = ImGui::GetIO();
  MouseNow mouse;
  mouse.at = {io.MousePos.x, io.MousePos.y};
  mouse.inside = !io.WantCaptureMouse && io.MousePos.x >= view.x && io.MousePos.x < view.x + view.width &&
                 io.MousePos.y >= view.y && io.MousePos.y < view.y + view.height;
  mouse.pressed = io.MouseClicked[0];
  mouse.held = io.MouseDown[0];
  mouse.right_clicked = io.MouseReleased[1] && io.MouseDragMaxDistanceSqr[1] < kMeant * kMeant * ui.scale * ui.scale;
  mouse.wheel = io.MouseWheel;
  mouse.shift = io.KeyShift, mouse.control = io.KeyCtrl;
  mouse.scale = ui.scale;
  const ViewRect at{view.x, view.y, view.width, view.height};
  std::optional<Scene> edited = on_mouse(placing, mouse, camera, scene, shown, at);
  if (io.WantTextInput || !ui.typing.empty() || ui.arrows_taken) return edited;
  const auto pressed = [](ImGuiKey key, bool repeat) {
    const int at_index = ImGui::GetKeyIndex(key);
    return at_index >= 0 && ImGui::IsKeyPressed(at_index, repeat);
  };
  KeysNow keys;
  keys.escape = pressed(ImGuiKey_Escape, false);
  keys.remove = pressed(ImGuiKey_Delete, false) || pressed(ImGuiKey_Backspace, false);
  // Tab walks through the panel, where every thing has its button; while it is on one, the keys are the panel's.
  const bool free = ui.focus.empty();
  keys.put = free && (pressed(ImGuiKey_Enter, false) || pressed(ImGuiKey_KeyPadEnter, false));
  keys.shift = io.KeyShift;
  // A slider under the mouse has the sideways arrows for itself.
  if (free && !io.WantCaptureMouse) {
    keys.right = (pressed(ImGuiKey_RightArrow, true) ? 1 : 0) - (pressed(ImGuiKey_LeftArrow, true) ? 1 : 0);
    keys.up = (pressed(ImGuiKey_UpArrow, true) ? 1 : 0) - (pressed(ImGuiKey_DownArrow, true) ? 1 : 0);
    keys.turn = (pressed(ImGuiKey_PageUp, true) ? 1 : 0) - (pressed(ImGuiKey_PageDown, true) ? 1 : 0);
  }
  for (const ImWchar letter : io.InputQueueCharacters) {
    if (letter == '+') ++keys.bigger;
    if (letter == '-') --keys.bigger;
  }
  const Scene& now = edited ? *edited : scene;
  if (std::optional<Scene> by_key = on_keys(placing, keys, now)) return by_key;
  return edited;
}

}  // namespace sidehill::screen

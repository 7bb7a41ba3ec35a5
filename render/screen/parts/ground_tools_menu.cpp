// The menu of a right click on ground, machine or thing.
#include <fmt/format.h>

#include <cmath>

#include "render/screen/parts/ground_tools.h"
#include "render/screen/placing/placing_parts.h"
#include "sim/base/constants.h"

namespace sidehill::screen {

std::optional<Scene> draw_ground_menu(Ui& ui, Placing& placing, const Scene& scene) {
  forget_what_is_gone(placing, scene);
  if (!placing.menu) return {};
  std::optional<Scene> edited;
  // Hangs into the screen from wherever it was asked for.
  const ImVec2 screen = ImGui::GetIO().DisplaySize,
               at{static_cast<float>(placing.menu->x), static_cast<float>(placing.menu->y)};
  ImGui::SetNextWindowPos(at, ImGuiCond_Always,
                          {at.x > screen.x - ui.px(230) ? 1.f : 0.f, at.y > screen.y / 2 ? 1.f : 0.f});
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                                      ImGuiWindowFlags_AlwaysAutoResize;
  bool open = true;
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, ui.px(1));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  if (ImGui::Begin("Ground menu", nullptr, kFlags)) {
    const auto entry = [&](const char* label) {
      const ImVec2 corner = ImGui::GetCursorScreenPos();
      bool clicked = ImGui::Selectable(label, false, 0, {ui.px(190), ui.px(22)});
      const std::string item = std::string("Menu: ") + label;
      const Rect place{corner.x, corner.y, ui.px(190), ui.px(22)};
      remember(ui, item, place);
      if (reach(ui, item, place) && ui.enter) clicked = true;
      if (clicked) open = false, ++placing.stroke;
      return clicked;
    };
    if (placing.selected == kMachine) {
      const auto face = [&](double heading) {
        Start start = scene.start;
        const glm::dvec2 middle = machine_middle_G(scene);
        start.heading = heading * kDegree;
        const glm::dvec2 rear = middle - scene.vehicle.wheelbase / 2 * forward_G(start.heading);
        start.x = rear.x, start.y = rear.y;
        edited = with_start(scene, start);
      };
      if (entry("Face uphill")) face(0);
      if (entry("Across, downhill to the right")) face(-90);
      if (entry("Across, downhill to the left")) face(90);
      if (entry("Face downhill")) face(180);
    } else if (const Feature* chosen = feature_at_index(scene, placing.selected)) {
      soft_text(ui, feature_words(*chosen));
      if (entry("Take away")) edited = without_feature(scene, placing.selected), placing.selected = kNothing;
      if (scene.terrain.features.size() < kMostListEntries && entry("Another one beside it")) {
        Feature f = *chosen;
        f.x += std::cos(f.angle) * (f.length + 0.2), f.y += std::sin(f.angle) * (f.length + 0.2);
        ++f.seed;
        placing.selected = static_cast<int>(scene.terrain.features.size());
        edited = with_feature(scene, f);
      }
    } else {
      for (const ToolInfo& tool : tools()) {
        if (!puts(tool.tool) || scene.terrain.features.size() >= kMostListEntries) continue;
        if (!entry(fmt::format("{} here", tool.name).c_str())) continue;
        Feature f = usual_feature(tool.tool, scene.start.heading);
        f.x = placing.menu_G.x, f.y = placing.menu_G.y;
        f.seed = static_cast<std::uint32_t>(scene.terrain.features.size() + 1);
        placing.selected = static_cast<int>(scene.terrain.features.size());
        edited = with_feature(scene, f);
      }
    }
    if (!ImGui::IsWindowAppearing() && (ImGui::GetIO().MouseClicked[0] || ImGui::GetIO().MouseClicked[1]) &&
        !ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem))
      open = false;
  }
  ImGui::End();
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
  if (!open) placing.menu.reset();
  return edited;
}

}  // namespace sidehill::screen

// All panels of the window over a desk, with ImGui but without any window: clicked by label.
#pragma once
#include <doctest/doctest.h>
#include <imgui.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/screen/panels.h"
#include "sim/scene_file.h"

namespace sidehill {

struct Table {
  Desk desk;
  Session& session = desk.session;
  ViewChoices choices;
  Ui ui;
  double width = 1280, height = 720;

  explicit Table(const char* scene = "first_slope")
      : desk(load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + scene + ".toml")) {
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ui.fonts = load_fonts(1);
    unsigned char* pixels = nullptr;
    int w = 0, h = 0;
    ImGui::GetIO().Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
    apply_style(1);
    frame();
    frame();
  }
  ~Table() { ImGui::DestroyContext(); }

  // Keys as ImGui knows them, for those a test presses.
  static constexpr int kTab = 1, kEnter = 2, kLeft = 3, kRight = 4, kEscape = 5;
  void press_key(int key, bool shift = false) {
    ImGuiIO& io = ImGui::GetIO();
    io.KeyMap[ImGuiKey_Tab] = kTab, io.KeyMap[ImGuiKey_Enter] = kEnter;
    io.KeyMap[ImGuiKey_LeftArrow] = kLeft, io.KeyMap[ImGuiKey_RightArrow] = kRight;
    io.KeyMap[ImGuiKey_Escape] = kEscape;
    io.KeyShift = shift;
    io.KeysDown[key] = true;
    frame();
    io.KeysDown[key] = false;
    io.KeyShift = false;
    frame();
  }
  void frame() {
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
    io.DeltaTime = 1.f / 60;
    ImGui::NewFrame();
    draw_panels(ui, desk, choices, layout_of(width, height, 1, desk, choices));
    ImGui::Render();
  }
  // Items the keyboard does not get to: neither in its order nor only to be read, nor another name for such a one.
  std::vector<std::string> unreached() const {
    const auto served = [&](const std::string& label) {
      return std::ranges::find(ui.order, label) != ui.order.end() || ui.readouts.contains(label);
    };
    std::vector<std::string> left;
    for (const auto& [label, rect] : ui.items) {
      const auto same_place = [&, at = rect](const auto& other) {
        const Rect& r = other.second;
        return r.x == at.x && r.y == at.y && r.width == at.width && r.height == at.height && served(other.first);
      };
      if (!served(label) && std::ranges::none_of(ui.items, same_place)) left.push_back(label);
    }
    return left;
  }
  Rect item(const char* label) {
    const auto found = ui.items.find(label);
    REQUIRE_MESSAGE(found != ui.items.end(), "no item " << label);
    return found->second;
  }
  void press_at(ImVec2 place) {
    ImGuiIO& io = ImGui::GetIO();
    io.MousePos = place;
    frame();
    io.MouseDown[0] = true;
    frame();
    io.MouseDown[0] = false;
    frame();
  }
  void click(const char* label) { press_at(item(label).middle()); }
  void slide_to(const char* label, float part) {
    const Rect r = item(label);
    press_at({r.x + part * r.width, r.middle().y});
  }
};

}  // namespace sidehill

// All panels of the window over a desk, with ImGui but without any window: clicked by label.
#pragma once
#include <doctest/doctest.h>
#include <imgui.h>

#include <string>

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

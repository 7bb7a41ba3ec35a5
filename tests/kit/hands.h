// ImGui without any window, and hands that press by label. A fixture derives from it, says in draw() what a frame
// holds, and draws two frames before it is used: the first finds out sizes.
#pragma once
#include <doctest/doctest.h>
#include <imgui.h>

#include <string>

#include "render/screen/kit/ui.h"

namespace sidehill {
using namespace text;
using namespace page;
using namespace screen;

template <class Fixture>
struct Hands {
  // Keys as this ImGui knows them.
  static constexpr int kTab = 101, kEnter = 102, kLeft = 103, kRight = 104, kUp = 105, kDown = 106, kEscape = 107,
                       kBackspace = 108;

  Ui ui;
  float width = 1280, height = 720;  // of the window there is not [px]

  explicit Hands(float scale = 1) {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.KeyMap[ImGuiKey_Tab] = kTab, io.KeyMap[ImGuiKey_Enter] = kEnter;
    io.KeyMap[ImGuiKey_LeftArrow] = kLeft, io.KeyMap[ImGuiKey_RightArrow] = kRight;
    io.KeyMap[ImGuiKey_UpArrow] = kUp, io.KeyMap[ImGuiKey_DownArrow] = kDown;
    io.KeyMap[ImGuiKey_Escape] = kEscape, io.KeyMap[ImGuiKey_Backspace] = kBackspace;
    ui.scale = scale;
    ui.fonts = load_fonts(scale);
    unsigned char* pixels = nullptr;
    int w = 0, h = 0;
    io.Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
    apply_style(scale);
  }
  ~Hands() { ImGui::DestroyContext(); }
  Hands(const Hands&) = delete;
  Hands& operator=(const Hands&) = delete;

  template <class Draw>
  void frame(Draw draw) {
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {width, height};
    io.DeltaTime = 1.f / 60;
    ImGui::NewFrame();
    draw();
    ImGui::Render();
  }
  void frame() {
    frame([this] { static_cast<Fixture*>(this)->draw(); });
  }

  bool has(const std::string& label) const { return ui.items.contains(label); }
  Rect item(const std::string& label) const {
    const auto found = ui.items.find(label);
    REQUIRE_MESSAGE(found != ui.items.end(), "no item " << label);
    return found->second;
  }
  // `next` draws a frame; a last one settles what the press has changed.
  template <class Frame>
  void press_at(ImVec2 place, Frame next) {
    ImGuiIO& io = ImGui::GetIO();
    io.MousePos = place;
    next();
    io.MouseDown[0] = true;
    next();
    io.MouseDown[0] = false;
    next();
    next();
  }
  void press_at(ImVec2 place) {
    press_at(place, [this] { frame(); });
  }
  void click(const std::string& label) { press_at(item(label).middle()); }
  void slide_to(const std::string& label, float part) {
    const Rect r = item(label);
    press_at({r.x + part * r.width, r.middle().y});
  }
  void press_key(int key, bool shift = false) {
    ImGuiIO& io = ImGui::GetIO();
    io.KeyShift = shift;
    io.KeysDown[key] = true;
    frame();
    io.KeysDown[key] = false;
    io.KeyShift = false;
    frame();
  }
};

}  // namespace sidehill

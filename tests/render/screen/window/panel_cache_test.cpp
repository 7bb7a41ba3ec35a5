#ifdef SIDEHILL_SCREEN
// Panels kept as pixels look as those drawn anew, to the last one, whatever changes.
#include "render/screen/window/panel_cache.h"

#include <backends/imgui_impl_opengl3.h>
#include <doctest/doctest.h>
#include <epoxy/gl.h>
#include <imgui.h>

#include <cstdint>
#include <cstdlib>

#include "render/screen/gl/offscreen.h"
#include "render/screen/panels/panels.h"
#include "sim/scene/scene_file.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

constexpr int kWidth = 1280, kHeight = 720;

std::vector<std::uint8_t> pixels() {
  std::vector<std::uint8_t> all(std::size_t{4} * kWidth * kHeight);
  glPixelStorei(GL_PACK_ALIGNMENT, 1);
  glReadPixels(0, 0, kWidth, kHeight, GL_RGBA, GL_UNSIGNED_BYTE, all.data());
  return all;
}

// The window without a window, painted both ways.
struct Painted {
  OffscreenContext context;
  GlTarget sheet;
  PanelCache cache;
  Ui ui;
  Desk desk{load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml")};
  ViewChoices choices;
  Layout layout;

  Painted() {
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui_ImplOpenGL3_Init("#version 330");
    ui.fonts = load_fonts(1);
    apply_style(1);
    sheet.resize(kWidth, kHeight, false);
  }
  ~Painted() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui::DestroyContext();
  }
  void build() {
    layout = layout_of(kWidth, kHeight, 1, desk, choices);
    ImGui::GetIO().DisplaySize = {kWidth, kHeight};
    ImGui::GetIO().DeltaTime = 1.f / 30;
    ImGui_ImplOpenGL3_NewFrame();
    ImGui::NewFrame();
    draw_panels(ui, desk, choices, layout);
    ImGui::Render();
  }
  void clear() const {
    glBindFramebuffer(GL_FRAMEBUFFER, sheet.framebuffer());
    glViewport(0, 0, kWidth, kHeight);
    glDisable(GL_SCISSOR_TEST);
    constexpr Colour c = theme::kPaper;
    glClearColor(static_cast<float>(c.r) / 255, static_cast<float>(c.g) / 255, static_cast<float>(c.b) / 255, 1);
    glClear(GL_COLOR_BUFFER_BIT);
  }
  // How many bytes differ.
  int difference() {
    build();
    clear();
    cache.place(*ImGui::GetDrawData(), layout.view, theme::kPaper, kWidth, kHeight);
    ImGui_ImplOpenGL3_RenderDrawData(cache.over());
    const std::vector<std::uint8_t> kept = pixels();
    clear();
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    const std::vector<std::uint8_t> anew = pixels();
    int different = 0;
    for (std::size_t i = 0; i < kept.size(); ++i) different += kept[i] != anew[i] ? 1 : 0;
    return different;
  }
};

}  // namespace

TEST_CASE("at rest, running, turned to another page, with a list open: kept panels are those drawn anew") {
  Painted window;
  for (int i = 0; i < 4; ++i) CHECK(window.difference() == 0);
  window.desk.session.settle();
  for (int i = 0; i < 3; ++i) CHECK(window.difference() == 0);
  CHECK(window.cache.drawn() == 0);  // nothing has changed
  window.desk.session.set_number("terrain.slope_deg", 12);
  CHECK(window.difference() == 0);
  window.desk.session.settle();
  play_all(window.desk);
  for (int i = 0; i < 12; ++i) {
    advance(window.desk, 0.1, 1);
    CHECK(window.difference() == 0);
    CHECK(window.cache.drawn() > 0);
  }
  for (const Task task : {Task::teach, Task::compare, Task::plan, Task::check}) {
    go_to(window.desk, task);
    for (int i = 0; i < 2; ++i) CHECK(window.difference() == 0);
  }
  for (const Drawer drawer : {Drawer::files, Drawer::job, Drawer::make, Drawer::machine, Drawer::none}) {
    window.choices.drawer = drawer;
    for (int i = 0; i < 2; ++i) CHECK(window.difference() == 0);
  }
  window.choices.presenter = true;
  for (int i = 0; i < 2; ++i) CHECK(window.difference() == 0);
}

TEST_CASE("the mouse over a button and other letters in the same place are seen") {
  Painted window;
  window.desk.session.settle();
  for (int i = 0; i < 3; ++i) CHECK(window.difference() == 0);
  const ImVec2 play = window.ui.items.at("Play").middle();
  ImGui::GetIO().MousePos = play;
  for (int i = 0; i < 3; ++i) CHECK(window.difference() == 0);
  window.ui.fonts = load_fonts(1.25);
  ImGui_ImplOpenGL3_DestroyFontsTexture();
  ImGui_ImplOpenGL3_CreateFontsTexture();
  window.cache.forget();
  for (int i = 0; i < 2; ++i) CHECK(window.difference() == 0);
}
#endif

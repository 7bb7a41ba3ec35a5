// The window's frame at 1280 x 720 without a window: panels, the 3-D view and the simulation running; the counter is
// pictures a second.
#include <benchmark/benchmark.h>
#include <epoxy/gl.h>
#include <imgui.h>
#include <imgui/backends/imgui_impl_opengl3.h>

#include <chrono>

#include "render/screen/offscreen.h"
#include "render/screen/scenery.h"
#include "tests/machines.h"

using namespace sidehill;

namespace {

constexpr int kWidth = 1280, kHeight = 720;

double now() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

void running_window(benchmark::State& state) {
  OffscreenContext context;
  ImGui::CreateContext();
  ImGui_ImplOpenGL3_Init("#version 330");
  {
    Desk desk(test_scene("first_slope"));
    Session& session = desk.session;
    Scenery scenery;
    ViewChoices choices;
    Ui ui;
    ui.fonts = load_fonts(1);
    apply_style(1);
    unsigned framebuffer = 0, texture = 0;
    glGenFramebuffers(1, &framebuffer);
    glGenTextures(1, &texture);
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, kWidth, kHeight, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture, 0);
    const Layout layout = layout_of(kWidth, kHeight, 1, desk, choices);
    for (auto _ : state) {
      if (!session.playing()) session.play();
      session.advance(1.0 / 30, 0.012);
      ImGui::GetIO().DisplaySize = {kWidth, kHeight};
      ImGui::GetIO().DeltaTime = 1.f / 30;
      ImGui_ImplOpenGL3_NewFrame();
      ImGui::NewFrame();
      draw_panels(ui, desk, choices, layout);
      show_scenery(scenery, session, choices, layout.view, 1, now());
      ImGui::Render();
      glBindFramebuffer(GL_FRAMEBUFFER, framebuffer);
      glViewport(0, 0, kWidth, kHeight);
      glDisable(GL_SCISSOR_TEST);
      glClear(GL_COLOR_BUFFER_BIT);
      place_scenery(scenery, layout.view, kHeight);
      ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
      glFinish();
    }
    state.counters["pictures_a_second"] =
        benchmark::Counter(static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
    state.counters["detail"] = scenery.detail;
  }
  ImGui_ImplOpenGL3_Shutdown();
  ImGui::DestroyContext();
}
BENCHMARK(running_window)->Unit(benchmark::kMillisecond)->MinTime(3)->UseRealTime();

}  // namespace

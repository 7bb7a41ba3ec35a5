// The picture of one machine, of two (one a ghost) and of two side by side; and the window's frame at 1280 x 720
// without a window: panels, the 3-D view and the simulation running; the counter is pictures a second.
#include <benchmark/benchmark.h>
#include <epoxy/gl.h>
#include <imgui.h>
#include <imgui/backends/imgui_impl_opengl3.h>

#include <chrono>

#include "render/screen/gl/offscreen.h"
#include "render/screen/scene3d/ghost.h"
#include "render/screen/window/panel_cache.h"
#include "render/screen/window/scenery.h"
#include "sim/motion/rest_state.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

constexpr int kWidth = 1280, kHeight = 720;

double now() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

enum class Shown { one, ghost, two_views };

// Two set-ups run both, one on air and one on brine, and every difference of their readings is listed.
void running_window(benchmark::State& state, Shown shown) {
  OffscreenContext context;
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  ImGui_ImplOpenGL3_Init("#version 330");
  {
    Desk desk(test_scene("first_slope"));
    Scenery scenery, beside(Renderer::beside(scenery.renderer));
    ViewChoices choices;
    choices.two_views = shown == Shown::two_views;
    if (shown != Shown::one) {
      go_to(desk, Task::compare);
      desk.other->set_number("ballast.rear.fill_fraction", 0);
      note_edits(desk, true);
    }
    PanelCache kept;
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
      if (!playing(desk)) play_all(desk);
      advance(desk, 1.0 / 30, 0.012);
      ImGui::GetIO().DisplaySize = {kWidth, kHeight};
      ImGui::GetIO().DeltaTime = 1.f / 30;
      ImGui_ImplOpenGL3_NewFrame();
      ImGui::NewFrame();
      draw_panels(ui, desk, choices, layout);
      const auto [left, right] = halves(layout.view);
      const bool two = shown == Shown::two_views;
      show_scenery(scenery, desk.session, choices, two ? left : layout.view, 1, now(), false,
                   shown == Shown::ghost ? desk.other.get() : nullptr);
      if (two) show_scenery(beside, *desk.other, choices, right, 1, now());
      ImGui::Render();
      glBindFramebuffer(GL_FRAMEBUFFER, framebuffer);
      glViewport(0, 0, kWidth, kHeight);
      glDisable(GL_SCISSOR_TEST);
      glClear(GL_COLOR_BUFFER_BIT);
      kept.place(*ImGui::GetDrawData(), layout.view, theme::kPaper, kWidth, kHeight);
      place_scenery(scenery, two ? left : layout.view, kHeight);
      if (two) place_scenery(beside, right, kHeight);
      ImGui_ImplOpenGL3_RenderDrawData(kept.over());
      glFinish();
    }
    state.counters["pictures_a_second"] =
        benchmark::Counter(static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
    state.counters["detail"] = scenery.detail;
  }
  ImGui_ImplOpenGL3_Shutdown();
  ImGui::DestroyContext();
}
// The picture alone, 644 x 526 pixels as between the panels, everything in it moving.
void moving_picture(benchmark::State& state, Shown shown) {
  OffscreenContext context;
  Renderer renderer, beside = Renderer::beside(renderer);
  const Scene scene = test_scene("first_slope");
  const Model model = build(scene);
  const StaticSolution statics = solve_statics(model);
  State moment = rest_state(model, *statics.rest);
  State other = moment;
  constexpr int kViewWidth = 644, kViewHeight = 526;
  for (auto _ : state) {
    for (State* s : {&moment, &other}) {  // a hair's breadth each picture: shadow and places are worked out anew
      s->X_GV.p.x += s == &moment ? 1e-5 : -1e-5;
      s->X_GV.p.z += 1e-6;
    }
    other.X_GV.p.y = moment.X_GV.p.y + 0.6;
    const Drawing drawing = draw(scene, model, moment, {});
    const Camera camera = camera_at(CameraPreset::three_quarter, drawing);
    if (shown == Shown::two_views) {
      const Drawing second = draw(scene, model, other, {});
      renderer.render(drawing, camera, kViewWidth / 2, kViewHeight);
      beside.render(second, camera_at(CameraPreset::three_quarter, second), kViewWidth / 2, kViewHeight);
    } else if (shown == Shown::ghost) {
      const Drawing second = as_ghost(draw(scene, model, other, {}));
      renderer.render(drawing, camera, kViewWidth, kViewHeight, Quality::moving, &second);
    } else {
      renderer.render(drawing, camera, kViewWidth, kViewHeight);
    }
    glFinish();
  }
  state.counters["pictures_a_second"] =
      benchmark::Counter(static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
  state.counters["triangles"] = renderer.stats().triangles + beside.stats().triangles;
}
BENCHMARK_CAPTURE(moving_picture, one_machine, Shown::one)->Unit(benchmark::kMillisecond)->MinTime(2)->UseRealTime();
BENCHMARK_CAPTURE(moving_picture, two_machines_ghost, Shown::ghost)
    ->Unit(benchmark::kMillisecond)
    ->MinTime(2)
    ->UseRealTime();
BENCHMARK_CAPTURE(moving_picture, two_views, Shown::two_views)
    ->Unit(benchmark::kMillisecond)
    ->MinTime(2)
    ->UseRealTime();

BENCHMARK_CAPTURE(running_window, one_machine, Shown::one)->Unit(benchmark::kMillisecond)->MinTime(3)->UseRealTime();
BENCHMARK_CAPTURE(running_window, two_machines_ghost, Shown::ghost)
    ->Unit(benchmark::kMillisecond)
    ->MinTime(3)
    ->UseRealTime();
BENCHMARK_CAPTURE(running_window, two_views, Shown::two_views)
    ->Unit(benchmark::kMillisecond)
    ->MinTime(3)
    ->UseRealTime();

}  // namespace

#include "render/screen/view.h"

#include <fmt/format.h>
#include <imgui.h>

#include <chrono>
#include <optional>

#include "render/screen/labels.h"
#include "render/screen/panels.h"
#include "render/screen/renderer.h"
#include "render/screen/under_way.h"
#include "render/screen/window.h"
#include "sim/scene_file.h"

namespace sidehill {
namespace {

constexpr double kStepBudget = 0.012;  // of computing per picture: a slow machine shows slow motion [s]
constexpr double kRestAfter = 0.25;    // a view that has not moved for so long is drawn finely [s]
constexpr double kBlink = 0.5;         // longest wait without an event: tooltips and cursors need a turn [s]

double now() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

// The 3-D view between the panels: when it must be drawn anew, and what the mouse does in it.
struct Scenery {
  Renderer renderer;
  Camera camera;
  Drawing drawing;
  unsigned drawn_version = 0;
  int drawn_overlays = -1;
  bool moved = true, fine = false;
  double moved_at = 0;
  int width = 0, height = 0;
};

// The overlay choices as one number, to see whether any has changed.
int bits_of(const Overlays& o) {
  int bits = 0;
  for (bool on : {o.see_through_tyres, o.wheel_loads, o.centre_of_gravity, o.support, o.slope_wedge, o.ground_lines,
                  o.driver, o.labels})
    bits = 2 * bits + (on ? 1 : 0);
  return bits;
}

void use_mouse(Scenery& scenery, const Rect& view, ViewChoices& choices) {
  const ImGuiIO& io = ImGui::GetIO();
  if (io.WantCaptureMouse) return;
  const bool inside = io.MousePos.x >= view.x && io.MousePos.x < view.x + view.width && io.MousePos.y >= view.y &&
                      io.MousePos.y < view.y + view.height;
  if (!inside) return;
  const double per = 1.0 / std::max(1.f, view.height);
  if ((io.MouseDelta.x != 0 || io.MouseDelta.y != 0) && (io.MouseDown[0] || io.MouseDown[1] || io.MouseDown[2])) {
    if (io.MouseDown[0] && !io.KeyShift) {
      orbit(scenery.camera, io.MouseDelta.x * per, io.MouseDelta.y * per);
    } else {
      pan(scenery.camera, io.MouseDelta.x * per, io.MouseDelta.y * per);
      choices.follow = false;  // shifted by hand: stay there
    }
    scenery.moved = true;
  }
  if (io.MouseWheel != 0) {
    zoom(scenery.camera, io.MouseWheel);
    scenery.moved = true;
  }
}

void show_scenery(Scenery& scenery, const Session& session, ViewChoices& choices, const Rect& view, double scale) {
  const int overlays = bits_of(choices.overlays);
  if (scenery.drawn_version != session.version() || scenery.drawn_overlays != overlays) {
    Overlays wanted = choices.overlays;
    wanted.margin =
        session.showing() == Showing::run ? angle_left(*session.model(), session.shown()) : session.statics().margin;
    scenery.drawing = draw(session.scene(), *session.model(), session.shown(), wanted);
    scenery.drawn_version = session.version();
    scenery.drawn_overlays = overlays;
    scenery.moved = true;
  }
  if (choices.go_to) {
    scenery.camera = camera_at(*choices.go_to, scenery.drawing);
    choices.go_to.reset();
    scenery.moved = true;
  }
  const int width = std::max(1, static_cast<int>(view.width)), height = std::max(1, static_cast<int>(view.height));
  if (width != scenery.width || height != scenery.height) scenery.moved = true;
  const double time = now();
  if (scenery.moved) {
    if (choices.follow) follow(scenery.camera, scenery.drawing);
    keep_above_ground(scenery.camera, scenery.drawing);
    scenery.renderer.render(scenery.drawing, scenery.camera, width, height, Quality::moving);
    scenery.width = width, scenery.height = height;
    scenery.moved = scenery.fine = false;
    scenery.moved_at = time;
  } else if (!scenery.fine && time - scenery.moved_at > kRestAfter) {
    scenery.renderer.render(scenery.drawing, scenery.camera, width, height, Quality::still);
    scenery.fine = true;
  }
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  list.AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(scenery.renderer.texture())), view.low(),
                view.high(), {0, 1}, {1, 0});
  if (choices.overlays.labels) {
    list.PushClipRect(view.low(), view.high());
    draw_labels(list, scenery.drawing, scenery.camera, {view.x, view.y, view.width, view.height}, scale);
    list.PopClipRect();
  }
}

}  // namespace

int view(const std::filesystem::path& scene_path, std::span<const std::string> overrides) {
  Session session(load_scene(scene_path, overrides));
  Window window(fmt::format("Sidehill - {}", session.scene().title).c_str(), 1280, 720);
  Scenery scenery;
  ViewChoices choices;
  Ui ui;
  ui.scale = 0;
  double before = now();
  int more_frames = 3;  // after an event: ImGui needs a second turn to settle what it changes
  bool open = true;
  while (open) {
    const bool resting =
        !session.playing() && session.answer_complete() && more_frames <= 0 && (scenery.fine || !session.model());
    open = window.wait(resting ? kBlink : 0);
    if (window.woken()) more_frames = 3;
    const double time = now(), wall = std::min(0.1, time - before);
    before = time;
    for (char32_t letter : window.take_typed()) carry_out(letter, session, choices);
    const bool runs = session.advance(wall, kStepBudget);
    if (resting && more_frames <= 0 && !runs) continue;
    --more_frames;

    const double scale = window.scale();
    if (scale != ui.scale) {
      ui.scale = static_cast<float>(scale);
      ui.fonts = load_fonts(scale);
      window.refresh_fonts();
      apply_style(scale);
    }
    window.begin_frame();
    const Layout layout = layout_of(window.width(), window.height(), scale);
    draw_panels(ui, session, choices, layout);
    use_mouse(scenery, layout.view, choices);
    if (session.model()) show_scenery(scenery, session, choices, layout.view, scale);
    window.end_frame();
  }
  return 0;
}

}  // namespace sidehill

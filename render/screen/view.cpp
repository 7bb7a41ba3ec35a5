#include "render/screen/view.h"

#include <fmt/format.h>

#include <chrono>
#include <optional>

#include "render/screen/panels.h"
#include "render/screen/scenery.h"
#include "render/screen/window.h"
#include "sim/scene_file.h"

namespace sidehill {
namespace {

constexpr double kStepBudget = 0.012;  // of computing per picture: a slow machine shows slow motion [s]
constexpr double kPoll = 0.03;         // between two looks at an answer that is being worked out [s]
constexpr double kBlink = 0.5;         // longest wait without an event: tooltips and cursors need a turn [s]

double now() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

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
    // Help about to be shown and a blinking cursor change without anybody doing anything.
    const bool restless = ui.help_is_due || !ui.typing.empty();
    const bool only_waits = !session.playing() && !session.answer_complete() && more_frames <= 0;
    open = window.wait(only_waits ? kPoll : !resting ? 0 : restless ? kBlink / 4 : kBlink);
    if (window.woken()) more_frames = 3;
    const double time = now(), wall = std::min(0.1, time - before);
    before = time;
    for (char32_t letter : window.take_typed()) carry_out(letter, session, choices);
    const bool runs = session.advance(wall, kStepBudget);
    if (resting && more_frames <= 0 && !runs && !restless) continue;
    --more_frames;

    const double scale = window.scale();
    if (scale != ui.scale) {
      ui.scale = static_cast<float>(scale);
      ui.fonts = load_fonts(scale);
      window.refresh_fonts();
      apply_style(scale);
    }
    window.begin_frame();
    const Layout layout = layout_of(window.width(), window.height(), scale, session.by_hand());
    draw_panels(ui, session, choices, layout);
    use_mouse(scenery, layout.view, choices);
    if (session.model()) show_scenery(scenery, session, choices, layout.view, scale, time);
    window.begin_paint(theme::kPaper);
    if (session.model()) place_scenery(scenery, layout.view, window.height());
    window.end_frame();
  }
  return 0;
}

}  // namespace sidehill

#include "render/screen/window/view.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <memory>
#include <optional>
#include <utility>

#include "render/screen/desk/files.h"
#include "render/screen/desk/folders.h"
#include "render/screen/desk/keeper.h"
#include "render/screen/panels/panels.h"
#include "render/screen/panels/panels_filling.h"
#include "render/screen/placing/placing_preview.h"
#include "render/screen/window/exporting.h"
#include "render/screen/window/panel_cache.h"
#include "render/screen/window/scenery.h"
#include "render/screen/window/window.h"
#include "sim/motion/recording_file.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

constexpr double kStepBudget = 0.012;  // of computing per picture: a slow machine shows slow motion [s]
constexpr double kPoll = 0.03;         // between two looks at an answer that is being worked out [s]
constexpr double kBlink = 0.5;         // longest wait without an event: tooltips and cursors need a turn [s]

double now() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

// Side by side, seen by one camera.
void show_two(Scenery& a, Scenery& b, const Desk& desk, ViewChoices& choices, const Rect& view, double scale,
              double time, std::span<const Rect> taken) {
  const bool hides = hides_numbers(desk, choices);
  const auto [left, right] = halves(view);
  if (desk.session.model()) show_scenery(a, desk.session, choices, left, scale, time, hides, nullptr, taken);
  share_camera(a, b, choices.follow);
  if (desk.other->model()) show_scenery(b, *desk.other, choices, right, scale, time, hides, nullptr, taken);
}

}  // namespace

int view(const std::filesystem::path& scene_path, std::span<const std::string> overrides) {
  const bool recorded = scene_path.extension() == ".run";
  Desk desk(recorded ? parse_scene(scene_of_recording(scene_path), scene_path) : load_scene(scene_path, overrides),
            recorded ? std::filesystem::path() : scene_path);
  if (recorded) show_run(desk, scene_path);
  std::string title = window_title(desk);
  Window window(title.c_str());
  PanelCache kept_panels;
  Scenery scenery;
  std::unique_ptr<Scenery> beside;  // of the second set-up, while it has a view of its own
  ViewChoices choices;
  Keeper keeper{state_folder()};
  Exporting exporting;
  choices.state_folder = keeper.folder;
  choices.pictures = pictures_folder();
  choices.units = kept_units(keeper.folder);
  remember_file(keeper.folder, scene_path);
  if (!unsaved_work(keeper.folder).empty()) desk.message = kUnsavedFound;
  Ui ui;
  ui.scale = 0;
  double before = now();
  int more_frames = 3;  // after an event: ImGui needs a second turn to settle what it changes
  bool open = true, painted_once = false;
  Units units = choices.units;  // as kept
  std::string said;             // of what was made last
  // The first frame is panels alone: where the graphics driver has yet to compile what draws the picture, that takes
  // most of a second, and the numbers need not wait for it.
  bool panels_shown = false;
  while (open) {
    const bool known = desk.session.answer_complete() && (!desk.other || desk.other->answer_complete());
    const bool fine = choices.drawer == Drawer::filling ||  // nobody sees the picture
                      (scenery.fine && (!beside || !desk.other || !desk.other->model() || beside->fine));
    if (attend_plan(desk)) more_frames = 3;
    const DrawerWork drawers = attend_drawers(choices);
    if (attend_filling(choices) || drawers.news) more_frames = 3;
    const bool searches =
        drawers.works || filling_works(choices) ||
        (plans(desk) && desk.planning && (desk.planning->working() || desk.planning->range_is_coming()));
    const bool makes = exporting.busy() || (desk.task == Task::teach && choices.lesson && working(*choices.lesson));
    const bool resting =
        !makes && !searches && !playing(desk) && known && more_frames <= 0 && (fine || !desk.session.model());
    // Help about to be shown and a blinking cursor change without anybody doing anything.
    const bool restless = ui.help_is_due || !ui.typing.empty();
    const bool only_waits = !makes && !playing(desk) && (!known || searches) && more_frames <= 0;
    const bool goes_on = window.wait(makes        ? kPoll / 10
                                     : only_waits ? kPoll
                                     : !resting   ? 0
                                     : restless   ? kBlink / 4
                                                  : kBlink);
    if (!goes_on && !choices.leaving) {
      want_to_end(desk, choices);
      more_frames = 3;
    }
    if (!goes_on) window.stay_open();
    open = !choices.end;
    if (window.woken()) more_frames = 3;
    const double time = now(), wall = std::min(0.1, time - before);
    before = time;
    for (const std::string& file : window.take_dropped()) {
      if (!choices.leaving) want_to_open(desk, choices, file);
    }
    for (char32_t letter : window.take_typed()) carry_out(letter, desk, choices);
    if (choices.units != units) keep_units(keeper.folder, units = choices.units);
    const bool runs = advance(desk, wall, kStepBudget);
    look(keeper, desk, time);
    if (std::string now_titled = window_title(desk); now_titled != title) {
      title = std::move(now_titled);
      window.set_title(title.c_str());
    }
    if (resting && more_frames <= 0 && !runs && !restless) continue;
    --more_frames;

    if (!panels_shown) load_fonts(window.scale());
    const double type = type_scale(window.width(), window.height(), window.scale(), choices);
    choices.most_text = most_text_scale(window.width(), window.height(), type);
    choices.text_scale = std::min(choices.text_scale, choices.most_text);
    const double scale = type * choices.text_scale;
    if (scale != ui.scale) {
      ui.scale = static_cast<float>(scale);
      ui.fonts = load_fonts(scale);
      window.refresh_fonts();
      kept_panels.forget();
      apply_style(scale);
    }
    window.begin_frame();
    const Layout layout = layout_of(window.width(), window.height(), scale, desk, choices);
    draw_panels(ui, desk, choices, layout);
    // An answer that came just now may want a higher band than there was room for.
    const Layout wanted = layout_of(window.width(), window.height(), scale, desk, choices);
    if (wanted.banner.height != layout.banner.height) more_frames = std::max(more_frames, 2);
    const bool two = shows_two_views(desk, choices);
    const Rect first = two ? halves(layout.view).first : layout.view;
    if (choices.drawer == Drawer::ground && desk.edited().model()) {
      if (std::optional<Scene> changed =
              use_placing(choices.placing, ui, scenery.camera, desk.edited().scene(), desk.session.shown(), first)) {
        if (playing(desk) || desk.session.started()) reset(desk);
        desk.edited().edit(std::move(*changed));
      }
    }
    use_mouse(scenery, layout.view, choices, two);
    // For a class, words in the picture are larger too.
    const double words = desk.task == Task::teach || choices.presenter ? 1.25 * scale : scale;
    if (two && !beside) beside = std::make_unique<Scenery>(Renderer::beside(scenery.renderer));
    if (!two) beside.reset();
    const std::vector<Rect> taken = view_tool_places(ui);
    const bool seen = panels_shown && choices.drawer != Drawer::filling;
    // What is typed comes first: while keys wait the picture stays as it is, and its place is kept.
    const bool paints = seen && !(window.keys_wait() && std::exchange(painted_once, true));
    if (paints && two)
      show_two(scenery, *beside, desk, choices, layout.view, words, time, taken);
    else if (paints && desk.session.model())
      show_scenery(scenery, desk.session, choices, layout.view, words, time, hides_numbers(desk, choices),
                   desk.compares() ? desk.other.get() : nullptr, taken);
    if (choices.drawer == Drawer::ground && desk.session.model()) {
      const ViewRect at{first.x, first.y, first.width, first.height};
      draw_preview(*ImGui::GetBackgroundDrawList(),
                   preview(choices.placing, desk.edited().scene(), desk.session.shown()), scenery.camera, at, scale);
    }
    window.begin_paint(theme::kPaper);
    kept_panels.place(*ImGui::GetDrawData(), layout.view, theme::kPaper, window.width(), window.height());
    if (seen && desk.session.model()) {
      place_scenery(scenery, first, window.height());
      if (two && desk.other->model()) place_scenery(*beside, halves(layout.view).second, window.height());
    }
    window.end_frame(kept_panels.over());
    panels_shown = true;

    if (choices.to_make)
      exporting.start(*choices.to_make, choices.to_make->of_other && desk.other ? *desk.other : desk.session,
                      scenery.camera, choices.overlays, hides_numbers(desk, choices));
    choices.to_make.reset();
    if (std::exchange(choices.cancel_making, false)) exporting.cancel();
    if (exporting.advance()) more_frames = 3;
    choices.making.busy = exporting.busy();
    choices.making.done = exporting.done(), choices.making.total = exporting.total();
    if (choices.replaces.empty() && exporting.said() != said) choices.making.said = said = exporting.said();
  }
  choices.forget_work ? keep_unsaved(keeper.folder, {}) : finish(keeper, desk);
  return 0;
}

}  // namespace sidehill::screen

// Before unsaved work leaves the desk: what is to become of it. Also how another scene comes onto the desk.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <utility>

#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace fs = std::filesystem;
namespace {

void open_now(Desk& desk, ViewChoices& choices, const fs::path& file) {
  if (!open_file(desk, file)) return;
  remember_file(choices.state_folder, file);
  choices.drawer = Drawer::none;
  look_as_scene(choices);
}

// What was left unsaved is kept anew at once, so that it is never without a copy.
void take_up_now(Desk& desk, ViewChoices& choices, const UnsavedWork& work) {
  try {
    Scene scene = load_scene(work.file);
    std::optional<Scene> beside;
    if (!work.beside.empty()) beside = load_scene(work.beside);
    keep_unsaved(choices.state_folder, scene, beside ? &*beside : nullptr);
    open_unsaved(desk, std::move(scene), std::move(beside));
    forget(work);
    choices.drawer = Drawer::none;
    look_as_scene(choices);
  } catch (const std::exception& error) {
    desk.message = error.what();
    desk.message_is_bad = true;
  }
}

void go_on(Desk& desk, ViewChoices& choices) {
  const Leaving leaving = *std::exchange(choices.leaving, std::nullopt);
  switch (leaving.what) {
    case Leaving::For::file:
      return open_now(desk, choices, leaving.file);
    case Leaving::For::unsaved_work:
      return take_up_now(desk, choices, leaving.work);
    case Leaving::For::end:
      choices.end = true;
  }
}

void ask(Desk& desk, ViewChoices& choices, Leaving leaving) {
  const std::string place = usual_place(desk).string();
  if (place.size() < sizeof leaving.save_as) std::strcpy(leaving.save_as, place.c_str());
  choices.leaving = std::move(leaving);
  if (!worth_keeping(desk)) go_on(desk, choices);
}

// Set-up A into that file; a second set-up into one beside it. True if nothing is left unsaved.
bool save_all(Desk& desk, Leaving& leaving) {
  leave_lesson(desk);  // the person's own work is what is saved
  const fs::path file = leaving.save_as;
  std::error_code error;
  if (fs::exists(file, error) && file != desk.path() && !std::exchange(leaving.replaces, true)) {
    leaving.wrong = file.string() + " is there already: press Save again to replace it";
    return false;
  }
  const Scene* second = own_second(desk);
  const bool differs = second && write_scene(*second) != write_scene(desk.session.scene());
  if (!save_file(desk, file)) {
    leaving.wrong = desk.message;
    return false;
  }
  if (!differs) return true;
  try {
    const fs::path beside = file.parent_path() / (file.stem().string() + " B.toml");
    if (fs::exists(beside, error)) throw InputError(beside.string() + " is there already: name another file");
    save_text(beside, write_scene(*second));
  } catch (const std::exception& wrong) {
    leaving.wrong = std::string("Set-up A is saved, B is not: ") + wrong.what();
    return false;
  }
  return true;
}

std::string question(const Desk& desk, const Leaving& leaving) {
  const Scene& scene = desk.parked ? desk.parked->scene : desk.session.scene();
  const std::string then = leaving.what == Leaving::For::file
                               ? fmt::format("before {} opens", leaving.file.filename().string())
                           : leaving.what == Leaving::For::unsaved_work ? "before the other work comes back"
                                                                        : "before the program ends";
  return fmt::format("\"{}\" is not saved. Save it {}?", scene.title.empty() ? "Untitled scene" : scene.title, then);
}

}  // namespace

fs::path usual_place(const Desk& desk) {
  // What came with the program is not written over: one's own goes home.
  const fs::path& from =
      desk.parked ? desk.documents[static_cast<std::size_t>(desk.parked->document)].path : desk.path();
  if (!from.empty() && !came_with_program(from)) return from;
  const char* home = std::getenv("HOME");
  const std::string stem = from.empty() ? "my scene" : "my " + from.stem().string();
  return fs::path(home && *home ? home : ".") / (stem + ".toml");
}

void want_to_open(Desk& desk, ViewChoices& choices, const fs::path& file) {
  if (!replaces_scene(file)) return open_now(desk, choices, file);
  Leaving leaving;
  leaving.what = Leaving::For::file;
  leaving.file = file;
  ask(desk, choices, std::move(leaving));
}

void want_to_take_up(Desk& desk, ViewChoices& choices, const UnsavedWork& work) {
  Leaving leaving;
  leaving.what = Leaving::For::unsaved_work;
  leaving.work = work;
  ask(desk, choices, std::move(leaving));
}

void want_to_end(Desk& desk, ViewChoices& choices) { ask(desk, choices, Leaving()); }

void draw_leaving(Ui& ui, Desk& desk, ViewChoices& choices, Rect window) {
  if (!choices.leaving) return;
  Leaving& leaving = *choices.leaving;
  ImGui::SetNextWindowPos(window.low());
  ImGui::SetNextWindowSize({window.width, window.height});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(with_alpha(theme::kInk, 0.55)));
  ImGui::Begin("Leaving", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoNav);
  ui.order.clear();  // Tab stays in it
  const float width = std::min(ui.px(560), window.width - ui.px(24)), pad = ui.px(18), inner = width - 2 * pad;
  const std::string asks = in_lines(ui.fonts.heading, question(desk, leaving), inner);
  const std::string more = in_lines(ui.fonts.text,
                                    !leaving.wrong.empty()              ? "! " + leaving.wrong
                                    : leaving.what == Leaving::For::end ? "Do not save: what was changed is lost."
                                                                        : "Do not save: Undo still brings it back.",
                                    inner);
  const float words = size_of(ui.fonts.heading, asks).y + size_of(ui.fonts.text, more).y;
  const float height = words + ui.px(134);
  const Rect card{window.x + (window.width - width) / 2, window.y + std::max(ui.px(12), (window.height - height) / 3),
                  width, height};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(card.low(), card.high(), colour(theme::kCard), ui.px(6));
  float y = card.y + pad;
  text_at(list, ui.fonts.heading, {card.x + pad, y}, theme::kInk, asks);
  y += size_of(ui.fonts.heading, asks).y + ui.px(8);
  text_at(list, ui.fonts.text, {card.x + pad, y}, leaving.wrong.empty() ? theme::kInkSoft : theme::kLifted, more);
  y += size_of(ui.fonts.text, more).y + ui.px(12);
  ImGui::SetCursorScreenPos({card.x + pad, y});
  ImGui::SetNextItemWidth(inner);
  before_field(ui, "Save as");
  if (ImGui::InputText("##save as", leaving.save_as, sizeof leaving.save_as)) leaving.replaces = false;
  const bool types = ImGui::IsItemActive();
  after_field(ui, "Save as");
  ImGui::SetCursorScreenPos({card.x + pad, y + ui.px(44)});
  const bool save = button(ui, "Save and go on", Icon::none, "", true);
  ImGui::SameLine();
  const bool drop = button(ui, "Do not save", Icon::none, "");
  ImGui::SameLine();
  const bool stay = button(ui, "Stay", Icon::none, "Key: Escape") || (escape_pressed() && !types);
  ImGui::End();
  ImGui::PopStyleColor();
  if (save && save_all(desk, leaving)) {
    go_on(desk, choices);
  } else if (drop) {
    choices.forget_work = leaving.what == Leaving::For::end;
    go_on(desk, choices);
  } else if (stay) {
    choices.leaving.reset();
  }
}

}  // namespace sidehill::screen

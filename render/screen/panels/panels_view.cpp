// On the picture itself, in its upper corners: cautions of this set-up, and how it is looked at.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "render/screen/panels/panels.h"
#include "render/screen/parts/charts.h"
#include "sim/base/enum_table.h"

namespace sidehill::screen {
namespace {

constexpr ImGuiWindowFlags kFloating = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                       ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoBackground |
                                       ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_AlwaysAutoResize |
                                       ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoFocusOnAppearing;

// In the order of CameraPreset.
constexpr const char* kViews[] = {"As the scene asks", "Three quarters", "From ahead",    "From behind",
                                  "From the left",     "From the right", "From downhill", "From above"};
static_assert(std::size(kViews) == count_of<CameraPreset>());

struct Shown {
  const char* name;
  bool Overlays::*on;
};
constexpr Shown kShown[] = {
    {"Words", &Overlays::labels},
    {"Wheel loads", &Overlays::wheel_loads},
    {"Centre of gravity", &Overlays::centre_of_gravity},
    {"Support outline", &Overlays::support},
    {"Slope angle", &Overlays::slope_wedge},
    {"See-through tyres", &Overlays::see_through_tyres},
    {"Ground lines", &Overlays::ground_lines},
    {"Driver", &Overlays::driver},
};

// The list hangs below its button.
void hang_below(Ui& ui, const char* label) {
  const auto at = ui.items.find(label);
  if (at == ui.items.end()) return;
  ImGui::SetNextWindowPos({at->second.x + at->second.width, at->second.y + at->second.height + ui.px(3)},
                          ImGuiCond_Always, {1, 0});
}

// A press on the other list's button closes the one that is open and nothing else: the other opens then, so that one
// press is enough.
void pass_on(const Ui& ui, ViewChoices& choices) {
  const auto pressed = [&](const char* label) {
    const auto at = ui.items.find(label);
    return at != ui.items.end() && ImGui::GetIO().MouseClicked[0] &&
           ImGui::IsMouseHoveringRect(at->second.low(), at->second.high(), false);
  };
  const bool views = ImGui::IsPopupOpen("views"), shown = ImGui::IsPopupOpen("shown");
  if (!views && !shown && !choices.next_list.empty())
    ImGui::OpenPopup(std::exchange(choices.next_list, {}).c_str());
  else if (views && pressed("Show"))
    choices.next_list = "shown";
  else if (shown && pressed("View"))
    choices.next_list = "views";
}

void draw_lists(Ui& ui, const Desk& desk, ViewChoices& choices) {
  const std::optional<CameraPreset> lower = lower_side(desk.session.scene().start.heading);
  hang_below(ui, "View");
  if (ImGui::BeginPopup("views")) {
    for (int i = 0; i < static_cast<int>(std::size(kViews)); ++i) {
      const auto preset = static_cast<CameraPreset>(i);
      if (lower && preset == CameraPreset::downhill) continue;  // it is that side's picture
      const std::string words = std::string(kViews[i]) + (lower == preset ? " (from downhill)" : "");
      if (!popup_entry(ui, kViews[i], words.c_str(), i == choices.preset)) continue;
      choices.preset = i;
      choices.go_to = static_cast<CameraPreset>(i);
      if (ui.enter) ui.focus = "View";
    }
    popup_escape();
    ImGui::EndPopup();
  }
  hang_below(ui, "Show");
  if (ImGui::BeginPopup("shown")) {
    for (const Shown& shown : kShown) tick(ui, shown.name, choices.overlays.*shown.on);
    popup_escape();
    ImGui::EndPopup();
  }
}

}  // namespace

void draw_view_tools(Ui& ui, const Desk& desk, ViewChoices& choices, Rect view) {
  const Session& session = desk.session;
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(8), ui.px(8)));
  ImGui::SetNextWindowPos({view.x + view.width, view.y}, ImGuiCond_Always, {1, 0});
  if (ImGui::Begin("View tools", nullptr, kFloating)) {
    // Icons alone where there is little room, and two rows where there is less.
    const bool narrow = view.width < ui.px(choices.presenter ? 380 : 250),
               two_rows = view.width < ui.px(choices.presenter ? 232 : 192);
    const auto press = [&](const char* label, Icon icon, const char* help, bool on) {
      if (!narrow) return button(ui, label, icon, help, on);
      const std::string icon_only = std::string("##") + label;
      const bool clicked = button(ui, icon_only, icon, help, on, ui.px(34));
      remember(ui, label, ui.items[icon_only]);
      return clicked;
    };
    if (press("Follow", Icon::follow, help_for("Follow"), choices.follow)) choices.follow = !choices.follow;
    ImGui::SameLine(0, ui.px(4));
    if (button(ui, "View", Icon::none, help_for("View"))) ImGui::OpenPopup("views");
    if (!two_rows) ImGui::SameLine(0, ui.px(4));
    if (button(ui, "Show", Icon::none,
               "What is drawn on top of machine and ground. Keys: L words, X see-through tyres"))
      ImGui::OpenPopup("shown");
    if (choices.presenter) {  // there is no other button that brings them back
      ImGui::SameLine(0, ui.px(4));
      if (press("Panels back", Icon::present, help_for("Present"), false)) choices.presenter = false;
    }
    pass_on(ui, choices);
    draw_lists(ui, desk, choices);
  }
  ImGui::End();

  // They are full of numbers: none before a class has guessed. The general caution stands below all the same.
  const std::vector<std::string> cautions =
      hides_numbers(desk, choices) ? std::vector<std::string>{} : further_cautions(desk, ui.units);
  if (!cautions.empty()) {
    float left = view.x + view.width, below = view.y;  // of the buttons
    for (const char* label : {"Follow", "View", "Show", "Panels back"})
      if (const auto at = ui.items.find(label); at != ui.items.end()) {
        left = std::min(left, at->second.x);
        below = std::max(below, at->second.y + at->second.height);
      }
    std::string words = cautions.size() == 1 ? "1 caution" : fmt::format("{} cautions", cautions.size());
    // Those of the model come last: what there is before them was found in the answer.
    std::size_t of_model = session.model() ? session.model()->cautions.size() : 0;
    if (two_shown(desk) && desk.other->model()) of_model += desk.other->model()->cautions.size();
    const std::size_t warnings = cautions.size() > of_model ? cautions.size() - of_model : 0;
    // Below the buttons where both do not fit beside each other. In a picture too low for that the band and the notes
    // (the link at the foot) say them.
    const float pad = ui.px(8), edge = ui.px(46), least = size_of(ui.fonts.text, words).x + edge + 2 * pad;
    const float down = least > left - view.x - pad ? below - view.y : 0;
    const float room = (down > 0 ? view.width : left - view.x) - edge - 3 * pad;
    if (view.height >= down + ui.px(46)) {
      if (warnings > 0) {  // said itself
        const std::string more = cautions.size() > 1 ? fmt::format("  +{} more", cautions.size() - 1) : "";
        const float said = room - size_of(ui.fonts.text, more).x;
        if (said > ui.px(160)) words = fitted(ui.fonts.text, cautions.front(), said) + more;
      } else if (const std::string whole = words + " for this set-up"; size_of(ui.fonts.text, whole).x <= room) {
        words = whole;
      }
      ImGui::SetNextWindowPos({view.x, view.y + down});
      if (ImGui::Begin("Cautions of this set-up", nullptr, kFloating)) {
        std::string all;
        for (const std::string& caution : cautions) all += (all.empty() ? "" : "\n") + caution;
        const ImVec2 corner = ImGui::GetCursorScreenPos(), size = size_of(ui.fonts.text, words);
        const Rect pill{corner.x, corner.y, size.x + ui.px(46), ui.px(30)};
        bool pressed = ImGui::InvisibleButton("##cautions", {pill.width, pill.height});
        remember(ui, "Cautions", pill);
        if (reach(ui, "Cautions", pill) && ui.enter) pressed = true;
        if (pressed) choices.notes = !choices.notes;
        ImDrawList& list = *ImGui::GetWindowDrawList();
        list.AddRectFilled(pill.low(), pill.high(), colour(theme::kNear), ui.px(5));
        draw_symbol(list, Tone::near, {pill.x + ui.px(20), pill.middle().y}, ui.px(16), theme::kInk);
        text_at(list, ui.fonts.text, {pill.x + ui.px(36), pill.middle().y - size.y / 2}, theme::kInk, words);
        tooltip(ui, all);
      }
      ImGui::End();
    }
  }
  ImGui::PopStyleVar();
}

std::vector<Rect> view_tool_places(const Ui& ui) {
  std::vector<Rect> places;
  for (const char* label : {"Follow", "View", "Show", "Panels back", "Cautions", "Asked", "Asked A", "Asked B"})
    if (const auto at = ui.items.find(label); at != ui.items.end()) places.push_back(at->second);
  return places;
}

}  // namespace sidehill::screen

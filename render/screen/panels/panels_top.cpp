// Along the top: what a person came for, files, undo and redo, size of type, the picture alone.
#include <fmt/format.h>

#include "render/screen/panels/panels.h"

namespace sidehill::screen {
namespace {

struct TaskKey {
  Task task;
  const char* name;
  char32_t letter;
};
constexpr TaskKey kTaskKeys[] = {{Task::teach, "Teach", U't'},
                                 {Task::check, "Check", U'k'},
                                 {Task::compare, "Compare", U'c'},
                                 {Task::plan, "Plan", U'y'}};

// The one switch of units: the unit of every weight, and with lb all customary units of the United States.
void choose_units(Ui& ui, ViewChoices& choices, float width) {
  const std::string name = std::string("Units: ") + weight_unit(choices.units);
  if (button(ui, name, Icon::none, help_for("Units"), false, width)) ImGui::OpenPopup("units");
  const Rect place = ui.items[name];
  remember_readout(ui, "Units", place);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(8), ui.px(8)));
  ImGui::SetNextWindowPos({place.x + place.width, place.y + place.height + ui.px(3)}, ImGuiCond_Always, {1, 0});
  if (ImGui::BeginPopup("units")) {
    for (const Units units : {Units::si, Units::kn, Units::us}) {
      if (!popup_entry(ui, units_name(units), units_name(units), units == choices.units)) continue;
      choices.units = units;
      if (ui.enter) ui.focus = std::string("Units: ") + weight_unit(units);
    }
    popup_escape();
    ImGui::EndPopup();
  }
  ImGui::PopStyleVar();
}

}  // namespace

int top_rows(double width) { return width >= 1100 ? 1 : width >= 620 ? 2 : width >= 380 ? 3 : 4; }

void draw_top(Ui& ui, Desk& desk, ViewChoices& choices, Rect rect) {
  const int rows = top_rows(rect.width / ui.scale);
  const bool narrow = rect.width < ui.px(1240);  // the arrows without their words
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.PushClipRect(rect.low(), rect.high());
  list.AddRectFilled(rect.low(), rect.high(), colour(theme::kTrough));
  list.PopClipRect();
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(4), 0));
  const auto press = [&](const char* name, char32_t letter, Icon icon, bool pressed, bool enabled = true,
                         bool icon_only = false) {
    const std::string id = icon_only ? std::string("##") + name : name;
    // On to the next row where it would not fit any more.
    const float wide = icon_only ? ui.px(34) : size_of(ui.fonts.text, name).x + ui.px(icon == Icon::none ? 22 : 42);
    if (ImGui::GetCursorScreenPos().x + wide > rect.x + rect.width - ui.px(6))
      ImGui::SetCursorScreenPos({rect.x + ui.px(8), ImGui::GetCursorScreenPos().y + ui.px(34)});
    const bool clicked = button(ui, id, icon, help_for(name), pressed, icon_only ? ui.px(34) : 0, enabled);
    if (icon_only) remember(ui, name, ui.items[id]);
    if (clicked) carry_out(letter, desk, choices);
    ImGui::SameLine();
  };
  const auto gap = [&] {
    ImGui::Dummy({ui.px(10), 1});
    ImGui::SameLine();
  };
  for (const TaskKey& key : kTaskKeys) press(key.name, key.letter, Icon::none, desk.task == key.task);
  gap();
  for (const DrawerEntry& entry : drawers()) {
    if (entry.drawer == Drawer::job && plans(desk)) continue;  // it stands on the left
    // Their buttons stand where two set-ups are compared, beside the slopes, and in the machine form.
    if (entry.drawer == Drawer::side_by_side || entry.drawer == Drawer::slope_limit || entry.drawer == Drawer::weigh)
      continue;
    press(entry.name, entry.letter, Icon::none, choices.drawer == entry.drawer);
    if (entry.drawer == Drawer::files) press("Save", ctrl('s'), Icon::none, false, unsaved(desk) && !desk.parked);
  }
  press("Undo", ctrl('z'), Icon::undo, false, can_undo(desk), narrow);
  press("Redo", ctrl('y'), Icon::redo, false, can_redo(desk), narrow);
  gap();

  // From the right edge; in the last row where there are several.
  const float present = ui.px(98), sized = ui.px(34), units = ui.px(82);
  const float right = rect.x + rect.width - ui.px(8) - present - units - 2 * sized - 3 * ui.px(4);
  const ImVec2 here = ImGui::GetCursorScreenPos();
  const float row = rect.y + ui.px(4) + ui.px(34) * static_cast<float>(rows - 1);
  // What went well or wrong last, in the room between.
  const float from = here.y > row - ui.px(10) ? here.x : rect.x + ui.px(8);
  if (!desk.message.empty() && right - from > ui.px(60)) {
    const float y = row + (ui.px(30) - ui.fonts.small->FontSize) / 2;
    text_at(list, ui.fonts.small, {from, y}, desk.message_is_bad ? theme::kLifted : theme::kInk,
            fitted(ui.fonts.small, (desk.message_is_bad ? "! " : "") + desk.message, right - from - ui.px(10)));
    ImGui::SetCursorScreenPos({from, row});
    ImGui::InvisibleButton("##message", {right - from - ui.px(10), ui.px(30)});
    remember_readout(ui, "Message", {from, row, right - from - ui.px(10), ui.px(30)});
    tooltip(ui, desk.message);
  }
  ImGui::SetCursorScreenPos({std::max(from, right), row});
  if (button(ui, "Present", Icon::present, help_for("Present"), choices.presenter, present))
    carry_out(U'p', desk, choices);
  ImGui::SameLine();
  choose_units(ui, choices, units);
  ImGui::SameLine();
  // In the corner, where they stay under the mouse however large the type.
  if (button(ui, "A-", Icon::none, help_for("Smaller"), false, sized, choices.text_scale > 1))
    carry_out(U'-', desk, choices);
  ImGui::SameLine();
  if (button(ui, "A+", Icon::none, help_for("Larger"), false, sized, choices.text_scale < choices.most_text))
    carry_out(U'+', desk, choices);
  ImGui::PopStyleVar();
}

}  // namespace sidehill::screen

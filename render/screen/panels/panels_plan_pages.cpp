// Right below, while planning: the pages of the set-up chosen, and what becomes of it.
#include <fmt/format.h>

#include "render/screen/desk/folders.h"
#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels_plan.h"
#include "sim/insight/fill_of_scene.h"

namespace sidehill::screen {
namespace {

struct PlanPage {
  const char* name;  // of its button
  ExportKind kind;
  bool of_liquid;  // there is none without
};
constexpr PlanPage kPlanPages[] = {{"Filling sheet", ExportKind::sheet, true},
                                   {"Rim labels", ExportKind::labels, true},
                                   {"Cab card", ExportKind::card, false},
                                   {"Report", ExportKind::report, false}};

// Each set-up has files of its own.
std::string file_of(const Desk& desk, const std::string& usual) {
  const auto place = desk.planning->chosen_place();
  const std::size_t dot = usual.rfind('.');
  return usual.substr(0, dot) + (place ? fmt::format("_set_up_{}", *place + 1) : "_other_plan") + usual.substr(dot);
}

void ask_for(const Desk& desk, ViewChoices& choices, ExportKind kind) {
  const std::string whole = place_in(choices.pictures, file_of(desk, usual_file(kind))).string();
  if (!may_write(choices, whole)) return;
  ExportRequest request;
  request.kind = kind;
  request.file = whole;
  request.paper = choices.making.paper;
  request.of_other = true;
  choices.to_make = std::move(request);
}

}  // namespace

void draw_plan_pages(Ui& ui, Desk& desk, ViewChoices& choices) {
  if (!desk.other) return;
  if (choices.plan.pages_of != desk.planning->chosen()->choice) {
    choices.plan.pages_of = desk.planning->chosen()->choice;
    choices.making.said.clear();  // of another set-up
  }
  section(ui, fmt::format("Print {}", names_of_two(desk).second).c_str());
  if (choices.making.busy) {
    const int total = choices.making.total;
    draw_share(ui, "Progress", total > 0 ? static_cast<double>(choices.making.done) / total : 0,
               "Being made; the window can be used");
    if (total > 0 && button(ui, "Cancel", Icon::none, "Stops it; nothing half-made is left behind."))
      choices.cancel_making = true;
    return;
  }
  const std::string hindrance = plan_hindrance(desk);
  const Scene& scene = desk.other->scene();
  const bool liquid = has_liquid_on(scene, true) || has_liquid_on(scene, false);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(4), ui.px(4)));
  for (const PlanPage& page : kPlanPages) {
    const bool possible = hindrance.empty() && (liquid || !page.of_liquid);
    const std::string help = !hindrance.empty() ? hindrance
                             : !possible        ? "No tyre of this set-up holds liquid"
                                                : export_help(page.kind);
    if (page.kind != kPlanPages[0].kind) ImGui::SameLine();
    if (button(ui, page.name, Icon::none, help, false, 0, possible)) ask_for(desk, choices, page.kind);
  }
  choose_paper(ui, choices.making);
  ImGui::SameLine(0, ui.px(14));
  const PlanState state = plan_state(desk);
  const bool usable = hindrance.empty() && state != PlanState::in_use;
  if (button(ui, "Use it", Icon::none,
             usable              ? "It becomes the machine of this scene. Undo takes it back."
             : hindrance.empty() ? "It is the machine already"
                                 : hindrance,
             false, 0, usable)) {
    use_plan(desk);
    look_as_scene(choices);
  }
  ImGui::SameLine();
  if (button(ui, "Save plan file", Icon::none, "Writes the set-up as a scene, to open, compare and print again", false,
             0, hindrance.empty())) {
    const std::string whole = place_in(choices.pictures, file_of(desk, "plan.toml")).string();
    if (may_write(choices, whole)) {
      save_plan(desk, whole);
      choices.making.said = desk.message;
    }
  }
  ImGui::SameLine();
  if (button(ui, "Folder", Icon::none,
             "Shows the folder in the file manager: " + place_in(choices.pictures, "").string()))
    open_folder(choices, place_in(choices.pictures, ""));
  ImGui::PopStyleVar();
  if (!choices.making.said.empty()) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    soft_text(ui, choices.making.said, true);
    remember_readout(ui, "What was made", {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ui.px(18)});
  } else {
    soft_text(ui, " ", true);  // buttons stay where they are
  }
}

}  // namespace sidehill::screen

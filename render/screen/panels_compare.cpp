// Right, while two set-ups are compared: what differs in them, which lifts first, and the difference of every reading.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "render/screen/panels.h"
#include "render/screen/panels_readings.h"
#include "render/screen/verdict.h"
#include "render/text/words.h"

namespace sidehill {
namespace {

std::string value_words(const Session& session, const Dial& dial) {
  const std::string unit =
      dial.unit[0] == 0 || std::string_view(dial.unit) == "°" ? dial.unit : std::string(" ") + dial.unit;
  return fmt::format("{:.{}f}{}", session.number(dial.key) * dial.shown_factor, dial.digits, unit);
}

std::string plain(std::string_view key) {
  std::string text(key.substr(key.rfind('.') + 1));
  std::ranges::replace(text, '_', ' ');
  return text;
}

// Of any datum, for the list of what differs; empty for texts.
std::string value_words(const Scene& scene, const Field& field) {
  if (const auto* number = std::get_if<NumberField>(&field.kind))
    return fmt::format("{:.4g}", file_value(*number, scene));
  if (const auto* flag = std::get_if<FlagField>(&field.kind))
    return *flag->at(const_cast<Scene&>(scene)) ? "yes" : "no";  // the accessor only finds the address
  if (const auto* choice = std::get_if<ChoiceField>(&field.kind))
    return std::string(choice->choices[static_cast<std::size_t>(choice->get(scene))]);
  return {};
}

struct Differing {
  std::string name, a, b;
};

std::vector<Differing> differing(const Desk& desk) {
  std::vector<Differing> list;
  if (!desk.other) return list;
  const Session &a = desk.session, &b = *desk.other;
  std::set<const Field*> told;
  std::string group;
  for (const Dial& dial : dials_of(a.scene())) {
    const std::vector<const Field*> fields = fields_of(dial.key);
    if (value_words(a, dial) != value_words(b, dial)) {
      const std::string name = std::string_view(dial.section) == "Liquid in the tyres"
                                   ? fmt::format("{} tyres' liquid", dial.label)
                                   : dial.label;
      list.push_back({name, value_words(a, dial), value_words(b, dial)});
    }
    told.insert(fields.begin(), fields.end());
  }
  for (const Field& field : scene_fields()) {
    if (told.contains(&field)) continue;
    const std::string at_a = value_words(a.scene(), field), at_b = value_words(b.scene(), field);
    if (at_a != at_b) list.push_back({plain(field.key), at_a, at_b});
  }
  return list;
}

}  // namespace

bool two_shown(const Desk& desk) { return desk.other && desk.task != Task::check; }

std::vector<std::string> cautions_of(const Desk& desk) {
  std::vector<std::string> list = cautions_of(desk.session);
  if (!two_shown(desk)) return list;
  const std::vector<std::string> more = cautions_of(*desk.other);
  std::vector<std::string> both;
  for (const std::string& caution : list)
    both.push_back((std::ranges::find(more, caution) != more.end() ? "A, B: " : "A: ") + caution);
  for (const std::string& caution : more)
    if (std::ranges::find(list, caution) == list.end()) both.push_back("B: " + caution);
  return both;
}

std::string what_differs(const Desk& desk, std::size_t most) {
  const std::vector<Differing> list = differing(desk);
  if (!desk.other) return {};
  if (list.empty()) return "B is the same as A so far: change something on the left";
  std::string text;
  for (std::size_t i = 0; i < std::min(most, list.size()); ++i)
    text += fmt::format("{}{}: A {}, B {}", i > 0 ? "; " : "", list[i].name, list[i].a, list[i].b);
  if (list.size() > most) text += fmt::format("; and {} more", list.size() - most);
  return text;
}

void draw_which(Ui& ui, Desk& desk) {
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(4), 0));
  soft_text(ui, "Change");
  ImGui::SameLine();
  const float wide = ui.px(36);
  if (button(ui, "A", Icon::none, help_for("A or B"), !desk.edits_other, wide)) desk.edits_other = false;
  ImGui::SameLine();
  if (button(ui, "B", Icon::none, help_for("A or B"), desk.edits_other, wide)) desk.edits_other = true;
  ImGui::SameLine();
  if (button(ui, "Swap", Icon::none, "A becomes B and B becomes A")) swap_set_ups(desk);
  ImGui::SameLine();
  if (button(ui, "Only A", Icon::none, "Puts B away; undo brings it back")) put_away(desk);
  ImGui::PopStyleVar();
  ImGui::Dummy({0, ui.px(4)});
}

void draw_compare(Ui& ui, Desk& desk, ViewChoices& choices) {
  section(ui, "What differs");
  ImGui::TextWrapped("%s", what_differs(desk, 6).c_str());
  const Session &a = desk.session, &b = *desk.other;
  for (const Session* each : {&a, &b}) {
    if (each->refusal().empty()) continue;
    ImGui::TextWrapped("%s cannot exist: %s", each == &a ? "A" : "B", each->refusal().c_str());
    return;
  }
  if (!a.model() || !b.model()) return;
  if (!a.answer_is_of_scene() || !b.answer_is_of_scene()) {
    soft_text(ui, "Being worked out.");
    return;
  }
  Known known_a = known_of(a), known_b = known_of(b);
  if (!same_moment(desk)) known_a.now = known_b.now = nullptr;  // at rest then
  const std::vector<Reading> at_a = readings_of(known_a), at_b = readings_of(known_b);
  section(ui, "As the ground is tilted slowly");
  ImGui::TextWrapped("%s", which_lifts_first(at_a, at_b, "A", "B").c_str());
  if (const auto first = first_to_lift(desk)) {
    section(ui, "In the run");
    const char *one = first->which == 0 ? "A" : "B", *two = first->which == 0 ? "B" : "A";
    ImGui::TextWrapped(
        "%s", first->earlier ? fmt::format("{} lifts a wheel first, at {:.2f} s, {:.2f} s before {}.", one, first->time,
                                           *first->earlier, two)
                                   .c_str()
                             : fmt::format("{} lifts a wheel at {:.2f} s, {} has not.", one, first->time, two).c_str());
  }
  section(ui, "Every reading");
  tick(ui, "Only what differs", choices.only_what_differs,
       "A question mark: the difference is smaller than what it may be off by");
  draw_differences(ui, differences(at_a, at_b), "A", "B", choices.only_what_differs);
}

}  // namespace sidehill

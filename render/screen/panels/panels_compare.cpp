// Right, while two set-ups are compared: what differs in them, what gives way first, and the difference of every
// reading.
#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "render/screen/desk/verdict.h"
#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels.h"
#include "render/screen/panels/panels_plan.h"
#include "render/screen/parts/reading_rows.h"
#include "render/text/words/words.h"

namespace sidehill::screen {
namespace {

// The numbers of one datum in both set-ups, in the unit they are read in, with as many digits as it takes to see a
// difference.
std::pair<std::string, std::string> number_words(std::string_view key, double at_a, double at_b, double most,
                                                 Units units, int least_digits = 0) {
  const TypedUnit unit = typed_unit(key, units, most);
  const double a = unit.shown(at_a), b = unit.shown(at_b);
  const std::string after = (unit.unit.empty() || unit.unit == "°" ? "" : " ") + unit.unit;
  constexpr int kMostDigits = 6;
  std::string one, two;
  for (int digits = std::max(unit.digits, least_digits); digits <= kMostDigits; ++digits) {
    one = fmt::format("{:.{}f}", a, digits), two = fmt::format("{:.{}f}", b, digits);
    if (one != two) break;
  }
  return {one + after, two + after};
}

// What is no number, in both; empty for texts.
std::string word_of(const Scene& scene, const Field& field) {
  if (const auto* flag = std::get_if<FlagField>(&field.kind))
    return *flag->at(const_cast<Scene&>(scene)) ? "yes" : "no";  // the accessor only finds the address
  if (const auto* choice = std::get_if<ChoiceField>(&field.kind)) {
    const auto index = static_cast<std::size_t>(choice->get(scene));
    // Without the frost it stands: the strength is a field of its own.
    if (field.key.ends_with(".medium") && index < media().size()) return std::string(media()[index].name);
    if (field.key.ends_with(".medium")) return medium_name({Medium::own, 0, &scene.ballast.own_medium});
    return std::string(choice->choices[index]);
  }
  return {};
}

struct Differing {
  std::string name, a, b;
};

std::vector<Differing> differing(const Desk& desk, Units units) {
  std::vector<Differing> list;
  if (!desk.other) return list;
  const Session &a = desk.session, &b = *desk.other;
  std::set<const Field*> listed, spoken_of;
  for (const Dial& dial : dials_of(a.scene())) {
    const std::vector<const Field*> fields = fields_of(dial.key);
    // One tyre that its axle's row has spoken of already.
    if (fields.empty() || std::ranges::all_of(fields, [&](const Field* one) { return spoken_of.contains(one); }))
      continue;
    const double at_a = a.number(dial.key), at_b = b.number(dial.key);
    const auto [one, two] =
        number_words(fields.front()->key, at_a, at_b, dial.max, units, is_metric(units) ? dial.digits : 0);
    if (one != two) {
      const std::string name = !dial.medium_key.empty()               ? fmt::format("{} tyres' liquid", dial.label)
                               : dial.key.ends_with(".fill_fraction") ? fmt::format("{} tyre's liquid", dial.label)
                                                                      : dial.label;
      list.push_back({name, one, two});
      spoken_of.insert(fields.begin(), fields.end());
    }
    listed.insert(fields.begin(), fields.end());
  }
  for (const Field& field : scene_fields()) {
    if (listed.contains(&field)) continue;
    if (const auto* number = std::get_if<NumberField>(&field.kind)) {
      const double at_a = file_value(*number, a.scene()), at_b = file_value(*number, b.scene());
      const auto [one, two] = number_words(field.key, at_a, at_b, number->max, units);
      if (one != two) list.push_back({plain_name(field.key), one, two});
      continue;
    }
    const std::string at_a = word_of(a.scene(), field), at_b = word_of(b.scene(), field);
    if (at_a != at_b) list.push_back({plain_name(field.key), at_a, at_b});
  }
  return list;
}

}  // namespace

bool two_shown(const Desk& desk) { return desk.other && desk.task != Task::check; }

namespace {

std::vector<std::string> of_both(const Desk& desk, Units units,
                                 std::vector<std::string> (*of_one)(const Session&, Units)) {
  std::vector<std::string> list = of_one(desk.session, units);
  if (!two_shown(desk)) return list;
  const std::vector<std::string> more = of_one(*desk.other, units);
  const auto [a, b] = names_of_two(desk);
  std::vector<std::string> both;
  for (const std::string& caution : list)
    both.push_back((std::ranges::find(more, caution) != more.end() ? a + ", " + b : a) + ": " + caution);
  for (const std::string& caution : more)
    if (std::ranges::find(list, caution) == list.end()) both.push_back(b + ": " + caution);
  return both;
}

}  // namespace

std::vector<std::string> cautions_of(const Desk& desk, Units units) {
  return of_both(desk, units, static_cast<std::vector<std::string> (*)(const Session&, Units)>(cautions_of));
}

std::vector<std::string> further_cautions(const Desk& desk, Units units) {
  return of_both(desk, units, static_cast<std::vector<std::string> (*)(const Session&, Units)>(further_cautions));
}

std::string what_differs(const Desk& desk, std::size_t most, Units units) {
  const std::vector<Differing> list = differing(desk, units);
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
  if (button(ui, "Side by side", Icon::none, help_for("Side by side"), choices.drawer == Drawer::side_by_side))
    pull(Drawer::side_by_side, choices);
  section(ui, "What differs");
  wrapped_words(what_differs(desk, 6, ui.units));
  const Session &a = desk.session, &b = *desk.other;
  for (const Session* each : {&a, &b}) {
    if (each->refusal().empty()) continue;
    wrapped_words(fmt::format("{} cannot exist: {}", each == &a ? "A" : "B", each->refusal()));
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
  std::optional<SetUpDifference> together;
  if (known_a.doubts && known_b.doubts) together = difference(a.scene(), *known_a.doubts, b.scene(), *known_b.doubts);
  const SetUpDifference* pair = together ? &*together : nullptr;
  section(ui, "As the ground is tilted slowly");
  wrapped_words(which_gives_way_first(at_a, at_b, "A", "B", pair));
  if (const auto first = first_to_give_way(desk)) {
    section(ui, "In the run");
    wrapped_words(first_words(*first) + ".");
  }
  section(ui, "Every reading");
  tick(ui, "Only what differs", choices.only_what_differs,
       "A question mark: the difference may be the other way round");
  draw_differences(ui, differences(at_a, at_b, pair), "A", "B", choices.only_what_differs);
}

}  // namespace sidehill::screen

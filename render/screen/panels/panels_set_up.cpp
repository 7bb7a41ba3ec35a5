// Left: the set-up as sliders, the few that matter first; every other datum of the scene below, from the field list.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels.h"
#include "render/text/words/words.h"
#include "sim/base/steps.h"
#include "sim/rest/mass_sums.h"

namespace sidehill::screen {
namespace {

constexpr double kRoomForAll = 940;  // of the panel: every slider is seen at once [px]
constexpr const char* kMoreSliders = "More: tyre pressure, tank, left and right";

// "0 to 45°", "0.35 to 3.6 m".
std::string range_words(double low, double high, const std::string& unit) {
  return fmt::format("{:.4g} to {:.4g}{}{}", low, high, unit.empty() || unit == "°" ? "" : " ", unit);
}

// What is allowed, in the units chosen; empty where a choice says it itself.
std::string allowed_in(const Field& field, Units units) {
  const auto* number = std::get_if<NumberField>(&field.kind);
  if (!number) return {};
  const TypedUnit typed = typed_unit(field.key, units, number->max);
  return range_words(typed.shown(number->min), typed.shown(number->max), typed.unit);
}

// A whole sentence about a datum, by the name people call it: "Slope of the ground: of the even slope, rising to the
// north. Allowed 0 to 60°."
std::string help_of(std::string_view key, Units units) {
  std::string_view help, range_key = key;
  for (const Alias& alias : scene_aliases())
    if (alias.key == key) help = alias.help, range_key = alias.targets[0];
  const Field* field = find_field(range_key);
  if (help.empty() && field) help = field->help;
  std::string words = capital(plain_name(key)) + (help.empty() ? "." : fmt::format(": {}.", help));
  if (const std::string range = field ? allowed_in(*field, units) : ""; !range.empty())
    words += fmt::format(" Allowed {}.", range);
  return words;
}

// What this machine allows of a datum, in the file's unit; none where its key says all there is to say of it and is not
// known as a field.
std::optional<std::pair<double, double>> allowed_range(const Scene& scene, const Dial& dial) {
  std::optional<std::pair<double, double>> range;
  for (const Field* field : fields_of(dial.key))
    if (const auto* number = std::get_if<NumberField>(&field->kind)) {
      if (!range) range = {number->min, number->max};
      range = {std::max(range->first, number->min), std::min(range->second, number->max)};
    }
  const Loader& loader = scene.vehicle.loader;
  if (range && dial.key == "ballast.loader_pin_height_m")
    range = {std::max(range->first, loader.min_pin_height), std::min(range->second, loader.max_pin_height)};
  return range;
}

// An axle's slider shows its left tyre: that the right one holds another amount must be said.
bool sides_differ(const Scene& scene, std::string_view key) {
  const auto& fill = scene.ballast.fill;
  const bool front = key.starts_with("ballast.front.");
  return fill[front ? kFrontLeft : kRearLeft].fill_fraction != fill[front ? kFrontRight : kRearRight].fill_fraction;
}

// Between a slider's label and its number.
void draw_choice(Ui& ui, Session& session, const Dial& dial) {
  const Field& field = *find_field(dial.choice_key);
  std::vector<std::string> names;
  for (const std::string_view word : std::get<ChoiceField>(field.kind).choices) {
    names.emplace_back(word);
    std::ranges::replace(names.back(), '_', ' ');
  }
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float after = size_of(ui.fonts.text, dial.label + "  ").x;
  ImGui::SetCursorScreenPos({corner.x + after, corner.y});
  int index = session.choice(dial.choice_key);
  if (choice(ui, dial.choice_key, names, index, field.help, ImGui::GetContentRegionAvail().x - ui.px(66)))
    session.set_choice(dial.choice_key, index);
  ImGui::SetCursorScreenPos(corner);
}

// Label, then the liquid's name to choose from in the same line, then the slider.
void draw_dial(Ui& ui, Session& session, const Dial& dial) {
  // The whole slider works in the unit shown, so that its steps are handy in it.
  const TypedUnit typed = typed_unit(dial.key, ui.units, dial.max);
  SliderLook look;
  look.label = dial.label;
  look.unit = typed.unit;
  look.step = typed_step(typed, dial.step, ui.units);
  look.min = typed.shown(dial.min);
  look.max = typed.shown(dial.max);
  const bool other_unit = typed.factor != typed_unit(dial.key, Units::si, dial.max).factor;
  if (other_unit) look.min = whole_steps_above(look.min, look.step);  // the lower end falls on a step
  look.digits = other_unit ? typed.digits : dial.digits;
  const auto said = [&](double file) {
    return fmt::format("{:.{}f}{}{}", typed.shown(file) + 0.0, look.digits,
                       look.unit.empty() || look.unit == "°" ? "" : " ", look.unit);
  };
  const std::string limit = dial.ends.empty() ? "" : dial.limit > 0 ? dial.ends + " " + said(dial.limit) : dial.ends;
  if (dial.limit > 0) look.end = said(dial.limit);
  look.mark = typed.shown(session.loaded_number(dial.key));
  look.help = help_of(dial.key, ui.units) +
              "\nDrag, arrow keys, or click the number to type one. The small stroke marks the value as opened.";
  if (dial.key == "start.heading_deg") look.help = heading_words(session.scene().start.heading) + ".\n" + look.help;
  const double kept = session.number(dial.key);
  double value = typed.shown(kept);
  if (!dial.medium_key.empty()) {
    const double liquid =
        session.model() ? fill_mass(*session.model(), dial.medium_key.find("front") != std::string::npos) : 0.0;
    const bool known = session.refusal().empty() && !session.working();
    look.note = kept > 0 ? known ? shown(Quantity::mass, liquid, ui.units) : "" : "air";
    if (sides_differ(session.scene(), dial.key)) look.note = "left, right differ";
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const float after = size_of(ui.fonts.text, std::string(dial.label) + "  ").x;
    const float room = ImGui::GetContentRegionAvail().x - after - ui.px(62) - size_of(ui.fonts.small, look.note).x;
    ImGui::SetCursorScreenPos({corner.x + after, corner.y});
    std::vector<std::string> names;
    int index = session.choice(dial.medium_key);
    const BallastPlan& plan = session.scene().ballast;
    const TyreFill& held = plan.fill[dial.medium_key.find("front") != std::string::npos ? kFrontLeft : kRearLeft];
    for (const MediumInfo& medium : media_choices())  // the one that is in it at its own strength, others at the usual
      names.push_back(
          medium_name({medium.medium, medium.medium == held.medium ? held.concentration : 0, &plan.own_medium}, true));
    if (index >= 0 && index < static_cast<int>(names.size()) &&
        choice(ui, std::string(dial.label) + " liquid", names, index,
               names[static_cast<std::size_t>(index)] + ". " +
                   std::string(media_choices()[static_cast<std::size_t>(index)].caution),
               room)) {
      session.set_choice(dial.medium_key, index);
    }
    ImGui::SetCursorScreenPos(corner);
  }
  if (!dial.choice_key.empty()) draw_choice(ui, session, dial);
  if (slider(ui, look, value)) {
    ui.corrected.clear();
    const std::optional<std::pair<double, double>> range = allowed_range(session.scene(), dial);
    const double wanted = typed.file(value);
    const double possible = range ? std::clamp(wanted, range->first, range->second) : wanted;
    if (std::abs(possible - wanted) > 1e-9 * std::max(1.0, std::abs(wanted))) {
      ui.corrected = dial.label;
      ui.correction = fmt::format("{} is out of range: allowed {} to {}. Set to {}.", said(wanted), said(range->first),
                                  said(range->second), said(possible));
      if (!limit.empty() && wanted > dial.limit && range->second <= dial.limit)
        ui.correction = fmt::format("{} is out of range: {}. Set to {}.", said(wanted), limit, said(possible));
    }
    // Air let out makes a tyre softer: its stiffness goes along.
    if (dial.key.ends_with(".tyre.pressure_kpa"))
      session.edit(with_pressure(session.scene(), session.loaded(), dial.key.starts_with("vehicle.front."), possible));
    else
      session.set_number(dial.key, possible);
  }
  // At its end, and beyond it, the slider says what of the machine that end is.
  if (const double now = session.number(dial.key);
      !limit.empty() && now >= dial.limit - 1e-9 && now > 0 && ui.corrected != dial.label) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    soft_text(ui, now > dial.limit + 1e-9 ? "! more than its limit: " + limit : capital(limit), true);
    remember_readout(ui, dial.label + " limit",
                     {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ui.fonts.small->FontSize});
  }
  if (ui.corrected == dial.label) {
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(theme::kLifted));
    ImGui::PushFont(ui.fonts.small);
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    wrapped_words(ui.correction);
    remember_readout(ui, "Corrected", {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ui.px(18)});
    ImGui::PopFont();
    ImGui::PopStyleColor();
  }
}

// Any field as a row of the long list.
void draw_field(Ui& ui, Session& session, const Field& field) {
  ImGui::PushID(field.key.data(), field.key.data() + field.key.size());
  const float width = ImGui::GetContentRegionAvail().x;
  std::string name(field.key.substr(field.key.rfind('.') + 1));
  const std::string key(field.key);
  if (const NumberField* kind = std::get_if<NumberField>(&field.kind)) {
    const TypedUnit typed = typed_unit(field.key, ui.units, kind->max);
    // The key's suffix is the file's unit; where another is typed, that one is said.
    const bool as_in_file = typed.factor == 1 && typed.offset == 0;
    if (!as_in_file) {
      name.resize(name.size() - typed.suffix.size());
      name += typed.unit.empty() ? "" : ", " + typed.unit;
    }
    soft_text(ui, fitted(ui.fonts.small, name, width - ui.px(90)));
    tooltip(ui, help_of(field.key, ui.units));
    ImGui::SameLine(width - ui.px(70));
    ImGui::SetNextItemWidth(ui.px(86));
    double value = typed.shown(file_value(*kind, session.scene()));
    // The number is taken over when the person has done typing, not at every letter.
    before_field(ui, field.key);
    ImGui::InputDouble("##value", &value, 0, 0, "%.6g");
    after_field(ui, field.key);
    if (ImGui::IsItemDeactivatedAfterEdit()) session.set_number(key, typed.file(value));
    tooltip(ui, help_of(field.key, ui.units));
  } else if (std::holds_alternative<FlagField>(field.kind)) {
    bool on = session.flag(key);
    bool changed = ImGui::Checkbox(name.c_str(), &on);
    const Rect place{ImGui::GetItemRectMin().x, ImGui::GetItemRectMin().y, ImGui::GetFrameHeight(),
                     ImGui::GetFrameHeight()};
    remember(ui, field.key, place);
    if (reach(ui, field.key, place) && ui.enter) on = !on, changed = true;
    if (changed) session.set_flag(key, on);
    tooltip(ui, help_of(field.key, ui.units));
  } else if (const ChoiceField* choices = std::get_if<ChoiceField>(&field.kind)) {
    std::vector<std::string> names(choices->choices.begin(), choices->choices.end());
    soft_text(ui, name);
    ImGui::SameLine(width / 2);
    int index = session.choice(key);
    if (choice(ui, field.key, names, index, field.help, width / 2)) session.set_choice(key, index);
  }
  ImGui::PopID();
}

void draw_everything(Ui& ui, Session& session) {
  ImGui::PushFont(ui.fonts.small);
  std::string group;
  bool open = false;
  for (const Field& field : scene_fields()) {
    if (std::holds_alternative<TextField>(field.kind)) continue;
    const std::size_t dot = field.key.rfind('.');
    const std::string of(dot == std::string_view::npos ? field.key : field.key.substr(0, dot));
    if (of != group) {
      group = of;
      const std::string item = "All: " + group;
      if (ui.enter && ui.focus == item) flip_fold(group.c_str());
      open = ImGui::TreeNodeEx(group.c_str(), ImGuiTreeNodeFlags_NoTreePushOnOpen | ImGuiTreeNodeFlags_SpanAvailWidth);
      const ImVec2 low = ImGui::GetItemRectMin(), size = ImGui::GetItemRectSize();
      remember(ui, item, {low.x, low.y, size.x, size.y});
      reach(ui, item, {low.x, low.y, size.x, size.y});
    }
    if (open) draw_field(ui, session, field);
  }
  ImGui::PopFont();
}

}  // namespace

std::vector<Dial> dials_of(const Scene& scene) {
  std::vector<std::pair<int, Dial>> placed;
  const auto take = [&](std::string_view key, const std::optional<Slider>& slider) {
    if (!slider) return;
    const auto span = slider->span ? slider->span(scene) : Span{slider->min, slider->max};
    if (!span) return;
    const std::string choice(slider->choice);
    const bool medium = choice.ends_with(".medium");
    placed.push_back({slider->place,
                      {std::string(slider->section), std::string(slider->label), std::string(key), span->min, span->max,
                       slider->step, slider->digits, medium ? choice : "", medium ? "" : choice, slider->more,
                       std::string(span->ends), span->limit}});
  };
  for (const Field& field : scene_fields()) take(field.key, field.slider);
  for (const Alias& alias : scene_aliases()) take(alias.key, alias.slider);
  std::ranges::stable_sort(placed, {}, [](const auto& one) { return one.first; });
  std::vector<Dial> list;
  for (auto& [place, dial] : placed) list.push_back(std::move(dial));
  return list;
}

void draw_set_up(Ui& ui, Session& session, ViewChoices& choices) {
  const Scene& scene = session.scene();
  const float width = ImGui::GetContentRegionAvail().x;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float room = width - ui.px(session.edited() ? 68 : 34);
  text_at(list, ui.fonts.heading, corner, theme::kInk,
          fitted(ui.fonts.heading, scene.title.empty() ? "Untitled scene" : scene.title, room));
  text_at(list, ui.fonts.small, {corner.x, corner.y + ui.px(22)}, theme::kInkSoft,
          fitted(ui.fonts.small, scene.vehicle.name, room));
  if (session.edited()) {
    ImGui::SetCursorScreenPos({corner.x + width - ui.px(28), corner.y + ui.px(2)});
    if (button(ui, "##restore", Icon::restore, "Back to the scene as it was opened", false, ui.px(28)))
      session.restore();
    remember(ui, "Restore", {corner.x + width - ui.px(28), corner.y + ui.px(2), ui.px(28), ui.px(30)});
  }
  ImGui::SetCursorScreenPos({corner.x + width - ui.px(session.edited() ? 62 : 28), corner.y + ui.px(2)});
  const ImVec2 find_at = ImGui::GetCursorScreenPos();
  if (button(ui, "##find", Icon::find, help_for("Find"), choices.find.open, ui.px(28))) flip_find(choices.find);
  remember(ui, "Find", {find_at.x, find_at.y, ui.px(28), ui.px(30)});
  ImGui::SetCursorScreenPos({corner.x, corner.y + ui.px(40)});
  if (choices.find.open) return draw_find(ui, session, choices.find);

  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(8), ui.px(1)));
  std::string group;
  const bool roomy = ImGui::GetWindowHeight() >= ui.px(kRoomForAll);
  bool folded_away = false, shown_too = true;
  for (const Dial& dial : dials_of(session.scene())) {
    if (dial.more && !roomy && !folded_away) {
      folded_away = true;
      shown_too = header(ui, kMoreSliders);
    }
    if (folded_away && !shown_too) break;
    if (group != dial.section) section(ui, (group = dial.section).c_str());
    draw_dial(ui, session, dial);
  }
  ImGui::PopStyleVar();
  ImGui::Dummy({0, ui.px(2)});
  if (header(ui, "Every datum, as the scene file names it")) draw_everything(ui, session);
}

}  // namespace sidehill::screen

#include "render/screen/parts/ground_tools.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screen/placing/placing_parts.h"
#include "render/text/words/words.h"
#include "sim/scene/scene_fields.h"
#include "terrain/soil_presets.h"

namespace sidehill::screen {
namespace {

struct Edit {
  Ui& ui;
  Placing& placing;
  const Scene& scene;
  std::optional<Scene> edited;

  void give(Scene changed) {
    // A drag of a slider is one stroke from the click that began it; what is typed or pressed is one of its own.
    if (!ImGui::GetIO().MouseDown[0]) ++placing.stroke;
    edited = std::move(changed);
  }
};

template <class T>
const FieldOf<T>* field_of(std::span<const FieldOf<T>> fields, std::string_view key) {
  const auto found = std::ranges::find_if(fields, [&](const FieldOf<T>& f) { return f.key == key; });
  return found == fields.end() ? nullptr : &*found;
}

template <class T>
std::string help_of(std::span<const FieldOf<T>> fields, std::string_view key) {
  const FieldOf<T>* field = field_of(fields, key);
  return field
             ? fmt::format("{} ({})\nDrag, arrow keys, or click the number to type one.", field->help, allowed(*field))
             : std::string();
}

// A slider of one number of the thing at hand, in the file's unit.
template <class T>
bool dial(Ui& ui, std::span<const FieldOf<T>> fields, std::string_view key, SliderLook look, T& object) {
  const FieldOf<T>* field = field_of(fields, key);
  const auto* number = field ? std::get_if<NumberFieldOf<T>>(&field->kind) : nullptr;
  if (!number) return false;
  look.help = help_of(fields, key);
  double value = file_value(*number, object);
  look.mark = value;
  // The track stretches to what is set: nothing is cut off unseen.
  look.min = std::min(look.min, value), look.max = std::max(look.max, value);
  if (!slider(ui, look, value) || !std::isfinite(value)) return false;
  set_file_value(*number, object, std::clamp(value, number->min, number->max));
  return true;
}

SliderLook dial_look(const char* label, const char* unit, double min, double max, double step, int digits) {
  SliderLook look;
  look.label = label, look.unit = unit;
  look.min = min, look.max = max, look.step = step, look.digits = digits;
  return look;
}

bool tool_button(Ui& ui, const ToolInfo& tool, bool chosen, float width) {
  ImGui::PushID(tool.name);
  const float height = ui.px(50);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  bool clicked = ImGui::InvisibleButton("##tool", {width, height});
  remember(ui, tool.name, {corner.x, corner.y, width, height});
  if (reach(ui, tool.name, {corner.x, corner.y, width, height}) && ui.enter) clicked = true;
  const bool hovered = ImGui::IsItemHovered();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 end{corner.x + width, corner.y + height};
  const Colour fill = chosen    ? (hovered ? theme::kAccentHover : theme::kAccent)
                      : hovered ? theme::kTrough
                                : theme::kCard;
  const Colour ink = chosen ? theme::kOnAccent : theme::kInk;
  list.AddRectFilled(corner, end, colour(fill), ui.px(5));
  list.AddRect(corner, end, colour(chosen ? theme::kAccent : theme::kRule), ui.px(5), 0, ui.px(1));
  draw_tool_icon(list, tool.tool, {corner.x + width / 2, corner.y + ui.px(17)}, ui.px(24), colour(ink));
  text_at(list, ui.fonts.small, {corner.x + width / 2, corner.y + ui.px(31)}, ink,
          fitted(ui.fonts.small, tool.name, width - ui.px(4)), 0.5f);
  tooltip(ui, tool.help);
  ImGui::PopID();
  return clicked;
}

const char* hint_for(const Placing& placing) {
  if (placing.tool == Tool::look) return "Drag the picture to look around. Choose a tool to change the ground.";
  if (placing.tool != Tool::move)
    return "Click on the ground to put it there, or press Enter to put it ahead of the machine. Shift and wheel: "
           "larger, "
           "smaller. Escape: done.";
  if (placing.selected == kMachine)
    return "Drag the machine to another place, drag the ring to turn it. Shift: no snapping.";
  if (placing.selected >= 0)
    return "Drag it to another place, drag a knob to change it. Delete takes it away. Shift: no snapping.";
  return "Drag the machine or a thing on the ground; a click with the right button says more.";
}

void draw_palette(Edit& edit) {
  Ui& ui = edit.ui;
  constexpr int kColumns = 5;
  const float gap = ui.px(4), width = (ImGui::GetContentRegionAvail().x - (kColumns - 1) * gap) / kColumns;
  int column = 0;
  for (const ToolInfo& tool : tools()) {
    if (column > 0) ImGui::SameLine(0, gap);
    if (tool_button(ui, tool, edit.placing.tool == tool.tool, width)) choose(edit.placing, tool.tool, edit.scene);
    column = (column + 1) % kColumns;
  }
  soft_text(ui, hint_for(edit.placing), true);
}

// What a trainer wants most: one wheel meets a bump, or drops.
void draw_wheel_ways(Edit& edit) {
  Ui& ui = edit.ui;
  const auto uphill = left_is_uphill(edit.scene.start.heading);
  const bool left_up = uphill.value_or(true);
  const char *high = uphill ? "uphill" : "left", *low = uphill ? "downhill" : "right";
  const bool full = edit.scene.terrain.features.size() >= kMostListEntries;
  const float gap = ui.px(6), width = (ImGui::GetContentRegionAvail().x - gap) / 2;
  // Of the wider axle's wheel: the other one meets it as well.
  const bool front_wider = edit.scene.vehicle.front.track > edit.scene.vehicle.rear.track;
  const auto put = [&](Tool tool, bool left) {
    const int wheel = front_wider ? (left ? kFrontLeft : kFrontRight) : (left ? kRearLeft : kRearRight);
    const int at = static_cast<int>(edit.scene.terrain.features.size());
    ++edit.placing.stroke;
    edit.give(with_feature(edit.scene, before_wheel(edit.scene, tool, wheel, edit.placing.ahead)));
    choose(edit.placing, Tool::move, edit.scene);
    edit.placing.selected = at;
  };
  section(ui, "In the way of the wheels");
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const std::string bump = fmt::format("{}: a bump", capital(high)), hole = fmt::format("{}: a hole", capital(low));
  if (button(ui, bump, Icon::none,
             fmt::format("Puts a bump where the {} wheels will roll, that far ahead. Then press Drive.", high), false,
             width, !full))
    put(Tool::bump, left_up);
  remember(ui, fmt::format("Before the {} wheel: bump", high), {corner.x, corner.y, width, ui.px(30)});
  ImGui::SameLine(0, gap);
  if (button(ui, hole, Icon::none,
             fmt::format("Puts a hole where the {} wheels will roll, that far ahead. Then press Drive.", low), false,
             width, !full))
    put(Tool::hole, !left_up);
  remember(ui, fmt::format("Before the {} wheel: hole", low), {corner.x + width + gap, corner.y, width, ui.px(30)});
  SliderLook look = dial_look("Ahead of the front wheels by", "m", 0.5, 10, 0.25, 2);
  look.help = "From below the front axle to where the bump or hole begins.";
  look.mark = Placing{}.ahead;
  double ahead = edit.placing.ahead;
  if (slider(ui, look, ahead) && std::isfinite(ahead)) edit.placing.ahead = std::clamp(ahead, 0.0, 100.0);
}

// One line of the list; returns true if it was clicked.
bool row(Ui& ui, const std::string& label, Tool tool, const std::string& words, const std::string& place, bool chosen,
         float width) {
  ImGui::PushID(label.c_str());
  const float height = ui.px(25);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  bool clicked = ImGui::InvisibleButton("##row", {width, height});
  remember(ui, label, {corner.x, corner.y, width, height});
  if (reach(ui, label, {corner.x, corner.y, width, height}) && ui.enter) clicked = true;
  if (!ImGui::IsItemVisible()) {  // two hundred signs would burst a draw list
    ImGui::PopID();
    return clicked;
  }
  const bool hovered = ImGui::IsItemHovered();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (chosen || hovered)
    list.AddRectFilled(corner, {corner.x + width, corner.y + height}, colour(chosen ? theme::kCard : theme::kTrough),
                       ui.px(4));
  if (chosen)  // a bar as well as a shade
    list.AddRectFilled(corner, {corner.x + ui.px(3), corner.y + height}, colour(theme::kAccent));
  draw_tool_icon(list, tool, {corner.x + ui.px(17), corner.y + height / 2}, ui.px(18), colour(theme::kInk));
  const float right = size_of(ui.fonts.small, place).x, y = corner.y + (height - ui.fonts.small->FontSize) / 2;
  text_at(list, ui.fonts.small, {corner.x + ui.px(32), y}, theme::kInk,
          fitted(ui.fonts.small, words, width - ui.px(40) - right));
  text_at(list, ui.fonts.small, {corner.x + width - ui.px(4), y}, theme::kInkSoft, place, 1);
  ImGui::PopID();
  return clicked;
}

void draw_list(Edit& edit) {
  Ui& ui = edit.ui;
  const auto& features = edit.scene.terrain.features;
  section(ui, "What stands there", features.empty() ? "" : fmt::format("{}", features.size()));
  const float width = ImGui::GetContentRegionAvail().x, cross = ui.px(25);
  const auto take = [&](int item) {
    if (edit.placing.tool != Tool::move) choose(edit.placing, Tool::move, edit.scene);
    edit.placing.selected = edit.placing.selected == item ? kNothing : item;
  };
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(4), ui.px(1)));
  if (row(ui, "Machine", Tool::move, "Machine", heading_words(edit.scene.start.heading),
          edit.placing.selected == kMachine, width))
    take(kMachine);
  const glm::dvec2 start(edit.scene.start.x, edit.scene.start.y), way = forward_G(edit.scene.start.heading);
  for (std::size_t i = 0; i < features.size(); ++i) {
    const Feature& f = features[i];
    const double ahead = (f.x - start.x) * way.x + (f.y - start.y) * way.y;
    const std::string words = fmt::format("{}, {} {}", feature_name(f), metres(f.height), is_sunk(f) ? "deep" : "high");
    const std::string place = fmt::format("{:.1f} m {}", std::abs(ahead), ahead >= -0.05 ? "ahead" : "behind");
    if (row(ui, fmt::format("Thing {}", i + 1), tool_of(f), words, place, edit.placing.selected == static_cast<int>(i),
            width - cross - ui.px(4)))
      take(static_cast<int>(i));
    tooltip(ui, feature_words(f) + "\n" + place_words(edit.scene, {f.x, f.y}));
    ImGui::SameLine();
    // A cross of two strokes.
    ImGui::PushID(static_cast<int>(i));
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    bool clicked = ImGui::InvisibleButton("##remove", {cross, cross});
    const std::string item = fmt::format("Remove {}", i + 1);
    remember(ui, item, {corner.x, corner.y, cross, cross});
    if (reach(ui, item, {corner.x, corner.y, cross, cross}) && ui.enter) clicked = true;
    const ImU32 ink = colour(ImGui::IsItemHovered() ? theme::kLifted : theme::kInkSoft);
    const ImVec2 m{corner.x + cross / 2, corner.y + cross / 2};
    const float r = ui.px(5);
    ImGui::GetWindowDrawList()->AddLine({m.x - r, m.y - r}, {m.x + r, m.y + r}, ink, ui.px(1.8));
    ImGui::GetWindowDrawList()->AddLine({m.x - r, m.y + r}, {m.x + r, m.y - r}, ink, ui.px(1.8));
    tooltip(ui, "Take it away. Key: Delete, when it is chosen");
    ImGui::PopID();
    if (clicked) {
      ++edit.placing.stroke;
      edit.give(without_feature(edit.scene, static_cast<int>(i)));
      if (edit.placing.selected == static_cast<int>(i)) edit.placing.selected = kNothing;
      if (edit.placing.selected > static_cast<int>(i)) --edit.placing.selected;
    }
  }
  ImGui::PopStyleVar();
  ImGui::Dummy({0, ui.px(2)});
}

void draw_machine(Edit& edit) {
  Scene changed = edit.scene;
  const auto fields = scene_fields();
  bool any = dial(edit.ui, fields, "start.heading_deg", dial_look("Machine heading", "°", -180, 180, 5, 0), changed);
  soft_text(edit.ui, "0 faces uphill, positive turns to the left: " + heading_words(edit.scene.start.heading) + ".",
            true);
  any |= dial(edit.ui, fields, "start.x_m", dial_look("Machine along the slope", "m", -10, 10, 0.1, 2), changed);
  any |= dial(edit.ui, fields, "start.y_m", dial_look("Machine up the slope", "m", -10, 10, 0.1, 2), changed);
  if (any) edit.give(with_start(edit.scene, changed.start));
}

void draw_thing(Edit& edit, int index, const Feature& before) {
  Ui& ui = edit.ui;
  const auto fields = feature_fields();
  Feature f = before;
  bool any = false;
  std::vector<std::string> kinds;
  int kind = 0;
  if (const auto* field = field_of(fields, "kind")) {
    const auto& choices = std::get<ChoiceFieldOf<Feature>>(field->kind);
    kind = choices.get(f);
    for (int i = 0; i < static_cast<int>(choices.choices.size()); ++i) {
      Feature of_kind;
      choices.set(of_kind, i);
      kinds.push_back(feature_name(of_kind));
    }
    if (choice(ui, "Kind of thing", kinds, kind, field->help, ImGui::GetContentRegionAvail().x)) {
      choices.set(f, kind);
      if (f.name == "Ridge" || f.name == "Ramp") f.name.clear();
      any = true;
    }
  }
  const bool round = is_round(f), wide = f.kind == FeatureKind::rough;
  any |= dial(ui, fields, "height_m", dial_look(is_sunk(f) ? "Depth" : "Height", "m", 0, 1, 0.01, 2), f);
  any |= dial(ui, fields, "length_m",
              dial_look(round  ? "Across"
                        : wide ? "Length"
                               : "Length, the way it is driven over",
                        "m", 0.1, wide ? 40 : 10, 0.05, 2),
              f);
  if (!round) {
    any |= dial(ui, fields, "width_m", dial_look("Width", "m", 0.1, wide ? 40 : 15, 0.05, 2), f);
    any |= dial(ui, fields, "angle_deg", dial_look("Turned", "°", -180, 180, 5, 0), f);
  }
  any |= dial(ui, fields, "x_m", dial_look("Along the slope", "m", -15, 15, 0.05, 2), f);
  any |= dial(ui, fields, "y_m", dial_look("Up the slope", "m", -15, 15, 0.05, 2), f);
  if (any) edit.give(with_feature_changed(edit.scene, index, f));
}

void draw_soil(Edit& edit) {
  Ui& ui = edit.ui;
  const Soil& soil = edit.scene.terrain.soil;
  const auto now = preset_of(soil);
  section(ui, "Kind of ground");
  std::vector<std::string> names;
  for (const SoilPreset& preset : soil_presets()) names.emplace_back(preset.name);
  const int as_set = static_cast<int>(names.size());
  if (!now) names.push_back(fmt::format("{} (as set)", soil.name.empty() ? "own numbers" : soil.name));
  int index = now.value_or(as_set);
  Scene changed = edit.scene;
  bool any = false;
  if (choice(ui, "Kind of ground", names, index, "Typical grip and rolling resistance of this kind of ground",
             ImGui::GetContentRegionAvail().x) &&
      index < as_set) {
    changed.terrain.soil = soil_of(soil_presets()[static_cast<std::size_t>(index)]);
    any = true;
  }
  const auto fields = scene_fields();
  SliderLook grip = dial_look("Grip", "", 0.05, 1.2, 0.05, 2);
  any |= dial(ui, fields, "terrain.soil.adhesion", grip, changed);
  any |= dial(ui, fields, "terrain.soil.rolling_resistance", dial_look("Rolling resistance", "", 0, 0.3, 0.005, 3),
              changed);
  if (!soil.adhesion_unlimited && soil.adhesion_across_ratio != 1)
    soft_text(ui, fmt::format("As set: {}.", grip_words(soil)), true);
  if (soil.adhesion_unlimited) {
    soft_text(ui, "Grip without limit is set: no wheel slides, whatever stands here.", true);
  } else if (now) {
    const SoilPreset& preset = soil_presets()[static_cast<std::size_t>(*now)];
    soft_text(
        ui,
        fmt::format("Expect a grip of {:.2f} to {:.2f}. {}", preset.adhesion_low, preset.adhesion_high, preset.source),
        true);
  } else {
    soft_text(ui, "Your own numbers. A wet morning can halve the grip of a dry afternoon.", true);
  }
  if (any) edit.give(std::move(changed));
}

}  // namespace

std::optional<Scene> draw_ground_tools(Ui& ui, Placing& placing, const Scene& scene) {
  forget_what_is_gone(placing, scene);
  if (ImGui::GetIO().MouseClicked[0]) ++placing.stroke;
  Edit edit{ui, placing, scene, {}};
  section(ui, "Ground and machine by hand");
  draw_palette(edit);
  draw_wheel_ways(edit);
  draw_list(edit);
  // What was put this frame is not in `scene` yet: shown in the next.
  if (placing.selected == kMachine)
    draw_machine(edit);
  else if (const Feature* chosen = feature_at_index(scene, placing.selected))
    draw_thing(edit, placing.selected, *chosen);
  draw_soil(edit);
  return edit.edited;
}

}  // namespace sidehill::screen

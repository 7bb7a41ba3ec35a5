// The slider of ui.h: track, number, typing.
#include <fmt/format.h>
#include <imgui_internal.h>  // to take the keyboard from a line that Tab leaves

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "render/screen/kit/caution.h"
#include "render/screen/kit/ui.h"

namespace sidehill::screen {
namespace {

void start_typing(Ui& ui, const SliderLook& look, double value) {
  ui.typing = look.label;
  ui.typing_starts = true;
  fmt::format_to_n(ui.typed, sizeof ui.typed - 1, "{:.{}f}", value * look.shown_factor + 0.0, look.digits).out[0] =
      '\0';
}

// The number's own place: turned into a text field by a click. Returns true if a number was typed.
bool number(Ui& ui, const SliderLook& look, ImVec2 high_corner, double& value) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const std::string shown = fmt::format("{:.{}f}", value * look.shown_factor + 0.0, look.digits);
  const std::string unit = look.unit.empty() || look.unit == "°" ? look.unit : " " + look.unit;
  const ImVec2 text_size = size_of(ui.fonts.text, shown + unit);
  const float note_width = look.note.empty() ? 0 : size_of(ui.fonts.small, look.note).x + ui.px(8);
  const Rect place{high_corner.x - text_size.x - note_width, high_corner.y, text_size.x, text_size.y};
  remember_readout(ui, look.label + " number", place);  // Enter on the slider types it
  if (ui.typing == look.label) {
    ImGui::SetCursorScreenPos({high_corner.x - ui.px(76), high_corner.y - ui.px(1)});
    ImGui::SetNextItemWidth(ui.px(76));
    if (ui.typing_starts) ImGui::SetKeyboardFocusHere();
    const bool entered = ImGui::InputText("##number", ui.typed, sizeof ui.typed,
                                          ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll);
    const bool left = !ui.typing_starts && ImGui::IsItemDeactivated();
    ui.typing_starts = false;
    if (!entered && !left) return false;
    const bool cancelled = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape));
    ui.typing.clear();
    std::string text = ui.typed;
    std::ranges::replace(text, ',', '.');
    char* end = nullptr;
    const double typed = std::strtod(text.c_str(), &end);
    if (cancelled || end == text.c_str() || !std::isfinite(typed)) return false;
    value = typed / look.shown_factor;
    return true;
  }
  ImGui::SetCursorScreenPos(place.low());
  if (ImGui::InvisibleButton("##number", {std::max(1.f, place.width), place.height})) {
    start_typing(ui, look, value);
  }
  if (ImGui::IsItemHovered()) {
    list.AddLine({place.x, place.y + place.height}, {place.x + place.width, place.y + place.height},
                 colour(theme::kAccent), ui.px(1.5));
    ImGui::SetMouseCursor(ImGuiMouseCursor_TextInput);
  }
  text_at(list, ui.fonts.text, place.low(), theme::kInk, shown + unit);
  if (!look.note.empty()) {
    text_at(list, ui.fonts.small, {high_corner.x, high_corner.y + ui.px(2)}, theme::kInkSoft, look.note, 1);
  }
  return false;
}

}  // namespace

bool slider(Ui& ui, const SliderLook& look, double& value) {
  ImGui::PushID(look.label.c_str());
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float line = ui.fonts.text->FontSize;
  const float end_width = look.end.empty() ? 0 : size_of(ui.fonts.small, look.end).x + ui.px(6);
  const Rect track{corner.x, corner.y + line + ui.px(1), width - end_width, ui.px(17)};
  bool changed = number(ui, look, {corner.x + width, corner.y}, value);
  text_at(list, ui.fonts.text, corner, theme::kInk, look.label);

  ImGui::SetCursorScreenPos(track.low());
  ImGui::InvisibleButton("##track", {track.width, track.height});
  remember(ui, look.label, track);
  const bool held = ImGui::IsItemActive(), hovered = ImGui::IsItemHovered();
  const bool focused = reach(ui, look.label, {corner.x, corner.y, width, line + ui.px(18)});
  const float grab = ui.px(7), from = track.x + grab, to = track.x + track.width - grab;
  const double span = look.max - look.min;
  const auto snapped = [&](double v) {
    return std::clamp(look.min + std::round((v - look.min) / look.step) * look.step, look.min, look.max);
  };
  if (held && span > 0) {
    const double along = std::clamp<double>((ImGui::GetIO().MousePos.x - from) / (to - from), 0, 1);
    const double wanted = snapped(look.min + along * span);
    if (wanted != value) value = wanted, changed = true;
  } else if ((focused || (hovered && ui.focus.empty())) && span > 0 && ui.typing.empty() && ui.nudge != 0) {
    value = snapped(value + ui.nudge * look.step), changed = true;
  } else if (focused && ui.enter) {
    start_typing(ui, look, value);
  }
  tooltip(ui, look.help);
  if (!look.end.empty())
    text_at(list, ui.fonts.small, {corner.x + width, track.y + (track.height - ui.fonts.small->FontSize) / 2},
            theme::kInkSoft, look.end, 1);

  const auto at = [&](double v) {
    const double along = span > 0 ? std::clamp((v - look.min) / span, 0.0, 1.0) : 0;
    return from + static_cast<float>(along) * (to - from);
  };
  const float y = track.y + track.height / 2, half = ui.px(2.5);
  list.AddRectFilled({track.x, y - half}, {track.x + track.width, y + half}, colour(theme::kTrough), half);
  // Filled from zero (or the near end), so that a heading of -90 reads as a turn to one side.
  const float zero = at(std::clamp(0.0, look.min, look.max)), now = at(value);
  list.AddRectFilled({std::min(zero, now), y - half}, {std::max(zero, now), y + half}, colour(theme::kAccent), half);
  const float mark = at(look.mark);
  list.AddLine({mark, y + ui.px(4)}, {mark, y + ui.px(8)}, colour(theme::kInkSoft), ui.px(1.5));
  const Colour inside = held || hovered ? theme::kAccentHover : theme::kAccent;
  list.AddCircleFilled({now, y}, grab, colour(inside), 24);
  list.AddCircleFilled({now, y}, grab - ui.px(3), colour(theme::kCard), 20);
  ImGui::SetCursorScreenPos({corner.x, track.y + track.height});
  ImGui::PopID();
  return changed;
}

}  // namespace sidehill::screen

#include "render/screen/kit/ui.h"

#include <fmt/format.h>
#include <imgui_internal.h>  // to take the keyboard from a line that Tab leaves

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "render/screen/kit/caution.h"

namespace sidehill::screen {
namespace {

constexpr double kTooltipDelay = 0.45;  // [s] at rest on an item before its help is shown
constexpr double kHelpWidth = 280;      // [px at scale 1] of its words

// An icon in the middle of a square of `size` pixels.
void draw_icon(ImDrawList& list, Icon icon, ImVec2 centre, float size, ImU32 ink) {
  const float r = size / 2, w = std::max(1.5f, size / 9);
  const auto at = [&](float x, float y) { return ImVec2(centre.x + x * r, centre.y + y * r); };
  switch (icon) {
    case Icon::none:
      break;
    case Icon::play:
      list.AddTriangleFilled(at(-0.7f, -0.9f), at(-0.7f, 0.9f), at(0.9f, 0), ink);
      break;
    case Icon::pause:
      list.AddRectFilled(at(-0.75f, -0.85f), at(-0.2f, 0.85f), ink, 1);
      list.AddRectFilled(at(0.2f, -0.85f), at(0.75f, 0.85f), ink, 1);
      break;
    case Icon::step:
      list.AddRectFilled(at(-0.8f, -0.85f), at(-0.45f, 0.85f), ink, 1);
      list.AddTriangleFilled(at(-0.2f, -0.85f), at(-0.2f, 0.85f), at(0.9f, 0), ink);
      break;
    case Icon::back:
      list.AddRectFilled(at(0.45f, -0.85f), at(0.8f, 0.85f), ink, 1);
      list.AddTriangleFilled(at(0.2f, -0.85f), at(0.2f, 0.85f), at(-0.9f, 0), ink);
      break;
    case Icon::find:
      list.AddCircle(at(-0.2f, -0.2f), 0.62f * r, ink, 20, w);
      list.AddLine(at(0.25f, 0.25f), at(0.95f, 0.95f), ink, 1.6f * w);
      break;
    case Icon::loop:
      list.PathArcTo(centre, r * 0.75f, 0.5f, 2.8f, 14);
      list.PathStroke(ink, 0, w);
      list.PathArcTo(centre, r * 0.75f, 3.64f, 5.94f, 14);
      list.PathStroke(ink, 0, w);
      list.AddTriangleFilled(at(0.3f, -0.15f), at(1.05f, -0.1f), at(0.75f, -0.85f), ink);
      list.AddTriangleFilled(at(-0.3f, 0.15f), at(-1.05f, 0.1f), at(-0.75f, 0.85f), ink);
      break;
    case Icon::undo:
    case Icon::redo: {
      const float s = icon == Icon::undo ? 1.f : -1.f;
      list.AddBezierCubic(at(-0.5f * s, -0.3f), at(0.6f * s, -0.7f), at(1.1f * s, 0.2f), at(0.5f * s, 0.85f), ink, w,
                          16);
      list.AddTriangleFilled(at(-0.95f * s, -0.3f), at(-0.2f * s, -0.85f), at(-0.2f * s, 0.25f), ink);
      break;
    }
    case Icon::present:
      list.AddRect(at(-0.95f, -0.8f), at(0.95f, 0.45f), ink, 1, 0, w);
      list.AddLine(at(0, 0.45f), at(-0.45f, 0.95f), ink, w);
      list.AddLine(at(0, 0.45f), at(0.45f, 0.95f), ink, w);
      break;
    case Icon::close:
      list.AddLine(at(-0.7f, -0.7f), at(0.7f, 0.7f), ink, w);
      list.AddLine(at(-0.7f, 0.7f), at(0.7f, -0.7f), ink, w);
      break;
    case Icon::reset:
    case Icon::restore:
      list.PathArcTo(centre, r * 0.75f, -2.2f, 2.6f, 20);
      list.PathStroke(ink, 0, w);
      list.AddTriangleFilled(at(-0.95f, -0.75f), at(-0.05f, -0.95f), at(-0.35f, -0.1f), ink);
      break;
    case Icon::drop:
      list.AddLine(at(0, -0.95f), at(0, 0.3f), ink, w);
      list.AddTriangleFilled(at(-0.55f, 0.05f), at(0.55f, 0.05f), at(0, 0.65f), ink);
      list.AddLine(at(-0.9f, 0.9f), at(0.9f, 0.9f), ink, w);
      break;
    case Icon::drive:
      list.AddCircle(at(-0.5f, 0.45f), r * 0.42f, ink, 16, w);
      list.AddLine(at(-0.2f, -0.45f), at(0.5f, -0.45f), ink, w);
      list.AddTriangleFilled(at(0.35f, -0.85f), at(0.35f, -0.05f), at(0.98f, -0.45f), ink);
      list.AddLine(at(-0.95f, 0.95f), at(0.95f, 0.95f), ink, w);
      break;
    case Icon::by_hand:  // a steering wheel
      list.AddCircle(centre, r * 0.9f, ink, 20, w);
      list.AddCircleFilled(centre, r * 0.25f, ink);
      list.AddLine(at(-0.85f, -0.1f), at(0.85f, -0.1f), ink, w);
      list.AddLine(centre, at(0, 0.85f), ink, w);
      break;
    case Icon::follow:
      list.AddCircle(centre, r * 0.6f, ink, 20, w);
      list.AddCircleFilled(centre, r * 0.2f, ink);
      list.AddLine(at(0, -1), at(0, -0.45f), ink, w);
      list.AddLine(at(0, 0.45f), at(0, 1), ink, w);
      list.AddLine(at(-1, 0), at(-0.45f, 0), ink, w);
      list.AddLine(at(0.45f, 0), at(1, 0), ink, w);
      break;
  }
}

}  // namespace

ImU32 colour(Colour c) { return IM_COL32(c.r, c.g, c.b, c.a); }

ImVec4 vector_colour(Colour c) { return ImGui::ColorConvertU32ToFloat4(colour(c)); }

void apply_style(double scale) {
  ImGuiStyle style;
  style.WindowPadding = {16, 12};
  style.WindowRounding = 0;
  style.WindowBorderSize = 0;
  style.FrameRounding = 4;
  style.FrameBorderSize = 1;  // fields and boxes look like such
  style.FramePadding = {8, 4};
  style.ItemSpacing = {8, 5};
  style.PopupRounding = 5;
  style.PopupBorderSize = 1;
  style.ScrollbarSize = 10;
  style.ScrollbarRounding = 5;
  const auto set = [&](ImGuiCol slot, Colour c) { style.Colors[slot] = vector_colour(c); };
  set(ImGuiCol_Text, theme::kInk);
  set(ImGuiCol_TextDisabled, theme::kInkSoft);
  set(ImGuiCol_WindowBg, theme::kPaper);
  set(ImGuiCol_ChildBg, with_alpha(theme::kPaper, 0));
  set(ImGuiCol_PopupBg, theme::kCard);
  set(ImGuiCol_Border, theme::kRule);
  set(ImGuiCol_FrameBg, theme::kCard);
  set(ImGuiCol_FrameBgHovered, theme::kCard);
  set(ImGuiCol_FrameBgActive, theme::kCard);
  set(ImGuiCol_Button, theme::kCard);
  set(ImGuiCol_ButtonHovered, theme::kTrough);
  set(ImGuiCol_ButtonActive, theme::kRule);
  set(ImGuiCol_Header, theme::kTrough);
  set(ImGuiCol_HeaderHovered, theme::kTrough);
  set(ImGuiCol_HeaderActive, theme::kRule);
  set(ImGuiCol_CheckMark, theme::kAccent);
  set(ImGuiCol_Separator, theme::kRule);
  set(ImGuiCol_ScrollbarBg, with_alpha(theme::kTrough, 0.4));
  set(ImGuiCol_ScrollbarGrab, theme::kRule);
  set(ImGuiCol_ScrollbarGrabHovered, theme::kInkSoft);
  set(ImGuiCol_ScrollbarGrabActive, theme::kInkSoft);
  set(ImGuiCol_TextSelectedBg, with_alpha(theme::kAccent, 0.3));
  style.ScaleAllSizes(static_cast<float>(scale));
  ImGui::GetStyle() = style;
}

void begin_items(Ui& ui) {
  const bool typing = !ui.typing.empty() || ImGui::GetIO().WantTextInput;
  const auto pressed = [&](ImGuiKey key) { return !typing && ImGui::IsKeyPressed(ImGui::GetKeyIndex(key)); };
  ui.focus_moved = false;
  if (std::ranges::find(ui.order, ui.focus) == ui.order.end()) ui.focus.clear();  // it has gone
  const bool leaves = !ui.field.empty() && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Tab));
  if (leaves) {
    ImGui::ClearActiveID();
    ui.focus = ui.field;
  }
  if ((leaves || pressed(ImGuiKey_Tab)) && !ui.order.empty()) {
    const auto found = std::ranges::find(ui.order, ui.focus);
    const auto count = static_cast<std::ptrdiff_t>(ui.order.size());
    std::ptrdiff_t at = found == ui.order.end() ? -1 : found - ui.order.begin();
    if (ImGui::GetIO().KeyShift)
      at = at <= 0 ? count - 1 : at - 1;
    else
      at = (at + 1) % count;
    ui.focus = ui.order[static_cast<std::size_t>(at)];
    ui.focus_moved = true;
  }
  if (pressed(ImGuiKey_Escape) || ImGui::GetIO().MouseDown[0]) ui.focus.clear();
  ui.enter = pressed(ImGuiKey_Enter);
  ui.nudge = ui.arrows_taken ? 0
                             : (pressed(ImGuiKey_RightArrow) || pressed(ImGuiKey_UpArrow) ? 1 : 0) -
                                   (pressed(ImGuiKey_LeftArrow) || pressed(ImGuiKey_DownArrow) ? 1 : 0);
  ui.order.clear();
  ui.items.clear();
  ui.seen.clear();
  ui.readouts.clear();
  ui.field.clear();
  ui.help_is_due = false;
}

bool reach(Ui& ui, std::string_view label, Rect rect) {
  ui.order.emplace_back(label);
  if (ui.focus != label) return false;
  if (ui.focus_moved) ImGui::SetScrollFromPosY(rect.y - ImGui::GetWindowPos().y, 0.5f);
  ImGui::GetWindowDrawList()->AddRect({rect.x - ui.px(2), rect.y - ui.px(2)},
                                      {rect.x + rect.width + ui.px(2), rect.y + rect.height + ui.px(2)},
                                      colour(theme::kInk), ui.px(4), 0, ui.px(2));
  return true;
}

void before_field(const Ui& ui, std::string_view label, bool by_tab) {
  if (ui.focus == label && (ui.enter || (by_tab && ui.focus_moved))) ImGui::SetKeyboardFocusHere();
}

void after_field(Ui& ui, std::string_view label) {
  const ImVec2 low = ImGui::GetItemRectMin(), size = ImGui::GetItemRectSize();
  const Rect rect{low.x, low.y, size.x, size.y};
  remember(ui, label, rect);
  reach(ui, label, rect);
  if (ImGui::IsItemActive()) ui.field = label;
}

bool popup_entry(Ui& ui, const std::string& item, const char* text, bool chosen) {
  bool pressed = ImGui::Selectable(text, chosen);
  const ImVec2 low = ImGui::GetItemRectMin(), size = ImGui::GetItemRectSize();
  const Rect rect{low.x, low.y, size.x, size.y};
  remember(ui, item, rect);
  if (reach(ui, item, rect) && ui.enter) {
    pressed = true;
    ImGui::CloseCurrentPopup();
  }
  return pressed;
}

bool escape_pressed() { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape)); }
void popup_escape() {
  if (escape_pressed()) ImGui::CloseCurrentPopup();
}

bool tick(Ui& ui, const char* label, bool& on, std::string_view help) {
  const bool changed = ImGui::Checkbox(label, &on);
  const ImVec2 low = ImGui::GetItemRectMin(), size = ImGui::GetItemRectSize();
  const Rect rect{low.x, low.y, size.x, size.y};
  tooltip(ui, help);
  remember(ui, label, {low.x, low.y, size.y, size.y});
  if (!reach(ui, label, rect) || !ui.enter) return changed;
  on = !on;
  return true;
}

void flip_fold(const char* label) {
  const ImGuiID id = ImGui::GetID(label);
  ImGuiStorage* storage = ImGui::GetStateStorage();
  storage->SetInt(id, !storage->GetInt(id, 0));
}

bool header(Ui& ui, const char* label) {
  ImGui::PushFont(ui.fonts.small);
  if (ui.enter && ui.focus == label) flip_fold(label);
  const bool open = ImGui::CollapsingHeader(label);
  ImGui::PopFont();
  const ImVec2 low = ImGui::GetItemRectMin(), size = ImGui::GetItemRectSize();
  const Rect rect{low.x, low.y, size.x, size.y};
  remember(ui, label, rect);
  reach(ui, label, rect);
  return open;
}

void remember(Ui& ui, std::string_view label, Rect rect) {
  ui.items.insert_or_assign(std::string(label), rect);
  const ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 low = list.GetClipRectMin(), high = list.GetClipRectMax();
  const float x = std::max(rect.x, low.x), y = std::max(rect.y, low.y);
  ui.seen.insert_or_assign(std::string(label), Rect{x, y, std::max(0.f, std::min(rect.x + rect.width, high.x) - x),
                                                    std::max(0.f, std::min(rect.y + rect.height, high.y) - y)});
}

void remember_readout(Ui& ui, std::string_view label, Rect rect) {
  remember(ui, label, rect);
  ui.readouts.emplace(label);
}

ImVec2 size_of(const ImFont* font, std::string_view text) {
  return font->CalcTextSizeA(font->FontSize, 1e9f, 0, text.data(), text.data() + text.size());
}

void text_at(ImDrawList& list, const ImFont* font, ImVec2 place, Colour ink, std::string_view text, float align) {
  if (align != 0) place.x -= align * size_of(font, text).x;
  place.x = std::floor(place.x + 0.5f);  // whole pixels keep the letters sharp
  place.y = std::floor(place.y + 0.5f);
  list.AddText(font, font->FontSize, place, colour(ink), text.data(), text.data() + text.size());
}

std::string fitted(const ImFont* font, std::string_view text, float width) {
  if (size_of(font, text).x <= width) return std::string(text);
  std::string cut(text);
  while (!cut.empty() && size_of(font, cut + "\xE2\x80\xA6").x > width) {
    do cut.pop_back();
    while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0) == 0x80);
  }
  return cut + "\xE2\x80\xA6";
}

std::string fitted_end(const ImFont* font, std::string_view text, float width) {
  if (size_of(font, text).x <= width) return std::string(text);
  std::string cut(text);
  while (!cut.empty() && size_of(font, "\xE2\x80\xA6" + cut).x > width) {
    do cut.erase(0, 1);
    while (!cut.empty() && (static_cast<unsigned char>(cut.front()) & 0xC0) == 0x80);
  }
  return "\xE2\x80\xA6" + cut;
}

void tooltip(Ui& ui, std::string_view text) {
  if (text.empty() || !ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem)) return;
  // Help comes once the mouse has rested on one item, beside it rather than over it, and not while it is being used.
  const ImGuiIO& io = ImGui::GetIO();
  // By place, not by label: a button that turns from Play to Pause is still the one just pressed.
  const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
  const unsigned id = 1 + static_cast<unsigned>(low.x) * 4096 + static_cast<unsigned>(low.y);
  const double now = ImGui::GetTime();
  if (ui.hovered != id) ui.hovered = id, ui.hovered_since = now, ui.pressed_there = false;
  if (io.MouseDown[0]) ui.pressed_there = true;
  if (io.MouseDelta.x != 0 || io.MouseDelta.y != 0) ui.hovered_since = now;
  if (ui.pressed_there) return;
  // ImGui hides a new window for a frame or two while it finds its size: frames are wanted a little longer.
  if (now - ui.hovered_since < 2 * kTooltipDelay) ui.help_is_due = true;
  if (now - ui.hovered_since < kTooltipDelay) return;
  // Beside the panel where there is room: below it would lie over the next sliders and buttons.
  const ImGuiWindow& panel = *ImGui::GetCurrentWindow()->RootWindow;
  const float gap = ui.px(6), wanted = ui.px(kHelpWidth + 20) + gap, panel_end = panel.Pos.x + panel.Size.x;
  const bool above = low.y > io.DisplaySize.y / 2, leftwards = low.x > io.DisplaySize.x * 0.6f;
  const float beside_up = above ? 1.f : 0.f, beside_y = above ? high.y : low.y;
  if (panel_end + wanted <= io.DisplaySize.x)
    ImGui::SetNextWindowPos({panel_end + gap, beside_y}, ImGuiCond_Always, {0, beside_up});
  else if (panel.Pos.x >= wanted)
    ImGui::SetNextWindowPos({panel.Pos.x - gap, beside_y}, ImGuiCond_Always, {1, beside_up});
  else
    ImGui::SetNextWindowPos({leftwards ? high.x : low.x, above ? low.y - ui.px(5) : high.y + ui.px(5)},
                            ImGuiCond_Always, {leftwards ? 1.f : 0.f, above ? 1.f : 0.f});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(10), ui.px(8)));
  ImGui::BeginTooltip();
  wrapped_words(text, ui.px(kHelpWidth));
  ImGui::EndTooltip();
  ImGui::PopStyleVar();
}

bool button(Ui& ui, std::string_view id, Icon icon, std::string_view help, bool pressed, float width, bool enabled) {
  ImGui::PushID(id.data(), id.data() + id.size());
  const std::string_view label = id.starts_with("##") ? std::string_view("") : id;  // "##..." shows its icon only
  const float height = ui.px(30), icon_size = ui.px(13);
  const ImVec2 text_size = size_of(ui.fonts.text, label);
  const float content = text_size.x + (icon == Icon::none ? 0 : icon_size + (label.empty() ? 0 : ui.px(7)));
  if (width <= 0) width = content + ui.px(22);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  bool clicked = ImGui::InvisibleButton("##button", {width, height}) && enabled;
  enabled ? remember(ui, id, {corner.x, corner.y, width, height})
          : remember_readout(ui, id, {corner.x, corner.y, width, height});
  if (enabled && reach(ui, id, {corner.x, corner.y, width, height}) && ui.enter) clicked = true;
  const bool hovered = ImGui::IsItemHovered() && enabled, held = ImGui::IsItemActive() && enabled;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 end{corner.x + width, corner.y + height};
  pressed = pressed && enabled;
  const Colour fill = pressed ? (hovered ? theme::kAccentHover : theme::kAccent)
                              : (held      ? theme::kRule
                                 : hovered ? theme::kTrough
                                           : theme::kCard);
  const Colour ink = pressed ? theme::kOnAccent : enabled ? theme::kInk : theme::kRule;
  list.AddRectFilled(corner, end, colour(fill), ui.px(5));
  list.AddRect(corner, end, colour(pressed ? theme::kAccent : theme::kRule), ui.px(5), 0, ui.px(1));
  float x = corner.x + (width - content) / 2;
  if (icon != Icon::none) {
    draw_icon(list, icon, {x + icon_size / 2, corner.y + height / 2}, icon_size, colour(ink));
    x += icon_size + ui.px(7);
  }
  text_at(list, ui.fonts.text, {x, corner.y + (height - text_size.y) / 2}, ink, label);
  tooltip(ui, help);
  ImGui::PopID();
  return clicked;
}

bool choice(Ui& ui, std::string_view id, const std::vector<std::string>& names, int& index, std::string_view help,
            float max_width) {
  ImGui::PushID(id.data(), id.data() + id.size());
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float caret = ui.px(14);
  const std::string now = fitted(ui.fonts.text, names.at(static_cast<std::size_t>(index)), max_width - caret);
  const ImVec2 corner = ImGui::GetCursorScreenPos(), size = size_of(ui.fonts.text, now);
  const Rect place{corner.x, corner.y, size.x + caret, size.y};
  const bool clicked = ImGui::InvisibleButton("##choice", {place.width, place.height});
  remember(ui, id, place);
  const Colour ink = ImGui::IsItemHovered() ? theme::kAccentHover : theme::kAccent;
  tooltip(ui, help);
  text_at(list, ui.fonts.text, corner, ink, now);
  const float x = corner.x + size.x + ui.px(5), y = corner.y + size.y / 2;
  list.AddTriangleFilled({x, y - ui.px(2)}, {x + ui.px(9), y - ui.px(2)}, {x + ui.px(4.5), y + ui.px(4)}, colour(ink));
  const bool focused = reach(ui, id, place);
  if (clicked || (focused && ui.enter)) ImGui::OpenPopup("##list");
  bool changed = false;
  if (focused && ui.nudge != 0) {
    const int wanted = std::clamp(index + ui.nudge, 0, static_cast<int>(names.size()) - 1);
    changed = wanted != index;
    index = wanted;
  }
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(8), ui.px(8)));
  if (ImGui::BeginPopup("##list")) {
    for (int i = 0; i < static_cast<int>(names.size()); ++i) {
      const std::string& name = names[static_cast<std::size_t>(i)];
      if (!popup_entry(ui, std::string(id) + ": " + name, name.c_str(), i == index)) continue;
      if (i != index) index = i, changed = true;
      if (ui.enter) ui.focus = id;
    }
    popup_escape();
    ImGui::EndPopup();
  }
  ImGui::PopStyleVar();
  ImGui::PopID();
  return changed;
}

void section(Ui& ui, const char* title, const std::string& note) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  ImGui::Dummy({0, ui.px(1)});
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float taken = note.empty() ? 0 : size_of(ui.fonts.small, note).x + ui.px(12);
  const std::string fits = fitted(ui.fonts.small, title, width - taken);
  const ImVec2 size = size_of(ui.fonts.small, fits);
  text_at(list, ui.fonts.small, corner, theme::kAccent, fits);
  const float y = corner.y + size.y / 2 + ui.px(1);
  float end = corner.x + width;
  if (!note.empty()) {
    text_at(list, ui.fonts.small, {end, corner.y}, theme::kInk, note, 1);
    end -= size_of(ui.fonts.small, note).x + ui.px(8);
  }
  if (corner.x + size.x + ui.px(8) < end)
    list.AddLine({corner.x + size.x + ui.px(8), y}, {end, y}, colour(theme::kRule), ui.px(1));
  ImGui::Dummy({width, size.y});
}

void soft_text(Ui& ui, std::string_view text, bool wrapped) {
  ImGui::PushFont(ui.fonts.small);
  ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(theme::kInkSoft));
  wrapped ? wrapped_words(text) : ImGui::TextUnformatted(text.data(), text.data() + text.size());
  ImGui::PopStyleColor();
  ImGui::PopFont();
}

}  // namespace sidehill::screen

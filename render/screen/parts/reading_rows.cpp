#include "render/screen/parts/reading_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screen/kit/caution.h"
namespace sidehill::screen {
namespace {

// A small arrow that points right while closed, down while open.
void draw_fold(ImDrawList& list, ImVec2 middle, float size, bool open, Colour ink) {
  const float r = size / 2;
  if (open)
    list.AddTriangleFilled({middle.x - r, middle.y - r * 0.6f}, {middle.x + r, middle.y - r * 0.6f},
                           {middle.x, middle.y + r * 0.8f}, colour(ink));
  else
    list.AddTriangleFilled({middle.x - r * 0.6f, middle.y - r}, {middle.x + r * 0.8f, middle.y},
                           {middle.x - r * 0.6f, middle.y + r}, colour(ink));
}

void heading(Ui& ui, const std::string& text, const std::string& note = {}) {
  ImGui::Dummy({0, ui.px(3)});
  section(ui, text.c_str(), note);
}

// One row: returns true if it was clicked, or Enter pressed while the keyboard is on it.
bool row(Ui& ui, const Reading& reading, bool open, double row_height) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, height = ui.px(row_height);
  const std::string value = value_words(reading, ui.units);
  std::string lies = interval_words(reading, ui.units);
  // Beside every angle stands how far off it may be, or that nobody knows.
  if (lies.empty() && reading.quantity == Quantity::angle && reading.value)
    lies = reading.doubt_words == kDoubtIsComing ? "not known yet" : "not known";
  const std::string interval = lies.empty() ? "" : "(" + lies + ")";
  ImGui::PushID(reading.id.c_str());
  bool pressed = ImGui::InvisibleButton("##row", {std::max(1.f, width), height});
  const bool hovered = ImGui::IsItemHovered();
  ImGui::PopID();
  if (!open) tooltip(ui, "Click, or Tab to it and press Enter, for how this was found.");
  const std::string item = "Reading: " + reading.id;
  remember(ui, item, {corner.x, corner.y, width, height});
  if (reach(ui, item, {corner.x, corner.y, width, height}) && ui.enter) pressed = true;
  if (hovered || open)
    list.AddRectFilled(corner, {corner.x + width, corner.y + height},
                       colour(with_alpha(theme::kTrough, open ? 0.9 : 0.5)), ui.px(3));
  draw_fold(list, {corner.x + ui.px(6), corner.y + height / 2}, ui.px(8), open, theme::kAccent);

  const float small_y = corner.y + (height - ui.fonts.small->FontSize) / 2;
  const float text_y = corner.y + (height - ui.fonts.text->FontSize) / 2;
  // From the right: interval, value; the name takes what is left. Intervals stand in a column where there is room.
  float right = corner.x + width - ui.px(4);
  const float most = width / 2 - ui.px(20);
  const float column =
      std::min(most, std::max(size_of(ui.fonts.small, interval).x, width > ui.px(280) ? ui.px(88) : 0.f));
  if (!interval.empty())
    text_at(list, ui.fonts.small, {right - column, small_y}, theme::kInkSoft, fitted(ui.fonts.small, interval, column));
  right -= column + ui.px(6);
  const bool low = row_height < kReadingRow;
  const ImFont* font = reading.value && !low ? ui.fonts.text : ui.fonts.small;
  const float left = corner.x + ui.px(16);
  const std::string fits = fitted(font, value, right - left - ui.px(40));
  // Words that stand for a value need no column of intervals beside them.
  const float value_right = reading.value ? right : corner.x + width - ui.px(4);
  text_at(list, font, {value_right, reading.value && !low ? text_y : small_y},
          reading.value ? theme::kInk : theme::kInkSoft, fits, 1);
  const float room = value_right - size_of(font, fits).x - ui.px(8) - left;
  std::string name = reading.name + (reading.note.empty() ? "" : " (" + reading.note + ")");
  if (size_of(ui.fonts.small, name).x > room) name = reading.name;  // the note stands below
  text_at(list, ui.fonts.small, {left, small_y}, theme::kInk, fitted(ui.fonts.small, name, room));
  return pressed;
}

}  // namespace

bool folded(Ui& ui, const char* title) { return header(ui, title); }

void draw_note(Ui& ui, const std::string& item, const std::string& words) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, pad = ui.px(10);
  const float wrap = std::max(ui.px(40), width - 2 * pad - ui.px(4));
  const std::string lines = in_lines(ui.fonts.small, words, wrap);
  const ImVec2 size = size_of(ui.fonts.small, lines);
  const Rect card{corner.x, corner.y, width, size.y + ui.px(12)};
  list.AddRectFilled(card.low(), card.high(), colour(theme::kCard), ui.px(4));
  list.AddRectFilled(card.low(), {card.x + ui.px(4), card.y + card.height}, colour(theme::kAccent), ui.px(2));
  list.AddText(ui.fonts.small, ui.fonts.small->FontSize, {card.x + pad + ui.px(2), card.y + ui.px(6)},
               colour(theme::kInk), lines.c_str());
  remember_readout(ui, item, card);
  ImGui::Dummy({width, card.height});
  ImGui::Dummy({0, ui.px(2)});
}

double row_height_for(const Ui& ui, std::span<const Reading> readings, double room) {
  double rows = 0;
  const std::string* before = nullptr;
  for (const Reading& reading : readings) {
    rows += before && *before == reading.group ? 1 : 2;  // with its heading
    before = &reading.group;
  }
  return rows > 0 ? std::clamp(std::floor(room / ui.scale / rows * 4) / 4, kLeastReadingRow, kReadingRow) : kReadingRow;
}

void draw_readings(Ui& ui, std::span<const Reading> readings, std::string& opened, const std::string& group,
                   double row_height) {
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(8), 0));
  std::string before;
  for (const Reading& reading : readings) {
    if (!group.empty() && reading.group != group) continue;
    if (group.empty() && reading.group != before) {
      before = reading.group;
      if (row_height < kReadingRow) {
        const ImVec2 corner = ImGui::GetCursorScreenPos();
        const float height = ui.px(row_height);
        text_at(*ImGui::GetWindowDrawList(), ui.fonts.small,
                {corner.x, corner.y + (height - ui.fonts.small->FontSize) / 2}, theme::kAccent,
                fitted(ui.fonts.small, before, ImGui::GetContentRegionAvail().x));
        ImGui::Dummy({0, height});
      } else {
        heading(ui, before);
      }
    }
    const bool open = opened == reading.id;
    if (row(ui, reading, open, row_height)) opened = open ? "" : reading.id;
    if (open) {
      const std::string with = reading.note.empty() ? "" : reading.name + ": " + reading.note + ". ";
      draw_note(ui, "Found: " + reading.id, with + found_words(reading, ui.units));
    }
  }
  ImGui::PopStyleVar();
}

void draw_differences(Ui& ui, std::span<const Difference> rows, const std::string& name_a, const std::string& name_b,
                      bool only_what_differs) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float width = ImGui::GetContentRegionAvail().x, height = ui.px(21);
  const float word = ui.px(52);                       // "B?": the better one
  const float cell = std::min(ui.px(84), width / 6);  // a value
  const float name = width - 3 * cell - word;
  std::string before;
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(8), 0));
  const auto columns = [&](ImVec2 corner, const ImFont* font, Colour ink, const std::string& a, const std::string& b,
                           const std::string& change) {
    const float y = corner.y + (height - font->FontSize) / 2;
    float right = corner.x + name;
    for (const std::string* text : {&a, &b, &change}) {
      right += cell;
      text_at(list, font, {right, y}, ink, fitted(font, *text, cell - ui.px(6)), 1);
    }
  };
  const ImVec2 top = ImGui::GetCursorScreenPos();
  columns(top, ui.fonts.small, theme::kInkSoft, name_a, name_b, name_b + " - " + name_a);
  text_at(list, ui.fonts.small, {top.x + width, top.y + (height - ui.fonts.small->FontSize) / 2}, theme::kInkSoft,
          "better", 1);
  ImGui::Dummy({width, height});
  int listed = 0;
  for (const Difference& d : rows) {
    const bool same_words = !d.a && !d.b && d.instead_a == d.instead_b;
    const std::string change = d.change ? shown_change(d.quantity, *d.a, *d.b, ui.units) : "";
    const bool alike = same_words || (d.change && change.find_first_of("123456789") == std::string::npos);
    if (only_what_differs && alike) continue;
    ++listed;
    if (d.group != before) heading(ui, before = d.group);
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    ImGui::PushID(d.id.c_str());
    ImGui::InvisibleButton("##row", {std::max(1.f, width), height});
    ImGui::PopID();
    if (ImGui::IsItemHovered())
      list.AddRectFilled(corner, {corner.x + width, corner.y + height}, colour(with_alpha(theme::kTrough, 0.5)),
                         ui.px(3));
    const std::string off = d.low ? "Nineteen times in twenty the difference is " +
                                        shown_change_interval(d.quantity, d.low, d.high, ui.units) +
                                        "; what is not known of both alike cancels."
                                  : std::string("How far off the difference may be is not known.");
    tooltip(ui, d.name + ". " + off +
                    (d.better != 0 && d.within_doubt ? " It may be the other way round: which is better is not certain."
                                                     : ""));
    remember_readout(ui, "Difference: " + d.id, {corner.x, corner.y, width, height});
    text_at(list, ui.fonts.small, {corner.x, corner.y + (height - ui.fonts.small->FontSize) / 2}, theme::kInk,
            fitted(ui.fonts.small, d.name, name - ui.px(4)));
    columns(corner, ui.fonts.small, theme::kInk, d.a ? shown(d.quantity, d.a, ui.units) : d.instead_a,
            d.b ? shown(d.quantity, d.b, ui.units) : d.instead_b, alike ? "=" : change);
    if (d.better != 0) {  // an arrow to the left for the one, to the right for the other, and the word
      const float x = corner.x + name + 3 * cell + ui.px(10), y = corner.y + height / 2, r = ui.px(4);
      const Colour ink = d.within_doubt ? theme::kInkSoft : theme::kSteady;
      const float point = d.better < 0 ? -r : r;
      list.AddTriangleFilled({x - point, y - r}, {x - point, y + r}, {x + point, y}, colour(ink));
      const std::string& who = d.better < 0 ? name_a : name_b;
      text_at(list, ui.fonts.small, {x + ui.px(9), y - ui.fonts.small->FontSize / 2}, ink,
              fitted(ui.fonts.small, d.within_doubt ? who + "?" : who, word - ui.px(18)));
    }
  }
  if (listed == 0) soft_text(ui, "Nothing differs.");
  ImGui::PopStyleVar();
}

}  // namespace sidehill::screen

#include "render/screen/panels/panels_side_by_side.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "render/screen/kit/caution.h"
#include "render/screen/parts/charts.h"
#include "render/text/job/set_ups_report.h"

namespace sidehill::screen {
namespace {

constexpr double kSideWidth = 780, kSideRow = 23, kSideWord = 112;  // of the drawer, a row, a set-up's column [px]
constexpr const char* kSideNotYet = "...";

// The two set-ups, as far as they are known of the scenes as they are now.
struct SidePair {
  std::array<const Session*, 2> sessions;
  std::array<const SetUpAnswer*, 2> answers;
  std::optional<SetUpDifference> together;  // once the intervals of both are known

  explicit SidePair(const Desk& desk) : sessions{&desk.session, desk.other.get()}, answers{} {
    for (std::size_t i = 0; i < 2; ++i) answers[i] = sessions[i]->set_up();
    const Uncertainty *a = sessions[0]->doubts(), *b = sessions[1]->doubts();
    if (a && b) together = difference(sessions[0]->scene(), *a, sessions[1]->scene(), *b);
  }
  bool known(const SetUpRow& row, std::size_t i) const {
    return answers[i] && (!row.of_headings || sessions[i]->turned_is_known());
  }
  bool whole() const {
    return answers[0] && answers[1] && sessions[0]->answer_complete() && sessions[1]->answer_complete() && together;
  }
  std::vector<ShownSetUp> shown() const { return {{"A", answers[0]}, {"B", answers[1]}}; }
};

void draw_side_lines(Ui& ui, const char* item, const std::vector<SetUpLine>& lines) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  for (const SetUpLine& line : lines) {
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(line.grave ? theme::kLifted : theme::kInk));
    wrapped_words(line.before + line.words);
    ImGui::PopStyleColor();
  }
  remember_readout(ui, item,
                   {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ImGui::GetCursorScreenPos().y - corner.y});
}

// The same words in both set-ups do not say that both are alike.
bool may_hide_a_difference(const std::string& words) {
  return words.starts_with("not known") || words == "as its sheet says";
}

void draw_side_rows(Ui& ui, const SidePair& pair) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float width = ImGui::GetContentRegionAvail().x, height = ui.px(kSideRow);
  const float cell = std::min(ui.px(kSideWord), width / 5), change = std::min(ui.px(232), width / 3);
  const float name = width - 2 * cell - change;
  const auto at = [&](ImVec2 corner, const ImFont* font, float right, float room, Colour ink,
                      const std::string& words) {
    text_at(list, font, {right, corner.y + (height - font->FontSize) / 2}, ink, fitted(font, words, room - ui.px(8)),
            1);
  };
  const ImVec2 top = ImGui::GetCursorScreenPos();
  at(top, ui.fonts.text, top.x + name + cell, cell, theme::kInkSoft, "A");
  at(top, ui.fonts.text, top.x + name + 2 * cell, cell, theme::kInkSoft, "B");
  at(top, ui.fonts.small, top.x + width, change, theme::kInkSoft, "B compared with A (19 times in 20)");
  ImGui::SetCursorScreenPos({top.x, top.y + height});
  bool shaded = false;
  for (const SetUpRow& row : set_up_rows()) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const Rect whole{corner.x, corner.y, width, height};
    if ((shaded = !shaded)) list.AddRectFilled(whole.low(), whole.high(), colour(with_alpha(theme::kTrough, 0.5)));
    std::array<std::string, 2> words;
    for (std::size_t i = 0; i < 2; ++i) {
      words[i] = pair.known(row, i) ? cell_words(row, *pair.answers[i], ui.units) : kSideNotYet;
      const bool bad = pair.known(row, i) && too_much(row, *pair.answers[i]);
      const float right = corner.x + name + (static_cast<float>(i) + 1) * cell;
      const bool fits = size_of(ui.fonts.text, words[i]).x <= cell - ui.px(8);
      at(corner, fits ? ui.fonts.text : ui.fonts.small, right, cell, bad ? theme::kLifted : theme::kInk, words[i]);
    }
    const bool both = pair.known(row, 0) && pair.known(row, 1);
    const SetUpDifference* together = pair.together ? &*pair.together : nullptr;
    const std::string differs = !both || (row.pair && !together) ? kSideNotYet
                                : words[0] == words[1]
                                    ? (may_hide_a_difference(words[0]) ? "" : "=")
                                    : difference_words(row, *pair.answers[0], *pair.answers[1], together, ui.units);
    at(corner, ui.fonts.small, corner.x + width, change, theme::kInk, differs);
    text_at(list, ui.fonts.text, {corner.x + ui.px(4), corner.y + (height - ui.fonts.text->FontSize) / 2}, theme::kInk,
            fitted(ui.fonts.text, std::string(row.name), name - ui.px(8)));
    hover_help(ui, fmt::format("Side by side: {}", row.key), whole,
               fmt::format("{}.\nA: {}\nB: {}{}", row.name, words[0], words[1],
                           differs.empty() || differs == "=" ? "" : "\nB compared with A: " + differs));
    ImGui::SetCursorScreenPos({corner.x, corner.y + height});
  }
  ImGui::Dummy({0, ui.px(4)});
}

void draw_pair(Ui& ui, const Desk& desk, ViewChoices& choices) {
  const SidePair pair(desk);
  for (std::size_t i = 0; i < 2; ++i)
    if (!pair.sessions[i]->refusal().empty()) {
      wrapped_words(fmt::format("{} cannot exist: {}", i == 0 ? "A" : "B", pair.sessions[i]->refusal()));
      return;
    }
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  if (pair.whole()) {
    draw_side_lines(ui, "Side by side: worst", first_lines(pair.shown(), ui.units));
    draw_side_lines(ui, "Side by side: limits", lines_of_limits(pair.shown(), ui.units));
    ImGui::Dummy({0, ui.px(4)});
    choices.side_by_side_head = ImGui::GetCursorScreenPos().y - corner.y;
  } else {  // the rows keep their place until then
    soft_text(ui, "Being worked out.");
    ImGui::SetCursorScreenPos(
        {corner.x, std::max(ImGui::GetCursorScreenPos().y, corner.y + choices.side_by_side_head)});
  }
  draw_side_rows(ui, pair);
  if (!pair.whole()) return;
  ImGui::PushFont(ui.fonts.small);
  draw_side_lines(ui, "Side by side: how it rusts", lines_of_rust(pair.shown(), ui.units));
  draw_side_lines(ui, "Side by side: cautions", lines_of_cautions());
  ImGui::PopFont();
}

}  // namespace

void draw_side_by_side(Ui& ui, const Desk& desk, ViewChoices& choices, const Layout& layout) {
  const Rect& view = layout.view;
  const float right = layout.right.width > 0 ? layout.right.x + layout.right.width : view.x + view.width;
  const float width = std::min(ui.px(kSideWidth), right - view.x - ui.px(24));
  ImGui::SetNextWindowPos({right - ui.px(12), view.y + ui.px(52)}, ImGuiCond_Always, {1, 0});
  ImGui::SetNextWindowSize({std::max(1.f, width), std::max(1.f, layout.caution.y - view.y - ui.px(60))});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.f);
  ImGui::Begin("Side by side", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
  if (button(ui, "Close side by side", Icon::close, "Back to the picture. Keys: Escape, I") || escape_pressed())
    pull(Drawer::none, choices);
  if (hides_numbers(desk, choices))  // they would give the lesson's answer away
    soft_text(ui, "Both set-ups stand here side by side once the class has guessed.", true);
  else if (!two_shown(desk))
    soft_text(ui, "There is one set-up alone. Press Compare: then B stands beside A, and you change it on the left.",
              true);
  else
    draw_pair(ui, desk, choices);
  ImGui::End();
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
}

}  // namespace sidehill::screen

#include "render/screen/parts/band.h"

#include <algorithm>

#include "render/screen/kit/caution.h"
#include "render/screen/parts/charts.h"

namespace sidehill::screen {
namespace {

constexpr float kLine = 1.25f;  // from line to line, in sizes of the letters

// "FROZEN, DO NOT DRIVE: what is in the tyres ..." and the like begin with a title in capitals.
std::string title_in(const std::string& sentence) {
  const auto small = std::ranges::find_if(sentence, [](char c) { return c >= 'a' && c <= 'z'; });
  std::string title(sentence.begin(), small);
  const std::size_t end = title.find_last_not_of(" :;,.0123456789");
  return end == title.npos ? sentence : title.substr(0, end + 1);
}

}  // namespace

BandText band_text(const Fonts& fonts, const Verdict& verdict, const std::string& tag, const std::string& state,
                   float width, float one_line, float most, float scale) {
  BandText text;
  if (!fonts.heading || !fonts.small) {
    text.height = one_line;
    return text;
  }
  text.tag = tag.empty() ? tag : fitted(fonts.heading, tag, 0.4f * width);
  text.left = 48 * scale + (tag.empty() ? 0 : size_of(fonts.heading, text.tag).x + 14 * scale);
  constexpr float kNarrow = 9;  // of the heading's size: less is too narrow for words beside the tag
  if (!tag.empty() && width - text.left - 14 * scale < kNarrow * fonts.heading->FontSize) {
    text.tag_above = true;
    text.tag = fitted(fonts.heading, tag, width - 62 * scale);
    text.left = 14 * scale;
  }
  const float room = std::max(1.f, width - text.left - 14 * scale);
  text.title = broken(fonts.heading, fonts.heading->FontSize, verdict.title, room);
  const float after = size_of(fonts.heading, text.title.back()).x + 12 * scale;
  std::string said = verdict.detail;
  if (!state.empty() && said.empty())
    said = state;
  else if (!state.empty() && verdict.more.empty() && said.back() != '.')
    said += "; " + state;
  const bool fits =
      !text.tag_above && text.title.size() == 1 && verdict.more.empty() && after + size_of(fonts.small, said).x <= room;
  if (fits) {
    text.beside = said;
    text.height = one_line;
    return text;
  }
  const auto lay = [&](const std::vector<std::string>& sentences) {
    text.lines.clear();
    for (const std::string& sentence : sentences)
      for (std::string& line : broken(fonts.small, fonts.small->FontSize, sentence, room))
        if (!line.empty()) text.lines.push_back(std::move(line));
    const float titles =
        kLine * fonts.heading->FontSize * static_cast<float>(text.title.size() + (text.tag_above ? 1 : 0));
    text.height =
        std::max(one_line, titles + kLine * fonts.small->FontSize * static_cast<float>(text.lines.size()) + 12 * scale);
  };
  std::vector<std::string> sentences = {said};
  sentences.insert(sentences.end(), verdict.more.begin(), verdict.more.end());
  lay(sentences);
  if (text.height > most) {
    std::vector<std::string> titles;
    for (const std::string& sentence : verdict.more) titles.push_back(title_in(sentence));
    lay(titles);
  }
  return text;
}

void draw_band(const Ui& ui, const BandText& text, const Verdict& verdict, Rect rect, float one_line) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(rect.low(), rect.high(), colour(fill_of(verdict.tone)));
  const Colour ink = ink_on(verdict.tone);
  const float heading = ui.fonts.heading->FontSize, small = ui.fonts.small->FontSize;
  const bool single = !text.tag_above && text.lines.empty() && text.title.size() == 1;
  const float top = single ? rect.y + (std::min(rect.height, one_line) - heading) / 2 : rect.y + ui.px(6);
  const float left = rect.x + text.left;
  float y = top, end = left;
  if (text.tag_above) {
    draw_symbol(list, verdict.tone, {rect.x + ui.px(26), top + heading / 2}, ui.px(20), ink);
    text_at(list, ui.fonts.heading, {rect.x + ui.px(48), top}, ink, text.tag);
    y += kLine * heading;
  } else {
    text_at(list, ui.fonts.heading, {rect.x + ui.px(14), top}, ink, text.tag);
    draw_symbol(list, verdict.tone, {left - ui.px(22), top + heading / 2}, ui.px(20), ink);
  }
  for (const std::string& line : text.title) {
    text_at(list, ui.fonts.heading, {left, y}, ink, line);
    end = left + size_of(ui.fonts.heading, line).x + ui.px(12);
    y += kLine * heading;
  }
  if (!text.beside.empty()) {
    text_at(list, ui.fonts.small, {end, top + (heading - small) / 2}, ink, text.beside);
    end += size_of(ui.fonts.small, text.beside).x + ui.px(14);
  }
  for (const std::string& line : text.lines) {
    text_at(list, ui.fonts.small, {left, y}, ink, line);
    y += kLine * small;
  }
  // The pattern stands where no text is.
  const float until = rect.x + rect.width, high = single ? rect.height : top + heading - rect.y;
  const float from = single ? rect.y : rect.y + kLine * heading * static_cast<float>(text.title.size() - 1);
  if (end < until && !text.tag_above)
    draw_pattern(list, verdict.tone, {end, from, until - end, high}, with_alpha(ink, 0.55), ui.px(14));
}

}  // namespace sidehill::screen

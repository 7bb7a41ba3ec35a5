#include "render/screen/kit/caution.h"

#include <imgui.h>

#include "render/screen/kit/theme.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"

namespace sidehill::screen {
namespace {

constexpr double kOneLine = 26, kLeft = 40, kRight = 16, kGap = 24;  // [px at scale 1]
constexpr double kLeast = 9;                                         // letters are never smaller [px]

double width_of(const ImFont* font, double size, const std::string& words) {
  return font->CalcTextSizeA(static_cast<float>(size), 1e9f, 0, words.c_str()).x;
}

CautionBand band_of(const ImFont* font, double width, double scale) {
  CautionBand band;
  band.size = theme::kSmallTextSize * scale;
  band.line = 1.3 * band.size;
  band.left = kLeft * scale;
  if (font) {
    const double room = width - band.left - kRight * scale;
    band.lines = broken(font, band.size, kCautionLine, room);
    band.link_width = width_of(font, band.size, kLeavesOut);
    if (width_of(font, band.size, band.lines.back()) + kGap * scale + band.link_width > room) band.lines.emplace_back();
  } else {
    band.lines = {kCautionLine};
  }
  band.height = kOneLine * scale + static_cast<double>(band.lines.size() - 1) * band.line;
  return band;
}

}  // namespace

std::vector<std::string> broken(const ImFont* font, double size, std::string_view words, double room) {
  return lines_of(words, room, [&](const std::string& line) { return width_of(font, size, line); });
}

std::string in_lines(const ImFont* font, std::string_view text, double room) {
  std::string all;
  for (const std::string& line : broken(font, font->FontSize, text, room)) all += (all.empty() ? "" : "\n") + line;
  return all;
}

void wrapped_words(std::string_view text, float room) {
  const std::string lines = in_lines(ImGui::GetFont(), text, room > 0 ? room : ImGui::GetContentRegionAvail().x);
  ImGui::TextUnformatted(lines.data(), lines.data() + lines.size());
}

CautionBand caution_band(const ImFont* font, double width, double window_height, double scale) {
  CautionBand band = band_of(font, width, scale);
  while (band.height > window_height / 3 && band.size > kLeast) {
    scale *= 0.95;
    band = band_of(font, width, scale);
  }
  return band;
}

}  // namespace sidehill::screen

#ifdef SIDEHILL_SCREEN
// The caution line: whole on every window and in every size of letters.
#include "render/screen/kit/caution.h"

#include <doctest/doctest.h>

#include <tuple>

#include "render/text/words/words.h"
#include "tests/kit/near.h"
#include "tests/kit/table.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += (text.empty() || line.empty() ? "" : " ") + line;
  return text;
}

double width_of(const ImFont* font, double size, const std::string& words) {
  return font->CalcTextSizeA(static_cast<float>(size), 1e9f, 0, words.c_str()).x;
}

void use_scale(Table& table, double scale) {
  table.ui.scale = static_cast<float>(scale);
  table.ui.fonts = load_fonts(scale);
  unsigned char* pixels = nullptr;
  int w = 0, h = 0;
  ImGui::GetIO().Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
  apply_style(scale);
}

}  // namespace

TEST_CASE("the caution line stands there in whole words, whatever the window and the letters") {
  Table table;
  for (const auto& [width, height, scale] : {std::tuple{960.0f, 600.0f, 1.0},
                                             {1280.0f, 720.0f, 1.0},
                                             {1280.0f, 720.0f, 2.0},
                                             {1280.0f, 720.0f, 3.0},
                                             {960.0f, 600.0f, 3.0},
                                             {640.0f, 480.0f, 3.0}}) {
    const auto& this_width = width;
    CAPTURE(this_width);
    const auto& this_scale = scale;
    CAPTURE(this_scale);
    use_scale(table, scale);
    const ImFont* font = table.ui.fonts.small;
    const CautionBand band = caution_band(font, width, height, scale);
    CHECK(joined(band.lines) == std::string(kCautionLine));
    for (const std::string& line : band.lines) CHECK(band.left + width_of(font, band.size, line) <= width);
    CHECK(band.left + width_of(font, band.size, band.lines.back()) + band.link_width <= width);
    CHECK(band.height >= static_cast<double>(band.lines.size()) * band.size);
    CHECK(band.height <= height / 3);
    CHECK(band.size >= 9);
    // The layout makes room, and what is drawn keeps to it.
    const Layout layout = layout_of(width, height, scale, table.desk, table.choices);
    CHECK_NEAR(layout.caution.height, band.height, 1.01);
    CHECK(layout.view.height >= 1);
    CHECK(layout.bar.y + layout.bar.height <= layout.caution.y + 0.01f);
    table.width = width, table.height = height;
    for (int i = 0; i < 2; ++i) {
      ImGui::GetIO().DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
      ImGui::NewFrame();
      draw_panels(table.ui, table.desk, table.choices, layout);
      ImGui::Render();
    }
    const Rect words = table.item("Caution"), link = table.item(kLeavesOut);
    CHECK(words.y >= layout.caution.y);
    CHECK(words.y + static_cast<float>(band.line * static_cast<double>(band.lines.size() - 1) + band.size) <= height);
    CHECK(link.x + link.width <= width);
    CHECK(link.height > 0);
  }
  use_scale(table, 1);
  CHECK(caution_band(table.ui.fonts.small, 1280, 720, 1).lines.size() == 1);  // an ordinary window spends one line
}

TEST_CASE("words are broken between words and none is lost") {
  Table table;
  const std::string words = "one two three four";
  CHECK(joined(broken(table.ui.fonts.small, 14, words, 40)) == words);
  CHECK(broken(table.ui.fonts.small, 14, words, 1).size() == 4);
  CHECK(broken(table.ui.fonts.small, 14, words, 1e6).size() == 1);
  CHECK(broken(table.ui.fonts.small, 14, "", 100) == std::vector<std::string>{""});
}

TEST_CASE("in the window and under a picture no line breaks inside a number or before its unit") {
  Table table;
  const std::string words =
      "OVER: front right tyre 1 977 kg of 1 880 kg, 5.2 % over; at 12 300 kg (3 km/h), 2.40 bar; the pull 0.6 m/s2";
  for (double room = 1; room < 900; room += 7) {
    CAPTURE(room);
    std::string all = "\n";
    for (const std::string& line : broken(table.ui.fonts.small, 14, words, room)) all += line + "\n";
    for (const char* whole : {"1 977 kg", "1 880 kg", "5.2 %", "12 300 kg", "(3 km/h)", "2.40 bar", "0.6 m/s2"})
      CHECK_MESSAGE(all.find(whole) != std::string::npos, whole << " is broken in" << all);
  }
}
#endif

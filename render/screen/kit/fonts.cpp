#include "render/screen/kit/fonts.h"

#include <imgui.h>
#include <imgui_freetype.h>

#include <filesystem>

#include "render/screen/kit/theme.h"

namespace sidehill::screen {
namespace {

// Where Debian's fonts-inter puts its files.
constexpr const char* kRegular = "/usr/share/fonts/opentype/inter/Inter-Medium.otf";
constexpr const char* kBold = "/usr/share/fonts/opentype/inter/Inter-SemiBold.otf";

// Latin, a few signs of measure and arithmetic; nothing else is ever shown.
constexpr ImWchar kRanges[] = {0x0020, 0x00FF, 0x2010, 0x2026, 0x2190, 0x2193, 0x2212, 0x2212, 0x2264, 0x2265, 0};

ImFont* add(const char* file, double size) {
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  ImFontConfig config;
  std::error_code ignored;
  if (std::filesystem::exists(file, ignored)) {
    config.OversampleH = 1;  // FreeType hints to whole pixels: no need for more
    config.OversampleV = 1;
    if (ImFont* font = atlas.AddFontFromFileTTF(file, static_cast<float>(size), &config, kRanges)) return font;
  }
  config.SizePixels = static_cast<float>(size);
  return atlas.AddFontDefault(&config);
}

}  // namespace

Fonts load_fonts(double scale) {
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  atlas.Clear();
  atlas.FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
  Fonts fonts;
  fonts.text = add(kRegular, theme::kTextSize * scale);
  fonts.small = add(kRegular, theme::kSmallTextSize * scale);
  fonts.heading = add(kBold, theme::kHeadingSize * scale);
  fonts.big = add(kBold, theme::kBigNumberSize * scale);
  fonts.reading = add(kRegular, kReadingSize * scale);
  fonts.question = add(kBold, kQuestionSize * scale);
  atlas.Build();
  return fonts;
}

Fonts fonts_there() {
  if (!ImGui::GetCurrentContext()) return {};
  const ImVector<ImFont*>& all = ImGui::GetIO().Fonts->Fonts;
  if (all.Size < 6) return {};
  return {all[0], all[1], all[2], all[3], all[4], all[5]};  // in the order of load_fonts
}

}  // namespace sidehill::screen

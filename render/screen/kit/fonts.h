// The typeface of window and pictures. Debian package fonts-inter; without it Dear ImGui's built-in face serves.
#pragma once
#include "render/namespaces.h"

struct ImFont;

namespace sidehill::screen {

// Sizes of the lesson's card, to be read from the last row of a bright room [px at scale 1].
constexpr double kReadingSize = 20, kQuestionSize = 26;

struct Fonts {
  ImFont* text = nullptr;      // theme::kTextSize
  ImFont* small = nullptr;     // theme::kSmallTextSize
  ImFont* heading = nullptr;   // theme::kHeadingSize
  ImFont* big = nullptr;       // theme::kBigNumberSize
  ImFont* reading = nullptr;   // kReadingSize
  ImFont* question = nullptr;  // kQuestionSize, bold
};

// Rebuilds the current ImGui context's font atlas for a scale (1 = ordinary screen). Call between frames; an OpenGL
// backend that is already running must drop its font texture first (ImGui_ImplOpenGL3_DestroyFontsTexture).
Fonts load_fonts(double scale);
// Those load_fonts made last in the current ImGui context; all nullptr before, or without a context.
Fonts fonts_there();

}  // namespace sidehill::screen

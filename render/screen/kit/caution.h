// The caution line at the foot of the window, broken over as many lines as it needs: never cut. Knows Dear ImGui's
// fonts, no window, no session.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "render/namespaces.h"

struct ImFont;

namespace sidehill::screen {

// Words broken into lines of whole words, none wider than `room` [px] unless a single word is. Joined by spaces they
// are the words again.
std::vector<std::string> broken(const ImFont* font, double size, std::string_view words, double room);

// The same as one text with line ends, each paragraph of it by itself. Dear ImGui's own breaking also cuts a number at
// its decimal point.
std::string in_lines(const ImFont* font, std::string_view text, double room);
// Text in the flow of a panel, in the font that is set; as wide as there is room, or `room` [px].
void wrapped_words(std::string_view text, float room = 0);

inline constexpr const char* kLeavesOut = "What it leaves out";  // the link that stands at the band's end

struct CautionBand {
  double size = 0;                 // of the letters [px]
  double line = 0;                 // from line to line [px]
  double height = 0;               // of the whole band [px]
  double left = 0;                 // where the lines begin, right of the sign [px]
  double link_width = 0;           // of kLeavesOut, at the right end of the last line [px]
  std::vector<std::string> lines;  // last one empty where only the link stands there
};

// For a window of that size [px], letters in proportion to `scale`; in a window too low for them, as small as they must
// be to take a third of it. Without a font (nothing loaded yet): one line, not measured.
CautionBand caution_band(const ImFont* font, double width, double window_height, double scale);

}  // namespace sidehill::screen

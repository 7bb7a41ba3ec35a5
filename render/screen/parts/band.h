// The band above the picture, broken into lines: headline, its words, and every other cause that holds. It grows as
// high as it must; nothing of it is ever left out. Layout is plain numbers; only draw_band knows a draw list.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/desk/verdict.h"
#include "render/screen/kit/fonts.h"
#include "render/screen/kit/ui.h"

namespace sidehill::screen {

struct BandText {
  std::string tag;                 // as much of it as there is room for
  bool tag_above = false;          // in a narrow band, with the sign, on a line of its own
  std::vector<std::string> title;  // lines in the heading's letters
  std::string beside;              // small, on the title's last line; may be empty
  std::vector<std::string> lines;  // small, below
  float left = 0;                  // where title and lines begin, right of tag and sign [px]
  float height = 0;                // of the whole band [px]
};

// `tag` says which of two set-ups, "" where there is one; `state` is what goes on, "at rest", beside it. A band higher
// than `most` [px] gives up the sentences for the titles they begin with, all of them.
BandText band_text(const Fonts& fonts, const Verdict& verdict, const std::string& tag, const std::string& state,
                   float width, float one_line, float most, float scale);

void draw_band(const Ui& ui, const BandText& text, const Verdict& verdict, Rect rect, float one_line);

}  // namespace sidehill::screen

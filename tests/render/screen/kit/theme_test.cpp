#ifdef SIDEHILL_SCREEN
#include "render/screen/kit/theme.h"

#include <doctest/doctest.h>

#include "render/screen/parts/charts.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

TEST_CASE("contrast is the ratio of relative luminances") {
  // WCAG 2.1: black on white is 21, a colour on itself 1. Mid grey by hand: 119/255 is 0.1845 of white, 1.05 / 0.2345.
  CHECK_NEAR(contrast(rgb(0x000000), rgb(0xFFFFFF)), 21, 1e-9);
  CHECK_NEAR(contrast(theme::kAccent, theme::kAccent), 1, 1e-12);
  CHECK_NEAR(contrast(rgb(0x777777), rgb(0xFFFFFF)), 4.48, 0.005);
}

TEST_CASE("text can be read in a bright room: at least 4.5 to 1, ordinary text 7 to 1") {
  using namespace theme;
  for (Colour paper : {kPaper, kCard}) {
    CHECK(contrast(kInk, paper) >= 7);
    CHECK(contrast(kInkSoft, paper) >= 4.5);
    CHECK(contrast(kAccent, paper) >= 4.5);
    CHECK(contrast(kLifted, paper) >= 4.5);
  }
  for (Tone tone : {Tone::steady, Tone::near, Tone::limit, Tone::lifted, Tone::slide, Tone::unknown})
    CHECK(contrast(ink_on(tone), fill_of(tone)) >= 4.5);
  CHECK(contrast(kOnPill, kInk) >= 7);
  CHECK(contrast(kGhost, kPaper) >= 7);  // labels of a second machine, dark on light
  CHECK(contrast(kGhost, kGrass) >= 3);  // and its outline on the meadow
  CHECK(contrast(kInk, kTrough) >= 7);
}

TEST_CASE("what can be grabbed, and each bar, stands off its trough by at least 3 to 1") {
  using namespace theme;
  for (Colour fill : {kAccent, kLoad, kSteady, kLifted, kSlide, kInkSoft}) CHECK(contrast(fill, kTrough) >= 3);
}

TEST_CASE("the verdict's colours differ in lightness, so that nobody needs to see a hue") {
  using namespace theme;
  CHECK(contrast(kNear, kSteady) >= 3);
  CHECK(contrast(kNear, kLifted) >= 3);
}
#endif  // SIDEHILL_SCREEN

// Every colour and size of the screen in one place: panels, charts and the 3-D picture share it; those it shares with
// the printed page are in render/page/palette.h. Plain numbers: knows no ImGui, no OpenGL, no physics. Made for a
// bright room: dark ink on paper. Meaning is never carried by colour alone;
// the three verdict colours differ in lightness as well as in hue (blue, amber, vermilion), so that no common form of
// colour blindness merges them. Contrast is held by tests/render/screen/kit/theme_test.cpp. Source: Okabe and Ito 2008
// for the choice of hues; WCAG 2.1 for the measure of contrast.
#pragma once
#include "render/namespaces.h"
#include "render/page/palette.h"

namespace sidehill::screen {

namespace theme {

using namespace page::palette;  // the colours of ink and paper

// Panels.
constexpr Colour kAccentHover = rgb(0x12717F);
constexpr Colour kOnAccent = rgb(0xFFFFFF);  // text on accent, on lifted, on ink

// The machine and what is in it.
constexpr Colour kIron = rgb(0x3B4148);         // cast weights
constexpr Colour kIce = rgb(0xEAF3F7);          // a fill that is frozen
constexpr Colour kPaint = rgb(0xE9DFC8);        // bodywork
constexpr Colour kPaintAccent = rgb(0x9C4A2A);  // stripe, wheel discs
constexpr Colour kGravityDark = rgb(0x12161B);  // quartered disc of the centre of gravity
constexpr Colour kGravityLight = rgb(0xFFFFFF);

// Overlays in the 3-D picture.
// Marks: light cores in a dark edge, so that one of the two stands out from grass, soil, tyre, bonnet and sky alike.
constexpr Colour kMarkEdge = rgb(0x0E1318);
constexpr Colour kMarkLoad = rgb(0x6FE3F2);     // what a wheel carries
constexpr Colour kMarkNear = rgb(0xFFC22E);     // the same of the wheel nearest to lifting, striped
constexpr Colour kMarkLifted = rgb(0xFF9C78);   // a wheel that carries nothing, striped with white; foot out of bounds
constexpr Colour kMarkSupport = rgb(0x9CC8FF);  // support outline on the ground
constexpr Colour kMarkEdgeLit = rgb(0xFFF3A0);  // its edge nearest to the plumb line's foot, and the way there
constexpr Colour kMarkFeature = rgb(0xF3E3C0);  // rim of a hole, a bump, a stump
constexpr Colour kMarkGhost = rgb(0xCDBEFF);    // of a second machine, dashed and hatched
constexpr Colour kMarkGhostEdge = rgb(0x2B2150);  //
constexpr Colour kPlumb = rgb(0xFFFFFF);          // plumb line
constexpr Colour kSupport = rgb(0x1F5FA8);        // fill of what the machine stands on
constexpr Colour kGhost = rgb(0x4B3B7A);          // second machine of a comparison: indigo, always hatched and outlined
constexpr Colour kPill = rgb(0x1A222B, 0.86);     // behind labels in the picture
constexpr Colour kOnPill = rgb(0xFFFFFF);

// Outdoors.
constexpr Colour kSky = rgb(0xC4D8E6);
constexpr Colour kHorizon = rgb(0xECEBE2);
constexpr Colour kGrass = rgb(0x9FB07A);
constexpr Colour kEarth = rgb(0xA58A66);

// Sizes in pixels at scale 1.
constexpr double kLeftWidth = 300;
constexpr double kRightWidth = 336;
constexpr double kTextSize = 16;
constexpr double kSmallTextSize = 14;
constexpr double kHeadingSize = 18;
constexpr double kBigNumberSize = 44;

// Below this many degrees left the verdict is shown as "near". Our choice: a wheel in a hole of a hand's depth on a
// 1.8 m track takes about this much (0.16 m / 1.8 m = 5 deg).
constexpr double kNearDeg = 5;

}  // namespace theme

// Contrast ratio of two opaque colours, 1 to 21. Source: WCAG 2.1, success criterion 1.4.3, relative luminance.
double contrast(Colour a, Colour b);

}  // namespace sidehill::screen

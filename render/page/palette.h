// The colours that screen and printed page share. Plain numbers: knows no drawing library, no physics. Made for a
// bright room and for paper: dark ink on a light ground. Meaning is never carried by colour alone; the three verdict
// colours differ in lightness as well as in hue (blue, amber, vermilion), so that no common form of colour blindness,
// and no black and white print, merges them. Contrast is held by tests/render/screen/kit/theme_test.cpp. Source: Okabe
// and Ito 2008 for the choice of hues; WCAG 2.1 for the measure of contrast.
#pragma once
#include <cstdint>

#include "render/namespaces.h"

namespace sidehill::page {

struct Colour {
  std::uint8_t r = 0, g = 0, b = 0, a = 255;  // sRGB, straight alpha
};

// Rounded by hand: nothing that rounds is constexpr before C++23.
// NOLINTBEGIN(bugprone-incorrect-roundings)
constexpr Colour rgb(std::uint32_t hex, double alpha = 1) {
  return {static_cast<std::uint8_t>(hex >> 16 & 255), static_cast<std::uint8_t>(hex >> 8 & 255),
          static_cast<std::uint8_t>(hex & 255), static_cast<std::uint8_t>(alpha * 255 + 0.5)};
}
constexpr Colour with_alpha(Colour colour, double alpha) {
  return {colour.r, colour.g, colour.b, static_cast<std::uint8_t>(alpha * 255 + 0.5)};
}
// NOLINTEND(bugprone-incorrect-roundings)

namespace palette {

// Paper and ink.
constexpr Colour kPaper = rgb(0xF6F2E9);    // panel background
constexpr Colour kCard = rgb(0xFFFDF8);     // raised: the answer's card, buttons
constexpr Colour kTrough = rgb(0xDDD6C6);   // slider tracks, empty part of bars
constexpr Colour kRule = rgb(0xC9C0AD);     // hairlines
constexpr Colour kInk = rgb(0x1A222B);      // text
constexpr Colour kInkSoft = rgb(0x55534B);  // second line of text, units, axis labels
constexpr Colour kAccent = rgb(0x0B5A66);   // what can be grabbed or pressed, what is chosen

// Verdict. Pattern colours; text on them: white on steady and lifted, ink on near.
constexpr Colour kSteady = rgb(0x1F5FA8);  // stands with room to spare: blue
constexpr Colour kNear = rgb(0xF2B21B);    // little left: amber
constexpr Colour kLifted = rgb(0xB5330B);  // a wheel is up, tipped: vermilion, always hatched
constexpr Colour kSlide = rgb(0x6A3D8F);   // adhesion gone: plum, always dotted

constexpr Colour kLiquid = rgb(0x2E86D1);  // liquid in tyres, in the picture and in charts
constexpr Colour kLoad = rgb(0x0B5A66);    // what a wheel carries: arrows, bars

}  // namespace palette
}  // namespace sidehill::page

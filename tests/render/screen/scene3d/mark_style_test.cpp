// Every mark of the picture stands out from whatever it meets, and no two meanings differ by hue alone.
#ifdef SIDEHILL_SCREEN
#include "render/screen/scene3d/mark_style.h"

#include <epoxy/gl.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "render/screen/gl/offscreen.h"
#include "render/screen/gl/renderer.h"
#include "render/screen/scene3d/machine_mesh.h"
#include "sim/motion/rest_state.h"
#include "sim/rest/statics.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

constexpr std::array kInks{
    Ink::load,  Ink::nearest_to_lifting, Ink::lifted,     Ink::support, Ink::nearest_edge, Ink::to_edge,
    Ink::plumb, Ink::plumb_outside,      Ink::slope,      Ink::level,   Ink::feature,      Ink::support_contacts,
    Ink::ghost, Ink::ghost_fill,         Ink::ghost_hatch};

Colour of_paint(Paint p) { return {p.r, p.g, p.b}; }

struct Ground {
  const char* name;
  Colour colour;
};
// In the sun; a part in the shade is darker.
const std::array kMet{Ground{"grass", theme::kGrass},
                      Ground{"soil", theme::kEarth},
                      Ground{"soil in the shade", rgb(0x5F4D36)},
                      Ground{"grass in the shade", rgb(0x56633F)},
                      Ground{"tyre", of_paint(paint::kRubber)},
                      Ground{"lug", of_paint(paint::kLug)},
                      Ground{"bonnet", theme::kPaint},
                      Ground{"rim", of_paint(paint::kRim)},
                      Ground{"sky", theme::kSky},
                      Ground{"horizon", theme::kHorizon},
                      Ground{"weights", theme::kIron},
                      Ground{"ice", theme::kIce},
                      Ground{"water", theme::kLiquid}};

// Colours as people with one kind of cone missing see them. Source: Machado, Oliveira and Fernandes 2009, "A
// physiologically-based model for simulation of color vision deficiency", IEEE TVCG 15(6), severity 1.0; the matrices
// act on linear RGB.
struct Blindness {
  const char* name;
  std::array<std::array<double, 3>, 3> matrix;
};
constexpr std::array kBlind{
    Blindness{"protanopia",
              {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}}},
    Blindness{"deuteranopia",
              {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}}},
    Blindness{"tritanopia",
              {{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}}}};

Colour seen_with(const Blindness& blind, Colour c) {
  const auto linear = [](double v) { return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); };
  const auto back = [](double v) {
    v = std::clamp(v, 0.0, 1.0);
    return static_cast<std::uint8_t>(
        std::lround(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055)));
  };
  const double in[3] = {linear(c.r / 255.0), linear(c.g / 255.0), linear(c.b / 255.0)};
  std::uint8_t out[3];
  for (std::size_t i = 0; i < 3; ++i)
    out[i] = back(blind.matrix[i][0] * in[0] + blind.matrix[i][1] * in[1] + blind.matrix[i][2] * in[2]);
  return {out[0], out[1], out[2]};
}

}  // namespace

TEST_CASE("a mark's core stands off its edge, and one of the two off all that it meets, 3 to 1") {
  double least = 100;
  std::string where;
  for (const Ink ink : kInks) {
    const MarkStyle style = style_of(ink);
    CAPTURE(static_cast<int>(ink));
    CHECK(contrast(style.core, style.edge) >= 3);
    for (const Ground& met : kMet) {
      CAPTURE(std::string(met.name));
      const double best = std::max(contrast(style.core, met.colour), contrast(style.edge, met.colour));
      CHECK(best >= 3);
      if (best < least) least = best, where = fmt::format("mark {} on {}", static_cast<int>(ink), met.name);
    }
  }
  MESSAGE(fmt::format("least contrast of a mark: {:.1f} to 1, {}", least, where));
}

TEST_CASE("words in the picture stand off their pill 4.5 to 1 whatever lies behind it") {
  for (const Ground& met : kMet) {
    const Colour pill = theme::kPill;
    const auto over = [&](int top, int below) {
      return static_cast<std::uint8_t>((top * pill.a + below * (255 - pill.a)) / 255);
    };
    const Colour behind{over(pill.r, met.colour.r), over(pill.g, met.colour.g), over(pill.b, met.colour.b)};
    CAPTURE(std::string(met.name));
    CHECK(contrast(theme::kOnPill, behind) >= 4.5);
  }
  CHECK(contrast(theme::kOnPill, theme::kLifted) >= 4.5);
  CHECK(contrast(theme::kGhost, theme::kPaper) >= 4.5);
}

TEST_CASE("marks of different meaning differ in lightness or form, for every kind of colour blindness") {
  // The three signs of a machine that goes: what a wheel carries, the wheel nearest to lifting, the lifted one; the
  // lines of the ground; the second machine. The two of one meaning (ghost and its fill, the edge and the way to it)
  // need not.
  constexpr std::array kMeanings{Ink::load,  Ink::nearest_to_lifting, Ink::lifted, Ink::support, Ink::nearest_edge,
                                 Ink::plumb, Ink::support_contacts,   Ink::ghost,  Ink::feature};
  for (std::size_t i = 0; i < kMeanings.size(); ++i)
    for (std::size_t k = 0; k < i; ++k) {
      const MarkStyle a = style_of(kMeanings[i]), b = style_of(kMeanings[k]);
      CAPTURE(static_cast<int>(kMeanings[i]));
      CAPTURE(static_cast<int>(kMeanings[k]));
      for (const Blindness& blind : kBlind) {
        const double lightness = contrast(seen_with(blind, a.core), seen_with(blind, b.core));
        const double edges = contrast(seen_with(blind, a.edge), seen_with(blind, b.edge));
        CHECK((a.form != b.form || lightness >= 1.25 || edges >= 1.25));
      }
    }
  // What is known by tone as well as by form keeps its lightness against its own edge.
  for (const Blindness& blind : kBlind)
    for (const Ink ink : kInks) {
      const MarkStyle style = style_of(ink);
      CAPTURE(std::string(blind.name));
      CHECK(contrast(seen_with(blind, style.core), seen_with(blind, style.edge)) >= 3);
    }
}

TEST_CASE("the matrices leave grey alone") {
  for (const Blindness& blind : kBlind) {
    const Colour grey = seen_with(blind, rgb(0x808080));
    CHECK_NEAR(grey.r, 128, 1);
    CHECK_NEAR(grey.g, 128, 1);
    CHECK_NEAR(grey.b, 128, 1);
  }
}

TEST_CASE("each mark, drawn alone, shows as many pixels as a person in the last row needs") {
  constexpr int kWidth = 640, kHeight = 360;
  const OffscreenContext context;
  Renderer renderer;
  Scene scene = test_scene("first_slope");
  const Model model = build(scene);
  const std::optional<Rest> rest = rest_at(model, scene.terrain.slope);
  REQUIRE(rest);
  State state = rest_state(model, *rest);
  const Drawing whole = draw(scene, model, state, {});
  const Camera camera = camera_at(CameraPreset::scene, whole, static_cast<double>(kWidth) / kHeight);
  const auto picture = [&](const Drawing& drawing) {
    renderer.render(drawing, camera, kWidth, kHeight);
    std::vector<std::uint8_t> rgba(std::size_t{4} * kWidth * kHeight);
    glBindFramebuffer(GL_FRAMEBUFFER, renderer.framebuffer());
    glReadPixels(0, 0, kWidth, kHeight, GL_RGBA, GL_UNSIGNED_BYTE, rgba.data());
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    return rgba;
  };
  Drawing bare = whole;
  bare.arrows.clear(), bare.outlines.clear(), bare.rings.clear(), bare.gravity.reset(), bare.wedge.reset();
  const auto empty = picture(bare);
  // Pixels that stand off what was there before by 1.5 to 1 or more.
  const auto shown = [&](const Drawing& drawing) {
    const auto with = picture(drawing);
    int n = 0;
    for (std::size_t i = 0; i < with.size(); i += 4)
      if (contrast({with[i], with[i + 1], with[i + 2]}, {empty[i], empty[i + 1], empty[i + 2]}) >= 1.5) ++n;
    return n;
  };
  REQUIRE(whole.arrows.size() == 4);
  int marked = 0;
  for (const Arrow& arrow : whole.arrows) {
    Drawing one = bare;
    one.arrows = {arrow};
    CHECK(shown(one) > 60);
    marked += arrow.ink == Ink::nearest_to_lifting ? 1 : 0;
  }
  CHECK(marked == 1);
  for (const Outline& outline : whole.outlines) {
    Drawing one = bare;
    one.outlines = {outline};
    CAPTURE(static_cast<int>(outline.ink));
    CHECK(shown(one) > 60);
  }
  Drawing gravity = bare;
  gravity.gravity = whole.gravity;
  CHECK(shown(gravity) > 300);
  Drawing wedge = bare;
  wedge.wedge = whole.wedge;
  CHECK(shown(wedge) > 300);
  Drawing ring = bare;
  ring.rings = {{whole.parts.front().X_WP.p, whole.parts.front().X_WP.R[1], 0.9, 0.4, Ink::lifted}};
  CHECK(shown(ring) > 300);
  // An arrow takes a third of the picture's height at most, however large the load.
  state.wheels[kRearRight].load *= 50;
  Drawing heavy = bare;
  for (const Arrow& arrow : draw(scene, model, state, {}).arrows)
    if (arrow.cut) heavy.arrows.push_back(arrow);
  REQUIRE(heavy.arrows.size() == 1);
  const auto with = picture(heavy);
  int low = kHeight, high = 0;
  for (int y = 0; y < kHeight; ++y)
    for (int x = 0; x < kWidth; ++x) {
      const std::size_t i = std::size_t{4} * (static_cast<std::size_t>(y) * kWidth + static_cast<std::size_t>(x));
      if (contrast({with[i], with[i + 1], with[i + 2]}, {empty[i], empty[i + 1], empty[i + 2]}) >= 1.5)
        low = std::min(low, y), high = std::max(high, y);
    }
  CHECK(high - low < kHeight / 3 + 16);  // with the rim and the foot
  CHECK(high - low > kHeight / 5);
}
#endif

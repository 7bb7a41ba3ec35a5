// The picture of the default scene, drawn without a display: something is on it, and twice the same.
#ifdef SIDEHILL_SCREEN
#include "render/screen/output/picture.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <set>

#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

Scene pictured(std::vector<std::string> changes = {}) {
  return load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/first_slope.toml", changes);
}

std::set<std::uint32_t> colours(const Pixels& pixels) {
  std::set<std::uint32_t> seen;
  for (std::size_t i = 0; i < pixels.rgba.size(); i += 4)
    seen.insert(std::uint32_t{pixels.rgba[i]} << 16 | std::uint32_t{pixels.rgba[i + 1]} << 8 | pixels.rgba[i + 2]);
  return seen;
}

}  // namespace

TEST_CASE("the default scene's picture is not blank and comes out the same twice") {
  PictureOptions options;
  options.width = 640;
  options.height = 400;
  const Pixels a = picture(pictured(), options), b = picture(pictured(), options);
  REQUIRE(a.rgba.size() == 640u * 400u * 4u);
  CHECK(a.rgba == b.rgba);
  CHECK(colours(a).size() > 2000);
}

TEST_CASE("the fill, the slope and the side seen from change the picture") {
  PictureOptions options;
  options.width = 480;
  options.height = 300;
  options.quality = Quality::moving;
  const Pixels filled = picture(pictured(), options),
               empty = picture(pictured({"ballast.rear.fill_fraction=0"}), options);
  CHECK(filled.rgba != empty.rgba);
  options.camera = CameraPreset::rear;
  CHECK(picture(pictured(), options).rgba != filled.rgba);
  options.camera = CameraPreset::three_quarter;
  options.readouts = false;
  options.overlays.labels = false;
  CHECK(picture(pictured(), options).rgba != filled.rgba);
}

TEST_CASE("a machine that cannot rest is drawn all the same") {
  PictureOptions options;
  options.width = 320;
  options.height = 200;
  options.quality = Quality::moving;
  CHECK(colours(picture(pictured({"terrain.slope_deg=60"}), options)).size() > 500);
}

TEST_CASE("a picture of what does not rest says which moment of its run it shows") {
  PictureOptions options;
  options.width = 640;
  options.height = 400;
  options.quality = Quality::moving;
  std::string drawn = "?";
  picture(pictured(), options, &drawn);
  CHECK(drawn.empty());
  const Pixels steep = picture(pictured({"terrain.slope_deg=45"}), options, &drawn);
  CAPTURE(drawn);
  CHECK(drawn.find(" s of its run, not at rest") != std::string::npos);
  // Set down on tyres that do not give it has no run: then there are no loads at all.
  picture(load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/tests/data/uneven_no_answer.toml"), options, &drawn);
  CHECK(drawn.find("as it is set down") != std::string::npos);
  options.ghost = pictured({"terrain.slope_deg=45"});
  picture(pictured(), options, &drawn);
  CHECK(drawn.starts_with("B: It is drawn at "));
}

TEST_CASE("an unsolved answer has no loads: none is drawn, and the foot says that there is no answer") {
  const Scene scene = load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/tests/data/uneven_no_answer.toml");
  PictureOptions options;
  options.width = 640;
  options.height = 400;
  options.quality = Quality::moving;
  const Pixels asked = picture(scene, options);
  options.overlays.wheel_loads = false;
  CHECK(asked.rgba == picture(scene, options).rgba);
}

TEST_CASE("a still is drawn at twice the size each way, and each pixel is the mean of its four") {
  // No words and no marks on it: their strokes are as wide in pixels at any size. The mean is of the values as they are
  // shown (gamma), rounded.
  PictureOptions options;
  options.width = 240;
  options.height = 160;
  options.readouts = false;
  Overlays& o = options.overlays;
  o.wheel_loads = o.centre_of_gravity = o.support = o.slope_wedge = o.labels = false;
  const Scene scene = pictured();
  const Pixels still = picture(scene, options);
  options.quality = Quality::plain;
  const Pixels once = picture(scene, options);
  options.width *= 2;
  options.height *= 2;
  const Pixels twice = picture(scene, options);
  REQUIRE(twice.rgba.size() == 4 * still.rgba.size());
  int most = 0, plain_differs = 0;
  for (int y = 0; y < still.height; ++y)
    for (int x = 0; x < still.width; ++x)
      for (int c = 0; c < 3; ++c) {
        const auto of = [c](const Pixels& p, int column, int line) {
          return static_cast<int>(
              p.rgba[4 * static_cast<std::size_t>(line * p.width + column) + static_cast<std::size_t>(c)]);
        };
        const int sum = of(twice, 2 * x, 2 * y) + of(twice, 2 * x + 1, 2 * y) + of(twice, 2 * x, 2 * y + 1) +
                        of(twice, 2 * x + 1, 2 * y + 1);
        most = std::max(most, std::abs(4 * of(still, x, y) - sum));
        if (std::abs(4 * of(once, x, y) - sum) > 4 * 8) ++plain_differs;
      }
  CHECK(most <= 4);             // one level of 255, rounding
  CHECK(plain_differs > 1000);  // the measure tells the two apart
}

TEST_CASE("a picture file appears whole or not at all") {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "sidehill_picture_test";
  std::filesystem::create_directories(folder);
  const Pixels pixels{2, 1, {255, 0, 0, 255, 0, 0, 255, 255}};
  write_png(folder / "two.png", pixels);
  CHECK(std::filesystem::file_size(folder / "two.png") > 50);
  CHECK_THROWS_AS(write_png(folder / "missing" / "two.png", pixels), std::runtime_error);
  int files = 0;
  for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(folder)) ++files;
  CHECK(files == 1);  // no temporary left behind
  std::filesystem::remove_all(folder);
}

namespace {

// Mean of a rectangle given in fractions of the picture, 0 to 255 a channel.
std::array<double, 3> mean(const Pixels& pixels, double x0, double y0, double x1, double y1) {
  std::array<double, 3> sum{};
  int n = 0;
  for (int y = static_cast<int>(y0 * pixels.height); y < static_cast<int>(y1 * pixels.height); ++y)
    for (int x = static_cast<int>(x0 * pixels.width); x < static_cast<int>(x1 * pixels.width); ++x, ++n)
      for (std::size_t k = 0; k < 3; ++k)
        sum[k] += pixels.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(pixels.width) +
                                   static_cast<std::size_t>(x)) +
                              k];
  for (double& v : sum) v /= std::max(n, 1);
  return sum;
}

int different(const Pixels& a, const Pixels& b) {  // number of pixels
  int n = 0;
  for (std::size_t i = 0; i < a.rgba.size(); i += 4)
    n +=
        std::equal(a.rgba.begin() + static_cast<std::ptrdiff_t>(i), a.rgba.begin() + static_cast<std::ptrdiff_t>(i + 4),
                   b.rgba.begin() + static_cast<std::ptrdiff_t>(i))
            ? 0
            : 1;
  return n;
}

PictureOptions bare(int width, int height) {
  PictureOptions options;
  options.width = width;
  options.height = height;
  options.readouts = false;
  options.overlays.labels = false;
  return options;
}

}  // namespace

TEST_CASE("a moving view shows what a view at rest shows, but for the fineness") {
  PictureOptions options = bare(480, 300);
  const Pixels fine = picture(pictured(), options);
  options.quality = Quality::moving;
  const Pixels quick = picture(pictured(), options);
  // Regions of a twelfth of the picture; 7 of 255 is less than the eye notices between two pictures in turn.
  for (int j = 0; j < 3; ++j)
    for (int i = 0; i < 4; ++i) {
      const auto a = mean(fine, i / 4.0, j / 3.0, (i + 1) / 4.0, (j + 1) / 3.0),
                 b = mean(quick, i / 4.0, j / 3.0, (i + 1) / 4.0, (j + 1) / 3.0);
      for (std::size_t k = 0; k < 3; ++k) CHECK_NEAR(b[k], a[k], 7);
    }
}

TEST_CASE("the ground is green and lighter than the machine's tyres, the sky is light") {
  PictureOptions options = bare(480, 300);
  options.overlays = {false, false, false, false, false, false, true, false, Units::si, false, {}, false, {}};
  const Pixels pixels = picture(pictured(), options);
  const auto grass = mean(pixels, 0.02, 0.85, 0.2, 0.98), sky = mean(pixels, 0.0, 0.0, 0.12, 0.1);
  CHECK(grass[1] > grass[0] + 10);
  CHECK(grass[1] > grass[2] + 30);
  CHECK(grass[1] > 120);
  CHECK(sky[2] > 170);
}

TEST_CASE("a ghost of the same set-up shows nothing, one of another shows") {
  PictureOptions options = bare(640, 400);
  options.quality = Quality::moving;
  options.overlays.centre_of_gravity = options.overlays.support = false;
  const Pixels alone = picture(pictured(), options);
  options.ghost = pictured();
  // The same machine in the same place is seen once, but for a few pixels behind liquid, which the ghost does not show.
  CHECK(different(alone, picture(pictured(), options)) < 640 * 400 / 5000);
  options.ghost = pictured({"ballast.loader_pin_height_m=3"});
  CHECK(different(alone, picture(pictured(), options)) > 640 * 400 / 50);
}
#endif

// Every scene in scenes/validate against the answers it states, each with its source in the file.
#include <filesystem>

#include "render/text/motion/expectations.h"
#include "sim/base/errors.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

TEST_CASE("scenes/validate gives the answers it states") {
  int files = 0, answers = 0;
  for (const auto& entry : std::filesystem::directory_iterator(SIDEHILL_SOURCE_DIR "/scenes/validate")) {
    if (entry.path().extension() != ".toml") continue;
    CAPTURE(entry.path().string());
    ++files;
    const auto all = held_against(load_scene(entry.path()));
    CHECK(!all.empty());  // a reference that states nothing proves nothing
    for (const Held& held : all) {
      INFO(held.expect.quantity, " is ", held.found, ", must be ",
           held.expect.value ? std::to_string(*held.expect.value) : "never", " +- ", held.expect.tolerance);
      CHECK(!held.expect.source.empty());
      CHECK(held.holds);
      ++answers;
    }
  }
  CHECK(files >= 17);
  CHECK(answers >= 80);
}

TEST_CASE("a wrong expectation does not hold, an unknown quantity is bad input") {
  const std::filesystem::path path = SIDEHILL_SOURCE_DIR "/scenes/validate/reference_r.toml";
  Scene scene = load_scene(path);
  scene.expect = {{"first_lift_off_deg", 37.2, 0.01, "wrong on purpose"},
                  {"slide_deg", 30, 10, "wrong on purpose"},
                  {"first_lift_off_deg", std::nullopt, 0, "wrong on purpose"}};
  for (const Held& held : held_against(scene)) CHECK_FALSE(held.holds);
  scene.expect = {{"no_such_quantity", 1, 1, ""}};
  CHECK_THROWS_AS(held_against(scene), InputError);
  scene.expect = {{"wheel_load_n[9]", 1, 1, ""}};
  CHECK_THROWS_AS(held_against(scene), InputError);
}

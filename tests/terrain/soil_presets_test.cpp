// Named grounds: typical values inside their published span, distinct in their numbers.
#include "terrain/soil_presets.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "sim/scene/scene_fields.h"

using namespace sidehill;

TEST_CASE("every preset lies inside its own span and what a file allows, and says what it rests on") {
  const auto presets = soil_presets();
  CHECK(presets.size() >= 8);
  double before = 10;
  for (std::size_t i = 0; i < presets.size(); ++i) {
    const SoilPreset& p = presets[i];
    INFO(p.name);
    CHECK(p.adhesion_low < p.adhesion);
    CHECK(p.adhesion < p.adhesion_high);
    CHECK(p.adhesion <= before);  // from the grippiest down
    before = p.adhesion;
    CHECK(std::string(p.source).find("Typical") == 0);
    Scene scene;
    scene.terrain.soil = soil_of(p);
    for (const Field& field : scene_fields()) {
      if (!field.key.starts_with("terrain.soil.")) continue;
      if (const auto* number = std::get_if<NumberField>(&field.kind)) {
        CHECK(file_value(*number, scene) >= number->min);
        CHECK(file_value(*number, scene) <= number->max);
      }
    }
    CHECK(preset_of(scene.terrain.soil) == static_cast<int>(i));
  }
}

TEST_CASE("rolling resistance of firm, tilled and soft ground is the standard's 1 / Bn + 0.04") {
  // ASABE D497.7, from memory: wheel number 55 firm, 40 tilled, 20 soft.
  const auto rolling = [](const char* name) {
    for (const SoilPreset& p : soil_presets())
      if (std::string(p.name) == name) return p.rolling_resistance;
    return -1.0;
  };
  CHECK(std::abs(rolling("bare soil, firm and dry") - (1 / 55.0 + 0.04)) < 5e-4);
  CHECK(std::abs(rolling("tilled soil") - (1 / 40.0 + 0.04)) < 5e-4);
  CHECK(std::abs(rolling("bare soil, wet") - (1 / 20.0 + 0.04)) < 5e-4);
}

TEST_CASE("the default soil is one of them, a changed one is none") {
  Soil soil;
  REQUIRE(preset_of(soil));
  CHECK(soil.name == soil_presets()[static_cast<std::size_t>(*preset_of(soil))].name);
  soil.name = "the field behind the barn";
  CHECK(preset_of(soil));
  soil.adhesion += 0.01;
  CHECK_FALSE(preset_of(soil));
  soil = {};
  soil.adhesion_across_ratio = 0.8;
  CHECK_FALSE(preset_of(soil));
}

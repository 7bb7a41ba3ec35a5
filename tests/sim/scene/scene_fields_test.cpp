// The field list as a list: no key twice, every default inside its range, units that follow from the key.
#include "sim/scene/scene_fields.h"

#include <algorithm>
#include <numbers>
#include <set>

#include "sim/own_machine/machine_entry.h"
#include "sim/scene/scene.h"
#include "sim/scene/scene_lists.h"
#include "tests/kit/near.h"

using namespace sidehill;

TEST_CASE("every key is named once, has help, and its default lies inside its range") {
  std::set<std::string_view> seen;
  Scene scene;
  for (const Field& field : scene_fields()) {
    CAPTURE(std::string(field.key));
    CHECK(seen.insert(field.key).second);
    CHECK(field.help.size() > 3);
    CHECK(field.help.find('\n') == field.help.npos);
    if (const auto* number = std::get_if<NumberField>(&field.kind)) {
      CHECK(number->min < number->max);
      CHECK(file_value(*number, scene) >= number->min);
      CHECK(file_value(*number, scene) <= number->max);
      CHECK(number->to_si > 0);
    }
    if (const auto* choice = std::get_if<ChoiceField>(&field.kind)) {
      const int count = static_cast<int>(choice->choices.size());
      for (int i = 0; i < count; ++i) {
        choice->set(scene, i);
        CHECK(choice->get(scene) == i);
      }
    }
  }
  for (const Alias& alias : scene_aliases()) {
    CHECK(find_field(alias.key) == nullptr);
    for (std::string_view target : alias.targets) CHECK(find_field(target) != nullptr);
  }
}

TEST_CASE("every number says how well it is known, every number of the machine how it follows from its class") {
  const auto look_at = [](std::string_view prefix, const auto& fields) {
    for (const auto& field : fields) {
      CAPTURE(std::string(prefix) + std::string(field.key));
      const bool number = field.kind.index() == 0, of_machine = field.key.starts_with("vehicle.");
      CHECK((field.doubt.kind != UsualDoubt::Kind::not_said) == number);
      const auto kind = field.doubt.kind;
      const bool has_width =
          kind == UsualDoubt::Kind::absolute || kind == UsualDoubt::Kind::share || kind == UsualDoubt::Kind::if_any;
      CHECK((field.doubt.width > 0) == has_width);
      CHECK((field.doubt.rule != nullptr) == (kind == UsualDoubt::Kind::rule));
      CHECK(field.from_class.has_value() == (number && of_machine));
      if (field.from_class && !field.from_class->better.empty()) CHECK(find_entry_field(field.from_class->better));
    }
  };
  look_at("", scene_fields());
  for_each_list([&](const auto& list) { look_at(list.name, list.fields()); });
}

TEST_CASE("a slider stands in a place of its own and covers nothing that is not allowed") {
  std::set<int> places;
  const Scene scene;
  const auto look_at = [&](std::string_view key, const std::optional<Slider>& slider) {
    if (!slider) return;
    CAPTURE(std::string(key));
    CHECK(places.insert(slider->place).second);
    CHECK(slider->step > 0);
    const auto span = slider->span ? slider->span(scene) : Span{slider->min, slider->max};
    for (const Field* field : targets_of(key)) {
      const auto& number = std::get<NumberField>(field->kind);
      if (!span) continue;
      CHECK(number.min <= span->min);
      CHECK(span->min < span->max);
      CHECK(span->max <= number.max);
    }
    if (slider->choice.empty()) return;
    std::vector<std::string_view> chosen{slider->choice};
    for (const Alias& alias : scene_aliases())
      if (alias.key == slider->choice) chosen.assign(std::begin(alias.targets), std::end(alias.targets));
    for (const std::string_view target : chosen) {
      const Field* field = find_field(target);
      REQUIRE(field);
      CHECK(std::holds_alternative<ChoiceField>(field->kind));
    }
  };
  for (const Field& field : scene_fields()) look_at(field.key, field.slider);
  for (const Alias& alias : scene_aliases()) look_at(alias.key, alias.slider);
  CHECK(places.size() >= 10);
}

TEST_CASE("a plain name is words, without a key's signs") {
  for (const Field& field : scene_fields()) {
    const std::string name = plain_name(field.key);
    CAPTURE(name);
    CHECK(name.size() >= 1);
    CHECK(name.find_first_of("_.") == name.npos);
  }
  CHECK(plain_name("vehicle.rear.track_m") == "rear track");
  CHECK(plain_name("vehicle.rear.tyre.pressure_kpa") == "rear tyre: pressure");
  CHECK(plain_name("ballast.rear.fill_fraction") == "rear: part of the tyre filled");
  CHECK(plain_name("ballast.implement.z_m") == "implement, height");
}

TEST_CASE("no two number fields share a member") {
  Scene scene;
  std::set<const double*> members;
  for (const Field& field : scene_fields())
    if (const auto* number = std::get_if<NumberField>(&field.kind)) {
      CAPTURE(std::string(field.key));
      CHECK(members.insert(number->at(scene)).second);
    }
}

TEST_CASE("a key's suffix is its unit") {
  Scene scene;
  const auto set = [&](std::string_view key, double value) {
    const Field* field = find_field(key);
    REQUIRE(field != nullptr);
    set_file_value(std::get<NumberField>(field->kind), scene, value);
    return std::string(field->unit);
  };
  CHECK(set("terrain.slope_deg", 18) == "deg");
  CHECK_NEAR(scene.terrain.slope, std::numbers::pi / 10, 1e-15);
  CHECK(set("vehicle.rear.tyre.pressure_kpa", 160) == "kPa");
  CHECK_NEAR(scene.vehicle.rear.tyre.pressure, 160000, 1e-9);
  CHECK(set("vehicle.rear.tyre.cavity_volume_l", 250) == "L");
  CHECK_NEAR(scene.vehicle.rear.tyre.cavity_volume, 0.25, 1e-15);
  CHECK(set("vehicle.rear.tyre.vertical_stiffness_kn_per_m", 350) == "kN/m");
  CHECK_NEAR(scene.vehicle.rear.tyre.vertical_stiffness, 350000, 1e-9);
  CHECK(set("vehicle.rear.tyre.vertical_damping_kns_per_m", 6) == "kN s/m");
  CHECK_NEAR(scene.vehicle.rear.tyre.vertical_damping, 6000, 1e-9);
  CHECK(set("vehicle.front_axle.stop_stiffness_knm_per_rad", 500) == "kN m/rad");
  CHECK_NEAR(scene.vehicle.front_axle.stop_stiffness, 500000, 1e-9);
  CHECK(set("programme.speed_kmh", 36) == "km/h");
  CHECK_NEAR(scene.programme.speed, 10, 1e-14);
  CHECK(set("programme.tilt_rate_deg_per_s", 180) == "deg/s");
  CHECK_NEAR(scene.programme.tilt_rate, std::numbers::pi, 1e-14);
  CHECK(set("settings.temperature_c", 10) == "C");
  CHECK_NEAR(scene.settings.temperature, 283.15, 1e-12);
  CHECK(set("settings.gravity_m_per_s2", 9.81) == "m/s2");
  CHECK_NEAR(scene.settings.gravity, 9.81, 0.0);
  CHECK(set("vehicle.engine_power_kw", 75) == "kW");
  CHECK_NEAR(scene.vehicle.engine_power, 75000, 1e-9);
}

TEST_CASE("a wrong key is answered with the nearest right one") {
  CHECK(nearest_key("terrain.slope") == "terrain.slope_deg");
  CHECK(nearest_key("ballast.rear.fill_fracton") == "ballast.rear.fill_fraction");
  CHECK(nearest_key("vehicle.reer.track_m") == "vehicle.rear.track_m");
  CHECK(nearest_key("ballast.point_mass[].mass") == "ballast.point_mass[].mass_kg");
  CHECK(nearest_key("slope") == "terrain.slope_deg");  // without its table
  CHECK(nearest_key("slope_deg") == "terrain.slope_deg");
  CHECK(nearest_key("titel") == "title");
  for (const char* far : {"xyzzy_plugh_frobozz_and_more", "beer", "mass_kg", "x", "", "."}) {
    CAPTURE(far);
    CHECK(nearest_key(far).empty());
  }
}

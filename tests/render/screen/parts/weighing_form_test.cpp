// The weighing as a form, step by step, and into the machine.
#ifdef SIDEHILL_SCREEN
#include "render/screen/parts/weighing_form.h"

#include <fmt/format.h>

#include <cstring>
#include <string>

#include "sim/base/errors.h"
#include "sim/model/model.h"
#include "sim/own_machine/weighed_machine.h"
#include "sim/rest/mass_sums.h"
#include "tests/kit/near.h"
#include "tests/kit/table.h"

using namespace sidehill;

namespace {

void type(WeighingForm& form, const char* key, const char* text) {
  form.typed[key] = {};
  std::strncpy(form.typed[key].data(), text, form.typed[key].size() - 1);
}

// The numbers a machine like the scene's, with its centre of gravity `up`, would show on the scales.
Weighing on_scales(const Scene& scene, double up, double mass_more) {
  Weighing w = weighing_before(scene);
  const Model model = build(scene);
  const double mass = total_mass(model) + mass_more;
  w.front = std::round(0.4 * mass), w.rear = std::round(mass) - w.front;
  w.front_raised = true;
  w.height = 0.6;
  return weighed_at(w, up);
}

void fill(WeighingForm& form, const Weighing& w) {
  form.singly = false;
  type(form, "front_kg", fmt::format("{:.6f}", w.front).c_str());
  type(form, "rear_kg", fmt::format("{:.6f}", w.rear).c_str());
  type(form, "raise_front_m", fmt::format("{:.6f}", w.height).c_str());
  type(form, "raised_rear_kg", fmt::format("{:.6f}", *w.rear_then).c_str());
}

}  // namespace

TEST_CASE("what is weighed goes straight into the machine: its mass and its centre of gravity are those weighed") {
  Table table;
  REQUIRE(carry_out(ctrl('k'), table.desk, table.choices));
  table.frame();
  table.frame();
  REQUIRE(table.choices.weighing);
  WeighingForm& form = *table.choices.weighing;
  const Scene before = table.session.scene();
  fill(form, on_scales(before, 0.95, 150));
  const WeighingFound found = weighing_found(form);
  REQUIRE_MESSAGE(found.sheet, found.wrong);
  CHECK_NEAR(centre_of_gravity_of(found.sheet->weighing).z, 0.95, 2e-3);
  for (int i = 0; i < 4; ++i) table.click("Next step");
  CHECK(form.step == WeighingStep::result);
  for (const char* item : {"Weighed mass", "Weighed height", "Weighed ahead", "Weighing drawing"})
    CHECK(table.has(item));
  table.click("Use it");
  const Scene& now = table.session.scene();
  const Model model = build(now);
  const WeighedCentre c = centre_of_gravity_of(found.sheet->weighing);
  CHECK_NEAR(total_mass(model), c.mass, 1e-6);
  const Vec3 cg = centre_of_gravity(model);
  CHECK_NEAR(cg.x, c.x, 1e-9);
  // The answer's heights are those of unloaded tyres.
  const Weighing& w = found.sheet->weighing;
  const double front = now.vehicle.front.tyre.free_radius - w.front_radius,
               rear = now.vehicle.rear.tyre.free_radius - w.rear_radius;
  CHECK_NEAR(cg.z, c.z + rear + (front - rear) * c.x / w.wheelbase, 1e-9);
  // And how far off it may be is known of the machine now.
  const WeighingError e = error_of(w, found.sheet->tolerance);
  bool mass = false, height = false;
  for (const Tolerance& tolerance : now.tolerances) {
    if (tolerance.key == "vehicle.chassis.mass_kg") mass = tolerance.value == e.mass;
    if (tolerance.key == "vehicle.chassis.centre_of_gravity_z_m") height = tolerance.value > e.centre.z;
  }
  CHECK(mass);
  CHECK(height);
  note_edits(table.desk, true);
  undo(table.desk);
  CHECK(write_scene(table.session.scene()) == write_scene(before));
}

TEST_CASE("what is missing or wrong is named by its row, and nothing is used then") {
  Table table;
  WeighingForm form = weighing_form(table.session.scene(), Units::si);
  CHECK(weighing_found(form).wrong.starts_with("Front axle: missing"));
  fill(form, on_scales(table.session.scene(), 0.9, 0));
  REQUIRE(weighing_found(form).sheet);
  type(form, "raised_rear_kg", "");
  CHECK_FALSE(weighing_found(form).sheet);
  type(form, "raised_rear_kg", "about 3000");
  CHECK_FALSE(weighing_found(form).sheet);
  CHECK(weighing_found(form).wrong_key == "raised_rear_kg");
  // More on the machine than it weighs is refused.
  Weighing light = on_scales(table.session.scene(), 0.9, 0);
  light.front *= 0.5, light.rear *= 0.5;
  fill(form, weighed_at(light, 0.9));
  const WeighingFound found = weighing_found(form);
  REQUIRE_MESSAGE(found.sheet, found.wrong);
  CHECK_THROWS_AS(with_weighing(table.session.scene(), *found.sheet), InputError);
}

TEST_CASE("each step of the weighing is inside the window and reached by the keyboard") {
  for (const auto& [width, height] :
       {std::pair{960.f, 600.f}, {1280.f, 720.f}, {1366.f, 768.f}, {1920.f, 1080.f}, {2560.f, 1440.f}})
    for (const float scale : {1.f, 1.5f, 2.f}) {
      if (scale > most_text_scale(width, height, 1)) continue;
      const float wide = width;  // a bound name cannot be captured
      CAPTURE(wide);
      CAPTURE(scale);
      Table table("first_slope", scale);
      table.width = width, table.height = height;
      table.frame();
      REQUIRE(carry_out(ctrl('k'), table.desk, table.choices));
      for (int step = 0; step < kWeighingSteps; ++step) {
        CAPTURE(step);
        table.choices.weighing ? void(table.choices.weighing->step = static_cast<WeighingStep>(step)) : void();
        table.frame();
        table.frame();
        for (const char* item : {"Next step", "Step back", "Close weighing", "Weighing drawing", "5 Result"}) {
          INFO(item);
          const Rect r = table.item(item);
          CHECK(r.x >= 0);
          CHECK(r.x + r.width <= width);
          CHECK(r.y + r.height <= height);
        }
      }
    }
}
#endif

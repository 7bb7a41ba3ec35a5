// What a plan is called, and what to type to set it.
#include "render/text/plan/plan_words.h"

#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

TEST_CASE("what a plan says to set makes its machine, other tyres with all of their numbers too") {
  Scene scene = test_machine("utility_75kw", {"job.work=mowing_on_slopes", "ballast.rear.fill_fraction=0.5"});
  WheelsOnHand wide;
  wide.name = "wide pair";
  wide.fit = WheelsFit::instead;
  wide.size = "520/70R38";
  wide.wheel_mass = 260;
  scene.job.wheels = {wide};
  const PlanGround ground = plan_ground(scene);
  PlanChoice choice{};
  choice[static_cast<std::size_t>(PlanPart::rear_fill)] = 1;
  choice[static_cast<std::size_t>(PlanPart::pressure)] = 1;
  choice[static_cast<std::size_t>(PlanPart::rear_tyres)] = 1;
  CHECK(plan_name(ground, choice, measure(ground, choice)) ==
        "rear tyres on air, 520/70R38 tyres (wide pair) on the rear axle, 20 % less pressure");
  Scene set = ground.scene;
  for (const std::string& change : plan_changes(ground, choice)) apply_override(set, change);
  const Scene planned = scene_of(ground.scene, ground.space, choice);
  // A text says a number to its last bit at best, a pressure to six digits.
  for (const std::string& left : changed_settings(set, planned, "")) {
    CAPTURE(left);
    const Field* field = find_field(left.substr(0, left.find('=')));
    REQUIRE(field);
    const auto* number = std::get_if<NumberField>(&field->kind);
    REQUIRE(number);
    CHECK_NEAR(file_value(*number, set), file_value(*number, planned), 1e-6 * file_value(*number, planned));
  }
  CHECK(set.vehicle.rear.tyre.size == "520/70R38");
  CHECK(set.vehicle.rear.wheel_mass == 260);
  CHECK(set.vehicle.front.tyre.pressure < ground.scene.vehicle.front.tyre.pressure);
}

// Until when a run could have been saved: the answer against the run itself, branched at that moment and one grid step
// later, driven here by hand on a World.
#include "sim/insight/rescue.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "render/text/motion/rescue_report.h"
#include "sim/motion/run.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

const Rescue* act_of(const Rescues& rescues, RescueAct act) {
  const auto found =
      std::find_if(rescues.acts.begin(), rescues.acts.end(), [&](const Rescue& r) { return r.act == act; });
  return found == rescues.acts.end() ? nullptr : &*found;
}

// Lies on its side, its back or its tail within four seconds of `time`, with the act begun then.
bool goes_over_alone(Scene scene, RescueAct act, double time) {
  scene.settings.engine = Engine::own;
  const Model model = build(scene);
  Runner runner(scene, model);
  runner.advance(time);
  World world(model, Pose{}, 0);
  world.restore(runner.moment());
  Driving driving = runner.driving();
  const double boom = boom_angle_at(model, scene.vehicle.loader.min_pin_height);
  for (int n = 0; n < 16000; ++n) {
    Input input = drive(model, world.state(), driving);
    if (act == RescueAct::stop) {  // feet on clutch and brake, whatever else was to be done
      input.hold = false;
      input.clutch = 0, input.brake = 1;
    } else if (act == RescueAct::lower_loader) {
      input.boom_angle = boom;
    }
    world.step(input);
    const State& s = world.state();
    if (s.hull_touches && s.X_GV.R[2].z < 0.57) return true;
  }
  // One that hangs on the brink with a wheel in the air is not saved.
  return std::any_of(world.state().wheels.begin(), world.state().wheels.end(),
                     [](const WheelState& w) { return !(w.load > 0); });
}

void check_branches(const Scene& scene, const Rescues& rescues, RescueAct act) {
  const Rescue* rescue = act_of(rescues, act);
  REQUIRE(rescue);
  REQUIRE(rescue->latest);
  REQUIRE(rescues.point_of_no_return);
  CHECK(*rescue->latest >= rescues.tried_from);
  CHECK(*rescue->latest < *rescues.point_of_no_return);
  CHECK_NEAR(*rescue->latest / kRescueStep, std::round(*rescue->latest / kRescueStep), 1e-6);  // on the grid
  CHECK_FALSE(goes_over_alone(scene, act, *rescue->latest));
  CHECK(goes_over_alone(scene, act, *rescue->latest + kRescueStep));
}

bool alike_rescues(const Rescues& a, const Rescues& b) {
  return a.needed == b.needed && a.lift_off == b.lift_off && a.point_of_no_return == b.point_of_no_return &&
         a.tried_from == b.tried_from &&
         std::equal(a.acts.begin(), a.acts.end(), b.acts.begin(), b.acts.end(), [](const Rescue& x, const Rescue& y) {
           return x.act == y.act && x.latest == y.latest && x.latest_upright == y.latest_upright;
         });
}

}  // namespace

TEST_CASE("a run that stands needs no rescue") {
  const Rescues none = rescues(test_scene("first_slope"));
  CHECK_FALSE(none.needed);
  CHECK(none.acts.empty());
  CHECK_FALSE(none.point_of_no_return);
}

TEST_CASE("with its wheels stuck a tractor is saved by the clutch until some moment before the point of no return") {
  const Scene scene = test_scene("stuck_wheels");
  const Rescues found = rescues(scene);
  REQUIRE(found.needed);
  REQUIRE(found.lift_off);
  CHECK(*found.lift_off > 2);                           // the clutch is dropped then
  CHECK_FALSE(act_of(found, RescueAct::lower_loader));  // it has none
  check_branches(scene, found, RescueAct::stop);
  const Rescue* stop = act_of(found, RescueAct::stop);
  MESSAGE("front wheels up at ", *found.lift_off, " s, balance at ", *found.point_of_no_return, " s, clutch out by ",
          *stop->latest, " s");
  CHECK_FALSE(act_of(found, RescueAct::steer_downhill));  // the ground is level
  CHECK(alike_rescues(found, rescues(scene)));
}

TEST_CASE(
    "a load raised on the way across a slope is lowered in time until some moment before the point of no return") {
  const Scene scene = test_scene("raised_while_driving");
  const Rescues found = rescues(scene);
  REQUIRE(found.needed);
  check_branches(scene, found, RescueAct::lower_loader);
  for (const Rescue& rescue : found.acts)
    MESSAGE("act ", static_cast<int>(rescue.act), " by ", rescue.latest.value_or(-1), " s; a wheel up at ",
            found.lift_off.value_or(-1), " s, balance at ", *found.point_of_no_return, " s");
}

TEST_CASE("braking has three ends: on all its wheels, stopped with a wheel up, and over") {
  const Scene scene = test_scene("turn_uphill");
  const Rescues found = rescues(scene);
  REQUIRE(found.needed);
  for (RescueAct act : {RescueAct::stop, RescueAct::stop_gently}) {
    const Rescue* brake = act_of(found, act);
    REQUIRE(brake);
    CHECK(brake->first == RescueEnd::on_its_wheels);
    REQUIRE(brake->latest);
    REQUIRE(brake->latest_upright);
    CHECK(*brake->latest_upright > *brake->latest);
    CHECK(brake->stops);
  }
  // Half the pedal keeps the wheels down from later moments than all of it: it pulls less to the low side.
  CHECK(*act_of(found, RescueAct::stop_gently)->latest > *act_of(found, RescueAct::stop)->latest);
  // The run itself, braked by a programme a second after the last moment that keeps its wheels: it does not go over.
  const Scene braked = test_scene("turn_uphill", {"programme.action=[{at_s=3.5, what=\"brake\", pedal=1}]"});
  CHECK(run(braked).outcome == Outcome::wheel_up);
  const std::string text = rescue_table(found);
  CHECK(has(text, "full brake"));
  CHECK(has(text, "half brake"));
  CHECK(has(text, "stops with a wheel up, if begun after that and by "));
  CHECK(has(text, "goes over, if begun later"));
  const auto json = rescue_json(found)["acts"];
  CHECK(json["stop"]["from_first_moment"] == "on_its_wheels");
  CHECK(json["stop"]["stops_with_a_wheel_up"] == true);
  CHECK(json["stop_half_pedal"]["not_over_latest_s"].get<double>() > 0);
  CHECK(json["steer_downhill"]["from_first_moment"] == "goes_over");
  CHECK(json["steer_downhill"]["not_over_latest_s"].is_null());
  // What works up to the last moment tried is not said to fail after it.
  Rescues all_the_way = found;
  all_the_way.acts.resize(1);
  all_the_way.acts[0].latest = all_the_way.acts[0].latest_upright = all_the_way.tried_to;
  CHECK_FALSE(has(rescue_table(all_the_way), "goes over"));
}

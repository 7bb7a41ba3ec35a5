// The rows of what is done and asked: the run, its actions, the answer's conditions, tolerances and expected answers.
// None of it is measured, so none of it is in doubt.
#include "sim/scene/field_rows.h"

namespace sidehill {

std::vector<Field> programme_fields() {
  return {
      number("programme.duration_s", at<&Scene::programme, &Programme::duration>(), 0.1, 600, "how long the run lasts",
             chosen()),
      number("programme.drop_height_m", at<&Scene::programme, &Programme::drop_height>(), 0, 5,
             "height above the ground from which it is dropped; 0: it starts at rest, if it can rest", chosen(),
             Slider{"Run", "Drop from", 62, 0, 1, 0.05, 2}),
      number("programme.speed_kmh", at<&Scene::programme, &Programme::speed>(), 0, 50,
             "forward speed the driver wants; 0 = parked, rear wheels held", chosen(),
             Slider{"Run", "Speed", 61, 0, 20, 0.5, 1}),
      number("programme.drive_from_s", at<&Scene::programme, &Programme::drive_from>(), 0, 600,
             "when it starts to drive", chosen()),
      number("programme.tilt_rate_deg_per_s", at<&Scene::programme, &Programme::tilt_rate>(), 0, 10,
             "rate at which the whole ground tilts further", chosen()),
      flag("programme.front_drive", at<&Scene::programme, &Programme::front_drive>(), "front drive in from the start"),

      number("manoeuvre.speed_kmh", at<&Scene::manoeuvre, &Manoeuvre::speed>(), 0, 80,
             "speed in a steady bend, for the answer at rest", chosen()),
      number("manoeuvre.turn_radius_m", at<&Scene::manoeuvre, &Manoeuvre::turn_radius>(), 0, 1000,
             "radius of that bend, tried to the left and to the right; 0 = none", chosen()),
      number("manoeuvre.braking_m_per_s2", at<&Scene::manoeuvre, &Manoeuvre::braking>(), 0, 12,
             "deceleration along the heading, for the answer at rest; 0 = none", chosen()),

      number("settings.gravity_m_per_s2", at<&Scene::settings, &Settings::gravity>(), 0.1, 30,
             "standard gravity is 9.80665", chosen()),
      number("settings.temperature_c", at<&Scene::settings, &Settings::temperature>(), -40, 60,
             "temperature of liquids and air now", chosen(),
             Slider{"Liquid in the tyres", "Temperature", 23, -30, 40, 1, 0}),
      number("settings.filling_temperature_c", at<&Scene::settings, &Settings::filling_temperature>(), -40, 60,
             "temperature at which the tyres were filled and pumped up", chosen()),
      number("settings.time_step_s", at<&Scene::settings, &Settings::time_step>(), 1e-5, 0.005, "time step of a run",
             chosen()),
      choice<&Scene::settings, &Settings::engine>(
          "settings.engine", keys_of<kEngines>(),
          "what moves the bodies in a run: the Bullet physics engine, or our own faster step of the same rule"),

      choice<&Scene::view, &SceneView::from>(
          "view.from", keys_of<kViewsFrom>(),
          "side the picture is seen from at first; three_quarter = from ahead and downhill; free = by yaw and pitch"),
      number("view.yaw_deg", at<&Scene::view, &SceneView::yaw>(), -180, 180,
             "view.from free: from the machine's nose round to the eye, seen from above; 90 = from its left side",
             chosen()),
      number("view.pitch_deg", at<&Scene::view, &SceneView::pitch>(), -5, 85,
             "view.from free: how far the eye is above the horizontal", chosen()),
      number("view.ahead_m", at<&Scene::view, &SceneView::ahead>(), 0, 40,
             "so much ground ahead of the machine is in view as well", chosen()),
      number("view.behind_m", at<&Scene::view, &SceneView::behind>(), 0, 40,
             "so much ground behind the machine is in view as well", chosen()),
      flag("view.obstacles", at<&Scene::view, &SceneView::obstacles>(),
           "bumps, holes and stakes within 12 m of the machine are in view as well"),
  };
}

std::span<const FieldOf<Action>> action_fields() {
  static const std::vector<FieldOf<Action>> kRows = {
      choice<&Action::what>("what", keys_of<kActionKinds>(),
                            "drive and drop_clutch (speed), coast, brake (pedal), curve (radius), line, loader (pin "
                            "height), front_drive (pedal 0 = out), stuck, tie (rope)",
                            Needed{}),
      number("at_s", at<&Action::at>(), 0, 600, "from this moment on", chosen()),
      number("speed_kmh", at<&Action::speed>(), -20, 50, "speed the driver wants; negative = backwards", chosen()),
      number("radius_m", at<&Action::radius>(), -1000, 1000, "radius of a bend, left positive; 0 = wheels straight",
             chosen()),
      number("pedal", at<&Action::pedal>(), 0, 1, "how far the brake pedal is down", chosen()),
      number("pin_height_m", at<&Action::pin_height>(), 0, 8, "height of the bucket pin, reached at the loader's speed",
             chosen()),
      number("rope_m", at<&Action::rope>(), 0, 100, "stake behind the hitch, at ground height; the rope is just taut",
             chosen()),
  };
  return kRows;
}

std::span<const FieldOf<Tolerance>> tolerance_fields() {
  static const std::vector<FieldOf<Tolerance>> kRows = {
      text("key", at<&Tolerance::key>(), 120,
           "a number's key; an alias such as ballast.rear.fill_fraction changes both"),
      number("value", at<&Tolerance::value>(), 0, 1e12, "+- in the key's unit, two standard deviations", chosen()),
  };
  return kRows;
}

std::span<const FieldOf<Expect>> expect_fields() {
  static const std::vector<FieldOf<Expect>> kRows = {
      text("quantity", at<&Expect::quantity>(), 120, "a key of the JSON answer; list entries such as wheel_load_n[2]"),
      row<Expect>("value", "", "what it must be, in the quantity's unit, or \"never\"",
                  AnswerFieldOf<Expect>{at<&Expect::value>()}),
      number("tolerance", at<&Expect::tolerance>(), 0, 1e12, "absolute, in the quantity's unit", chosen()),
      text("source", at<&Expect::source>(), 1000, "where the value comes from"),
  };
  return kRows;
}

}  // namespace sidehill

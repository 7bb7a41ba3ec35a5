// Machines for tests: the reference bodies R, V and P made by hand, and the generic machines from their files.
#pragma once
#include <string>
#include <vector>

#include "sim/base/constants.h"
#include "sim/scene/scene_file.h"

namespace sidehill {

inline constexpr const char* kMachines[] = {"compact_26kw", "utility_75kw", "row_crop_150kw", "orchard_60kw",
                                            "two_wheel_45kw"};

inline Scene test_scene(const std::string& name, std::vector<std::string> overrides = {}) {
  return load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + name + ".toml", overrides);
}

// A generic machine put down on level ground with grip without limit, bucket empty, rear tyres three quarters full of
// water.
inline Scene test_machine(const std::string& vehicle, std::vector<std::string> more = {}) {
  std::vector<std::string> overrides{
      "vehicle_file=\"" + vehicle + "\"", "terrain.slope_deg=0",       "terrain.soil.adhesion_unlimited=true",
      "ballast.loader_payload_kg=0",      "programme.drop_height_m=0", "ballast.rear.medium=\"water\""};
  overrides.insert(overrides.end(), more.begin(), more.end());
  return test_scene("first_slope", overrides);
}

// A thin disc without mass; rigid until set otherwise.
inline Axle disc_axle(double track, double radius) {
  Axle axle{track, 0, 0, {}};
  axle.tyre.free_radius = radius;
  axle.tyre.rim_radius = 0.4 * radius;
  axle.tyre.section_width = 0.05;
  axle.tyre.rigid = axle.tyre.laterally_rigid = true;
  axle.tyre.side_give_share = 0;  // by definition: the load acts under the undeflected disc
  return axle;
}

// What R, V and P have in common: 3000 kg, all of it in the chassis, on four discs without mass; nothing bolted on,
// grip without limit, across the slope with downhill to the right.
inline Scene reference_body(double centre_ahead, double front_track, double front_radius) {
  Scene scene;
  Vehicle& v = scene.vehicle;
  v.wheelbase = 2.2;
  v.chassis.mass = 3000;
  v.chassis.centre_of_gravity = {centre_ahead, 0, 0.85};
  v.chassis.inertia = {1200, 3200, 3400};
  v.front_axle.mass = 0;
  v.front_axle.stop_angle = 11 * kDegree;
  v.front_axle.stop_stiffness = 1e9;
  v.front_axle.stop_damping = 0;
  v.front = disc_axle(front_track, front_radius);
  v.rear = disc_axle(1.6, 0.75);
  v.frame.kind = FrameKind::none;
  v.driver.on_seat = false;
  scene.terrain.soil.adhesion_unlimited = true;
  scene.start.heading = -90 * kDegree;
  scene.programme.drop_height = 0;
  return scene;
}

// R: front axle on a pin 0.55 m above its contact line, stop 11 deg.
inline Scene machine_r() {
  Scene scene = reference_body(0.9, 1.5, 0.55);
  scene.vehicle.front_axle.pin_height = scene.vehicle.front_axle.z = 0.55;
  return scene;
}

// V: alike front and rear, front axle fixed: a planar rigid body.
inline Scene machine_v() {
  Scene scene = reference_body(1.1, 1.6, 0.75);
  scene.vehicle.front_axle.kind = AxleKind::fixed;
  scene.vehicle.front_axle.pin_height = scene.vehicle.front_axle.z = 0.75;
  return scene;
}

// P: V on springs, half of 350 kN/m and 6 kN s/m upright, of 250 kN/m and 6 kN s/m sideways, per tyre.
inline Scene machine_p() {
  Scene scene = machine_v();
  for (Axle* axle : {&scene.vehicle.front, &scene.vehicle.rear}) {
    Tyre& tyre = axle->tyre;
    tyre.rigid = tyre.laterally_rigid = false;
    tyre.vertical_stiffness = 175e3, tyre.vertical_damping = 3e3;
    tyre.lateral_stiffness = 125e3, tyre.lateral_damping = 3e3;
  }
  return scene;
}

}  // namespace sidehill

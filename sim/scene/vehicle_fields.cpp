// The rows of the machine but for its wheels and tyres (axle_fields.cpp). What a row says of doubt and class is our
// estimate: what a tape measure, a weighbridge or a look at a gauge gives, and what goes with what from one machine of
// a class to the next.
#include "sim/scene/field_rows.h"

namespace sidehill {
namespace {

template <auto... path>
constexpr auto in_machine() {
  return at<&Scene::vehicle, path...>();
}

std::vector<Field> body_rows() {
  return {
      text("vehicle.name", in_machine<&Vehicle::name>(), 120, "class of machine, in plain words"),
      text("vehicle.note", in_machine<&Vehicle::note>(), 4000, "where its numbers come from"),
      of_machine("vehicle.engine_power_kw", in_machine<&Vehicle::engine_power>(), 1, 1000, "rated power", idle(),
                 FromClass{ScalesBy::mass, 0, "engine_power_kw"}),
      flag("vehicle.front_drive", in_machine<&Vehicle::front_drive>(),
           "the front axle can be driven (programme.front_drive says whether it is)"),
      of_machine("vehicle.permitted_mass_kg", in_machine<&Vehicle::permitted_mass>(), 0, 100000,
                 "of the whole machine, by its plate; 0 = not known", idle(), FromClass{ScalesBy::never}),
      of_machine("vehicle.wheelbase_m", in_machine<&Vehicle::wheelbase>(), 0.5, 10, "between the axles", within(0.005),
                 FromClass{ScalesBy::length, 0.08, "wheelbase_m"}),
      of_machine("vehicle.max_wheel_weights_kg", in_machine<&Vehicle::max_wheel_weights>(), 0, 5000,
                 "weights each rear wheel may carry; 0 = no such place", idle(),
                 FromClass{ScalesBy::mass, 0, "wheel_mount_kg"}),
      of_machine("vehicle.drive.clutch_capacity", in_machine<&Vehicle::drive, &Drive::clutch_capacity>(), 0.5, 5,
                 "largest torque through the clutch, divided by the engine's torque at rated power", idle(),
                 FromClass{ScalesBy::nothing}),
      of_machine("vehicle.drive.braking_m_per_s2", in_machine<&Vehicle::drive, &Drive::braking>(), 0, 12,
                 "deceleration at full pedal if the grip is enough; the brakes act on the rear wheels", idle(),
                 FromClass{ScalesBy::nothing}),
      of_machine("vehicle.drive.most_steer_deg", in_machine<&Vehicle::drive, &Drive::most_steer>(), 1, 75,
                 "largest angle of the front wheels, or of an articulated machine's joint", idle(),
                 FromClass{ScalesBy::nothing}),
      of_machine("vehicle.hitch.x_m", in_machine<&Vehicle::hitch, &Hitch::x>(), -8, 2,
                 "where a drawbar or rope pulls; behind is negative", within(0.005),
                 FromClass{ScalesBy::size, 0, "hitch_behind_m"}),
      of_machine("vehicle.hitch.z_m", in_machine<&Vehicle::hitch, &Hitch::z>(), 0.05, 4,
                 "where a drawbar or rope pulls, above ground", within(0.005),
                 FromClass{ScalesBy::height, 0, "hitch_height_m"}),
      of_machine("vehicle.hitch.max_load_kg", in_machine<&Vehicle::hitch, &Hitch::max_load>(), 0, 10000,
                 "what may rest on the hitch, by its plate; 0 = not known", idle(), FromClass{ScalesBy::never}),
      of_machine("vehicle.chassis.mass_kg", in_machine<&Vehicle::chassis, &Chassis::mass>(), 1, 50000,
                 "without front axle beam, wheels, loader, driver and ballast", share(0.01),
                 FromClass{ScalesBy::mass, 0, "mass_kg"}, Named{"mass of the body"}),
      of_machine("vehicle.chassis.centre_of_gravity_x_m",
                 in_machine<&Vehicle::chassis, &Chassis::centre_of_gravity, &Vec3::x>(), -5, 10,
                 "centre of gravity of the chassis, ahead of the rear axle", within(0.02),
                 FromClass{ScalesBy::length, 0, "front_axle_kg"}, Named{"body's centre of gravity, lengthwise"}),
      of_machine("vehicle.chassis.centre_of_gravity_y_m",
                 in_machine<&Vehicle::chassis, &Chassis::centre_of_gravity, &Vec3::y>(), -2, 2,
                 "centre of gravity of the chassis, to the left of the middle", within(0.01),
                 FromClass{ScalesBy::nothing}, Named{"body's centre of gravity, sideways"}),
      of_machine("vehicle.chassis.centre_of_gravity_z_m",
                 in_machine<&Vehicle::chassis, &Chassis::centre_of_gravity, &Vec3::z>(), 0.05, 5,
                 "centre of gravity of the chassis, above level ground on undeflected tyres", within(0.03),
                 FromClass{ScalesBy::height, 0, "raised_rear_kg"}, Named{"body's centre of gravity, height"}),
      of_machine("vehicle.chassis.roll_inertia_kgm2", in_machine<&Vehicle::chassis, &Chassis::inertia, &Vec3::x>(), 0,
                 1e6, "inertia of the chassis about its own centre of gravity, lengthwise axis", idle(),
                 FromClass{ScalesBy::inertia}),
      of_machine("vehicle.chassis.pitch_inertia_kgm2", in_machine<&Vehicle::chassis, &Chassis::inertia, &Vec3::y>(), 0,
                 1e6, "the same about the crosswise axis", idle(), FromClass{ScalesBy::inertia}),
      of_machine("vehicle.chassis.yaw_inertia_kgm2", in_machine<&Vehicle::chassis, &Chassis::inertia, &Vec3::z>(), 0,
                 1e6, "the same about the upright axis", idle(), FromClass{ScalesBy::inertia}),
      of_machine("vehicle.chassis.length_ahead_m", in_machine<&Vehicle::chassis, &Chassis::length_ahead>(), 0.1, 10,
                 "nose, ahead of the rear axle", idle(), FromClass{ScalesBy::length, 0, "nose_m"}),
      of_machine("vehicle.chassis.bonnet_height_m", in_machine<&Vehicle::chassis, &Chassis::bonnet_height>(), 0.2, 5,
                 "top of the bonnet", idle(), FromClass{ScalesBy::height, 0, "bonnet_height_m"}),
      of_machine("vehicle.chassis.bonnet_width_m", in_machine<&Vehicle::chassis, &Chassis::bonnet_width>(), 0.1, 4,
                 "width of the bonnet", idle(), FromClass{ScalesBy::size}),
      choice<&Scene::vehicle, &Vehicle::front_axle, &FrontAxle::kind>(
          "vehicle.front_axle.kind", keys_of<kAxleKinds>(),
          "pivoting on its pin, fixed to the chassis, or the front half of an articulated machine"),
      of_machine("vehicle.front_axle.mass_kg", in_machine<&Vehicle::front_axle, &FrontAxle::mass>(), 0, 5000,
                 "beam without wheels; articulated: the whole front half", share(0.01), FromClass{ScalesBy::mass, 0.2}),
      of_machine("vehicle.front_axle.x_m", in_machine<&Vehicle::front_axle, &FrontAxle::x>(), 0, 10,
                 "articulated only: that half's centre of mass, ahead of the rear axle; 0 = above the front wheels",
                 within(0.005), FromClass{ScalesBy::length, 0.05}),
      of_machine("vehicle.front_axle.joint_x_m", in_machine<&Vehicle::front_axle, &FrontAxle::joint_x>(), 0, 10,
                 "articulated only: the joint, ahead of the rear axle", within(0.005),
                 FromClass{ScalesBy::length, 0.08}),
      of_machine("vehicle.front_axle.z_m", in_machine<&Vehicle::front_axle, &FrontAxle::z>(), 0, 3,
                 "height of the beam's centre of mass", within(0.005), FromClass{ScalesBy::front, 0.08}),
      of_machine("vehicle.front_axle.pin_height_m", in_machine<&Vehicle::front_axle, &FrontAxle::pin_height>(), 0.05, 3,
                 "pivot pin above the front contact line", within(0.005),
                 FromClass{ScalesBy::front, 0.1, "pin_height_m"}, Named{"height of the front axle's pin"}),
      flag("vehicle.front_axle.casters", in_machine<&Vehicle::front_axle, &FrontAxle::casters>(),
           "front wheels that swivel freely: nothing steers them, and they hold nothing sideways"),
      of_machine("vehicle.front_axle.stop_angle_deg", in_machine<&Vehicle::front_axle, &FrontAxle::stop_angle>(), 0.1,
                 60, "joint angle at which the axle meets its stop, either way", within(0.5),
                 FromClass{ScalesBy::nothing, 0.2, "swing_m"}),
      of_machine("vehicle.front_axle.stop_stiffness_knm_per_rad",
                 in_machine<&Vehicle::front_axle, &FrontAxle::stop_stiffness>(), 1, kRigid, "of stop and beam",
                 share(0.3), FromClass{ScalesBy::stop}),
      of_machine("vehicle.front_axle.stop_damping_knms_per_rad",
                 in_machine<&Vehicle::front_axle, &FrontAxle::stop_damping>(), 0, 1e4, "of stop and beam", idle(),
                 FromClass{ScalesBy::stop}),
  };
}

std::vector<Field> frame_rows() {
  return {
      choice<&Scene::vehicle, &Vehicle::frame, &ProtectiveFrame::kind>("vehicle.frame.kind", keys_of<kFrameKinds>(),
                                                                       "protective frame"),
      flag("vehicle.frame.folded", in_machine<&Vehicle::frame, &ProtectiveFrame::folded>(),
           "a two-post frame folded down; it then protects nobody"),
      of_machine("vehicle.frame.top_height_m", in_machine<&Vehicle::frame, &ProtectiveFrame::top_height>(), 0.2, 6,
                 "above ground", idle(), FromClass{ScalesBy::height, 0, "frame_height_m"}),
      of_machine("vehicle.frame.width_m", in_machine<&Vehicle::frame, &ProtectiveFrame::width>(), 0.1, 5, "at the top",
                 idle(), FromClass{ScalesBy::size, 0, "frame_width_m"}),
      of_machine("vehicle.frame.x_front_m", in_machine<&Vehicle::frame, &ProtectiveFrame::x_front>(), -5, 10,
                 "front posts of a cab, or the posts of a two-post frame, ahead of the rear axle", idle(),
                 FromClass{ScalesBy::length}),
      of_machine("vehicle.frame.x_rear_m", in_machine<&Vehicle::frame, &ProtectiveFrame::x_rear>(), -5, 10,
                 "rear posts of a cab, ahead of the rear axle", idle(), FromClass{ScalesBy::length}),
  };
}

std::vector<Field> driver_rows() {
  std::vector<Field> rows = {
      flag("vehicle.driver.on_seat", in_machine<&Vehicle::driver, &Driver::on_seat>(),
           "the driver's mass is on the machine"),
      of_machine("vehicle.driver.mass_kg", in_machine<&Vehicle::driver, &Driver::mass>(), 0, 300, "of the driver",
                 within(15), FromClass{ScalesBy::nothing, 0, "driver_kg"}),
      of_machine("vehicle.driver.x_m", in_machine<&Vehicle::driver, &Driver::place, &Vec3::x>(), -5, 10,
                 "centre of mass, ahead of the rear axle", within(0.03), FromClass{ScalesBy::length}),
      of_machine("vehicle.driver.y_m", in_machine<&Vehicle::driver, &Driver::place, &Vec3::y>(), -3, 3,
                 "centre of mass, to the left", within(0.03), FromClass{ScalesBy::nothing}),
      of_machine("vehicle.driver.z_m", in_machine<&Vehicle::driver, &Driver::place, &Vec3::z>(), 0, 6,
                 "centre of mass, above ground, seated", within(0.03),
                 FromClass{ScalesBy::height, 0.08, "seat_height_m"}),
      flag("vehicle.driver.belted", in_machine<&Vehicle::driver, &Driver::belted>(), "seat belt on"),
  };
  return only_if([](const Scene& s) { return s.vehicle.driver.on_seat; }, std::move(rows));
}

std::vector<Field> tank_rows() {
  std::vector<Field> rows = {
      of_machine("vehicle.tank.capacity_l", in_machine<&Vehicle::tank, &Tank::capacity>(), 0, 20000,
                 "fuel or what else it carries; 0 = none", idle(), FromClass{ScalesBy::mass}),
      of_machine("vehicle.tank.density_kg_per_m3", in_machine<&Vehicle::tank, &Tank::density>(), 500, 2500,
                 "density of what is in the tank", share(0.01), FromClass{ScalesBy::nothing}),
      of_machine("vehicle.tank.x_m", in_machine<&Vehicle::tank, &Tank::place, &Vec3::x>(), -5, 10,
                 "centre of the tank, ahead of the rear axle", within(0.03), FromClass{ScalesBy::length, 0.1}),
      of_machine("vehicle.tank.y_m", in_machine<&Vehicle::tank, &Tank::place, &Vec3::y>(), -3, 3,
                 "centre of the tank, to the left", within(0.03), FromClass{ScalesBy::nothing}),
      of_machine("vehicle.tank.z_m", in_machine<&Vehicle::tank, &Tank::place, &Vec3::z>(), 0, 6,
                 "centre of the tank, above ground", within(0.03), FromClass{ScalesBy::height, 0.1}),
      of_machine("vehicle.tank.radius_m", in_machine<&Vehicle::tank, &Tank::radius>(), 0, 2,
                 "radius of a round tank lying lengthwise, whose liquid moves to the low side; 0 = it stays",
                 within(0.03), FromClass{ScalesBy::size}),
  };
  return only_if([](const Scene& s) { return s.vehicle.tank.capacity != 0; }, std::move(rows));
}

// A bucket is weighed; of another tool it lends its mass to an estimate.
double bucket_mass_doubt(const Scene& s) {
  const BallastPlan& plan = s.ballast;
  const bool estimate = plan.loader_tool != LoaderTool::bucket && plan.loader_tool_mass == 0;
  return (estimate ? 0.2 : 0.01) * s.vehicle.loader.bucket_mass;
}

std::vector<Field> loader_rows() {
  std::vector<Field> rows = {
      flag("vehicle.loader.fitted", in_machine<&Vehicle::loader, &Loader::fitted>(),
           "the machine carries a front loader"),
      of_machine("vehicle.loader.pivot_x_m", in_machine<&Vehicle::loader, &Loader::pivot_x>(), -3, 8,
                 "boom pivot, ahead of the rear axle", within(0.005),
                 FromClass{ScalesBy::loader_length, 0.1, "loader_pivot_ahead_m"}),
      of_machine("vehicle.loader.pivot_z_m", in_machine<&Vehicle::loader, &Loader::pivot_z>(), 0.2, 5,
                 "boom pivot, above ground", within(0.005),
                 FromClass{ScalesBy::loader_height, 0.06, "loader_pivot_height_m"}),
      of_machine("vehicle.loader.boom_length_m", in_machine<&Vehicle::loader, &Loader::boom_length>(), 0.3, 8,
                 "pivot to bucket pin, straight", within(0.005),
                 FromClass{ScalesBy::loader_height, 0.06, "loader_boom_m"}),
      of_machine("vehicle.loader.mast_mass_kg", in_machine<&Vehicle::loader, &Loader::mast_mass>(), 0, 5000,
                 "brackets bolted to the chassis", share(0.01),
                 FromClass{ScalesBy::loader_mass, 0.25, "loader_mass_kg"}),
      of_machine("vehicle.loader.boom_mass_kg", in_machine<&Vehicle::loader, &Loader::boom_mass>(), 0, 5000,
                 "boom and rams", share(0.01), FromClass{ScalesBy::loader_mass, 0.25, "loader_mass_kg"}),
      of_machine("vehicle.loader.bucket_mass_kg", in_machine<&Vehicle::loader, &Loader::bucket_mass>(), 0, 5000,
                 "empty bucket", by_rule(bucket_mass_doubt), FromClass{ScalesBy::loader_mass, 0.25, "bucket_mass_kg"}),
      of_machine("vehicle.loader.bucket_width_m", in_machine<&Vehicle::loader, &Loader::bucket_width>(), 0.2, 6,
                 "width of the bucket", idle(), FromClass{ScalesBy::size, 0, "bucket_width_m"}),
      of_machine("vehicle.loader.min_pin_height_m", in_machine<&Vehicle::loader, &Loader::min_pin_height>(), 0, 8,
                 "lowest bucket pin", idle(), FromClass{ScalesBy::loader_height}),
      of_machine("vehicle.loader.max_pin_height_m", in_machine<&Vehicle::loader, &Loader::max_pin_height>(), 0, 8,
                 "highest bucket pin", idle(), FromClass{ScalesBy::loader_height, 0, "loader_lift_height_m"}),
      of_machine("vehicle.loader.rated_payload_kg", in_machine<&Vehicle::loader, &Loader::rated_payload>(), 0, 20000,
                 "the maker's figure at full height", idle(), FromClass{ScalesBy::loader_mass, 0, "loader_payload_kg"}),
      of_machine("vehicle.loader.lift_speed_m_per_s", in_machine<&Vehicle::loader, &Loader::lift_speed>(), 0.01, 5,
                 "bucket pin, up or down", idle(), FromClass{ScalesBy::nothing}),
      flag("vehicle.loader.parallel", in_machine<&Vehicle::loader, &Loader::parallel>(),
           "a linkage keeps the bucket level as the boom turns"),
  };
  return only_if([](const Scene& s) { return s.vehicle.loader.fitted; }, std::move(rows));
}

std::vector<Field> mount_rows() {
  return {
      of_machine("vehicle.front_mount.x_m", in_machine<&Vehicle::front_mount, &Mount::x>(), -2, 12,
                 "centre of the front weights", within(0.03), FromClass{ScalesBy::length}),
      of_machine("vehicle.front_mount.z_m", in_machine<&Vehicle::front_mount, &Mount::z>(), 0, 4,
                 "centre of the front weights, above ground", within(0.03), FromClass{ScalesBy::height}),
      of_machine("vehicle.front_mount.max_mass_kg", in_machine<&Vehicle::front_mount, &Mount::max_mass>(), 0, 20000,
                 "0 = no such place", idle(), FromClass{ScalesBy::mass, 0, "front_mount_kg"}),
      of_machine("vehicle.rear_mount.x_m", in_machine<&Vehicle::rear_mount, &Mount::x>(), -8, 2,
                 "centre of the rear weights; behind is negative", within(0.03), FromClass{ScalesBy::length}),
      of_machine("vehicle.rear_mount.z_m", in_machine<&Vehicle::rear_mount, &Mount::z>(), 0, 4,
                 "centre of the rear weights, above ground", within(0.03), FromClass{ScalesBy::height}),
      of_machine("vehicle.rear_mount.max_mass_kg", in_machine<&Vehicle::rear_mount, &Mount::max_mass>(), 0, 20000,
                 "0 = no such place", idle(), FromClass{ScalesBy::mass, 0, "rear_mount_kg"}),
  };
}

}  // namespace

std::vector<Field> vehicle_fields() {
  std::vector<Field> rows = body_rows();
  append(rows, axle_fields());
  for (auto* part : {frame_rows, driver_rows, tank_rows, loader_rows, mount_rows}) append(rows, part());
  return rows;
}

}  // namespace sidehill

// What the maker built: masses, geometry, tyres, pivot and stops, loader, places for ballast. Plain data with valid
// defaults; no behaviour, no position, no ballast. Knows no file, no time, no ground.
// Places are x ahead of the rear axle, y to the left, z above level ground with undeflected tyres [m] (the frame people
// measure in); sim/model/model converts to V.
#pragma once
#include <array>
#include <string>
#include <string_view>

#include "sim/base/enum_table.h"
#include "sim/base/pose.h"

namespace sidehill {

// Order of wheels everywhere: as the driver sits.
enum Wheel { kFrontLeft = 0, kFrontRight = 1, kRearLeft = 2, kRearRight = 3 };
constexpr int kWheels = 4;
struct WheelWords {
  std::string_view key, name, title;  // in keys and JSON; in a sentence; at the head of a row
};
inline constexpr std::array kWheelWords{
    WheelWords{"front_left", "front left", "Front left"},
    WheelWords{"front_right", "front right", "Front right"},
    WheelWords{"rear_left", "rear left", "Rear left"},
    WheelWords{"rear_right", "rear right", "Rear right"},
};
static_assert(kWheelWords.size() == kWheels);
constexpr bool is_front(int wheel) { return wheel < 2; }
constexpr bool is_left(int wheel) { return wheel % 2 == 0; }

// One tyre size with its wheel; both wheels of an axle are alike.
struct Tyre {
  std::string size = "18.4R38";         // designation as on the sidewall; words only once the numbers below are set
  double free_radius = 0.875;           // overall radius, inflated, no load [m], > 0
  double rim_radius = 0.4826;           // where the bead sits [m], 0 < rim < free
  double section_width = 0.467;         // inflated width [m], > 0
  double cavity_volume = 0;             // inside volume [m3]; 0 = from the dimensions (vehicles/cavity)
  double pressure = 1.2e5;              // cold inflation, gauge [Pa]
  double vertical_stiffness = 3.5e5;    // per tyre, air only, at `pressure` [N/m], > 0
  double lateral_stiffness = 2.0e5;     // per tyre [N/m], > 0
  double longitudinal_stiffness = 3e5;  // per tyre at its level-ground load; grows with load [N/m], > 0
  double vertical_damping = 4000;       // per tyre [N s/m], >= 0
  double lateral_damping = 3000;        // per tyre, also used lengthwise [N s/m], >= 0
  double lateral_relaxation = 0.8;      // rolling distance over which side force builds up [m], > 0
  double pressure_offset = 0;           // how far a leaning tyre's pressure moves to its downhill edge, by the lean
                                        // alone [m]; 0 = stays in the mid-plane. Raises the slope that tips it
  double side_give_share = 0.5;   // how much of the tyre's sideways bend the pressure stays behind with the tread,
                                  // uphill on a cross slope: 0 = under the undeflected disc, 1 = under the tread
                                  // [-]. Lowers the slope that tips it. Our estimate; the truth is not settled
  bool rigid = false;             // true: no vertical give (statics only; a moving machine needs give)
  bool laterally_rigid = false;   // true: no sideways give (statics only)
  std::string service;            // load index and speed symbol, "146A8"; empty = behind the size, else typical
  double reference_pressure = 0;  // gauge, at which the load index holds [Pa]; 0 = typical of the size
};

struct Axle {
  double track = 1.8;        // between tyre mid-planes [m], > 0
  double wheel_mass = 180;   // tyre and rim, each, no ballast [kg], >= 0
  double spin_inertia = 60;  // of one wheel about its axle [kg m2], >= 0; 0 = from mass and radius
  Tyre tyre;
  double capacity = 0;         // what the maker lets the axle carry, on the ground [kg]; 0 = not known
  double rim_capacity = 0;     // what one rim may carry [kg]; 0 = not known
  double narrowest_track = 0;  // narrowest setting of an adjustable track [m]; 0 = not adjustable, or not known
  double widest_track = 0;     // widest setting of an adjustable track [m]; 0 = not adjustable, or not known
  double dual_spacing = 0;     // dual wheels: mid-plane of the outer tyre beyond the inner one's [m]; 0 = single
};

// articulated: no front axle that swings and no steered wheels, but a front half with its own wheels, joined to the
// rear half by a joint that swings about a lengthwise pin and steers about an upright one.
enum class AxleKind { pivoting, fixed, articulated };
inline constexpr std::array kAxleKinds{KeyOf<AxleKind>{AxleKind::pivoting, "pivoting"},
                                       KeyOf<AxleKind>{AxleKind::fixed, "fixed"},
                                       KeyOf<AxleKind>{AxleKind::articulated, "articulated"}};
static_assert(is_whole(kAxleKinds, &KeyOf<AxleKind>::value));

struct FrontAxle {
  AxleKind kind = AxleKind::pivoting;
  double mass = 300;              // beam without wheels; articulated: the whole front half without wheels [kg], >= 0
  double x = 0;                   // articulated: centre of that mass, ahead of the rear axle [m]; else above the wheels
  double joint_x = 1.1;           // articulated: the joint, ahead of the rear axle [m]
  double z = 0.6;                 // centre of the beam's mass [m]
  double pin_height = 0.6;        // pivot pin above ground, above the front contact line [m]
  bool casters = false;           // its wheels swivel freely: nothing steers them, they hold nothing sideways
  double stop_angle = 0.192;      // joint angle at which the axle meets its stop, either way [rad], > 0
  double stop_stiffness = 1.0e6;  // of stop and beam [N m/rad], > 0
  double stop_damping = 4000;     // [N m s/rad], >= 0
};

// Everything carried on the rear axle housing and up: engine, gearbox, cab, rear axle; without front axle beam,
// wheels, loader, driver and ballast.
struct Chassis {
  double mass = 3000;
  Vec3 centre_of_gravity{1.1, 0, 0.95};  // [m]
  Vec3 inertia{1100, 2900, 3000};        // about its centre of gravity, along x, y, z [kg m2], >= 0
  double length_ahead = 3.0;             // nose, ahead of the rear axle [m] (hull and picture)
  double bonnet_height = 1.55;           // top of the bonnet above ground [m] (hull and picture)
  double bonnet_width = 0.75;            // [m]
};

enum class FrameKind { none, two_post, cab };
inline constexpr std::array kFrameKinds{KeyOf<FrameKind>{FrameKind::none, "none"},
                                        KeyOf<FrameKind>{FrameKind::two_post, "two_post"},
                                        KeyOf<FrameKind>{FrameKind::cab, "cab"}};
static_assert(is_whole(kFrameKinds, &KeyOf<FrameKind>::value));

struct ProtectiveFrame {
  FrameKind kind = FrameKind::cab;
  bool folded = false;      // a two-post frame folded down protects nobody
  double top_height = 2.6;  // above ground [m]
  double width = 1.3;       // at the top [m]
  double x_front = 1.0;     // cab: front posts; two-post: where the posts stand [m]
  double x_rear = -0.4;     // cab: rear posts [m]
};

struct Driver {
  bool on_seat = true;
  double mass = 85;         // [kg], >= 0
  Vec3 place{0.2, 0, 1.5};  // centre of mass, seated [m]
  bool belted = true;
};

// Fuel, or whatever the machine carries in a tank of its own: a sprayer's or a slurry tank's liquid too. With baffles
// across, as they have: it does not run lengthwise.
struct Tank {
  double capacity = 0;      // [m3]; 0 = no tank apart from the chassis
  double density = 835;     // of what is in it [kg/m3]; diesel at 15 C is 820 to 845 (EN 590)
  Vec3 place{0.8, 0, 0.9};  // centre of the tank [m]
  double radius = 0;        // of a round tank lying lengthwise, whose liquid moves to the low side [m]; 0 = it stays
};

struct Loader {
  bool fitted = false;
  double pivot_x = 0.9;          // boom pivot [m]
  double pivot_z = 1.6;          // [m]
  double boom_length = 2.5;      // pivot to bucket pin, straight line [m], > 0
  double mast_mass = 180;        // brackets bolted to the chassis [kg], at the pivot
  double boom_mass = 350;        // boom and rams, centre at 0.45 of its length [kg]
  double bucket_mass = 200;      // empty, centre 0.3 m ahead of the pin [kg]
  double bucket_width = 1.8;     // [m] (picture and hull)
  double min_pin_height = 0.25;  // lowest bucket pin above ground [m]
  double max_pin_height = 3.6;   // highest bucket pin above ground [m]
  double rated_payload = 1400;   // the maker's figure at full height [kg]
  double lift_speed = 0.5;       // bucket pin's speed, up or down [m/s], > 0
  bool parallel = true;          // a linkage keeps the bucket level while the boom turns
};

// How it drives, brakes and steers.
struct Drive {
  double clutch_capacity = 2;  // most torque through the clutch, over the engine's at rated power [-]
  double braking = 5;          // deceleration the brakes can give at full pedal if the ground allows [m/s2]
  double most_steer = 0.7;     // of the front wheels, or of the joint [rad]
};

// Where a drawbar or a rope pulls.
struct Hitch {
  double x = -0.75;     // ahead of the rear axle [m]
  double z = 0.5;       // above ground [m]
  double max_load = 0;  // what may rest on it [kg]; 0 = not known
};

// A place where weights may be bolted on.
struct Mount {
  double x = 3.2;         // centre of the weights [m]
  double z = 0.8;         // [m]
  double max_mass = 600;  // [kg]; 0 = no such place
};

struct Vehicle {
  std::string name = "generic tractor";  // class, in plain words
  std::string note;                      // where its numbers come from
  double engine_power = 75e3;            // rated [W], > 0
  bool front_drive = true;               // front axle can be driven
  double wheelbase = 2.5;                // [m], > 0
  double permitted_mass = 0;             // of the whole machine, by its plate [kg]; 0 = not known
  Chassis chassis;
  FrontAxle front_axle;
  Axle front{
      1.7,
      90,
      15,
      {"13.6R24", 0.605, 0.3048, 0.345, 0, 1.4e5, 2.6e5, 1.5e5, 2.2e5, 3000, 2500, 0.6, 0, 0.5, false, false, "", 0},
      0};
  Axle rear;
  ProtectiveFrame frame;
  Driver driver;
  Tank tank;
  Drive drive;
  Hitch hitch;
  Loader loader;
  Mount front_mount{3.2, 0.85, 600};
  Mount rear_mount{-0.9, 0.7, 1200};
  double max_wheel_weights = 400;  // weights per rear wheel [kg]; 0 = no such place
};

// Axle of a wheel.
inline const Axle& axle_of(const Vehicle& vehicle, int wheel) { return is_front(wheel) ? vehicle.front : vehicle.rear; }

}  // namespace sidehill

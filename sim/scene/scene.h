// One scene, one-to-one with a file: everything a person, a command or a panel can edit, and nothing computed.
// Knows no file format (scene_file), no physics (model).
#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/constants.h"
#include "sim/base/enum_table.h"
#include "sim/scene/job.h"
#include "sim/scene/plan_record.h"
#include "terrain/terrain.h"
#include "vehicles/ballast.h"
#include "vehicles/vehicle.h"

namespace sidehill {

// As many entries as one list of a scene may hold; a scene is written by a person.
constexpr std::size_t kMostListEntries = 200;

struct Start {
  double heading = -1.5707963267948966;  // 0 = uphill, positive to the left (ISO 8855 yaw) [rad]; -90 deg = across,
                                         // downhill to the right
  double x = 0;                          // midpoint of the rear axle over the ground, in G [m]
  double y = 0;                          // [m]
  double articulation = 0;               // of an articulated machine's joint, front to the left positive [rad]
};

// What the driver does from some moment on; of the numbers only those that go with it are read.
enum class ActionKind {
  drive,        // at a speed, clutch let in gently; backwards if negative
  drop_clutch,  // the same, engine already turning and the clutch let in at once
  coast,        // out of gear
  brake,        // pedal down, clutch out
  curve,        // on a radius, left positive; 0 = wheels straight
  line,         // back to keeping a line: the one it is on
  loader,       // bucket pin to a height
  front_drive,  // in from now on; pedal 0 = out
  stuck,        // the rear wheels cannot turn in the ground, as in frozen mud
  tie,          // a rope from the hitch to a stake behind
};
inline constexpr std::array kActionKinds{
    KeyOf<ActionKind>{ActionKind::drive, "drive"},   KeyOf<ActionKind>{ActionKind::drop_clutch, "drop_clutch"},
    KeyOf<ActionKind>{ActionKind::coast, "coast"},   KeyOf<ActionKind>{ActionKind::brake, "brake"},
    KeyOf<ActionKind>{ActionKind::curve, "curve"},   KeyOf<ActionKind>{ActionKind::line, "line"},
    KeyOf<ActionKind>{ActionKind::loader, "loader"}, KeyOf<ActionKind>{ActionKind::front_drive, "front_drive"},
    KeyOf<ActionKind>{ActionKind::stuck, "stuck"},   KeyOf<ActionKind>{ActionKind::tie, "tie"},
};
static_assert(is_whole(kActionKinds, &KeyOf<ActionKind>::value));

struct Action {
  ActionKind what = ActionKind::drive;
  double at = 0;          // [s]
  double speed = 0;       // drive, drop_clutch [m/s]
  double radius = 0;      // curve [m]
  double pedal = 1;       // brake, 0 to 1
  double pin_height = 0;  // loader [m]
  double rope = 0;        // tie: behind the hitch, at ground height [m]
};

// What happens in a run, in order: dropped, stands, drives; then the actions.
struct Programme {
  double duration = 8;     // [s], > 0
  double drop_height = 0;  // how high above the ground the machine is let go [m]; 0: it starts at rest
  double speed = 0;  // wanted forward speed, on the line it started on; 0 = parked with the rear wheels held [m/s]
  double drive_from = 1.5;   // when it starts to drive, or the ground to tilt [s]
  double tilt_rate = 0;      // the whole ground tilts further by this, from `drive_from` on [rad/s]
  bool front_drive = false;  // the front axle is driven from the start
  std::vector<Action> actions;
};

// A steady bend or braking, asked of the machine at rest as a pull that acts on every kilogram.
struct Manoeuvre {
  double speed = 0;        // [m/s]
  double turn_radius = 0;  // of the middle of the machine, either way [m]; 0 = no bend
  double braking = 0;      // deceleration along its heading [m/s2]
};

// From which side the picture is seen until a person looks from elsewhere. `free`: by two angles.
enum class ViewFrom { three_quarter, front, rear, left, right, downhill, top, free };
inline constexpr std::array kViewsFrom{
    KeyOf<ViewFrom>{ViewFrom::three_quarter, "three_quarter"},
    KeyOf<ViewFrom>{ViewFrom::front, "front"},
    KeyOf<ViewFrom>{ViewFrom::rear, "rear"},
    KeyOf<ViewFrom>{ViewFrom::left, "left"},
    KeyOf<ViewFrom>{ViewFrom::right, "right"},
    KeyOf<ViewFrom>{ViewFrom::downhill, "downhill"},
    KeyOf<ViewFrom>{ViewFrom::top, "top"},
    KeyOf<ViewFrom>{ViewFrom::free, "free"},
};
static_assert(is_whole(kViewsFrom, &KeyOf<ViewFrom>::value));

// How a scene wants to be looked at. It changes no answer.
struct SceneView {
  ViewFrom from = ViewFrom::three_quarter;
  double yaw = 0.7;       // free: from the machine's nose round to the eye, seen from above, to the left positive [rad]
  double pitch = 0.3;     // free: eye over the horizontal [rad]
  double ahead = 0;       // ground ahead of the machine that is in view as well [m]
  double behind = 0;      // likewise behind it [m]
  bool obstacles = true;  // bumps, holes and stakes near the machine are in view as well
  bool operator==(const SceneView&) const = default;
};

// Who moves the bodies: the physics engine, or our own articulated-body step, which is faster. Same rule, same forces.
enum class Engine { bullet, own };
inline constexpr std::array kEngines{KeyOf<Engine>{Engine::bullet, "bullet"}, KeyOf<Engine>{Engine::own, "own"}};
static_assert(is_whole(kEngines, &KeyOf<Engine>::value));

struct Settings {
  double gravity = kStandardGravity;    // [m/s2]
  double temperature = 283.15;          // of liquids and air now [K]
  double filling_temperature = 283.15;  // at which the tyres were filled and pumped up [K]
  double time_step = 1e-3;              // [s]
  Engine engine = Engine::bullet;
};

// An answer the scene must give, for `check` and the tests.
struct Expect {
  std::string quantity;         // a key of the JSON answer; list entries as "wheel_load_n[2]"
  std::optional<double> value;  // empty = null ("never")
  double tolerance = 0;         // absolute, in the quantity's unit
  std::string source;           // where the value comes from
};

// How well a datum is known, where somebody said so.
struct Tolerance {
  std::string key;   // of a number, as in the file; an alias moves both of its targets together
  double value = 0;  // +- in the key's unit, two standard deviations, >= 0
};

struct Scene {
  std::string title;
  std::string note;
  std::string vehicle_file;  // as written in the scene; empty = the vehicle is spelled out
  std::string job_file;      // likewise of the job; empty = it is spelled out, or there is none
  Vehicle vehicle;
  BallastPlan ballast;
  Job job;
  Terrain terrain;
  Start start;
  Programme programme;
  Manoeuvre manoeuvre;
  Settings settings;
  SceneView view;
  std::vector<Tolerance> tolerances;
  std::vector<Expect> expect;
  PlanRecord plan;    // of a plan file
  PageRecord record;  // who its pages are for
};

}  // namespace sidehill

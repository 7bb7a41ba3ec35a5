// A Scene turned into bodies, tyre laws, liquid tables, ground and the ledger; built once, then const. The only place
// where file-frame places become vehicle-frame ones. Knows no time, no Bullet, no file.
// Frames: V origin midway between the rear wheel centres, x forward, y left, z up. A origin at the pivot pin, axes
// along V's at zero joint angle. H of a wheel: origin at the wheel centre, y along the axle. G ground.
#pragma once
#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sim/base/constants.h"
#include "sim/scene/scene.h"
#include "vehicles/cavity.h"
#include "vehicles/mass.h"

namespace sidehill {

struct TyreLaw {
  double radius = 0;  // free [m]
  double rim_height =
      0;                // of the section, tread to rim: pressed in further it stands on the rim [m]; 0 = no rim to meet
  double pressure = 0;  // cold gauge at the scene's temperature, before the load squeezes it [Pa]
  double vertical_stiffness = 0;              // at that pressure, with the liquid taking the air's room [N/m]
  double vertical_stiffness_uncertainty = 0;  // one standard deviation of what liquid and temperature do to it [N/m]
  double lateral_stiffness = 0;               // [N/m]
  double longitudinal_stiffness = 0;          // at `reference_load`; in proportion to load [N/m]
  double reference_load = 0;                  // level-ground load [N]
  double vertical_damping = 0;                // [N s/m]
  double lateral_damping = 0;                 // [N s/m]
  double relaxation = 0;                      // [m]
  double pressure_offset = 0;                 // of a leaning tyre, to its downhill edge [m]
  double side_give_share = 0;                 // of the sideways bend, by which the load stays behind with the tread [-]
  bool holds_evenly = false;                  // lengthwise stiffness whatever the load: statics only, for the doubt
  bool holds_by_load = false;                 // sideways stiffness in proportion to load: statics only, for the doubt
  bool swivels = false;                       // on a caster: it goes the way it is pushed and holds nothing sideways
  bool rigid = false;                         // vertically: statics only
  bool laterally_rigid = false;               // sideways: statics only
};

struct LiquidLump {
  Cavity cavity;                // the room it was worked out for
  double fill = 0;              // over that room now [-]
  double mass = 0;              // 0 = none [kg]
  LiquidTable table;            // centroid over lean
  double depth = 0;             // of the centroid below the axle at lean 0 [m]
  Mat3 inertia{0.0};            // about its centroid, lying in an upright wheel, axes of H [kg m2]
  double gyration_squared = 0;  // of the pendulum that swings as fast as the liquid: omega^2 = g depth / this [m2]
};

struct WheelModel {
  Vec3 centre{0.0};      // in V at zero axle angle [m]
  bool on_axle = false;  // carried by the front axle or the front half, by the chassis otherwise
  bool steered = false;  // turned about its kingpin by the steering wheel
  bool braked = false;   // held at rest by the parking brake
  TyreLaw tyre;
  double dual = 0;     // outer tyre of a dual pair, further out by this; both follow the law [m]; 0 = single
  MassProperties dry;  // wheel, tyre, weights and ice in it; com relative to the wheel centre, axes of V
  LiquidLump liquid;
  bool ice = false;   // what froze in it lies out of the middle; statics turns the wheel to where that harms most
  double turned = 0;  // `dry` stands turned by this about the axle since it froze, forward positive; statics only [rad]
};

// A mass that hangs below a point of the chassis or the bucket pin: a load on a rope, or the liquid of a round tank,
// which swings about the tank's axis alone.
struct HangingMass {
  double mass = 0;              // 0 = none [kg]
  Vec3 from{0.0};               // in V, loader at its set height [m]
  double length = 0;            // below it [m]
  double gyration_squared = 0;  // of the pendulum, about the point [m2]
};
Vec3 rope_load_place(const HangingMass& load, const Pose& X_GV, const Vec3& down_G);      // at rest, in G [m]
Vec3 tank_liquid_place(const HangingMass& liquid, const Pose& X_GV, const Vec3& down_G);  // at rest, in G [m]

struct LoaderModel {
  bool fitted = false;
  Vec3 pivot{0.0};    // in V [m]
  double length = 0;  // pivot to bucket pin [m]
  double angle = 0;   // line pivot-pin over the horizontal, up positive [rad]
  double min_angle = 0, max_angle = 0;
  double lift_rate = 0;   // [rad/s]
  bool parallel = true;   // the bucket stays level
  MassProperties boom;    // boom, bucket, payload and masses added on it; relative to the pivot, axes of V, at `angle`
  MassProperties arms;    // of that, what turns with the boom
  MassProperties bucket;  // and what turns with the bucket; relative to the bucket pin
  Vec3 load_from_pin{0.0};  // where a load in the bucket lies, from the bucket pin, bucket level [m]
  std::string carries;      // what a load on it is called: "load in the bucket", "load on the forks"
};

enum class HullPart { chassis, front_half, bucket };

struct HullPoint {
  Vec3 place{0.0};     // in V [m]
  bool frame = false;  // part of the protective frame
  HullPart on = HullPart::chassis;
};

struct Model {
  double gravity = kStandardGravity;
  double wheelbase = 0;    // [m]
  MassProperties chassis;  // in V: all that is bolted to it, driver on; without loader boom and wheels
  AxleKind axle_kind = AxleKind::pivoting;
  Vec3 pin{0.0};                           // pivot pin in V [m]
  double articulation = 0;                 // front half turned about its joint, left positive [rad]
  MassProperties axle;                     // beam and masses added on it, relative to the pin, axes of A
  std::array<double, 2> track_to_spare{};  // front, rear: wider than the narrowest setting by this much [m]
  double stop_angle = 0, stop_stiffness = 0, stop_damping = 0;
  std::array<WheelModel, kWheels> wheels;
  LoaderModel loader;
  HangingMass rope_load, tank_liquid;
  Vec3 hitch{0.0};  // in V [m]
  Trailer trailer;
  Drive drive;
  double engine_power = 0;  // [W]
  bool can_drive_front = false;
  std::vector<HullPoint> hull;
  // What a bend or braking adds to gravity, in the plane of the ground along V's axes at the start [m/s2]; statics
  // only.
  Vec3 inertial_acceleration{0.0};
  Terrain terrain;
  Start start;
  Programme programme;
  Engine engine = Engine::bullet;
  double time_step = 1e-3;
  std::vector<LedgerLine> ledger;     // places in the measuring frame
  std::vector<std::string> cautions;  // sentences that bear on this set-up
};

// Pure. Throws InputError (sim/base/errors.h) naming the datum's key if the machine is impossible (a bucket pin out of
// the boom's reach; inertias no body can have are refused by scene_checks, a moving machine on rigid tyres is refused
// later, by World).
// `like`, if given, lends the liquid tables of tyres of the same room and fill: they are what takes the time.
Model build(const Scene& scene, const Model* like = nullptr);
// The same with a pool of lenders, for who builds many.
Model build(const Scene& scene, std::span<const LiquidLump> lenders);

// Attitude of A in V with the axle at `angle` on its pin.
inline Mat3 axle_turn(const Model& model, double angle) {
  return model.articulation == 0 ? about_x(angle) : about_x(angle) * about_z(model.articulation);
}

// What the trailer does to the hitch at rest: its part of the pull along the machine, and the drawbar's load. `g_G`:
// what everything feels [m/s2]. In G [N].
Vec3 trailer_pull(const Model& model, const Mat3& R_GV, const Vec3& g_G);

double total_mass(const Model& model);       // [kg]
Vec3 centre_of_gravity(const Model& model);  // measuring frame, on level ground, liquid at rest [m]

// The same machine with other masses: chassis, axle, wheels and boom anew from these lines, a tyre whose liquid line is
// missing runs empty. Tyre laws, hull and cautions stay as they were.
Model with_ledger(const Model& model, std::vector<LedgerLine> ledger);

// The same machine with the ice left where it froze, at the bottom of its wheels: statics turns it no more.
Model with_ice_at_the_bottom(const Model& model);

// The same machine with its wheels moved in to the narrowest settings of its tracks.
Model on_narrowest_tracks(const Model& model);

// The same machine on tyres that do not give; the liquid stays a liquid.
Model on_rigid_tyres(const Model& model);

// The same machine as other people calculate it: rigid tyres, contact at mid-plane, liquid and ice where they lie on
// level ground, an even slope without features.
Model rigid_variant(const Model& model);

}  // namespace sidehill

// What a part of the picture looks like, as a few measures: the key by which meshes are made and kept. Knows no GL, no
// pose, no colour of the screen. All lengths [m]; every struct compares by value so that equal measures share one mesh.
// Frames: B(ody) = the chassis frame V (origin midway between the rear wheel centres, x forward, y left, z up).
#pragma once
#include <variant>

#include "render/namespaces.h"
#include "vehicles/ballast.h"
#include "vehicles/vehicle.h"

namespace sidehill::screen {

// A tyre as far as it can be seen. Frame H: origin at the wheel centre, y along the axle, outside of the wheel at +y
// for a left wheel and at -y for a right one.
struct TyreMeasures {
  double radius = 0.8;       // over the lugs
  double rim_radius = 0.45;  //
  double width = 0.45;       // of the section
  bool ribbed = false;       // rings round the tread instead of lugs (an axle that is not driven)
  bool operator==(const TyreMeasures&) const = default;
};

struct WheelShape {  // tyre, lugs, rim and hub
  TyreMeasures tyre;
  bool left = true;
  bool open_sidewall = true;  // the outer sidewall is left out (SidewallShape shows it as glass)
  bool operator==(const WheelShape&) const = default;
};

struct SidewallShape {  // the outer sidewall alone, see-through
  TyreMeasures tyre;
  bool left = true;
  bool operator==(const SidewallShape&) const = default;
};

struct LiquidShape {  // the whole cavity of a tyre; the renderer cuts it at the liquid's surface
  double inner_radius = 0.48, outer_radius = 0.85;  // as in vehicles/cavity
  double width = 0.4;
  bool operator==(const LiquidShape&) const = default;
};

struct WheelWeightShape {  // cast discs in the rim's dish, frame H
  TyreMeasures tyre;
  bool left = true;
  int discs = 1;
  bool operator==(const WheelWeightShape&) const = default;
};

// Of an articulated machine the half ahead of its joint is drawn by itself.
enum class Bodywork { whole, rear_half, front_half };

// Chassis, bonnet, rear axle, mudguards, seat, frame or cab; frame V.
struct BodyShape {
  Bodywork part = Bodywork::whole;
  double joint_x = 1.1;  // of the halves
  double wheelbase = 2.5;
  double rear_track = 1.8;
  TyreMeasures rear_tyre, front_tyre;
  double nose_x = 3.0;         // front end of the bonnet
  double bonnet_top = 0.7;     // over the rear axle
  double bonnet_width = 0.75;  //
  double pin_z = -0.3;         // height of the front axle's pin over the rear axle
  FrameKind frame = FrameKind::cab;
  bool frame_folded = false;
  double frame_top = 1.8;      // over the rear axle
  double frame_width = 1.3;    //
  double frame_x_front = 1.0;  //
  double frame_x_rear = -0.4;  //
  Vec3 seat{0.2, 0, 0.6};      // where the driver's centre of mass would be
  bool operator==(const BodyShape&) const = default;
};

struct CabGlassShape {  // panes of the cab; same measures as the body
  BodyShape body;
  bool operator==(const CabGlassShape&) const = default;
};

struct DriverShape {  // seated figure, frame V
  Vec3 seat{0.2, 0, 0.6};
  bool belted = true;
  bool operator==(const DriverShape&) const = default;
};

struct FrontAxleShape {  // beam, knuckles, hubs; frame A (origin at the pivot pin)
  double track = 1.7;
  double hub_z = 0;  // wheel centres over the pin
  TyreMeasures tyre;
  bool driven = true;  // a driven axle has a thick casing, an undriven one a slim beam
  bool operator==(const FrontAxleShape&) const = default;
};

struct FrontGuardShape {  // mudguard that steers with a front wheel, with its bracket; frame H, not turning
  TyreMeasures tyre;
  bool left = true;
  bool operator==(const FrontGuardShape&) const = default;
};

struct LoaderMastShape {    // brackets on the chassis; frame V
  Vec3 pivot{0.9, 0, 0.7};  // between the two boom pivots
  double half_gap = 0.55;   // of the booms from the middle
  double foot_z = -0.3;     // where the brackets are bolted on
  bool operator==(const LoaderMastShape&) const = default;
};

struct LoaderBoomShape {  // two booms with a knee and a cross tube; x from pivot to bucket pin
  double length = 2.5;
  double half_gap = 0.55;
  bool operator==(const LoaderBoomShape&) const = default;
};

struct RamShape {  // hydraulic ram along x from 0 to length
  double length = 1;
  double bore = 0.045;  // outside radius of the barrel
  bool operator==(const RamShape&) const = default;
};

struct BucketShape {  // origin at the pin, x forward
  double width = 1.8;
  bool operator==(const BucketShape&) const = default;
};

struct HeapShape {  // what lies in the bucket; same frame
  double width = 1.8;
  double fullness = 0.5;  // 0 to 1.2, payload over rated payload
  bool operator==(const HeapShape&) const = default;
};

struct MoundShape {  // a load that was spilled; origin on the ground, z up
  double radius = 0.6;
  bool operator==(const MoundShape&) const = default;
};

struct ToolShape {  // forks, spike or grapple in the bucket's place; same frame
  LoaderTool tool = LoaderTool::pallet_forks;
  double width = 1.3;
  bool operator==(const ToolShape&) const = default;
};

struct BaleShape {  // origin at its centre; round: x along its axis, diameter = size.z
  bool round = true;
  Vec3 size{1.2, 1.2, 1.2};
  bool operator==(const BaleShape&) const = default;
};

struct FrontPlatesShape {  // cast plates on edge, side by side, with their carrier; origin at their centre, frame V
                           // axes
  int plates = 8;
  double carrier = 0.3;  // length of the bracket back to the chassis
  bool operator==(const FrontPlatesShape&) const = default;
};

struct RearBlockShape {  // block on the three-point hitch with its arms; origin at the block's centre, V axes
  Vec3 size{0.5, 1.0, 0.6};
  double arms = 0.5;  // from the block's front face to the rear axle housing
  bool operator==(const RearBlockShape&) const = default;
};

struct MassShape {  // an added mass: a block with chamfered edges
  double edge = 0.3;
  bool operator==(const MassShape&) const = default;
};

struct ImplementShape {  // on the linkage: a bar across with what works under it; origin at its centre, V axes
  double width = 2;
  double arms = 0.5;  // forward to the rear axle housing; 0 = none
  bool operator==(const ImplementShape&) const = default;
};

struct TrailerShape {  // body and drawbar without wheels; origin midway between the wheel centres, V axes
  double size = 1;     // 1 = a body of 3.4 m
  double wheel_radius = 0.5;
  glm::dvec2 hitch{3.2, 0};  // x, z of the drawbar's eye
  bool operator==(const TrailerShape&) const = default;
};

struct TankShape {  // round tank lying along x; origin at its centre
  double radius = 0.4, length = 1;
  bool operator==(const TankShape&) const = default;
};

struct BarShape {  // from the origin along x
  double length = 1, radius = 0.012;
  bool rope = true;  // else weights
  bool operator==(const BarShape&) const = default;
};

struct StakeShape {  // foot at the origin, z up
  double height = 0.6;
  bool operator==(const StakeShape&) const = default;
};

using Shape = std::variant<WheelShape, SidewallShape, LiquidShape, WheelWeightShape, BodyShape, CabGlassShape,
                           DriverShape, FrontAxleShape, FrontGuardShape, LoaderMastShape, LoaderBoomShape, RamShape,
                           BucketShape, HeapShape, ToolShape, BaleShape, FrontPlatesShape, RearBlockShape, MassShape,
                           ImplementShape, TrailerShape, TankShape, BarShape, StakeShape, MoundShape>;

}  // namespace sidehill::screen

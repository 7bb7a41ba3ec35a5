// Where a tyre meets the ground, by geometry alone: the one place that says it, for statics and dynamics alike.
// A tyre is a thin disc of its free radius. Knows the ground and the disc; no force, no time.
#pragma once
#include "sim/base/pose.h"
#include "terrain/terrain.h"

namespace sidehill {

struct TyreContact {
  double penetration = 0;   // of the free disc below the ground, along the normal [m]; negative = clearance
  Vec3 point_G{0.0};        // where the tyre meets the ground, at ground level [m]
  Vec3 lowest_G{0.0};       // of the free disc, the point the penetration is read at [m]
  Vec3 normal_G{0, 0, 1};   // unit, out of the ground
  Vec3 forward_G{1, 0, 0};  // unit, in the ground, the way the wheel rolls
  Vec3 left_G{0, 1, 0};     // unit, in the ground, across it
};

// Which way a footprint is worked out. `automatic` takes the closed form wherever no feature reaches under the disc; an
// iteration that must not see the tiny step between the two (0.02 % of the penetration) asks for `sampled` throughout.
enum class Footprint { automatic, sampled };

// Disc with centre `centre_G`, unit axle direction `axle_G` (to the left) and radius `radius` [m] against `terrain`,
// whose ground under this wheel is raised by `lift` [m] along z of G (test rigs). On even ground in closed form; where
// a feature reaches under the wheel the penetration is integrated over the footprint and given as the depth that cuts
// the same area off the disc on a plane, so both agree on a plane. Returns a finite contact for any attitude; a disc
// lying flat has its "lowest point" at an arbitrary place on the rim. Source: derived in
// tests/sim/model/tyre_contact_test.cpp.
TyreContact tyre_contact(const Terrain& terrain, const Vec3& centre_G, const Vec3& axle_G, double radius,
                         double lift = 0, Footprint footprint = Footprint::automatic);

// A hub's one or two tyres, as one: the outer one of a dual pair `outward` along the axle, to the left positive [m]; 0
// = single. Penetrations added, the place between the two by what each carries; with both in the air the nearer counts.
struct HubContact {
  TyreContact contact;
  Vec3 middle_G{0.0};   // between the lowest points of both discs: fixed to the hub however their loads differ [m]
  double carrying = 1;  // how many tyres carry, 1 to 2
};
HubContact hub_contact(const Terrain& terrain, const Vec3& centre_G, const Vec3& axle_G, double radius, double outward,
                       Footprint footprint = Footprint::automatic);

// Sets `forward_G` and `left_G` of a contact by its normal and the wheel's axle.
void set_directions(TyreContact& contact, const Vec3& axle_G);

// Area a chord at `depth` cuts off a disc [m2], and back. depth in 0..radius.
double segment_area(double radius, double depth);
double segment_depth(double radius, double area);

}  // namespace sidehill

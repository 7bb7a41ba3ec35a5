// What hangs on the loader's boom and what lies on it: how heavy, and where from the bucket pin. Knows no file, no
// time, no ground. Places from the bucket pin, tool level: x ahead, y to the left, z up [m].
#pragma once
#include <string>

#include "vehicles/ballast.h"
#include "vehicles/mass.h"
#include "vehicles/vehicle.h"

namespace sidehill {

// The usual tool of its kind. Lengths are those of a medium loader and the same for all: a pallet or a bale is no
// smaller on a small one. Source: our estimates.
struct ToolMeasures {
  double of_bucket_mass = 1;   // its mass over that of the machine's bucket [-]
  Vec3 centre{0.0};            // of its own mass
  Vec3 size{0.0};              // of the block with its inertia; y over the bucket's width [-]
  double back = 0, tip = 0;    // what the load leans on, and its foremost end
  double under = 0, line = 0;  // its lowest part; height of what a bale rests on, of a spike its middle
  Vec3 load{0.0};              // centre of a load that nobody measured
  double load_off = 0;         // how far ahead or behind that may be off, +- at two standard deviations
};
// Of a tool that nobody weighed, +- at two standard deviations over its mass [-]; and how far off a bale's place from
// the pin may be where nobody measured it [m]. Source: our estimates.
inline constexpr double kToolMassOff = 0.3, kBaleOff = 0.1;

const ToolMeasures& tool_measures(LoaderTool tool);

bool has_bale(const Bale& bale);
double bale_mass(const Bale& bale);           // of all of them [kg]; 0 without one
double loader_load(const BallastPlan& plan);  // on the tool: bales, or the payload [kg]; without what hangs on a rope
BallastPlan with_load(BallastPlan plan, double mass);  // as heavy [kg], in the same place: bales of another density
double tool_mass(const Loader& loader, const BallastPlan& plan);  // empty tool [kg]

// The empty tool, and what lies on it. One round bale lies across against the tool's back; on a spike it is pierced
// through its flat end. A square bale lies across everywhere. So the centre is half of diameter, length or width ahead
// of the tool's back, unless the plan says where. Source: geometry; a cylinder's and a block's moments of inertia; the
// tool's back is our estimate. Mass 0 where there is none.
MassProperties tool_props(const Loader& loader, const BallastPlan& plan);
MassProperties load_props(const Loader& loader, const BallastPlan& plan);
Vec3 load_from_pin(const BallastPlan& plan);  // centre of the load, or of one if there were any
double load_off(const BallastPlan& plan);     // how far ahead or behind its usual place may be off, +- [m]

Vec3 bale_size(const BallastPlan& plan);  // extent of one bale as it lies [m]
// The box round all bales; both at the pin without one.
struct LoadBox {
  Vec3 low{0.0}, high{0.0};
};
LoadBox bale_box(const BallastPlan& plan);

// The lowest bucket pin above level ground: the loader's own, or more where a bale hangs lower than the pin [m].
double lowest_pin_height(const Loader& loader, const BallastPlan& plan);

// "load in the bucket", "bale on the spike", "2 bales on the forks".
std::string load_words(const BallastPlan& plan);
const LoaderToolWords& words_of(LoaderTool tool);

}  // namespace sidehill

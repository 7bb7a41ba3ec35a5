// Continuous rolling of a narrow-track tractor with a protective frame ahead of the driver: does it go on rolling down
// a slope of 1 in 1.5, or is it stopped by the frame? The published calculation, stage by stage. Rigid bodies, angular
// momentum at each impact, energy in between. Knows no file and nothing of the machines of a scene.
// Source: Commission Delegated Regulation (EU) No 1322/2014, Annex IX, 3.1.4.3 and section B4 (its program listing);
// identical with OECD Code 6. "B4, line" below is a line number of that listing.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "sim/codes/rolling_mechanics.h"

namespace sidehill {

// The characteristic data under their published symbols (3.1.4.3.1; how they are measured: 3.1.5).
struct RollingTractor {
  double H1 = 0;  // height of the centre of gravity [m]
  double L3 = 0;  // horizontal distance from centre of gravity to rear axle [m]
  double L2 = 0;  // horizontal distance from centre of gravity to front axle [m]
  double D3 = 0;  // height of the rear tyres under full axle load [m]
  double D2 = 0;  // height of the front tyres under full axle load [m]
  double H6 = 0;  // height of the frame's point of impact [m]
  double L6 = 0;  // from centre of gravity to the leading point of intersection of the frame; minus = ahead of it [m]
  double B6 = 0;  // width of the frame between its right and left points of impact [m]
  double H7 = 0;  // height of the bonnet's point of impact [m]
  double B7 = 0;  // width of the bonnet between its points of impact [m]
  double L7 = 0;  // from centre of gravity to the front corner of the bonnet [m]
  double H0 = 0;  // height of the front axle's pivot [m]
  double S = 0;   // rear track [m]
  double B0 = 0;  // rear tyre width [m]
  double D0 = 0;  // front axle swing from the middle to its stop [rad]
  double Mc = 0;  // mass [kg]
  double Q = 0;   // moment of inertia about the lengthwise axis through the centre of gravity [kg m2]
};

enum class RollingVerdict { continues, stops, not_feasible };

// Where the frame strikes, seen from the equilibrium point of the axis through frame and tyres.
enum class RollingSequence {
  b1_behind,   // the tractor goes on over the front tyre and the frame, then over frame and bonnet
  b2_near,     // it goes on over the frame alone
  b3_in_front  // it goes on over the rear tyre and the frame
};

// One sequence as the published program prints it.
struct RollingBlock {
  RollingSequence sequence = RollingSequence::b2_near;
  std::array<double, 10> O{};        // O0..O9 [rad/s]; 0 for stages never reached
  std::vector<RollingStage> stages;  // in order, without the three common to all (RollingAnswer::common)
  bool continues = false;            // goes over, as this sequence sees it
};

// Lengths and angles worth showing, under their published symbols.
struct RollingGeometry {
  double W0 = 0;   // centre of gravity from the tilting axis in unstable balance on the downhill wheels [m]
  double G1 = 0;   // and from the outer edge of the tyres [m]
  double G3 = 0;   // height it falls until the upper tyre edges strike [m]
  double F2 = 0;   // axis through the tops of front and rear tyre to the lengthwise axis [rad]
  double A2 = 0;   // slope seen along that axis [rad]
  double V0 = 0;   // frame's point of impact from that axis [m]
  double L8 = 0;   // equilibrium point: L6 greater = the frame strikes behind it [m]
  double Z37 = 0;  // bonnet above the slope when the frame has struck [m]
};

struct RollingAnswer {
  RollingVerdict verdict = RollingVerdict::not_feasible;
  std::string reason;                 // of the verdict, one sentence
  RollingGeometry geometry;           // zeros if not feasible for width
  std::vector<RollingStage> common;   // O0..O2, the same for every sequence
  std::vector<RollingBlock> blocks;   // as printed; none if not feasible
  std::vector<std::string> cautions;  // about these data
};

// Data that describe no tractor the calculation could be about.
struct RollingConflict {
  const char* key;
  std::string message;
};
std::optional<RollingConflict> find_rolling_conflict(const RollingTractor& tractor);

// The whole procedure. Needs positive lengths, mass and inertia and no conflict; every number of the answer is finite.
// Source: B4; checked against its printed examples.
RollingAnswer rolling_test(const RollingTractor& tractor);

const char* to_string(RollingVerdict verdict);    // "continues", "stops", "not_feasible"
const char* to_string(RollingSequence sequence);  // "B1", "B2", "B3"

}  // namespace sidehill

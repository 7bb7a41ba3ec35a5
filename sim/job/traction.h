// What one driven wheel can pull on soil, by the published empirical equations: mobility number, gross traction,
// motion resistance, net traction, efficiency, slip. Knows no scene, no model and no tractor.
// Source: bias tyres: Brixius 1987 (ASAE paper 87-1622), also ANSI/ASABE D497 clause 3; radial tyres: Al-Hamad, Grisso,
// Zoz and von Bargen 1994, by way of Zoz and Grisso 2003. The coefficients are from memory: check against the print.
#pragma once
#include <optional>
#include <vector>

namespace sidehill {

// Stands with every answer of these equations.
inline constexpr const char* kTractionCaution =
    "The coefficients of the traction equations are from memory: check against the print (bias: Brixius 1987, "
    "ANSI/ASABE D497; radial: Al-Hamad et al. 1994, Zoz and Grisso 2003).";

// What the equations ask of a tyre.
struct TyreShape {
  double width = 0;           // b, unloaded section width [m]
  double diameter = 0;        // d, unloaded overall diameter [m]
  double section_height = 0;  // h, from rim to tread [m]
  double deflection = 0;      // delta, how far the load presses it in [m]
};

enum class TyreSet { bias, radial };  // which coefficients

// Gross = gross_most (1 - e^(-by_mobility Bn)) (1 - e^(-by_slip s)) + offset;
// resistance = by_inverse / Bn + offset + by_root s / sqrt(Bn).
struct TractionCoefficients {
  double gross_most, by_mobility, by_slip, offset, by_inverse, by_root;  // all [-]
};
// Source: as above, from memory.
const TractionCoefficients& coefficients(TyreSet set);

// Bn = (CI b d / W)(1 + 5 delta/h)/(1 + 3 b/d) [-]; `load` of this one wheel [N], `cone_index` [Pa]. All must be more
// than 0 (deflection: 0 or more); not a number otherwise. Source: Brixius 1987.
double mobility_number(const TyreShape& tyre, double load, double cone_index);

// Ratios to the wheel's load [-]. A negative net ratio: the wheel has to be pushed.
struct Traction {
  double gross = 0;       // torque over rolling radius and load
  double resistance = 0;  // motion resistance
  double net = 0;         // pull: gross - resistance
  double efficiency = 0;  // tractive efficiency: (1 - slip) net / gross; negative where net is
};

// The equations of one wheel at one mobility number, or of one on a hard road, ready to be asked at many slips. Net
// traction is a concave function of slip: most (1 - e^(-rate slip)) - at_zero - by_slip slip.
struct WheelTraction {
  double most = 0;     // gross traction without its offset, at endless slip [-]
  double rate = 0;     // how fast it comes with slip [-]
  double offset = 0;   // gross traction at no slip [-]
  double at_zero = 0;  // what has to be pushed at no slip: -NTR(0) [-]
  double by_slip = 0;  // growth of the resistance with slip [-]
};

// On soil. `mobility` > 0 [-]. Source: as above.
WheelTraction wheel_traction(TyreSet set, double mobility);
// On a hard road, where these equations have far too much motion resistance: the resistance is `rolling` [-] times the
// load at any slip. The gross ratio then has no offset, for that offset is the tyre's own rolling resistance, which
// `rolling` already counts; so the net ratio at no slip is -rolling. Source: our own joining of the two.
WheelTraction road_traction(TyreSet set, double mobility, double rolling);

// At that slip (0 to below 1) [-].
Traction traction_at(const WheelTraction& wheel, double slip);
double net_ratio(const WheelTraction& wheel, double slip);    // NTR alone [-]
double gross_ratio(const WheelTraction& wheel, double slip);  // GTR alone [-]

// The slip at which the net ratio is greatest, 0 to 1 [-]: where its slope is zero. Exact.
double slip_of_most_net(const WheelTraction& wheel);
// The slip of the best tractive efficiency [-], to 1e-7; nothing where the wheel pulls nothing at any slip.
std::optional<double> slip_of_best_efficiency(const WheelTraction& wheel);

enum class SlipFor {
  needs_slip,     // `slip` is where the pull is first reached
  holds_already,  // already at no slip there is as much: nothing has to be driven (a pull that pushes); slip is 0
  out_of_reach    // no slip gives that pull
};
struct SlipAnswer {
  SlipFor kind = SlipFor::out_of_reach;
  double slip = 0;  // [-]; has no meaning when out of reach
};
// The least slip at which the net ratio is `net` [-], to 1e-10.
SlipAnswer slip_for_net(const WheelTraction& wheel, double net);

// One number of a tyre and its load that lies outside what the equations were fitted to.
struct RangeLeft {
  const char* what;          // "width over diameter"
  double value = 0;          // as it is [unit]
  double low = 0, high = 0;  // the range [unit]
  const char* unit;          // "" for a pure number
  const char* symbol;        // "b/d"
};
// All that is left of b/d 0.1 to 0.7, delta/h 0.10 to 0.30 and W/(b d) 15 to 55 kN/m2; `load` of one wheel [N]. Empty:
// within the range. Source: Brixius 1987, from memory.
std::vector<RangeLeft> ranges_left(const TyreShape& tyre, double load);

// Classes of ground by cone index. `mud`: the wheel sinks, and the equations end there.
enum class SoilClass { hard, firm, tilled, soft, mud };
inline constexpr int kSoilClasses = 5;
// [Pa]: 1800, 1200, 900, 450 kPa; nothing for mud: not known. Source: Zoz and Grisso 2003 and ASABE D497, from memory:
// check against the print.
std::optional<double> cone_index_of(SoilClass soil);
const char* soil_class_name(SoilClass soil);  // "hard", "firm", "tilled", "soft", "mud"

}  // namespace sidehill

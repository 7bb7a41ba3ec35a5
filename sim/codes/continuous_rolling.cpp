#include "sim/codes/continuous_rolling.h"

#include <algorithm>
#include <cmath>

#include "sim/base/pose.h"

namespace sidehill {
namespace {

// Points of the tractor in the frame the calculation carries along. y lies along the axis of turning, forward. When the
// tractor lies on its side, x runs down the slope from the axis, z square out of the ground. In the first position
// (on its wheels) x is height above the ground, z the distance inward from the outer edge of the downhill tyres.
struct Points {
  Vec3 cog{0}, front_tyre{0}, rear_tyre{0}, frame{0}, bonnet{0};

  template <class Move>
  Points moved(Move move) const {
    return {move(cog), move(front_tyre), move(rear_tyre), move(frame), move(bonnet)};
  }
};

// Turns within the slope, so that a new axis that makes `angle` with the old one and meets it at `y_start` becomes y.
Points onto_axis(const Points& points, double angle, double y_start) {
  const double c = std::cos(angle), s = std::sin(angle);
  return points.moved(
      [=](const Vec3& p) { return Vec3(p.x * c + (p.y - y_start) * s, (p.y - y_start) * c - p.x * s, p.z); });
}

// Turns about the axis, over the downhill side.
Points rolled(const Points& points, double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return points.moved([=](const Vec3& p) { return Vec3(p.x * c + p.z * s, p.y, p.z * c - p.x * s); });
}

// The slope's steepness square to an axis that lies in the slope at `angle` to the contour line (B4, lines 1860, 2640,
// 3060, 3410).
double slope_across(double angle) {
  const double t = std::tan(angle) / std::cos(kRollingSlope);
  return std::atan(std::tan(kRollingSlope) / std::sqrt(1 + t * t));
}

// The moments of inertia about the two cross axes are taken as three times that about the lengthwise one (B4, lines
// 2070, 2670, 3260, 3510).
Turning turning_about(const RollingTractor& t, double axis_angle) {
  const double c = std::cos(axis_angle), s = std::sin(axis_angle);
  return {t.Q * c * c + kRollingCrossInertia * t.Q * s * s, t.Mc, slope_across(axis_angle)};
}

RollingStage named(RollingStage stage, int velocity, const char* what, const char* lines) {
  stage.velocity = velocity;
  stage.what = what;
  stage.lines = lines;
  return stage;
}

// Adds a stage to a block; false if the rolling ends with it.
bool goes_on(RollingBlock& block, const RollingStage& stage) {
  block.stages.push_back(stage);
  if (stage.velocity >= 0 && stage.passed) block.O[static_cast<std::size_t>(stage.velocity)] = stage.after;
  return stage.passed;
}

// The last question of every sequence. O9 is the velocity left over the top; it stays 0 where none had to be reached.
bool goes_over(RollingBlock& block, RollingStage stage, const char* lines) {
  const bool needed = stage.needed > 0;
  block.continues = goes_on(block, named(stage, needed ? 9 : -1, "centre of gravity over the last contact", lines));
  return block.continues;
}

// Distance of the centre of gravity from the line of the downhill contacts (S/2 from the middle, front and rear) when
// the chassis has been turned to the front axle's stop about the line rear contact - pivot (B4, lines 1330-1480).
double stance_radius(const RollingTractor& t) {
  const double wheelbase = t.L3 + t.L2, half_track = t.S / 2;
  // In the median plane, from the ground under the rear axle: the line to the pivot, W2 long and rising by L9; the
  // centre of gravity at W1 along it and H9 square above it.
  const double L9 = std::atan2(t.H0, wheelbase), W2 = std::hypot(t.H0, wheelbase);
  const double R2 = std::hypot(t.H1, t.L3), C1 = std::atan2(t.H1, t.L3);
  const double W1 = R2 * std::cos(C1 - L9), H9 = R2 * std::sin(C1 - L9);
  // In the plane through that line and the rear axle's contacts: the axis runs from contact to pivot at F1 to it, W3
  // from the foot of the centre of gravity.
  const double F1 = std::atan2(half_track, W2), W3 = (W2 - W1) * std::sin(F1);
  // Turned by D0 about the axis: W5 above the plane, its foot W6 nearer to the axis and past it.
  const double W4 = std::atan2(H9, W3), r = std::hypot(H9, W3);
  const double W5 = r * std::sin(W4 + t.D0), W6 = W3 - r * std::cos(W4 + t.D0);
  const double W7 = W1 + W6 * std::sin(F1);
  const double W9 = W5 * std::cos(L9) + W7 * std::sin(L9);  // height above the ground
  return std::hypot(W9, half_track - W6 * std::cos(F1));
}

// The axis through the tops of the front and the rear tyre, on which the tractor lies first (B4, line 1530).
double tyre_axis_angle(const RollingTractor& t) { return 2 * std::atan((t.D3 - t.D2) / (2 * (t.L3 + t.L2))); }

// On its wheels (B4, lines 1550-1720). Of each tyre the place where the common tangent touches it.
Points upright(const RollingTractor& t) {
  const double F2 = tyre_axis_angle(t), edge = (t.S + t.B0) / 2;
  Points p;
  p.cog = Vec3(t.H1, 0, edge);
  p.front_tyre = Vec3((1 + std::cos(F2)) * t.D2 / 2, t.L2 + std::sin(F2) * t.D2 / 2, 0);
  p.rear_tyre = Vec3((1 + std::cos(F2)) * t.D3 / 2, -t.L3 + std::sin(F2) * t.D3 / 2, 0);
  p.frame = Vec3(t.H6, -t.L6, edge - t.B6 / 2);
  p.bonnet = Vec3(t.H7, t.L7, edge - t.B7 / 2);
  return p;
}

// Height at which the common tangent of the tyres passes the centre of gravity (B4, line 1740).
double tyre_axis_height(const RollingTractor& t, const Points& on_wheels) {
  return on_wheels.front_tyre.y * std::tan(tyre_axis_angle(t)) + on_wheels.front_tyre.x;
}

// Lying on the tyres, axis through their tops, y from the centre of gravity (B4, lines 1790-1840).
Points on_tyres(const RollingTractor& t) {
  const Points p = upright(t);
  const double F2 = tyre_axis_angle(t), c = std::cos(F2), s = std::sin(F2), K1 = tyre_axis_height(t, p);
  return p.moved([&](const Vec3& a) { return Vec3(c * (a.x - K1) + s * a.y, a.y * c - (a.x - t.H1) * s, a.z); });
}

// Free fall from unstable balance until the tyres lie flat, about the downhill contacts. The radius changes from W0 to
// G1 on the way, their mean is taken (3.1.4.3.2.1 and .2; B4, lines 1490-1520).
RollingStage overturn(const RollingTractor& t, RollingGeometry& geometry) {
  const double edge = (t.S + t.B0) / 2, G2 = std::atan2(t.H1, edge);
  geometry.W0 = stance_radius(t);
  geometry.G1 = std::hypot(edge, t.H1);
  geometry.G3 = geometry.W0 - geometry.G1 * std::cos(kRollingSlope + G2);
  const double mean = (geometry.W0 + geometry.G1) / 2;
  RollingStage stage;
  stage.inertia_before = stage.inertia = t.Q + t.Mc * mean * mean;
  stage.gained = t.Mc * kRollingGravity * std::max(0.0, geometry.G3);
  stage.after = std::sqrt(2 * stage.gained / stage.inertia);
  return named(stage, 0, "falls from balance to the slope (radius: mean of W0, G1)", "1310-1520");
}

// Everything the sequences have in common: lying on the tyres, and when the frame has struck.
struct Struck {
  Points lying;     // on the tyres, frame still in the air (position 2)
  Points struck;    // frame through the slope by penetration and deformation (position 3)
  Turning turning;  // about the tyre axis
  double V0 = 0;    // frame from the tyre axis [m]
  double E1 = 0;    // penetration and deformation as an angle about that axis [rad]
};

Struck strike(const RollingTractor& t) {
  Struck s{on_tyres(t), {}, turning_about(t, tyre_axis_angle(t))};
  s.V0 = std::hypot(s.lying.frame.x, s.lying.frame.z);
  s.E1 = kRollingPenetration / s.V0;
  s.struck = rolled(s.lying, std::atan2(s.lying.frame.z, s.lying.frame.x) + s.E1);
  s.struck.frame.z = 0;  // from here on the dented frame is where the slope is (lines 2060, 2400, 2830)
  return s;
}

// Over the tyre axis and down to where the frame strikes: O3, the same in every sequence.
bool fall_onto_frame(RollingBlock& block, const Struck& s) {
  const Vec3& cog = s.lying.cog;
  return goes_on(block, named(climb(s.turning, cog.x, cog.z, block.O[2]), -1,
                              "centre of gravity over the tops of the tyres", "2080-2120")) &&
         goes_on(block, named(fall(s.turning, cog, s.struck.cog, block.O[2]), 3, "turns about the tyres to the frame",
                              "2130-2140"));
}

// B2: the frame strikes near the equilibrium point and is the only support afterwards (B4, lines 1290-2310).
void roll_over_frame(RollingBlock& block, const Struck& s) {
  if (!fall_onto_frame(block, s)) return;
  const Vec3& cog = s.struck.cog;
  // The frame is struck V0 from the axis; penetration puts it below the slope by E1 V0.
  goes_on(block, named(impact(s.turning, cog, s.V0, s.E1 * s.V0, block.O[3]), 4, "the frame strikes", "2150-2200"));
  goes_over(block, climb(s.turning, cog.x - s.struck.frame.x, cog.z, block.O[4]), "2210-2280");
}

// After the frame has struck away from the equilibrium point, the tractor turns on about the line from the frame to
// the top of a tyre. Where that line passes the centre of gravity's plane (y = 0) counts for the impact: E2 down the
// slope, T3 below it. Returns the angle of the line, O4 and O5 in the block (B4, lines 2380-2560, 1910-1920,
// 2920-2990).
double impact_on_frame_and_tyre(RollingBlock& block, const Struck& s, const Vec3& tyre, bool front) {
  const double E2 = s.V0 * tyre.y / (tyre.y - s.struck.frame.y), T3 = s.E1 * E2;
  goes_on(block, named(impact(s.turning, s.struck.cog, E2, T3, block.O[3]), 4, "the frame strikes",
                       front ? "2920-2970" : "2490-2540"));
  const double F3 = std::atan(s.V0 / (tyre.y - s.struck.frame.y));
  goes_on(block, named(along_new_axis(F3, block.O[4]), 5,
                       front ? "on about the line front tyre - frame" : "on about the line rear tyre - frame",
                       front ? "2980-2990" : "2550-2560"));
  return F3;
}

// B3: the frame strikes ahead of the equilibrium point; on over rear tyre and frame (B4, lines 2350-2780).
void roll_over_rear_tyre(RollingBlock& block, const RollingTractor& t, const Struck& s) {
  if (!fall_onto_frame(block, s)) return;
  const double F3 = impact_on_frame_and_tyre(block, s, s.struck.rear_tyre, false);
  const Points p = onto_axis(s.struck, F3, s.struck.rear_tyre.y);
  goes_over(block, climb(turning_about(t, tyre_axis_angle(t) + F3), p.cog.x, p.cog.z, block.O[5]), "2570-2720");
}

// B1: the frame strikes behind the equilibrium point; on over front tyre and frame until the bonnet strikes, then over
// frame and bonnet (B4, lines 2790-3660). The bonnet does not penetrate (C4 = 0; 3.1.4.3.2.6). Returns what stands
// against the geometry, if anything.
std::string roll_over_bonnet(RollingBlock& block, const RollingTractor& t, const Struck& s) {
  if (!fall_onto_frame(block, s)) return {};
  const double F2 = tyre_axis_angle(t);
  const double F3 = impact_on_frame_and_tyre(block, s, s.struck.front_tyre, true);
  const Points p4 = onto_axis(s.struck, F3, s.struck.front_tyre.y);
  const Turning about_frame = turning_about(t, F2 + F3);
  if (!goes_on(block, named(climb(about_frame, p4.cog.x, p4.cog.z, block.O[5]), -1,
                            "centre of gravity over the line front tyre - frame", "3260-3310")))
    return {};

  const double C5 = std::hypot(p4.bonnet.x, p4.bonnet.z);  // bonnet from the axis
  Points p5 = rolled(p4, std::atan2(p4.bonnet.z, p4.bonnet.x));
  p5.bonnet.z = 0;
  // The listing jumps from line 3280 to 3320 if nothing has to be climbed and so past line 3315, which gives the height
  // at the end of the fall; that would let the tractor gain its whole height above the axis. The height is needed
  // either way, and is taken either way.
  if (!goes_on(block, named(fall(about_frame, p4.cog, p5.cog, block.O[5]), 6, "turns on until the bonnet strikes",
                            "3315-3330")))
    return {};

  const double between = p5.frame.y - p5.bonnet.y;
  if (!(between < -1e-6 && C5 > 1e-6)) return "the bonnet's corner does not lie ahead of the frame as it strikes";
  // Where the line frame - bonnet passes the centre of gravity's plane.
  const double C7 = C5 * (p5.frame.y - p5.cog.y) / between;
  goes_on(block, named(impact(about_frame, p5.cog, C7, 0, block.O[6]), 7, "the bonnet strikes", "3340-3390"));
  const double F5 = std::atan(C5 / between);
  goes_on(block, named(along_new_axis(F5, block.O[7]), 8, "on about the line frame - bonnet", "3400-3480"));
  const Points p6 = onto_axis(p5, F5, p5.frame.y);
  goes_over(block, climb(turning_about(t, F2 + F3 + F5), p6.cog.x, p6.cog.z, block.O[8]), "3490-3600");
  return {};
}

// Wider than the tyres: something else than the tyres strikes first (3.1.4.3.1; B4, lines 1260-1265).
std::string too_wide(const RollingTractor& t) {
  if (t.B6 > t.S + t.B0) return "the frame (B6) is wider than the outer edges of the rear tyres (S + B0)";
  if (t.B7 > t.S + t.B0) return "the bonnet (B7) is wider than the outer edges of the rear tyres (S + B0)";
  return {};
}

// Ways in which a calculation can leave what it was made for. The figures still follow the published formulas.
std::vector<std::string> cautions_about(const RollingTractor& t, const RollingAnswer& a) {
  std::vector<std::string> cautions;
  if (t.Mc <= 400 || t.Mc >= 3500)
    cautions.push_back("Mc lies outside the field of application, more than 400 and less than 3500 kg (2.1.3)");
  if (t.S > 1.15) cautions.push_back("S lies outside the field of application, at most 1.15 m (2.1.2)");
  if (const Points p = on_tyres(t); p.frame.y <= p.rear_tyre.y || p.frame.y >= p.front_tyre.y)
    cautions.push_back("the frame's point of impact (L6) does not lie between the tops of the rear and front tyres");
  const auto backwards = [](const RollingStage& s) { return s.kind == RollingStageKind::impact && s.after < 0; };
  bool thrown_back = std::ranges::any_of(a.common, backwards);
  for (const RollingBlock& block : a.blocks) thrown_back = thrown_back || std::ranges::any_of(block.stages, backwards);
  if (thrown_back)
    cautions.push_back(
        "an impact throws the tractor back (a negative velocity); the published calculation goes on with "
        "its energy as if it still turned downhill, so its answer is on the severe side");
  return cautions;
}

}  // namespace

std::optional<RollingConflict> find_rolling_conflict(const RollingTractor& t) {
  if (!too_wide(t).empty()) return {};  // an answer of its own
  if (std::abs(t.D3 - t.D2) >= t.L3 + t.L2)
    return RollingConflict{"D3", "differs from D2 by the wheelbase L2 + L3 or more; the tyres must differ by less"};
  const Points p = on_tyres(t);
  if (p.rear_tyre.y >= -0.01 || p.front_tyre.y <= 0.01)
    return RollingConflict{"L2",
                           "the centre of gravity must lie between the tops of the tyres, well ahead of the rear "
                           "and behind the front ones"};
  if (p.frame.x < 0.01)
    return RollingConflict{"H6", "the frame's point of impact must lie above the line over the tops of the tyres"};
  RollingGeometry geometry;
  overturn(t, geometry);
  if (!(geometry.G3 > 0))
    return RollingConflict{"H1",
                           "so low between such wide wheels the centre of gravity does not fall when the tractor "
                           "turns over"};
  return {};
}

RollingAnswer rolling_test(const RollingTractor& t) {
  RollingAnswer answer;
  answer.reason = too_wide(t);
  if (!answer.reason.empty()) {
    answer.cautions = cautions_about(t, answer);
    return answer;
  }

  // To the ground: O0 in the fall, O1 as the upper edges of the tyres strike, O2 about the axis through their tops.
  const Points on_wheels = upright(t);
  const double F2 = tyre_axis_angle(t);
  answer.common.push_back(overturn(t, answer.geometry));
  const double O0 = answer.common.back().after;
  answer.common.push_back(
      named(impact({t.Q, t.Mc, kRollingSlope}, on_wheels.cog, tyre_axis_height(t, on_wheels), 0, O0), 1,
            "the tops of the tyres strike", "1740-1780"));
  answer.common.push_back(
      named(along_new_axis(F2, answer.common.back().after), 2, "on about the tops of the tyres", "1850"));

  const Struck s = strike(t);
  answer.geometry.F2 = F2;
  answer.geometry.A2 = s.turning.slope;
  answer.geometry.V0 = s.V0;
  answer.geometry.L8 = -std::tan(F2) * (t.H6 - t.H1);  // line 1540
  answer.geometry.Z37 = s.struck.bonnet.z;
  if (s.struck.bonnet.z <= kRollingBonnetLimit) {  // lines 2050 and 3680
    answer.reason = "the bonnet touches the ground before the frame";
    answer.cautions = cautions_about(t, answer);
    return answer;
  }

  RollingBlock block;
  for (std::size_t i = 0; i < 3; ++i) block.O[i] = answer.common[i].after;
  const RollingBlock start = block;

  roll_over_frame(block, s);
  answer.blocks.push_back(block);
  std::string against;
  if (!block.continues) {
    block = start;
    block.sequence =
        t.L6 > answer.geometry.L8 ? RollingSequence::b1_behind : RollingSequence::b3_in_front;  // line 2330
    if (block.sequence == RollingSequence::b1_behind)
      against = roll_over_bonnet(block, t, s);
    else
      roll_over_rear_tyre(block, t, s);
    answer.blocks.push_back(block);
  }
  answer.cautions = cautions_about(t, answer);
  if (!against.empty()) {
    answer.blocks.clear();
    answer.reason = against;
    return answer;
  }
  const RollingBlock& last = answer.blocks.back();
  answer.verdict = last.continues ? RollingVerdict::continues : RollingVerdict::stops;
  if (last.continues)
    answer.reason = "the centre of gravity passes over the last contact";
  else if (last.stages.back().kind == RollingStageKind::climb)
    answer.reason = std::string("there is not the energy to bring the ") + last.stages.back().what;
  else
    answer.reason = "the turning ends before the bonnet strikes";
  return answer;
}

const char* to_string(RollingVerdict verdict) {
  switch (verdict) {
    case RollingVerdict::continues:
      return "continues";
    case RollingVerdict::stops:
      return "stops";
    case RollingVerdict::not_feasible:
      break;
  }
  return "not_feasible";
}

const char* to_string(RollingSequence sequence) {
  switch (sequence) {
    case RollingSequence::b1_behind:
      return "B1";
    case RollingSequence::b2_near:
      return "B2";
    case RollingSequence::b3_in_front:
      break;
  }
  return "B3";
}

}  // namespace sidehill

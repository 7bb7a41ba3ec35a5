// What a set-up's answer comes down to: the one thing to say first, everything else that holds after it, and which
// slope comes first. One pure function, for every surface; the words are in render/text/rest/verdict_report.h. Knows no
// words, no window, no file, no time.
//
// How to use it: verdict_on(...) gives a StandVerdict. Its `headline` is the band's word and colour; `also` are the
// other causes that hold, worst first, none left out. `gives_way.front()` is the big number: degrees from here, its
// slope and its interval; the rest of `gives_way` stands beside it in the same measure. `ratings` is the second line.
// Give it the uncertainty once it is worked out: only then can `interval_reaches_slope` hold.
#pragma once
#include <array>
#include <optional>
#include <span>
#include <vector>

#include "sim/insight/uncertainty.h"
#include "sim/rest/load_check.h"
#include "sim/rest/load_limits.h"
#include "sim/rest/manoeuvre.h"
#include "sim/rest/statics.h"

namespace sidehill {

// Worst first: the order in which they are said.
enum class StandCause {
  tipped,                  // goes over: there is no way to rest here
  on_stop,                 // a wheel is up and the machine rests on its axle stop
  wheel_up,                // a wheel is up
  slides,                  // the tyres do not hold
  unsolved,                // no answer at this heading
  tips_under_way,          // goes over in the bend or braking the scene asks for (manoeuvre.*)
  lifts_under_way,         // a wheel lifts in it
  slides_under_way,        // the tyres do not hold in it
  frozen,                  // a fill is ice: do not drive
  over_limit,              // over a figure of the maker: axle, mount, bucket, or a tyre's stated rating
  may_be_over_limit,       // over what is typical of a tyre's size: the sidewall decides
  frost_not_known,         // a fill may be ice: nothing says when it freezes
  interval_reaches_slope,  // what gives way first may do so on this slope already
  little_left,             // less than kLittleLeft before something gives way
  stands,                  // nothing of the above
};
inline constexpr int kStandCauses = 15;
inline constexpr double kLittleLeft = 0.08726646259971647;  // 5 degrees [rad]; our choice

// Something that carries or holds more than it may.
enum class LimitKind { axle, tyre, front_mount, rear_mount, wheel_weights, bucket };
struct OverLimit {
  LimitKind kind = LimitKind::axle;
  int where = 0;  // axle: 0 front, 1 rear; tyre: enum Wheel; else without meaning
  LoadMargin margin;
  bool typical = false;                     // tyre: against what is typical of its size, not against a stated rating
  bool pair = false;                        // tyre: two side by side, together
  bool at_one_of_pair = false;              // tyre: the fuller one of a pair is over its own rating
  std::optional<ManoeuvreKind> doing = {};  // over only in the bend or braking asked for; none = standing still
};

// A slope at which something gives way, the whole ground tilted slowly at this heading: standing still, or in the bend
// or braking the scene asks for.
enum class GivesWay { slide, lift_off, tip_over };
struct WayGiven {
  GivesWay what = GivesWay::lift_off;
  double slope = 0;                         // [rad]
  double here = 0;                          // the scene's slope [rad]
  double left = 0;                          // from here: slope - here [rad], negative = passed
  std::optional<Interval> interval;         // of `slope` [rad]; none: not worked out, uneven ground, or under way
  int wheel = -1;                           // of a lift-off: which, enum Wheel; -1 = not known
  std::optional<ManoeuvreKind> doing = {};  // what is asked for, under way; none = standing still
};

// The second line: from which slope on a limit of load is passed.
struct RatingPassed {
  bool steering = false;  // false: of a tyre; true: front axle under 20 % of the unladen mass
  int wheel = -1;         // of a tyre, enum Wheel
  bool stated = false;    // of a tyre: by a stated rating, else by what is typical of its size
  double slope = 0;       // [rad]; 0 = on the level already
};

// What the bend or braking asked for does on this slope, where that is worse than standing there.
struct UnderWay {
  StandCause what = StandCause::lifts_under_way;  // one of the three of its kind
  ManoeuvreAnswer answer;
};

struct StandVerdict {
  StandCause headline = StandCause::stands;
  std::vector<StandCause> also;  // the other causes that hold, in order
  // Earliest first; empty = nothing ever gives way at this heading. What gives way in the bend or braking asked for is
  // here where it does so on less slope than standing still: of all that is asked for, the earliest of its kind.
  std::vector<WayGiven> gives_way;
  std::optional<WayGiven> reaches;           // of interval_reaches_slope: which one
  std::optional<WayGiven> little;            // of little_left: which one
  std::vector<OverLimit> over, may_be_over;  // most over first
  bool on_level = false;                     // what tyres and axles carry is of the level: no rest here
  std::vector<RatingPassed> ratings;         // earliest first
  std::vector<UnderWay> under_way;           // of the bend and braking asked for, worst first
  // Front, rear: nothing says what that axle, or one of its tyres, may carry. False as well where no loads were given.
  std::array<bool, 2> axle_not_known{}, tyres_not_known{};

  bool holds(StandCause cause) const;  // as headline or after it
};

// `loads`: of this rest, or of the level where there is none; nullptr = not known, then no tyre or axle is over.
// `uncertainty`, `limits`: nullptr = not worked out. On uneven ground the uncertainty, which is of the even slope, is
// not used. `manoeuvres`: sim/rest/manoeuvre's of this scene; none = not asked for, or not worked out. Never throws.
StandVerdict verdict_on(const Scene& scene, const Model& model, const StaticSolution& statics, const LoadCheck* loads,
                        const Uncertainty* uncertainty = nullptr, const LoadLimits* limits = nullptr,
                        std::span<const ManoeuvreAnswer> manoeuvres = {});

}  // namespace sidehill

// The steepest slope at which a run ends well, found by running it: for one scene, or for a table of two data. Uses
// every core; the answer does not depend on how many there are. Knows no file.
#pragma once
#include <atomic>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "sim/motion/recording.h"

namespace sidehill {

enum class Bearable { no_lift, no_roll };  // what must not happen: a wheel lifts; the machine goes over

struct SlopeLimitAsk {
  Bearable bearable = Bearable::no_lift;
  double steepest = 0.7853981633974483;  // nothing steeper is tried [rad]
  double coarse = 0.04363323129985824;   // first tried this far apart: 2.5 deg [rad]
  double fine = 8.726646259971648e-4;    // then closed in to this: 0.05 deg [rad]
};

// Why there is no limit.
enum class NoLimit {
  there_is_one,
  on_the_level,     // what must not happen happens on the level already
  slides_first,     // below the slope at which it would happen the machine slides away and does not meet what lay ahead
  slides_unjudged,  // it happens nowhere, but some run's tyres slid, so that says nothing
};

// A slope counts as bearable if the whole programme runs there from rest without what must not happen. Steeper is not
// always worse, so every coarse slope is tried; the limit is the last before the first that fails, closed in by
// halving. It slides where its tyres slide and it comes off its line by a metre, or they carry it a metre further than
// on the level (the way braked wheels skid); where it steers, by the second alone. The slope at which it first slides
// is closed in just as far. No limit is given above it.
struct SlopeLimit {
  std::optional<double> slope;  // [rad]; none: see `no_limit`
  NoLimit no_limit = NoLimit::there_is_one;
  bool open = false;                // nothing happens up to the steepest tried, no tyre slid: the limit lies beyond
  std::optional<double> again;      // a steeper slope tried that is bearable again [rad]
  std::optional<double> slides_at;  // least slope found at which it slides; slides_unjudged: at which a tyre slid [rad]
  Outcome fails_as = Outcome::stands;  // how it ends just beyond the limit; `stands`: nothing fails
  bool diverged = false;               // some run's numbers ran away; it counts as not bearable
  int runs = 0;
};

// Throws InputError for an impossible scene, and for a programme this search cannot judge: a trailer that pushes
// (facing downhill, or braking), ground that tilts during the run.
SlopeLimit slope_limit(const Scene& scene, const SlopeLimitAsk& ask);

// The same upwards from the level and no further than to the first slope that fails, which costs half the runs: the
// same `slope`, `no_limit` and `open`, and the same `slides_at` where there is no limit; what lies beyond (`again`,
// where it slides later) is not looked for. `fails_as`: how the whole programme ends there, run to its end. On one
// core. Once `stop` is requested it comes back within some milliseconds, and what it gives then means nothing. Throws
// as slope_limit.
SlopeLimit first_failing_slope(const Scene& scene, const SlopeLimitAsk& ask, const std::stop_token& stop = {});

// One datum over a range, ends included, values in the file's unit.
struct SweptKey {
  std::string key;
  double from = 0, to = 0;
  int steps = 2;
};
double value_of(const SweptKey& key, int step);

// A part of a table: the cells whose number modulo `of` is `part`, so that each part has easy and hard ones.
struct Shard {
  int part = 0, of = 1;
};

struct SweptCell {
  int number = 0;              // row-major over the keys, the last running fastest
  std::vector<double> values;  // of the keys, in the file's unit
  SlopeLimit limit;
};

// How far a table is, written while it is worked out: parts of the work that are done, and of how many.
struct SweepProgress {
  std::atomic<int> done = 0, of = 0;
};

// Throws InputError naming the key: unknown, no number, out of its range, or a cell that is no machine. Once `stop` is
// requested it comes back within some milliseconds, and what it gives then means nothing.
std::vector<SweptCell> sweep(const Scene& scene, const std::vector<SweptKey>& keys, const SlopeLimitAsk& ask,
                             const Shard& shard = {}, const std::stop_token& stop = {},
                             SweepProgress* progress = nullptr);

}  // namespace sidehill

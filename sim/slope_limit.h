// The steepest slope at which a run ends well, found by running it: for one scene, or for a table of two data. Uses
// every core; the answer does not depend on how many there are. Knows no file.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "sim/recording.h"

namespace sidehill {

enum class Bearable { no_lift, no_roll };  // what must not happen: a wheel lifts; the machine goes over

struct SlopeLimitAsk {
  Bearable bearable = Bearable::no_lift;
  double steepest = 0.7853981633974483;  // nothing steeper is tried [rad]
  double coarse = 0.04363323129985824;   // first tried this far apart: 2.5 deg [rad]
  double fine = 8.726646259971648e-4;    // then closed in to this: 0.05 deg [rad]
};

// A slope counts as bearable if the whole programme runs there from rest without what must not happen. Steeper is not
// always worse, so every coarse slope is tried; the limit is the last before the first that fails, closed in by
// halving.
struct SlopeLimit {
  std::optional<double> slope;         // [rad]; none: it happens on the level already
  bool open = false;                   // nothing happens up to the steepest tried: the limit lies beyond
  std::optional<double> again;         // a steeper slope tried that is bearable again [rad]
  std::optional<double> slides_at;     // least coarse slope at which it slides off its line by a metre [rad]
  Outcome fails_as = Outcome::stands;  // how it ends just beyond the limit; `stands`: nothing fails
  bool diverged = false;               // some run's numbers ran away; it counts as not bearable
  int runs = 0;
};

// Throws InputError for an impossible scene.
SlopeLimit slope_limit(const Scene& scene, const SlopeLimitAsk& ask);

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

// Throws InputError naming the key: unknown, no number, out of its range, or a cell that is no machine.
std::vector<SweptCell> sweep(const Scene& scene, const std::vector<SweptKey>& keys, const SlopeLimitAsk& ask,
                             const Shard& shard = {});

}  // namespace sidehill

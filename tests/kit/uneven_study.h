// Random scenes on uneven ground, each answered several ways that must agree: mirrored left and right, turned by a
// thousandth of a degree, and as the settled run that starts from the resting pose. Counted, not judged: who asks sets
// the bounds. Knows no text.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "sim/scene/scene.h"

namespace sidehill {

// The same scene seen in a mirror that stands along its line: left is right.
Scene mirrored(Scene scene);

// What one scene did.
struct UnevenAnswer {
  std::uint64_t number = 0;          // of random_scene
  bool feature_near = false;         // a feature reaches under a wheel
  bool mirror_differs = false;       // by more than 0.05 deg of first lift-off, or in status
  bool heading_differs = false;      // likewise, turned by 0.001 deg
  bool tips_before_lifting = false;  // tip-over below first lift-off
  bool tipped = false, unsolved = false;
  bool compared = false;                    // the run stayed where it was put and no hull or frame touched
  bool loads_differ = false;                // by more than 1 % of the weight on any wheel; only if compared
  bool wrongly_tipped = false;              // `tipped`, and the run stands
  double load_difference = 0;               // the largest, of the weight
  std::string mirror_words, heading_words;  // what the two said, where they differ
};

// Where they lie: as drawn, mostly ahead of the machine, or brought under its wheels.
enum class Features { as_drawn, under_the_wheels };

// The first `count` scenes from number `first` on that have features but no rough strip, on every core. With `runs`
// each is run for 8 s as well, parked with the rear wheels held. The same answer on any number of cores.
std::vector<UnevenAnswer> study_uneven(std::uint64_t first, std::size_t count, Features where, bool runs);

// How many of them.
struct UnevenCounts {
  long scenes = 0, feature_near = 0, mirror_agrees = 0, heading_agrees = 0, tips_before_lifting = 0, tipped = 0,
       unsolved = 0, compared = 0, loads_agree = 0, loads_differ = 0, wrongly_tipped = 0;
};
UnevenCounts count_uneven(const std::vector<UnevenAnswer>& answers);

}  // namespace sidehill

// Why the first wheel lifts where it does: what each cause adds to that slope or takes from it. Knows no file, no time.
#pragma once
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "sim/model/model.h"

namespace sidehill {

struct Cause {
  std::string name;  // "filling of the rear tyres", "tyres that give"
  double share = 0;  // of the slope of first lift-off [rad], positive = later
};

struct Breakdown {
  double bare = 0;            // first lift-off of the bare machine on rigid tyres [rad]
  double whole = 0;           // of the machine as it is
  std::vector<Cause> causes;  // largest first; bare + their sum = whole
};

// Exact differences of the first lift-off, averaged over every order in which the causes can be added to the bare
// machine (nobody on it, tank empty, no ballast, no loader, narrowest tracks, rigid tyres), so that they sum to the
// whole and the order of telling does not matter. Causes: each kind of ballast, each added mass, driver, tank, loader,
// its load, the tracks beyond their narrowest settings, tyres that give, the load they leave behind as they bend
// sideways, the load at their downhill edge as they lean, ice turned up from the bottom of its wheels to where it harms
// most; those not there are left out, and beyond nine the smallest are given together as "the rest". The even slope at
// the scene's heading; features are left out. Nothing
// where with some of them no wheel ever lifts. Likewise nothing, and within an answer or two, once `stop` is requested.
// Source: Shapley 1953, "A value for n-person games".
std::optional<Breakdown> breakdown(const Model& model, const std::stop_token& stop = {});

}  // namespace sidehill

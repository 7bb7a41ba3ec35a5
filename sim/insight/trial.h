// Thousands of random scenes, run to see that nothing gives way: no number that is none, no energy from nowhere, no run
// that does not end. Knows no text.
#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "sim/base/enum_table.h"
#include "sim/motion/recording.h"

namespace sidehill {

// Any machine of the library with any ballast, load, ground and programme that a person could set. The same for the
// same number, on every machine.
Scene random_scene(std::uint64_t number);

enum class Fault { none, not_a_number, energy, diverged, refused };

struct TrialRun {
  std::uint64_t number = 0;
  Fault fault = Fault::none;
  Outcome outcome = Outcome::stands;
  double gain = 0;     // most energy above what it began with and what was put in, over weight [m]
  double seconds = 0;  // of wall clock
  std::string words;   // of a fault
};

// One scene, run by our own step. Energy: of motion and height at every frame, against that of the start plus what
// engine, rams and stretched tyres can have given.
TrialRun try_scene(std::uint64_t number);

struct Trials {
  long runs = 0;
  std::array<long, count_of<Fault>()> faults{};      // order of enum Fault
  std::array<long, count_of<Outcome>()> outcomes{};  // order of enum Outcome
  std::vector<TrialRun> faulty;                      // in the order of their numbers
  TrialRun most_gain, slowest;
};

// Scenes first ... first + runs - 1, on every core; the same answer (but for the clock) on any number of them.
Trials trial(std::uint64_t first, long runs);

}  // namespace sidehill

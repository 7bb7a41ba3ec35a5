// How a run ended, and what its landing did, in words. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "sim/insight/answer.h"
#include "sim/insight/run_verdict.h"
#include "sim/motion/recording.h"

namespace sidehill::text {

// "backwards", "forwards", "to the left", "to the right": how it went over; "sideways" where no stored moment shows it.
// Empty if it did not.
std::string over_which_way(const Recording& recording);

// How it lies at the end: "lies on its right side, on its roll-over frame", "lies on its back", "stands on its tail",
// "is upright". `key` as in JSON: "right_side", "left_side", "back", "tail", "nose", "upright".
struct Lying {
  std::string words, key;
  bool on_frame = false;
};
Lying lying(const Scene& scene, const Recording& recording);
Lying lying(const Scene& scene, const State& moment);

// How many wheels leave the ground at any moment that counts.
int wheels_lifted(const Recording& recording);

// "its tyres slide 2.1 m, and still slide at the end, at 3.4 m/s"; empty if they hardly do.
std::string slid_words(const Recording& recording);
bool slides_at_end(const Recording& recording);

// "the run stops at 0.50 s while the machine is in the air"; empty if it was decided.
std::string cut_off_words(CutOff cut, const Recording& recording);

// How the run ended, in a line; what is not known comes first: "SLIDES: the tyres do not hold; it slides 2.1 m".
std::string outcome_line(const Scene& scene, const Recording& recording);

// A drop, and nothing the driver did, threw it over, though set down gently it would stand.
bool drop_throws_it_over(const Scene& scene, const StaticSolution& statics, const Recording& recording);

// What letting it go did, until it had come to rest: text empty, JSON null, where it was set down or never came to
// rest.
std::string landing_table(const Answer& answer, const Recording& recording);
nlohmann::ordered_json landing_json(const Answer& answer, const Recording& recording);

}  // namespace sidehill::text

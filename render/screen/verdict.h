// What a set-up's answer and a moment of a run mean, in words and a tone. Every function has something to say for every
// input. Knows no ImGui, no OpenGL.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "render/screen/session.h"
#include "render/text/units.h"
#include "render/text/words.h"

namespace sidehill {

// How a thing is shown: each tone has a colour, a symbol and a pattern of its own.
enum class Tone { steady, near, lifted, slide, unknown };

struct Verdict {
  Tone tone = Tone::unknown;
  std::string number;  // "12.3°", may be empty
  std::string title;   // "Stands"
  std::string detail;  // "left before the rear left wheel, uphill, lifts"
};

// On the set-up at rest.
Verdict verdict_of(const Session& session);
// On what the picture shows just now, one short line.
Verdict moment_of(const Session& session);

// Why there is no number to show of the set-up at rest: it cannot exist, or is being worked out. Empty where there is.
std::string no_numbers(const Session& session);

// What to mind about this set-up, gravest first: warnings of its answer, then the model's cautions; in the units read.
// Empty until it is answered.
std::vector<std::string> cautions_of(const Session& session, Units units = Units::si);

// On who drives by hand and what is asked of the machine: "Driving by hand: 6 km/h, left 12°, brake".
std::string hand_words(const Session& session, Units units = Units::si);
// How fast it goes just now: "goes 4.2 km/h".
std::string going_words(const Session& session, Units units = Units::si);

// One angle at which something gives way.
struct Threshold {
  std::string name;             // "A wheel lifts: rear left"
  std::string help;             // a sentence
  std::optional<double> slope;  // [rad]; empty = never
  Tone tone = Tone::steady;
  std::string instead = "never";  // said where there is no angle
};
// What gives way as the whole ground is tilted at this heading, what comes first standing first, "never" last.
std::vector<Threshold> thresholds_of(const StaticSolution& statics, bool adhesion_unlimited);

}  // namespace sidehill

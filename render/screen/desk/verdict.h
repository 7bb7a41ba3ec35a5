// What a set-up's answer and a moment of a run mean, in words and a tone. Every function has something to say for every
// input. Knows no ImGui, no OpenGL.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/desk/session.h"
#include "render/screen/scene3d/drawing.h"
#include "render/text/words/units.h"
#include "render/text/words/words.h"
#include "sim/insight/verdict.h"

namespace sidehill::screen {

// How a thing is shown: each tone has a colour, a symbol and a pattern of its own.
enum class Tone { steady, near, limit, lifted, slide, unknown };
Tone tone_of(StandCause headline);

struct Verdict {
  Tone tone = Tone::unknown;
  std::string number;             // "12.3°", may be empty
  std::string title;              // "STANDS"
  std::string detail;             // "from here until the rear left wheel, uphill, lifts, at 30.3°"
  std::vector<std::string> more;  // what else is to be said, a sentence each
};

// On the set-up at rest: its headline, how far it is from here to what gives way first, and in `more` from which slopes
// on a limit of load is passed. No number once something has given way.
Verdict verdict_of(const Session& session, Units units = Units::si);
// On what the picture shows just now. At rest the headline, and in `more` every other cause that holds. In a run the
// worst of the moment and of the set-up's ice and overloads; at its end of everything that holds at rest.
Verdict moment_of(const Session& session, Units units = Units::si);
// The run's moment alone, without anything of the set-up at rest: for a lesson that still asks about it.
Verdict seen_of(const Session& session);

// "2.4° left", or "2.4° past" below zero; "-" where it is not known [rad].
std::string left_words(std::optional<double> left);
// What is wrong at this moment of a run, worst first: "NOW: overturned, lies on its left side; up in the air: rear
// left." Empty while it is upright, every wheel carries and its body is off the ground.
std::string now_words(const Scene& scene, const State& state);
// What stands at the machine in the picture: "12.5° left, then it slides", or the headline once something has given
// way. Empty where nothing ever does.
std::string stand_words(const StandVerdict& verdict);
std::string short_stand_words(const StandVerdict& verdict);  // "12.5° left, then slides"
// As Session::worst_heading, of what gives way first: a slide as well as a lift.
std::optional<EnvelopePoint> weakest_heading(const Session& session);
// Of that heading, beside the dial: "3.7° past: it slides there", "18.8° left there, then the rear left wheel
// lifts".
std::string weakest_words(const EnvelopePoint& weakest, double slope);
// Where its slope lies nineteen times in twenty, or why nobody knows: "at 18.3° to 21.0°", "interval not known yet".
std::string weakest_lies(const Session& session, const EnvelopePoint& weakest);
// To what gives way first; none once something has, or where nothing ever does [rad].
std::optional<double> left_at_rest(const StandVerdict& verdict);
bool has_given_way(StandCause headline);  // there is no margin any more
// Something has given way, is frozen or is over what it may carry.
bool is_grave(StandCause headline);
// At once what a picture or a film needs that is made without a session: the answer at rest and its verdict. Takes a
// second or more. On uneven ground no interval is worked out, as sim/insight/verdict.h uses none there.
struct Standing {
  StaticSolution statics;
  StandVerdict verdict;
};
// What does not rest has no wheel loads at rest, and without an answer nobody knows them: neither they nor the support
// are drawn. A moment of a run has its own.
Overlays known_overlays(Overlays overlays, const StaticSolution& statics);
// For the foot of a picture of a set-up without a rest, what is drawn in its place: a moment of its run at that time
// [s], else how it is set down. Empty where it rests.
std::string drawn_words(const StaticSolution& statics, std::optional<double> run_time = {});
Standing standing_of(const Scene& scene, const Model& model);

// Why there is no number to show of the set-up at rest: it cannot exist, or is being worked out. Empty where there is.
std::string no_numbers(const Session& session);

// Why there are no wheel loads to show: the above, or it does not rest, or nobody knows. Empty where there are.
std::string no_loads(const Session& session);
// What the time strip says before anything has run: at rest, or not.
std::string before_run_words(const Session& session);

// What to mind about this set-up, gravest first: warnings of its answer, then the model's cautions; in the units read.
// Empty until it is answered.
std::vector<std::string> cautions_of(const Session& session, Units units = Units::si);
// Those of them that the verdict does not say already.
std::vector<std::string> further_cautions(const Session& session, Units units = Units::si);

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
  std::string instead = "never";          // said where there is no angle
  std::optional<double> left = {};        // from here [rad]; empty = of no use, or something has given way already
  std::optional<Interval> interval = {};  // of `slope` [rad]
  std::string lies = {};                  // the same in words, or why there is none: never empty beside an angle
};
// What gives way as the whole ground is tilted at this heading, what comes first standing first, "never" last.
std::vector<Threshold> thresholds_of(const Scene& scene, const StaticSolution& statics, const StandVerdict& verdict,
                                     const Uncertainty* doubts);

}  // namespace sidehill::screen

// The words of a verdict, in one place for every surface: text, JSON, page and window. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "sim/insight/verdict.h"

namespace sidehill::text {

const char* key_of(StandCause cause);  // "over_limit", as JSON has it
const char* key_of(GivesWay what);     // "slide", "lift_off", "tip_over"

// A few words in capitals that say the cause: "OVER ITS LIMITS AS SET UP". For a band, a strip, a heading.
std::string cause_title(StandCause cause);

// One cause that holds, with its numbers, as a sentence or two that begin with its title.
std::string cause_words(StandCause cause, const StandVerdict& verdict, const Scene& scene,
                        const StaticSolution& statics);

// The headline's words, then those of every other cause that holds, in order: one entry each.
std::vector<std::string> verdict_sentences(const StandVerdict& verdict, const Scene& scene,
                                           const StaticSolution& statics);

// How the set-up's part in a run is said: "At rest: LITTLE LEFT: ..." where a cause is of the pose; ice and overloads
// stay as they are while it runs, and so does what the scene asks for under way. One entry for each cause that holds
// beside `stands`, in order.
struct SaidAtRest {
  StandCause cause;
  std::string title, words;  // `words` begin with the title
};
std::vector<SaidAtRest> said_beside_run(const StandVerdict& verdict, const Scene& scene, const StaticSolution& statics);

// Of those the grave ones alone: what has given way, has no answer, is frozen or over its limits. Empty where none is.
std::vector<std::string> grave_sentences(const StandVerdict& verdict, const Scene& scene,
                                         const StaticSolution& statics);

// What is wrong with a set-up before any slope, a sentence each: ice, and more than it may carry. Empty where nothing
// is. For answers about something else, which must not hide it.
std::vector<std::string> set_up_warnings(const StandVerdict& verdict, const Scene& scene,
                                         const StaticSolution& statics);
std::vector<std::string> set_up_warnings(const Scene& scene);  // works the verdict out; throws InputError as build

// "limits of tyres and front axle NOT KNOWN"; empty where all of them are known. Part of every first line at rest.
std::string limits_not_known_words(const StandVerdict& verdict);

// What is left from here, as the two slopes are shown [rad].
double left_as_shown(const WayGiven& way);

// "it slides", "the rear left wheel lifts in the bend asked for".
std::string way_words(const WayGiven& way);

// Everything that gives way, earliest first, all in degrees from here: "From here: it slides 12.5° (at 30.5°, 29.2° to
// 31.8°); the rear left wheel lifts 19.0° (at ...)". Empty where nothing does.
std::string ways_sentence(const StandVerdict& verdict);

// Where another heading gives way a degree or more before this one: "Facing another way (facing downhill, heading
// -180°) it slides at 10.8° = 19 %: 2.8° from here."; else nothing. `slope` is the ground's [rad].
std::string turned_sentence(const std::vector<EnvelopePoint>& by_heading, const StaticSolution& statics, double slope);

// What a scene does besides standing is not in an answer at rest: says so, and which command answers that. Empty where
// it does nothing.
std::string at_rest_only(const Scene& scene);

// Where the scene hangs on less than the job does (sim/job/implement_here): that no slope of this answer is with it.
// `limits_with_it`: the rules of the same answer do count it. Masses in kg, for read_in. Empty where there is none.
std::string without_implement(const Scene& scene, bool limits_with_it = false);

// The second line, from which slopes on limits of load are passed; empty where none is.
std::string ratings_sentence(const StandVerdict& verdict);

// "front axle 3 434 kg of 3 200 kg, 7.3 % over the maker's figure".
std::string limit_words(const OverLimit& limit);
std::string limit_doing_words(const OverLimit& limit);  // " in the bend asked for"; empty standing still

// Adds `verdict`, `also`, `gives_way` and `over_limits`.
void add_verdict(nlohmann::ordered_json& json, const StandVerdict& verdict);

// "25.3° to 35.5°", "25.3° or more".
std::string interval_text(const Interval& interval);

}  // namespace sidehill::text

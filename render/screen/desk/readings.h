// What is known of a set-up as a list of readings: a value with its unit, how far off it may be, and in a sentence how
// it was found; and how two such lists differ. Computes nothing that sim has not. Knows no ImGui, no OpenGL, no
// Session.
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/background/answering.h"
#include "render/text/words/units.h"
#include "sim/insight/difference.h"
#include "sim/motion/state.h"
#include "sim/scene/scene.h"

namespace sidehill::screen {

// Whether more of it or less is the better, where that is clear of itself.
enum class Better { unclear, more, less };

struct Reading {
  std::string id = {};     // "first_lift_off": the same in every set-up
  std::string group = {};  // heading it stands under
  std::string name = {};   // "A wheel lifts"
  std::string note = {};   // what goes with the value: "rear left"; may be empty
  Quantity quantity = Quantity::number;
  std::optional<double> value = {};  // [SI]; empty: `instead` says why
  std::string instead = {};          // "never", "not known", "being worked out"
  std::optional<double> doubt = {};  // the wider side of its interval, two standard deviations [SI]
  std::optional<double> low = {},
                        high = {};  // where it lies nineteen times in twenty [SI]; `high` empty: no end to that side
  std::string datum = {};           // key of what was put in, if the interval is its tolerance alone; else empty
  double datum_value = 0;           // and what was put in [SI]
  std::string doubt_words = {};     // where that comes from, or why there is none; never empty
  std::string how = {};             // which method, which assumptions; never empty
  Better better = Better::unclear;
  bool under_way = false;  // of the bend or braking asked for: no interval of standing still is its own
};

// All that may be known. Only the first three must be there; what is nullptr is "being worked out".
struct Known {
  const Scene& scene;
  const Model& model;
  const StaticSolution& statics;
  const State* now = nullptr;  // a moment of a run: loads, place of the weight and room left are then of this moment
  const EnvelopePoint* worst = nullptr;  // where the first wheel lifts soonest; nullptr = at none, if `headings_known`
  bool headings_known = false;
  const Further* further = nullptr;
  const Uncertainty* doubts = nullptr;
  const TurnedDoubt* worst_doubt = nullptr;  // of `worst`
};

// In the order they are to be read, those of a group together.
std::vector<Reading> readings_of(const Known& known);

// "38.5°", "never": value or what is said instead.
std::string value_words(const Reading& reading, Units units);
// "18.1° to 23.0°"; empty where it is not known: doubt_words then says why, this while it is worked out.
inline constexpr const char* kDoubtIsComing = "How far off it may be is being worked out.";
std::string interval_words(const Reading& reading, Units units);
// "20.5° (18.1° to 23.0°)".
std::string value_and_interval(const Reading& reading, Units units);
// The whole note: method, assumptions, and where its doubt comes from.
std::string found_words(const Reading& reading, Units units);

struct Difference {
  std::string id, group, name;
  Quantity quantity = Quantity::number;
  std::string note_a, note_b;
  std::optional<double> a, b;  // [SI]
  std::string instead_a, instead_b;
  std::optional<double> change;  // b - a [SI]; empty where either has no value
  // Where the change lies nineteen times in twenty [SI]; empty: no end to that side, or, without `interval`, not known.
  std::optional<double> low, high;
  bool interval = false;
  int better = 0;             // -1: a, 1: b, 0: alike or not clear
  bool within_doubt = false;  // the change may lie on either side of nothing
};
// By id, in the order of `a`; what only one of them has stands with "-" for the other. `together`: how far off the two
// are as a pair (sim/insight/difference.h); nullptr = not known yet, and then only data that were put in have an
// interval.
std::vector<Difference> differences(std::span<const Reading> a, std::span<const Reading> b,
                                    const SetUpDifference* together = nullptr);

// Of what gives way first in each, slide, lift-off or tip-over: "A gives way first, at 31.2° (slides); B holds 3.3°
// longer (2.1° to 4.5°), to 34.5° (rear left lifts)." One or two sentences, never empty.
std::string which_gives_way_first(std::span<const Reading> a, std::span<const Reading> b, const std::string& name_a,
                                  const std::string& name_b, const SetUpDifference* together = nullptr);

const Reading* find_reading(std::span<const Reading> readings, std::string_view id);  // nullptr = none of that id

}  // namespace sidehill::screen

// A trainer's prepared lesson: a question about a scene, the answers to choose from, and the truth, which is never
// written in the file but worked out from the scene. Knows no screen, no words for people beyond those of the file.
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sim/motion/recording.h"
#include "sim/scene/scene.h"

namespace sidehill {

// What is asked. The first four are of the machine at rest, the others of its run.
enum class Asked {
  first_lift_off,   // slope at which the first wheel's load vanishes [deg]; none = never
  margin,           // what is left of it on the scene's slope [deg]; none = never
  slide,            // slope at which an axle's adhesion gives out [deg]; none = never
  gives_way_first,  // an outcome: "slides", "lifts" or "neither"
  outcome,          // an outcome: of a run (sim/motion/recording.h)
  lift_off_time,    // of the first wheel that leaves the ground [s]; none = none does
  time_to_balance,  // from then to the moment of no return [s]; none = it does not go over
  greatest_lean,    // of the machine sideways, against the horizon [deg], 0 to 90
  speed_at_end,     // when the run ends [km/h]
};
bool is_outcome(Asked quantity);     // its value is a word
bool is_of_run(Asked quantity);      // found by running the scene
const char* key_of(Asked quantity);  // as in a lesson's file: "first_lift_off_deg"

enum class Of { a, b, b_minus_a };

struct LessonAnswer {
  std::string text;
  std::optional<double> from, to;     // `from` is inside, `to` is not; none = open [unit of the quantity]
  bool never = false;                 // also right if there is no value
  std::vector<std::string> outcomes;  // for a quantity that is a word
};

struct Lesson {
  std::filesystem::path file;
  double number = 0;                // lessons stand in this order
  std::string title;                // a few words
  std::string story;                // two or three short sentences
  std::filesystem::path scene;      // of the lesson, as found on the disk
  std::vector<std::string> change;  // overrides on it, "key=value": set-up A
  std::vector<std::string> second;  // more of them on A: set-up B; empty = there is no B
  std::vector<std::string> third;   // more of them on A: set-up C, to compare with, never asked; empty = there is no C
  std::vector<std::string> show;    // more of them on both, for the run that is shown; they do not enter the truth
  std::string name_a, name_b;       // what A and B are called; empty where there is no B
  std::string name_c;
  std::string question;
  Asked quantity = Asked::first_lift_off;
  Of of = Of::a;
  std::vector<LessonAnswer> answers;  // 2 to 4
  std::string because;                // why it is so, one or two sentences
  std::string caution;
  std::string take_home;  // one sentence
  std::string source;     // of caution and practice: a public body, a standard, a paper; empty = none
};

// Throws InputError as one line: "file:line: key: what is wrong, what is allowed". Scenes are not yet read.
Lesson load_lesson(const std::filesystem::path& file);

// Every *.toml of the folder, by number. Throws InputError; two of the same number are refused.
std::vector<Lesson> list_lessons(const std::filesystem::path& folder);
// Those that come with the program; none if they are not found.
std::vector<Lesson> shipped_lessons();

enum class SetUp { a, b, c };
// The scene asked about, and the one to be shown running. Throws InputError naming the lesson for an override that
// does not fit.
Scene scene_of(const Lesson& lesson, SetUp which);
Scene scene_to_show(const Lesson& lesson, SetUp which);

// What one set-up came to.
struct Found {
  std::optional<double> value;                        // in the unit of the quantity; none = never, or it is an outcome
  std::string outcome;                                // empty unless it is one
  int wheel = -1;                                     // that lifts first, enum Wheel; -1 = none
  std::optional<double> lift_off_time, balance_time;  // of the run [s]
  std::vector<std::pair<int, double>> lifted;  // of the run: every wheel that leaves the ground, and when first [s]
  std::optional<std::pair<double, double>> slide_interval;  // of slides_before, likewise [deg]
  int wheels_up = 0;                                        // of the run: at its end
  std::optional<double> slides_before;                // at rest: the tyres slide at this lower slope already [deg]
  double slope = 0, heading = 0;                      // of the scene [rad]
  std::optional<std::pair<double, double>> interval;  // nineteen times in twenty, at rest on even ground [deg]
  bool interval_open = false;                         // its upper end is not known
};

struct LessonTruth {
  Found a;
  std::optional<Found> b, c;
  std::optional<double> value;  // what was asked [unit of the quantity]
  std::string outcome;
  std::size_t right = 0;            // index of the answer
  std::optional<double> to_border;  // from value to the nearest end of that answer's range [unit of the quantity]
  int tried = 0, agreed = 0;        // of a run: neighbours run, and how many gave the same answer
  bool tried_less_slope = false, tried_speeds = false;  // which neighbours there were besides more slope
  std::optional<std::pair<double, double>> spread;      // of their values and its own
};

// The steps to a run's neighbours: each alone, up and down. Our estimate of what two days on the same slope differ by.
constexpr double kNeighbourSlope = 0.5 * 0.017453292519943295;  // [rad]
constexpr double kNeighbourSpeed = 0.05;                        // part of every speed of the programme

// Works it out: at rest with its interval, or by running it and its neighbours; 0.1 to 2 s. Throws InputError for a
// scene that is refused, and where not exactly one answer is right.
LessonTruth judge(const Lesson& lesson);

}  // namespace sidehill

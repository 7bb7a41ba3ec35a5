// A lesson as it is played to a class: which is open, what was guessed, how far it has come. Knows neither Session nor
// ImGui: what it wants of the window stands in `wanted`, which the window carries out and empties.
#pragma once
#include <cstddef>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "sim/insight/lesson.h"

namespace sidehill::screen {

// How far a lesson has come. The truth is shown only in `answered`.
enum class LessonStage { list, asking, showing, answered };

// What the window is to do, in this order.
struct LessonWishes {
  std::optional<Scene> load;           // set-up A, from rest
  std::optional<Scene> load_second;    // beside it, set-up B at the same moment
  bool only_one = false;               // nothing beside it any more
  bool play = false;                   // run what has been loaded, from its start
  bool film = false, handout = false;  // make one of the open lesson
};

class LessonWork;  // works out one truth on a thread of its own

struct LessonPlay {
  std::vector<Lesson> lessons;  // in their order
  std::string trouble;          // what is wrong, one line; empty = nothing
  LessonStage stage = LessonStage::list;
  std::size_t open = 0;                     // index in `lessons`; means something beyond the list
  std::size_t row = 0;                      // the list's row under the keyboard
  std::optional<std::size_t> guess;         // index of the answer; none = not yet, or without a guess
  std::optional<LessonTruth> truth;         // once worked out
  std::vector<std::optional<bool>> record;  // per lesson: guessed right, wrong, or not played yet
  LessonWishes wanted;
  std::string made;  // how a film or hand-out of it goes, in words; empty = none was asked for

  std::shared_ptr<LessonWork> work;                  // on the open lesson
  std::vector<std::shared_ptr<LessonWork>> leaving;  // of lessons left before they were done

  LessonPlay();   // no lessons
  ~LessonPlay();  // waits for what is being worked out, at most some tenths of a second
  LessonPlay(LessonPlay&&) = default;
  LessonPlay& operator=(LessonPlay&&) = default;
};

// With the lessons that come with the program, or of a folder. Never throws: see `trouble`.
LessonPlay lesson_play();
LessonPlay lesson_play(const std::filesystem::path& folder);

const Lesson* open_lesson_of(const LessonPlay& play);  // nullptr in the list

void open_lesson(LessonPlay& play, std::size_t index);  // asks; the machine is put there at rest
void make_guess(LessonPlay& play, std::size_t answer);  // may be changed until it is shown
void show_lesson(LessonPlay& play);                     // with or without a guess: it runs
void run_ended(LessonPlay& play);     // the window says that the run shown is over: then the truth is shown
void tell_lesson(LessonPlay& play);   // without waiting for the run's end
void show_again(LessonPlay& play);    // runs it once more; what has been shown stays
void next_lesson(LessonPlay& play);   // after the last comes the list
void close_lesson(LessonPlay& play);  // back to the list

// Once a picture: takes over what has been worked out. Returns true if anything changed.
bool tick(LessonPlay& play);
// A truth is being worked out: pictures are wanted, `tick` will have news.
bool working(const LessonPlay& play);
// Angles and margins of the scene would give the answer away: the window shows none of them.
bool hides_answer(const LessonPlay& play);
// Waits until the truth is known or refused; for tests and pictures.
void settle(LessonPlay& play);

}  // namespace sidehill::screen

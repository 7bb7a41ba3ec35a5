// All that lies on a person's desk: the session they edit, a second set-up beside it to compare, what was edited, the
// file it came from, and what they came to do. Knows no OpenGL, no ImGui, no window.
#pragma once
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "render/screen/history.h"
#include "render/screen/session.h"

namespace sidehill {

// What a person came for. Switching keeps the scene.
enum class Task { teach, check, compare };
constexpr int kTasks = 3;
const char* name_of(Task task);  // "Teach"

struct Desk {
  explicit Desk(Scene scene, std::filesystem::path file = {});

  Session session;                 // set-up A
  std::unique_ptr<Session> other;  // set-up B on the same ground; nullptr = nothing is compared
  bool edits_other = false;        // the set-up panel is B's
  Task task = Task::check;
  std::filesystem::path path;  // of the file it was opened from; empty = none
  std::string message;         // the last thing that went well or wrong, for a person; empty = nothing
  bool message_is_bad = false;
  History history;
  unsigned noted_edits = 0, noted_other_edits = 0;  // of the sessions, that `history` knows

  Session& edited() { return other && edits_other ? *other : session; }
  const Session& edited() const { return other && edits_other ? *other : session; }
};

void go_to(Desk& desk, Task task);  // comparing lays a second set-up beside the first if there is none

// --- comparing ---
// Lays a second set-up beside the first, the same to begin with; nothing if there is one.
void lay_beside(Desk& desk);
void put_away(Desk& desk);  // the second one, for good (undo brings it back)
void swap_set_ups(Desk& desk);
// What both share - ground, start, programme, manoeuvre, settings - goes from the one being edited to the other.
void share_ground(Desk& desk);

// --- running both, at the same moment ---
void play_all(Desk& desk);
void pause(Desk& desk);
void toggle(Desk& desk);
void reset(Desk& desk);
void drop(Desk& desk);
void drive(Desk& desk);
void step_once(Desk& desk);
void step_back(Desk& desk);
void seek(Desk& desk, double time);
void newest(Desk& desk);
void set_rate(Desk& desk, double rate);
void set_loop(Desk& desk, bool on);
// As Session::advance; of two set-ups the one that is ahead in simulated time waits for the other.
bool advance(Desk& desk, double wall, double budget);
bool answer(Desk& desk, double patience);
bool playing(const Desk& desk);
// Which lifted a wheel first in what has been run, 0 = A, 1 = B, and by how much [s]; empty while neither or only the
// one that was run lifted.
struct FirstToLift {
  int which = 0;
  double time = 0;                // [s]
  std::optional<double> earlier;  // [s]; empty = the other has not lifted
};
std::optional<FirstToLift> first_to_lift(const Desk& desk);

// --- editing ---
// Notices what was edited since: shares the ground, and once the hand has come to rest (`settled`: no button held, no
// number being typed) makes it one entry of the history. Returns true if it did.
bool note_edits(Desk& desk, bool settled);
void undo(Desk& desk);
void redo(Desk& desk);
Work work_of(const Desk& desk);

// --- files ---
// A scene or a recorded run. What is wrong goes to `message`, and nothing is changed then. Returns true if it opened.
bool open_file(Desk& desk, const std::filesystem::path& file);
// Every value written out. Goes to `message`. Returns true if it was saved.
bool save_file(Desk& desk, const std::filesystem::path& file);
void open_scene(Desk& desk, Scene scene, std::filesystem::path file = {});
bool unsaved(const Desk& desk);  // something was edited since it was opened or saved

}  // namespace sidehill

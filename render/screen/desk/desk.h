// All that lies on a person's desk: the session they edit, a second set-up beside it to compare, what was edited, the
// files it came from, and what they came to do. Knows no OpenGL, no ImGui, no window.
#pragma once
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/background/planning.h"
#include "render/screen/desk/history.h"
#include "render/screen/desk/session.h"
#include "sim/own_machine/made_machine.h"

namespace sidehill::screen {

// What a person came for. Switching keeps the scene.
enum class Task { teach, check, compare, plan };
constexpr int kTasks = 4;
const char* name_of(Task task);  // "Teach"

// A file that was opened, or a scene that has none yet.
struct Document {
  std::filesystem::path path;  // empty = none yet
  std::string saved;           // what is in it, as write_scene() writes it; empty = nothing is saved
};

struct Desk {
  explicit Desk(Scene scene, std::filesystem::path file = {});

  Session session;                 // set-up A
  std::unique_ptr<Session> other;  // set-up B on the same ground; nullptr = nothing is compared
  bool edits_other = false;        // while comparing, the set-up panel is B's
  Task task = Task::check;
  std::vector<Document> documents;  // all that were opened, so that undoing an opening finds its own again
  int document = 0;                 // of the scene being edited
  std::string message;              // the last thing that went well or wrong, for a person; empty = nothing
  bool message_is_bad = false;
  History history;
  unsigned noted_edits = 0, noted_other_edits = 0;  // of the sessions, that `history` knows
  mutable struct {
    unsigned edits = ~0u;
    int document = -1;
    std::size_t saves = 0;
    bool unsaved = false;
  } asked;                             // the last answer of unsaved(), which is asked for in every picture
  std::size_t saves = 0;               // counts up with every saving
  std::optional<EditedScenes> parked;  // the person's own work while a lesson lies on the desk
  // While planning: the search and what it has found. `other` is then the set-up chosen of it, beside today's machine,
  // and the person's own second set-up waits here.
  std::unique_ptr<Planning> planning;
  std::optional<Scene> own_other;
  const Plan* stands_of = nullptr;  // the plan that `other` is of, to see that a newer one has come

  // The set-up that the panels on the left, the mouse on the ground and the machine form change.
  Session& edited() { return compares() && edits_other ? *other : session; }
  const Session& edited() const { return compares() && edits_other ? *other : session; }
  bool compares() const { return other && task == Task::compare; }
  const std::filesystem::path& path() const { return documents[static_cast<std::size_t>(document)].path; }
};

// Comparing lays a second set-up beside the first if there is none; leaving a lesson puts the person's own work back.
void go_to(Desk& desk, Task task);

// --- comparing ---
// Lays a second set-up beside the first, the same to begin with and run to the same moment; nothing if there is one.
void lay_beside(Desk& desk);
void put_away(Desk& desk);  // the second one, for good (undo brings it back)
void swap_set_ups(Desk& desk);
// What both share - ground, start, programme, manoeuvre, settings - goes from the one being edited to the other.
void share_ground(Desk& desk);
bool same_moment(const Desk& desk);  // both at rest, or at the same time of their runs: their loads can be compared

// --- planning ---
bool plans(const Desk& desk);  // that is what the person came for
// A scene of the person's own beside A; nullptr = none. The set-up of a plan is nobody's work.
const Scene* own_second(const Desk& desk);
void share_ground_from_a(Desk& desk);  // to the set-up beside it, whatever was edited
// By go_to. Both machines stand; a plan begins where there is a job and none was found yet.
void enter_plan(Desk& desk);
void leave_plan(Desk& desk);
// Begins with what the panel asks; nothing without a job.
void begin_plan(Desk& desk);
// Once a turn, also while something else is looked at: takes over what the search has found, and stands the set-up
// chosen of it beside today's machine. Returns true if there is news.
bool attend_plan(Desk& desk);
void choose_plan(Desk& desk, std::size_t place);        // of Plan::chosen
void choose_plan_point(Desk& desk, std::size_t place);  // of Plan::on_front
enum class PlanState {
  none,          // no plan was found yet
  of_scene,      // the plan is of the machine and the job as they are
  in_use,        // the set-up chosen has become the machine; the plan is of the machine before
  of_older,      // machine or job have changed since
  of_other_aim,  // only what is asked has
};
PlanState plan_state(const Desk& desk);
// The set-up chosen becomes set-up A, one step of the history; nothing while the plan is of an older machine or job.
void use_plan(Desk& desk);
// Writes the set-up chosen as a scene, as `plan --save` does; goes to `message`. Returns true if it was saved.
bool save_plan(Desk& desk, const std::filesystem::path& file);

// --- lessons ---
// A lesson's scene, and perhaps a second one, in place of the person's own work, which is parked until they leave. No
// part of the history.
void lay_lesson(Desk& desk, Scene scene);
void lay_lesson_beside(Desk& desk, Scene scene);
void leave_lesson(Desk& desk);  // the own work is back; nothing without a lesson

// --- running both, at the same moment ---
void play_all(Desk& desk);
void pause(Desk& desk);
void toggle(Desk& desk);
void reset(Desk& desk);
void drop(Desk& desk);
void drive(Desk& desk);
void take_over(Desk& desk);  // by hand, both alike
void let_go(Desk& desk);
void change_speed(Desk& desk, int steps);
void hold_keys(Desk& desk, const HandKeys& keys);
void step_once(Desk& desk);
void step_back(Desk& desk);
void seek(Desk& desk, double time);
void newest(Desk& desk);
void set_rate(Desk& desk, double rate);
// Of two set-ups the loop is one stretch: from before the earlier lift-off to after the later one.
void set_loop(Desk& desk, bool on);
// As Session::advance; of two set-ups the one that is ahead in simulated time waits for the other.
bool advance(Desk& desk, double wall, double budget);
bool answer(Desk& desk, double patience);
bool playing(const Desk& desk);
// Which gave way first in what has been run, by an axle that slides or a wheel that lifts, whichever came first, and by
// how much; empty while neither did.
struct FirstToGiveWay {
  int which = 0;                  // 0 = A, 1 = B
  double time = 0;                // [s]
  bool slides = false;            // else a wheel lifts
  std::optional<double> earlier;  // [s]; empty = the other has not given way
  bool other_slides = false;      // how the other one did
};
std::optional<FirstToGiveWay> first_to_give_way(const Desk& desk);
// "A slides first, 0.50 s before B lifts a wheel", "Only A has given way: it slides at 1.20 s".
std::string first_words(const FirstToGiveWay& first);

// --- editing ---
// Notices what was edited since: shares the ground, and once the hand has come to rest (`settled`: no button held, no
// number being typed) makes it one entry of the history. Returns true if it did.
bool note_edits(Desk& desk, bool settled);
bool can_undo(const Desk& desk);
bool can_redo(const Desk& desk);
void undo(Desk& desk);
void redo(Desk& desk);
EditedScenes work_of(const Desk& desk);

// --- files ---
// A scene, a machine (in place of the one edited) or a recorded run. What is wrong goes to `message`, and nothing is
// changed then. Returns true if it opened.
bool open_file(Desk& desk, const std::filesystem::path& file);
void open_scene(Desk& desk, Scene scene, std::filesystem::path file);
bool replaces_scene(const std::filesystem::path& file);  // opening it does: it is no machine's file
// "Sidehill - Bucket up (not saved)"; "Sidehill - Over a stump (lesson)", which is nobody's work.
std::string window_title(const Desk& desk);
// A recorded run on a desk just laid; throws InputError.
void show_run(Desk& desk, const std::filesystem::path& file);
// EditedScenes that lies in no file, with perhaps a second set-up beside it; unsaved until it is saved.
void open_unsaved(Desk& desk, Scene scene, std::optional<Scene> beside);
// A machine made in the form takes the place of the one edited, and the scene its name: it is about another machine
// now. Goes to `message`.
void use_machine(Desk& desk, const MadeMachine& made);
// Set-up A with every value written out. What came with the program is not written over. Goes to `message`. Returns
// true if it was saved.
bool save_file(Desk& desk, const std::filesystem::path& file);
bool came_with_program(const std::filesystem::path& file);
bool unsaved(const Desk& desk);  // set-up A is not what its file holds
// Something would be lost: A, or a second set-up that was changed. A lesson's scenes are nobody's work.
bool worth_keeping(const Desk& desk);

}  // namespace sidehill::screen

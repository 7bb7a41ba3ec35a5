#include "render/screen/desk/desk.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

// Longest run that a second set-up is run through to come to the first one's moment [s].
constexpr double kLongestCatchUp = 30;

void shared_part(const Scene& from, Scene& to) {
  to.terrain = from.terrain;
  to.start = from.start;
  to.programme = from.programme;
  to.manoeuvre = from.manoeuvre;
  to.settings = from.settings;
  to.job = from.job;
  to.job_file = from.job_file;
}

void share_ground_with(const Scene& from, Session& to) {
  Scene changed = to.scene();
  shared_part(from, changed);
  if (write_scene(changed) != write_scene(to.scene())) to.edit(std::move(changed));
}

void noted(Desk& desk) {
  desk.noted_edits = desk.session.edits();
  desk.noted_other_edits = desk.other ? desk.other->edits() : 0;
}

void restore(Desk& desk, const EditedScenes& work) {
  pause(desk);
  desk.session.take_back(work.scene, work.loaded);
  desk.document = work.document;
  if (plans(desk)) {
    desk.own_other = work.other;
    share_ground_from_a(desk);
  } else if (!work.other) {
    desk.other.reset();
    desk.edits_other = false;
    if (desk.task == Task::compare) desk.task = Task::check;
  } else if (desk.other) {
    desk.other->take_back(*work.other, desk.other->loaded());
  } else {
    desk.other = std::make_unique<Session>(*work.other);
    desk.other->set_rate(desk.session.rate());
  }
  desk.session.set_loop(false);
  if (desk.other) desk.other->set_loop(false);
  noted(desk);
}

// A has been run to some moment: the same for B.
void catch_up(const Session& a, Session& b) {
  const double until = a.looked_at();
  if (!a.started() || until > kLongestCatchUp || a.driven_by_hand()) return;
  b.play();
  while (b.playing() && b.looked_at() < until - 1e-9) {
    const double before = b.looked_at();
    b.advance(std::min(0.02, until - before) / b.rate(), 1e9);
    if (!(b.looked_at() > before)) break;
  }
  if (!a.playing()) b.pause();
}

}  // namespace

const char* name_of(Task task) {
  constexpr const char* kNames[kTasks] = {"Teach", "Check", "Compare", "Plan"};
  return kNames[static_cast<int>(task)];
}

Desk::Desk(Scene scene, std::filesystem::path file) : session(std::move(scene)) {
  documents.push_back({std::move(file), write_scene(session.scene())});
  history.begin(work_of(*this));
}

void go_to(Desk& desk, Task task) {
  if (task != Task::teach) leave_lesson(desk);
  if (plans(desk) && task != Task::plan) leave_plan(desk);
  if (!plans(desk) && task == Task::plan) enter_plan(desk);
  desk.task = task;
  if (task == Task::compare) lay_beside(desk);
}

EditedScenes work_of(const Desk& desk) {
  EditedScenes work{desk.session.scene(), desk.session.loaded(), {}, desk.document};
  if (const Scene* second = own_second(desk)) work.other = *second;
  return work;
}

void lay_beside(Desk& desk) {
  if (desk.other) return;
  note_edits(desk, true);
  desk.session.set_loop(false);
  if (desk.session.by_hand()) desk.session.let_go();
  desk.other = std::make_unique<Session>(desk.session.scene());
  desk.other->set_rate(desk.session.rate());
  catch_up(desk.session, *desk.other);
  if (desk.session.started() && !desk.other->started()) desk.session.reset();  // too long, or by hand: from the start
  desk.edits_other = true;                                                     // that is the one to be changed now
  noted(desk);
  if (!desk.parked) desk.history.note(work_of(desk));
}

void put_away(Desk& desk) {
  if (!desk.other) return;
  desk.other.reset();
  desk.edits_other = false;
  desk.session.loop_over({});
  if (desk.task == Task::compare) desk.task = Task::check;
  noted(desk);
  if (!desk.parked) desk.history.note(work_of(desk));
}

void swap_set_ups(Desk& desk) {
  if (!desk.other) return;
  reset(desk);
  Scene a = desk.session.scene(), b = desk.other->scene();
  desk.session.edit(std::move(b));
  desk.other->edit(std::move(a));
}

void share_ground_from_a(Desk& desk) {
  if (desk.other) share_ground_with(desk.session.scene(), *desk.other);
  if (desk.own_other) shared_part(desk.session.scene(), *desk.own_other);
}

void share_ground(Desk& desk) {
  if (plans(desk) && desk.session.edits() != desk.noted_edits) return share_ground_from_a(desk);
  if (!desk.other) return;
  Session& from = desk.edited();
  Session& to = &from == &desk.session ? *desk.other : desk.session;
  const bool from_changed =
      &from == &desk.session ? desk.session.edits() != desk.noted_edits : desk.other->edits() != desk.noted_other_edits;
  if (!from_changed) return;
  share_ground_with(from.scene(), to);
}

bool same_moment(const Desk& desk) {
  if (!desk.other) return false;
  if (desk.session.started() != desk.other->started()) return false;
  return std::abs(desk.session.looked_at() - desk.other->looked_at()) < 0.03;
}

void lay_lesson(Desk& desk, Scene scene) {
  if (!desk.parked) {
    note_edits(desk, true);
    desk.parked = work_of(desk);
  }
  desk.other.reset();
  desk.edits_other = false;
  desk.session.set_loop(false);
  desk.session.loop_over({});
  desk.session.open(std::move(scene));
  noted(desk);
}

void lay_lesson_beside(Desk& desk, Scene scene) {
  desk.other = std::make_unique<Session>(std::move(scene));
  desk.other->set_rate(desk.session.rate());
  noted(desk);
}

void leave_lesson(Desk& desk) {
  if (!desk.parked) return;
  const EditedScenes own = std::move(*desk.parked);
  desk.parked.reset();
  restore(desk, own);
}

bool note_edits(Desk& desk, bool settled) {
  const unsigned b = desk.other ? desk.other->edits() : 0;
  if (desk.session.edits() == desk.noted_edits && b == desk.noted_other_edits) return false;
  share_ground(desk);
  if (desk.other) {  // an edit stops a run: never one at rest beside one that runs
    Session &one = desk.session, &two = *desk.other;
    for (auto [stopped, runs] : {std::pair{&one, &two}, std::pair{&two, &one}}) {
      if (stopped->started() || !runs->started()) continue;
      if (stopped->restarts())
        runs->restart_soon();
      else
        runs->reset();
    }
  }
  if (!settled) return false;
  noted(desk);
  if (desk.parked) return false;  // a lesson's scene
  const std::size_t before = desk.history.size();
  const bool could_redo = desk.history.can_redo();
  desk.history.note(work_of(desk));
  desk.message.clear();  // of what was before
  return desk.history.size() != before || could_redo != desk.history.can_redo();
}

bool can_undo(const Desk& desk) {
  return !desk.parked && (desk.history.can_undo() || desk.session.edits() != desk.noted_edits);
}

bool can_redo(const Desk& desk) { return !desk.parked && desk.history.can_redo(); }

void undo(Desk& desk) {
  note_edits(desk, true);
  if (can_undo(desk)) restore(desk, desk.history.undo());
}

void redo(Desk& desk) {
  note_edits(desk, true);
  if (can_redo(desk)) restore(desk, desk.history.redo());
}

}  // namespace sidehill::screen

#include "render/screen/desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/recording_file.h"
#include "sim/scene_checks.h"
#include "sim/scene_file.h"

namespace sidehill {
namespace {

std::vector<Session*> sessions(Desk& desk) {
  std::vector<Session*> all{&desk.session};
  if (desk.other) all.push_back(desk.other.get());
  return all;
}

void shared_part(const Scene& from, Scene& to) {
  to.terrain = from.terrain;
  to.start = from.start;
  to.programme = from.programme;
  to.manoeuvre = from.manoeuvre;
  to.settings = from.settings;
}

void say(Desk& desk, std::string text, bool bad = false) {
  desk.message = std::move(text);
  desk.message_is_bad = bad;
}

// A machine's file, which is no scene: its name stands where a scene has a title. Empty for anything else.
std::optional<Vehicle> machine_in(const std::filesystem::path& file) {
  try {
    const std::string text = read_text(file);
    if (!text.starts_with("name") && text.find("\nname") == std::string::npos) return {};
    return load_vehicle(std::filesystem::absolute(file).string(), {});
  } catch (const std::exception&) {
    return {};  // opened as a scene, it will be told what is wrong with it
  }
}

// Of the first wheel to lift [s].
std::optional<double> lift_time(const Session& session) {
  if (!session.recording()) return {};
  for (const Event& event : session.recording()->events) {
    if (event.kind == EventKind::lift_off) return event.time;
  }
  return {};
}

void restore(Desk& desk, const Work& work) {
  pause(desk);
  desk.session.take_back(work.scene, work.loaded);
  desk.path = work.path;
  if (!work.other) {
    desk.other.reset();
    desk.edits_other = false;
  } else if (desk.other) {
    desk.other->take_back(*work.other, desk.other->loaded());
  } else {
    desk.other = std::make_unique<Session>(*work.other);
  }
  desk.noted_edits = desk.session.edits();
  desk.noted_other_edits = desk.other ? desk.other->edits() : 0;
}

}  // namespace

const char* name_of(Task task) {
  constexpr const char* kNames[kTasks] = {"Teach", "Check", "Compare"};
  return kNames[static_cast<int>(task)];
}

void go_to(Desk& desk, Task task) {
  desk.task = task;
  if (task == Task::compare) lay_beside(desk);
}

Desk::Desk(Scene scene, std::filesystem::path file) : session(std::move(scene)), path(std::move(file)) {
  history.begin(work_of(*this));
}

Work work_of(const Desk& desk) {
  Work work{desk.session.scene(), desk.session.loaded(), {}, desk.path};
  if (desk.other) work.other = desk.other->scene();
  return work;
}

void lay_beside(Desk& desk) {
  if (desk.other) return;
  reset(desk);
  desk.other = std::make_unique<Session>(desk.session.scene());
  desk.other->set_rate(desk.session.rate());
  desk.edits_other = true;  // that is the one to be changed now
  desk.noted_other_edits = desk.other->edits();
  desk.history.note(work_of(desk));
}

void put_away(Desk& desk) {
  if (!desk.other) return;
  desk.other.reset();
  desk.edits_other = false;
  desk.history.note(work_of(desk));
}

void swap_set_ups(Desk& desk) {
  if (!desk.other) return;
  reset(desk);
  Scene a = desk.session.scene(), b = desk.other->scene();
  desk.session.edit(std::move(b));
  desk.other->edit(std::move(a));
}

void share_ground(Desk& desk) {
  if (!desk.other) return;
  const Session& from = desk.edited();
  Session& to = desk.edits_other ? desk.session : *desk.other;
  Scene changed = to.scene();
  shared_part(from.scene(), changed);
  if (write_scene(changed) != write_scene(to.scene())) to.edit(std::move(changed));
}

void play_all(Desk& desk) {
  for (Session* s : sessions(desk)) s->play();
}
void pause(Desk& desk) {
  for (Session* s : sessions(desk)) s->pause();
}
void toggle(Desk& desk) { playing(desk) ? pause(desk) : play_all(desk); }
void reset(Desk& desk) {
  for (Session* s : sessions(desk)) s->reset();
}
void drop(Desk& desk) {
  for (Session* s : sessions(desk)) s->drop();
}
void drive(Desk& desk) {
  for (Session* s : sessions(desk)) s->drive();
}
void step_once(Desk& desk) {
  for (Session* s : sessions(desk)) s->step_once();
}
void step_back(Desk& desk) {
  for (Session* s : sessions(desk)) s->step_back();
}
void seek(Desk& desk, double time) {
  for (Session* s : sessions(desk)) s->seek(time);
}
void newest(Desk& desk) {
  for (Session* s : sessions(desk)) s->newest();
}
void set_rate(Desk& desk, double rate) {
  for (Session* s : sessions(desk)) s->set_rate(rate);
}
void set_loop(Desk& desk, bool on) {
  for (Session* s : sessions(desk)) s->set_loop(on);
  if (!on || !desk.other) return;
  // Both over the same stretch: around the earlier of the two lift-offs.
  const auto a = desk.session.loop_span(), b = desk.other->loop_span();
  if (a && b) seek(desk, std::min(a->first, b->first)), play_all(desk);
}

bool playing(const Desk& desk) { return desk.session.playing() || (desk.other && desk.other->playing()); }

bool advance(Desk& desk, double wall, double budget) {
  if (!desk.other) return desk.session.advance(wall, budget);
  Session &a = desk.session, &b = *desk.other;
  const bool together = a.playing() && b.playing() && a.started() && b.started();
  const double ahead = together ? (a.looked_at() - b.looked_at()) / a.rate() : 0;  // of A [s of wall]
  const bool moved_a = a.advance(std::max(0.0, wall - std::max(0.0, ahead)), budget / 2);
  const bool moved_b = b.advance(std::max(0.0, wall - std::max(0.0, -ahead)), budget / 2);
  return moved_a || moved_b;
}

bool answer(Desk& desk, double patience) {
  bool news = false;
  for (Session* s : sessions(desk)) news = s->answer(patience) || news;
  return news;
}

std::optional<FirstToLift> first_to_lift(const Desk& desk) {
  if (!desk.other || !desk.session.started() || !desk.other->started()) return {};
  const std::optional<double> a = lift_time(desk.session), b = lift_time(*desk.other);
  if (!a && !b) return {};
  FirstToLift out;
  out.which = !a || (b && *b < *a) ? 1 : 0;
  out.time = out.which == 0 ? *a : *b;
  if (a && b) out.earlier = std::abs(*a - *b);
  return out;
}

bool note_edits(Desk& desk, bool settled) {
  const unsigned b = desk.other ? desk.other->edits() : 0;
  if (desk.session.edits() == desk.noted_edits && b == desk.noted_other_edits) return false;
  share_ground(desk);
  if (!settled) return false;
  desk.noted_edits = desk.session.edits();
  desk.noted_other_edits = desk.other ? desk.other->edits() : 0;
  const std::size_t before = desk.history.size();
  const bool could_redo = desk.history.can_redo();
  desk.history.note(work_of(desk));
  return desk.history.size() != before || could_redo != desk.history.can_redo();
}

void undo(Desk& desk) {
  note_edits(desk, true);
  if (desk.history.can_undo()) restore(desk, desk.history.undo());
}

void redo(Desk& desk) {
  note_edits(desk, true);
  if (desk.history.can_redo()) restore(desk, desk.history.redo());
}

void open_scene(Desk& desk, Scene scene, std::filesystem::path file) {
  note_edits(desk, true);
  desk.other.reset();
  desk.edits_other = false;
  desk.session.open(std::move(scene));
  desk.path = std::move(file);
  desk.noted_edits = desk.session.edits();
  desk.noted_other_edits = 0;
  desk.history.note(work_of(desk));
}

bool open_file(Desk& desk, const std::filesystem::path& file) {
  try {
    if (file.extension() == ".run") {
      Recording recording = load_recording(file);
      note_edits(desk, true);
      desk.session.show(std::move(recording));
      desk.other.reset();
      desk.edits_other = false;
      desk.path.clear();  // saving must not replace the run
      desk.noted_edits = desk.session.edits();
      desk.history.note(work_of(desk));
    } else if (const std::optional<Vehicle> vehicle = machine_in(file)) {
      Scene scene = desk.edited().scene();
      scene.vehicle = *vehicle;
      scene.vehicle_file.clear();
      if (find_conflict(scene)) scene.ballast = BallastPlan{};  // what hung on the other machine does not fit this one
      desk.edited().edit(std::move(scene));
    } else {
      open_scene(desk, load_scene(file), file);
    }
    say(desk, fmt::format("Opened {}", file.filename().string()));
    return true;
  } catch (const std::exception& error) {
    say(desk, error.what(), true);
    return false;
  }
}

bool save_file(Desk& desk, const std::filesystem::path& file) {
  try {
    note_edits(desk, true);
    save_text(file, write_scene(desk.session.scene()));
    desk.path = file;
    desk.session.saved();
    desk.history.amend(work_of(desk));
    say(desk, fmt::format("Saved {}", file.filename().string()));
    return true;
  } catch (const std::exception& error) {
    say(desk, error.what(), true);
    return false;
  }
}

bool unsaved(const Desk& desk) { return desk.session.edited() || (desk.other && desk.other->edited()); }

}  // namespace sidehill

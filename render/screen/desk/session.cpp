#include "render/screen/desk/session.h"

#include <cmath>

#include "sim/base/errors.h"
#include "sim/motion/recording_file.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

// Wall time without a further edit after which a run that was interrupted by one starts anew [s].
constexpr double kRestartDelay = 0.4;
// How long opening a scene waits for its answer: on even ground it is there before the window is [s].
constexpr double kOpeningPatience = 0.3;

}  // namespace

Session::Session(Scene scene) : edit_(std::move(scene)) { answer(kOpeningPatience); }

void Session::set_number(std::string_view key, double value) {
  if (std::isfinite(value))
    edit(edit_.with_number(key, value));
  else
    edit_.number(key);  // throws for a key that is none
}

void Session::restore() {
  edit_.restore();
  changed();
}

void Session::edit(Scene scene) {
  edit_.change(std::move(scene));
  changed();
}

void Session::open(Scene scene) {
  run_.go(false);
  run_.set_by_hand(false);
  edit_.open(std::move(scene));
  changed();
}

void Session::take_back(Scene scene, Scene loaded) {
  edit_.take_back(std::move(scene), std::move(loaded));
  changed();
}

void Session::show(Recording recording) {
  Scene scene = parse_scene(recording.scene_text, "recording");
  const Model model = build(scene);
  open(std::move(scene));
  answer(0);
  rest_.take_machine(model);
  if (recording.states.empty()) recording.states = states_of(recording);
  if (recording.states.empty()) throw InputError("recording: holds no moment, allowed at least one");
  run_.keep(std::move(recording), model);
}

// The scene is another one now.
void Session::changed() {
  rest_.scene_changed();
  if (playing())
    restart_in_ = kRestartDelay;
  else
    run_.set_by_hand(false);
  drop_run();
  ++version_;
}

bool Session::take(const AnswerAtRest::Came& came) {
  if (came.refused) {
    restart_in_ = 0;
    run_.go(false);
    run_.set_by_hand(false);
  }
  if (came.picture) ++version_;
  return came.anything;
}

bool Session::answer(double patience) {
  return take(rest_.look_after(scene(), scene().terrain.features.empty() ? patience : 0));
}

void Session::settle() { take(rest_.settle(scene())); }

void Session::settle_doubts() { take(rest_.settle_doubts(scene())); }

Showing Session::showing() const {
  if (started()) return Showing::run;
  return statics().rest ? Showing::rest : Showing::placed;
}

Scene Session::scene_of_run() const {
  Scene runs = scene();
  if (falls_ && runs.programme.drop_height == 0) runs.programme.drop_height = kDropHeight;
  return runs;
}

void Session::start_run() {
  drop_run();
  answer(0);
  run_.forget_hands();
  if (!model() || !refusal().empty()) {
    run_.set_by_hand(false);
    return;
  }
  rest_.take_machine();  // a run needs no answer at rest, only the machine as it is now
  try {
    const Scene runs = scene_of_run();
    Model machine = *model();
    machine.programme.drop_height = runs.programme.drop_height;
    run_.start(runs, machine, answer_is_of_scene() ? &statics().rest : nullptr);
  } catch (const InputError& error) {
    run_refusal_ = in_plain_names(error.what());
    run_.go(false);
    run_.set_by_hand(false);
  }
  ++version_;
}

void Session::drop_run() {
  run_.drop_run();
  run_refusal_.clear();
}

void Session::play() {
  if (!started() || (!looks_back() && finished())) falls_ = false;
  begin();
}

void Session::begin() {
  if (!refusal().empty() || (too_fast() && !looks_back())) return;
  if (looks_back() && !loops() && looked_at() >= length()) {  // looked at to its end: once more, or on from there
    if (finished()) seek(0);
  } else if (!started() || (!looks_back() && finished() && !run_.is_kept())) {
    start_run();
  }
  run_.go(started());
  restart_in_ = 0;
  ++version_;
}

void Session::pause() {
  run_.go(false);
  restart_in_ = 0;
}

void Session::restart_soon() {
  drop_run();
  run_.go(true);
  restart_in_ = kRestartDelay;
}

void Session::reset() {
  run_.set_by_hand(false);
  falls_ = false;
  pause();
  drop_run();
}

// Without a change of the picture: a run that begins at once shows it.
void Session::set_speed(double speed) {
  Scene changed = scene();
  changed.programme.speed = speed;
  edit_.change(std::move(changed));
  rest_.scene_changed();
}

void Session::drop() {
  reset();
  if (scene().programme.speed != 0) set_speed(0);
  falls_ = true;
  begin();
}

void Session::drive() {
  reset();
  if (scene().programme.speed == 0) set_speed(loaded().programme.speed != 0 ? loaded().programme.speed : kDriveSpeed);
  play();
}

void Session::step_once() {
  pause();
  if (!looks_back() && (!started() || run_.is_kept())) start_run();
  run_.step_once();
}

void Session::step_back() {
  if (started()) pause();
  run_.step_back();
}

void Session::take_over() {
  if (by_hand() || !refusal().empty()) return;
  if (run_.is_kept()) drop_run();  // that one has been driven
  newest();
  run_.set_by_hand(true);
  if (!started() || finished()) {
    falls_ = false;
    start_run();
  } else {
    run_.take_over();
  }
  run_.go(started());
  restart_in_ = 0;
  ++version_;
}

bool Session::advance(double wall, double budget) {
  if (restart_in_ > 0) {
    restart_in_ -= wall;
    if (restart_in_ <= 0) begin();
    return true;
  }
  return run_.advance(wall, budget);
}

}  // namespace sidehill::screen

#include "render/screen/desk/session.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <glm/geometric.hpp>
#include <stdexcept>

#include "sim/base/errors.h"
#include "sim/motion/recording_file.h"
#include "sim/motion/rest_state.h"
#include "sim/motion/under_way.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

// Wall time without a further edit after which a run that was interrupted by one starts anew [s].
constexpr double kRestartDelay = 0.4;
// How long opening a scene waits for its answer: on even ground it is there before the window is [s].
constexpr double kOpeningPatience = 0.3;
// Threads that may still be on their way out when another answer is begun.
constexpr std::size_t kMostLeaving = 3;
// From straight to full lock by key [s].
constexpr double kSteerTime = 0.3;
// Simulated time stepped between two looks at the clock [s].
constexpr double kChunk = 0.004;

double clock_now() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

template <typename Kind>
const Kind& kind_of(const Field& field) {
  if (const Kind* kind = std::get_if<Kind>(&field.kind)) return *kind;
  throw std::out_of_range(std::string(field.key) + " is a datum of another kind");
}

const Field& first_field(std::string_view key) {
  const std::vector<const Field*> fields = fields_of(key);
  if (fields.empty()) throw std::out_of_range("no datum " + std::string(key));
  return *fields.front();
}

}  // namespace

std::vector<const Field*> fields_of(std::string_view key) {
  if (const Field* field = find_field(key)) return {field};
  std::vector<const Field*> fields;
  for (const Alias& alias : scene_aliases()) {
    if (alias.key != key) continue;
    for (std::string_view target : alias.targets) {
      if (const Field* field = find_field(target)) fields.push_back(field);
    }
  }
  return fields;
}

Session::Session(Scene scene) : loaded_(scene), scene_(std::move(scene)) { answer(kOpeningPatience); }

double Session::number(std::string_view key) const {
  return file_value(kind_of<NumberField>(first_field(key)), scene_);
}

double Session::loaded_number(std::string_view key) const {
  return file_value(kind_of<NumberField>(first_field(key)), loaded_);
}

int Session::choice(std::string_view key) const { return kind_of<ChoiceField>(first_field(key)).get(scene_); }

bool Session::flag(std::string_view key) const {
  return *kind_of<FlagField>(first_field(key)).at(const_cast<Scene&>(scene_));  // the accessor only finds the address
}

void Session::set_number(std::string_view key, double value) {
  first_field(key);
  if (!std::isfinite(value)) return;
  Scene changed = scene_;
  for (const Field* field : fields_of(key)) {
    const NumberField& kind = kind_of<NumberField>(*field);
    set_file_value(kind, changed, std::clamp(value, kind.min, kind.max));
  }
  change(std::move(changed));
}

void Session::set_choice(std::string_view key, int index) {
  first_field(key);
  Scene changed = scene_;
  for (const Field* field : fields_of(key)) {
    const ChoiceField& kind = kind_of<ChoiceField>(*field);
    kind.set(changed, std::clamp(index, 0, static_cast<int>(kind.choices.size()) - 1));
  }
  change(std::move(changed));
}

void Session::set_flag(std::string_view key, bool on) {
  first_field(key);
  Scene changed = scene_;
  for (const Field* field : fields_of(key)) *kind_of<FlagField>(*field).at(changed) = on;
  change(std::move(changed));
}

void Session::restore() {
  change(loaded_);
  edited_ = false;
}

void Session::edit(Scene scene) { change(std::move(scene)); }

void Session::open(Scene scene) {
  playing_ = by_hand_ = false;
  loaded_ = scene;
  change(std::move(scene));
  edited_ = false;
}

void Session::take_back(Scene scene, Scene loaded) {
  loaded_ = std::move(loaded);
  change(std::move(scene));
  edited_ = write_scene(scene_) != write_scene(loaded_);
}

void Session::show(Recording recording) {
  Scene scene = parse_scene(recording.scene_text, "recording");
  const Model model = build(scene);
  open(std::move(scene));
  answer(0);
  model_ = std::make_unique<Model>(model);
  if (recording.states.empty()) recording.states = states_of(recording);
  if (recording.states.empty()) throw InputError("recording: holds no moment, allowed at least one");
  kept_ = std::make_unique<Recording>(std::move(recording));
  showing_ = Showing::run;
  watch();
  seek(0);
}

void Session::change(Scene scene) {
  scene_ = std::move(scene);
  edited_ = true;
  ++edits_;
  stale_ = true;
  if (playing_)
    restart_in_ = kRestartDelay;
  else
    by_hand_ = false;
  drop_run();
  ++version_;
}

// What is being worked out is not wanted any more.
void Session::leave_work() {
  if (work_) {
    work_->stop();
    leaving_.push_back(std::move(work_));
  }
  taken_ = false;
}

bool Session::answer(double patience) { return look_after(scene_.terrain.features.empty() ? patience : 0); }

bool Session::look_after(double patience) {
  bool changed = false, took = false;
  if (stale_) {
    stale_ = false;
    changed = true;
    refusal_.clear();
    try {
      waiting_ = std::make_unique<Model>(build(scene_, model_.get()));  // it lends its liquid tables
      if (!model_) {                                                    // something to look at from the beginning
        model_ = std::make_unique<Model>(*waiting_);
        still_ = placed_state(*model_);
        showing_ = Showing::placed;
      }
    } catch (const InputError& error) {
      waiting_.reset();
      leave_work();
      refusal_ = error.what();
      restart_in_ = 0;
      playing_ = by_hand_ = false;
    }
  }
  std::erase_if(leaving_, [](const auto& work) { return work->finished(0); });
  if (waiting_) {
    leave_work();
    if (leaving_.size() < kMostLeaving) {
      work_ = std::make_unique<Answering>(*waiting_, scene_);
      waiting_.reset();
      taken_ = warned_ = false;
      pieces_ = 0;
      next_heading_ = 0;
    }
  }
  if (work_ && !waiting_ && !taken_ && work_->solved(patience)) {
    taken_ = changed = took = true;
    if (!scene_.terrain.features.empty()) warnings_.clear();  // the new ones take long to come
    model_ = std::make_unique<Model>(work_->model());
    statics_ = work_->statics();
    still_ = statics_.rest ? rest_state(*model_, *statics_.rest) : placed_state(*model_);
    if (!started()) showing_ = statics_.rest ? Showing::rest : Showing::placed;
    if (by_heading_.empty() || !scene_.terrain.features.empty()) {
      by_heading_.assign(kHeadings, {});
      for (EnvelopePoint& point : by_heading_) point.failed = true;  // not known yet
    }
  }
  if (changed) ++version_;
  if (taken_ && !waiting_) {  // nothing of the picture changes with these
    if (!warned_ && work_->warned()) {
      warnings_ = work_->warnings();
      warned_ = changed = true;
    }
    const int pieces = work_->pieces();
    if (pieces != pieces_ || took) {
      pieces_ = pieces, changed = true;
      const Further* further = work_->further();
      verdict_ = verdict_on(
          scene_, *model_, statics_, work_->loads(), work_->doubts(), further ? &further->limits : nullptr,
          further ? std::span<const ManoeuvreAnswer>(further->manoeuvres) : std::span<const ManoeuvreAnswer>());
    }
    // On even ground all of them at once, for they take less than the eye does; over features as they come.
    const int reached = work_->headings_reached();
    const bool come = reached >= kHeadings || !scene_.terrain.features.empty();
    for (; come && next_heading_ < reached; ++next_heading_, changed = true)
      by_heading_[static_cast<std::size_t>(next_heading_)] = work_->at_heading(next_heading_);
  }
  return changed;
}

void Session::settle() {
  do {
    look_after(1);
    if (work_ && !working()) work_->turned(1);
  } while (!headings_complete());
  answer(0);  // the worst heading may have come since
}

void Session::settle_doubts() {
  settle();
  while (!answer_complete()) {
    work_->finished(1);
    answer(0);
  }
}

const EnvelopePoint* Session::worst_heading() const {
  if (!headings_are_of_scene()) return nullptr;
  if (work_->worst()) return work_->worst();
  const EnvelopePoint* worst = nullptr;
  for (const EnvelopePoint& point : by_heading_) {
    if (point.first_lift_off && (!worst || *point.first_lift_off < *worst->first_lift_off)) worst = &point;
  }
  return worst;
}

Scene Session::scene_of_run() const {
  Scene runs = scene_;
  if (falls_ && runs.programme.drop_height == 0) runs.programme.drop_height = kDropHeight;
  return runs;
}

void Session::start_run() {
  drop_run();
  answer(0);
  run_refusal_.clear();
  hand_ = {};
  keys_ = {};
  if (!model_ || !refusal_.empty()) {
    by_hand_ = false;
    return;
  }
  // A run needs no answer at rest, only the machine as it is now.
  if (waiting_)
    model_ = std::make_unique<Model>(*waiting_);
  else if (!taken_)
    model_ = std::make_unique<Model>(work_->model());
  try {
    const Scene runs = scene_of_run();
    Model model = *model_;
    model.programme.drop_height = runs.programme.drop_height;
    if (answer_is_of_scene())
      runner_ = std::make_unique<Runner>(runs, model, statics_.rest);
    else
      runner_ = std::make_unique<Runner>(runs, model);
    showing_ = Showing::run;
    if (by_hand_) lasts_by_hand();
    watch();
  } catch (const InputError& error) {
    run_refusal_ = error.what();
    playing_ = by_hand_ = false;
  }
  ++version_;
}

void Session::drop_run() {
  runner_.reset();
  kept_.reset();
  at_.reset();
  margins_.clear();
  run_refusal_.clear();
  owed_ = 0;
  keeping_up_ = 1;
  showing_ = statics_.rest ? Showing::rest : Showing::placed;
}

void Session::watch() {
  const std::vector<State>& states = recording()->states;
  while (margins_.size() < states.size()) margins_.push_back(angle_left(*model_, states[margins_.size()]));
}

void Session::play() {
  if (!started() || (!at_ && finished())) falls_ = false;
  begin();
}

void Session::begin() {
  if (!refusal_.empty() || (too_fast() && !at_)) return;
  if (at_ && !loops_ && *at_ >= length()) {  // looked at to its end: once more, or on from there
    if (finished()) seek(0);
  } else if (!started() || (!at_ && finished() && !kept_)) {
    start_run();
  }
  playing_ = started();
  restart_in_ = 0;
  ++version_;
}

void Session::pause() {
  playing_ = false;
  restart_in_ = 0;
  ++version_;
}

void Session::restart_soon() {
  drop_run();
  playing_ = true;
  restart_in_ = kRestartDelay;
  ++version_;
}

void Session::reset() {
  by_hand_ = falls_ = false;
  pause();
  drop_run();
}

void Session::drop() {
  reset();
  if (scene_.programme.speed != 0) {
    scene_.programme.speed = 0;
    edited_ = stale_ = true;
    ++edits_;
  }
  falls_ = true;
  begin();
}

void Session::drive() {
  reset();
  if (scene_.programme.speed == 0) {
    scene_.programme.speed = loaded_.programme.speed != 0 ? loaded_.programme.speed : kDriveSpeed;
    edited_ = stale_ = true;
    ++edits_;
  }
  play();
}

void Session::lasts_by_hand() {
  runner_->prolong(scene_of_run(), kHandDuration);
  runner_->drive_by_hand(hand_);
}

void Session::take_over() {
  if (by_hand_ || !refusal_.empty()) return;
  if (kept_) drop_run();  // that one has been driven
  newest();
  by_hand_ = true;
  if (!runner_ || runner_->done()) {
    falls_ = false;
    start_run();
  } else {
    const State& state = runner_->state();
    const double kmh = std::round(3.6 * glm::dot(state.v_G, state.X_GV.R[0]));
    hand_ = {};
    keys_ = {};
    const std::vector<HandOrder>& orders = runner_->recording().orders;
    if (!orders.empty()) hand_.boom_angle = orders.back().hand.boom_angle;  // the loader stays where it was left
    hand_.speed = std::clamp<double>(kmh, -kFastestBackByHand, kFastestByHand) / 3.6;
    lasts_by_hand();
  }
  playing_ = runner_ != nullptr;
  restart_in_ = 0;
  ++version_;
}

void Session::let_go() {
  drive(ByHand{0, 0, 0, hand_.boom_angle});
  by_hand_ = false;
  ++version_;
}

void Session::drive(const ByHand& hand) {
  if (!by_hand_) return;
  hand_ = hand;
  if (runner_ && !runner_->done()) runner_->drive_by_hand(hand_);
  ++version_;
}

void Session::change_speed(int steps) {
  const int kmh = static_cast<int>(std::lround(3.6 * hand_.speed)) + steps;
  ByHand hand = hand_;
  hand.speed = std::clamp(kmh, -kFastestBackByHand, kFastestByHand) / 3.6;
  drive(hand);
}

void Session::hold_keys(const HandKeys& keys) {
  if (!by_hand_ || !runner_ || keys == keys_) return;
  ByHand hand = hand_;
  hand.brake = keys.brake ? 1 : 0;
  if (model_->loader.fitted) {
    const LoaderModel& loader = model_->loader;
    if (keys.raise != keys.lower)
      hand.boom_angle = keys.raise ? loader.max_angle : loader.min_angle;
    else if (keys_.raise != keys_.lower)
      hand.boom_angle = runner_->state().boom_angle;  // stays where it has come to
  }
  keys_ = keys;
  drive(hand);
}

// The hands turn the wheel while the machine moves on by so much; the brake takes the wanted speed down with it, so
// that nothing lurches off when it is let go.
void Session::use_hands(double seconds) {
  if (!by_hand_) return;
  ByHand hand = hand_;
  const double wanted = (keys_.left ? 1 : 0) - (keys_.right ? 1 : 0), most = seconds / kSteerTime;
  hand.steer += std::clamp(wanted - hand.steer, -most, most);
  if (keys_.brake) {
    const State& state = runner_->state();
    const double kmh = std::round(std::abs(3.6 * glm::dot(state.v_G, state.X_GV.R[0])));
    hand.speed = std::copysign(std::min(std::abs(hand.speed), kmh / 3.6), hand.speed);
    if (hand.speed == 0) hand.speed = 0;  // no minus nought
  }
  if (!(hand == hand_)) drive(hand);
}

bool Session::too_fast() const { return runner_ && glm::length(runner_->state().v_G) > kFastest; }

void Session::set_rate(double rate) {
  rate_ = rate;
  keeping_up_ = 1;
  ++version_;
}

bool Session::advance(double wall, double budget) {
  if (restart_in_ > 0) {
    restart_in_ -= wall;
    if (restart_in_ <= 0) begin();
    return true;
  }
  if (!playing_ || !started()) return false;
  if (at_) return look_on(wall);
  if (!runner_) return false;
  const double begun = clock_now();
  const double wanted = wall * rate_;
  owed_ += wanted;
  double stepped = 0;
  bool in_time = true;
  while (owed_ >= scene_.settings.time_step && !runner_->done()) {
    const double chunk = std::min(owed_, kChunk);
    use_hands(chunk);
    runner_->advance(chunk);
    owed_ -= chunk;
    stepped += chunk;
    if (clock_now() - begun > budget) {
      in_time = false;
      break;
    }
  }
  if (!in_time) owed_ = 0;
  if (wanted > 0) {
    const double now = in_time ? 1.0 : std::min(1.0, stepped / wanted);
    keeping_up_ += 0.2 * (now - keeping_up_);  // smoothed over about five pictures
  }
  watch();
  if (runner_->done() || too_fast()) playing_ = by_hand_ = false;
  if (loops_ && !by_hand_) {
    const auto span = loop_span();
    if (span && runner_->state().time >= span->second) {
      look(span->first);
      playing_ = true;
    }
  }
  ++version_;
  return true;
}

}  // namespace sidehill

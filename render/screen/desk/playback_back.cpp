// The run looked back at: stored moments, the loop around a lift-off.
#include <algorithm>
#include <cmath>
#include <iterator>

#include "render/screen/desk/between.h"
#include "render/screen/desk/playback.h"

namespace sidehill::screen {

double Playback::length() const {
  const Recording* run = recording();
  if (!run) return 0;
  const double stored = run->states.empty() ? 0 : run->states.back().time;
  return runner_ ? std::max(stored, runner_->state().time) : stored;
}

double Playback::looked_at() const { return started() ? shown().time : 0; }

// Shows the moment at `time`, between stored frames too.
void Playback::look(double time) {
  if (by_hand_) let_go();  // nobody steers what is not seen
  const std::vector<State>& states = recording()->states;
  if (states.empty()) return;
  const double end = states.back().time;
  time = std::clamp(time, states.front().time, end);
  const auto after =
      std::upper_bound(states.begin(), states.end(), time, [](double t, const State& state) { return t < state.time; });
  const State& from = *std::prev(after);
  looked_ = after == states.end() ? from : between(from, *after, (time - from.time) / (after->time - from.time));
  at_ = time;
  ++version_;
}

void Playback::look_at(double time) {
  if (started() && std::isfinite(time)) look(time);
}

void Playback::seek(double time) {
  if (!started() || !std::isfinite(time)) return;
  const std::vector<State>& states = recording()->states;
  if (states.empty()) return;
  const State* nearest = &states.front();
  for (const State& state : states) {
    if (std::abs(state.time - time) < std::abs(nearest->time - time)) nearest = &state;
  }
  look(nearest->time);
}

// The stored moment after the one looked at.
void Playback::step_on() {
  for (const State& state : recording()->states) {
    if (state.time <= *at_ + 1e-9) continue;
    look(state.time);
    return;
  }
}

void Playback::step_once() {
  playing_ = false;
  if (at_) {
    step_on();
    return;
  }
  if (!runner_ || runner_->done()) return;
  use_hands(scene_.settings.time_step);
  runner_->advance(scene_.settings.time_step);
  watch();
}

void Playback::step_back() {
  if (!started()) return;
  playing_ = false;
  const std::vector<State>& states = recording()->states;
  const double now = looked_at() - 1e-9;
  for (std::size_t i = states.size(); i-- > 0;) {
    if (states[i].time < now) {
      look(states[i].time);
      return;
    }
  }
}

void Playback::newest() {
  if (at_ && kept_) {
    look(length());
  } else {
    at_.reset();
  }
  ++version_;
}

void Playback::set_loop(bool on) {
  loops_ = on;
  ++version_;
  if (!on || !started()) return;
  if (const auto span = loop_span()) {
    look(span->first);
    playing_ = true;
  }
}

std::optional<std::pair<double, double>> Playback::loop_span() const {
  if (shared_span_) return shared_span_;
  const Recording* run = recording();
  if (!run || run->states.size() < 2) return {};
  const double end = run->states.back().time;
  if (const Event* lift = first_lift_off(run->events)) {
    const double until = lift->time + kLoopAfter;
    if (until > end && !finished()) return {};  // not yet
    return std::pair{std::max(0.0, lift->time - kLoopBefore), std::min(end, until)};
  }
  if (!finished()) return {};
  return std::pair{run->states.front().time, end};
}

// The picture goes on along what is recorded; where that ends it goes on live, stops, or begins anew.
bool Playback::look_on(double wall) {
  const double end = recording()->states.back().time;
  double time = *at_ + wall * rate_;
  const auto span = loops_ ? loop_span() : std::nullopt;
  if (span && time >= span->second) {
    time = span->first;
  } else if (time >= end) {
    if (!finished()) {
      at_.reset();
      ++version_;
      return true;
    }
    playing_ = false;
  }
  look(time);
  return true;
}

const State& Playback::shown() const {
  if (at_) return looked_;
  if (runner_) return runner_->state();
  return kept_->states.back();
}

}  // namespace sidehill::screen

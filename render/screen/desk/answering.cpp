#include "render/screen/desk/answering.h"

#include <chrono>
#include <utility>

#include "render/text/rest/warnings.h"
#include "sim/base/constants.h"

namespace sidehill {

Answering::Answering(const Model& model, std::optional<Scene> scene)
    : model_(model), scene_(std::move(scene)), thread_([this](const std::stop_token& stop) { work(stop); }) {}

// The scene's own heading comes first, then what takes a few milliseconds. How far off it may be takes longest, but not
// as long as all headings over uneven ground.
void Answering::work(const std::stop_token& stop) {
  statics_ = solve_statics(model_, stop);
  // An overload belongs to the verdict: it is never shown without.
  if (scene_ && !stop.stop_requested()) loads_ = check_loads(*scene_, model_, statics_, stop);
  announce(solved_);
  if (scene_ && !stop.stop_requested()) tell_further(stop);
  if (!stop.stop_requested()) {
    warned_ = true;
    ++pieces_;
  }
  const bool rough = !model_.terrain.features.empty();
  if (rough) tell_doubts(stop);
  turn_round(stop);
  announce(turned_);
  if (!rough) tell_doubts(stop);
  done_ = true;
  announce(finished_);
}

void Answering::tell_further(const std::stop_token& stop) {
  Answer known;
  known.scene = *scene_;
  known.model = model_;
  known.statics = statics_;
  known.manoeuvres = manoeuvres(*scene_, model_, stop);
  if (stop.stop_requested()) return;
  known.loads = loads_;
  warnings_ = sidehill::warnings(known);
  warned_ = true;  // before the rest: a person must see these first
  ++pieces_;
  if (stop.stop_requested()) return;
  further_.manoeuvres = std::move(known.manoeuvres);
  further_.limits = load_limits(*scene_, model_, statics_.first_lift_off, stop);
  further_.rules = ballast_rules(*scene_, model_);
  if (stop.stop_requested()) return;
  further_.breakdown = sidehill::breakdown(model_, stop);
  if (stop.stop_requested()) return;
  furthered_ = true;
  ++pieces_;
}

void Answering::tell_doubts(const std::stop_token& stop) {
  if (!scene_ || stop.stop_requested()) return;
  doubts_ = uncertainty(*scene_, model_, statics_, stop);
  if (stop.stop_requested()) return;
  doubted_ = true;
  ++pieces_;
}

void Answering::turn_round(const std::stop_token& stop) {
  for (int i = 0; i < kHeadings && !stop.stop_requested(); ++i) {
    const EnvelopePoint point = point_at_heading(model_, -kPi + kTwoPi * i / kHeadings, stop);
    if (stop.stop_requested()) return;  // that one means nothing
    points_[static_cast<std::size_t>(i)] = point;
    reached_ = i + 1;
  }
  if (stop.stop_requested()) return;
  worst_ = worst_heading(model_, {points_.begin(), points_.end()}, model_.start.heading, stop);
  if (stop.stop_requested()) return;
  worst_known_ = true;
  ++pieces_;
}

void Answering::announce(bool& what) {
  {
    const std::lock_guard lock(mutex_);
    what = true;
  }
  changed_.notify_all();
}

bool Answering::solved(double patience) const {
  std::unique_lock lock(mutex_);
  return changed_.wait_for(lock, std::chrono::duration<double>(patience), [this] { return solved_; });
}

bool Answering::turned(double patience) const {
  std::unique_lock lock(mutex_);
  return changed_.wait_for(lock, std::chrono::duration<double>(patience), [this] { return turned_; });
}

bool Answering::finished(double patience) const {
  std::unique_lock lock(mutex_);
  return changed_.wait_for(lock, std::chrono::duration<double>(patience), [this] { return finished_; });
}

}  // namespace sidehill

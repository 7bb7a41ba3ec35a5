#include "render/screen/answering.h"

#include <chrono>
#include <numbers>
#include <utility>

#include "render/text/warnings.h"

namespace sidehill {

Answering::Answering(const Model& model, std::optional<Scene> scene)
    : model_(model), scene_(std::move(scene)), thread_([this] { work(); }) {}

Answering::~Answering() {
  stop();
  thread_.join();
}

void Answering::work() {
  statics_ = solve_statics(model_);
  tell(solved_);
  if (scene_ && !stopped_) {
    Answer known;
    known.scene = *scene_;
    known.model = model_;
    known.statics = statics_;
    known.manoeuvres = manoeuvres(*scene_, model_);
    if (statics_.rest) known.loads = check_loads(*scene_, model_, statics_.rest->load);
    warnings_ = sidehill::warnings(known);
  }
  warned_ = true;
  Model turned = model_;
  for (int i = 0; i < kHeadings && !stopped_; ++i) {
    turned.start.heading = -std::numbers::pi + 2 * std::numbers::pi * i / kHeadings;
    const LiftOff lift = first_lift_off(turned);
    points_[static_cast<std::size_t>(i)] = {turned.start.heading, lift.slope, lift.wheel, lift.failed, {}};
    reached_ = i + 1;
  }
  tell(finished_);
}

void Answering::tell(bool& what) {
  {
    const std::lock_guard lock(mutex_);
    what = true;
  }
  told_.notify_all();
}

bool Answering::solved(double patience) const {
  std::unique_lock lock(mutex_);
  return told_.wait_for(lock, std::chrono::duration<double>(patience), [this] { return solved_; });
}

bool Answering::finished(double patience) const {
  std::unique_lock lock(mutex_);
  return told_.wait_for(lock, std::chrono::duration<double>(patience), [this] { return finished_; });
}

}  // namespace sidehill

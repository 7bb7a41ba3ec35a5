#include "render/screen/background/answering.h"

#include <chrono>

#include "render/text/rest/warnings.h"

namespace sidehill::screen {

Answering::Answering(const Scene& scene, const Model& model)
    : set_up_{"", unanswered(scene, model), {}, {}, {}, {}, {}},
      thread_([this](const std::stop_token& stop) { work(stop); }) {}

void Answering::work(const std::stop_token& stop) {
  for (const Stage stage : in_order(answer_.model)) {
    if (stage == Stage::masses || stage == Stage::stiffening) continue;  // no panel shows them
    if (!(stage == Stage::headings ? turn_round(stop) : compute(stage, answer_, stop))) break;
    tell(stage, stop);
  }
  if (doubted_) doubt_turned(stop);
  done_ = true;
  announce(solved_);  // all three where it was stopped
  announce(turned_);
  announce(finished_);
}

// Last of all: the headings that are planned with.
void Answering::doubt_turned(const std::stop_token& stop) {
  if (!answer_.scene.terrain.features.empty() || !answer_.worst) return;
  const auto doubt_at = [&](double heading) {
    Scene scene = answer_.scene;
    scene.start.heading = heading;
    const Model model = build(scene, &answer_.model);
    const Uncertainty all = uncertainty(scene, model, solve_statics(model, stop), stop);
    return TurnedDoubt{heading, all.middle.first_lift_off, all.middle.slide, all.first_lift_off, all.slide};
  };
  worst_doubt_ = doubt_at(answer_.worst->heading);
  const auto weakest = weakest_heading(answer_.by_heading, answer_.worst);
  if (weakest && weakest->heading != answer_.worst->heading) weakest_doubt_ = doubt_at(weakest->heading);
  if (!stop.stop_requested()) tell_piece(turned_doubted_);
}

bool Answering::turn_round(const std::stop_token& stop) {
  for (int i = 0; i < kHeadings; ++i) {
    if (!compute_heading(answer_, i, kHeadings, stop)) return false;
    reached_ = i + 1;
  }
  return true;
}

// Says that a piece is whole once its last stage is there.
void Answering::tell(Stage stage, const std::stop_token& stop) {
  switch (stage) {
    case Stage::loads:  // an overload belongs to the verdict: it is never shown without
      announce(solved_);
      break;
    case Stage::manoeuvres:
      warnings_ = text::warnings(answer_);
      tell_piece(warned_);  // before the rest: a person must see these first
      break;
    case Stage::causes:
      further_ = {answer_.limits, answer_.rules, answer_.manoeuvres, answer_.breakdown};
      tell_piece(furthered_);
      add_job(set_up_);
      tell_piece(job_known_);
      break;
    case Stage::worst:
      add_on_job(set_up_, stop);
      tell_piece(worst_known_);
      announce(turned_);
      break;
    case Stage::intervals:
      tell_piece(doubted_);
      break;
    case Stage::rest:
    case Stage::limits:
    case Stage::rules:
    case Stage::masses:
    case Stage::headings:
    case Stage::stiffening:
      break;
  }
}

void Answering::tell_piece(std::atomic<bool>& what) {
  what = true;
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

}  // namespace sidehill::screen

#include "render/screen/desk/answer_at_rest.h"

#include "sim/base/errors.h"
#include "sim/motion/rest_state.h"
#include "sim/scene/scene_fields.h"

namespace sidehill::screen {
namespace {

// Threads that may still be on their way out when another answer is begun.
constexpr std::size_t kMostLeaving = 3;

void add(AnswerAtRest::Came& all, const AnswerAtRest::Came& one) {
  all.anything |= one.anything, all.picture |= one.picture, all.refused |= one.refused;
}

}  // namespace

// What is being worked out is not wanted any more.
void AnswerAtRest::leave_work() {
  if (work_) {
    work_->stop();
    leaving_.push_back(std::move(work_));
  }
  taken_ = false;
}

AnswerAtRest::Came AnswerAtRest::look_after(const Scene& scene, double patience) {
  Came came;
  bool changed = false, took = false;
  if (stale_) {
    stale_ = false;
    changed = true;
    refusal_.clear();
    try {
      waiting_ = std::make_unique<Model>(build(scene, model_.get()));  // it lends its liquid tables
      if (!model_) {                                                   // something to look at from the beginning
        model_ = std::make_unique<Model>(*waiting_);
        still_ = placed_state(*model_);
      }
    } catch (const InputError& error) {
      waiting_.reset();
      leave_work();
      refusal_ = in_plain_names(error.what());
      came.refused = true;
    }
  }
  std::erase_if(leaving_, [](const auto& work) { return work->finished(0); });
  if (waiting_) {
    leave_work();
    if (leaving_.size() < kMostLeaving) {
      work_ = std::make_unique<Answering>(scene, *waiting_);
      waiting_.reset();
      taken_ = warned_ = false;
      pieces_ = 0;
      next_heading_ = 0;
    }
  }
  if (work_ && !waiting_ && !taken_ && work_->solved(patience)) {
    taken_ = changed = took = true;
    if (!scene.terrain.features.empty()) warnings_.clear();  // the new ones take long to come
    model_ = std::make_unique<Model>(work_->model());
    statics_ = work_->statics();
    still_ = statics_.rest ? rest_state(*model_, *statics_.rest) : placed_state(*model_);
    if (by_heading_.empty() || !scene.terrain.features.empty()) {
      by_heading_.assign(kHeadings, {});
      for (EnvelopePoint& point : by_heading_) point.failed = true;  // not known yet
    }
  }
  came.picture = changed;
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
          scene, *model_, statics_, work_->loads(), work_->doubts(), further ? &further->limits : nullptr,
          further ? std::span<const ManoeuvreAnswer>(further->manoeuvres) : std::span<const ManoeuvreAnswer>());
    }
    // On even ground all of them at once, for they take less than the eye does; over features as they come.
    const int reached = work_->headings_reached();
    const bool come = reached >= kHeadings || !scene.terrain.features.empty();
    for (; come && next_heading_ < reached; ++next_heading_, changed = true)
      by_heading_[static_cast<std::size_t>(next_heading_)] = work_->at_heading(next_heading_);
  }
  came.anything = changed;
  return came;
}

AnswerAtRest::Came AnswerAtRest::settle(const Scene& scene) {
  Came all;
  do {
    add(all, look_after(scene, 1));
    if (work_ && !working()) work_->turned(1);
  } while (!headings_complete());
  add(all, look_after(scene, 0));  // the worst heading may have come since
  return all;
}

AnswerAtRest::Came AnswerAtRest::settle_doubts(const Scene& scene) {
  Came all = settle(scene);
  while (!complete()) {
    work_->finished(1);
    add(all, look_after(scene, 0));
  }
  return all;
}

const EnvelopePoint* AnswerAtRest::worst_heading() const {
  if (!headings_are_of_scene()) return nullptr;
  if (work_->worst()) return work_->worst();
  const EnvelopePoint* worst = nullptr;
  for (const EnvelopePoint& point : by_heading_) {
    if (point.first_lift_off && (!worst || *point.first_lift_off < *worst->first_lift_off)) worst = &point;
  }
  return worst;
}

void AnswerAtRest::take_machine() {
  if (waiting_)
    model_ = std::make_unique<Model>(*waiting_);
  else if (!taken_ && work_)
    model_ = std::make_unique<Model>(work_->model());
}

}  // namespace sidehill::screen

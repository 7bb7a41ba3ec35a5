// What is known of an edited scene at rest: the machine, its answer as far as it has come, and whether that is of the
// scene as it is now. Works on threads of its own (answering.h); knows no run.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/background/answering.h"
#include "sim/insight/verdict.h"
#include "sim/motion/state.h"
#include "sim/rest/statics.h"

namespace sidehill::screen {

class AnswerAtRest {
 public:
  static constexpr int kHeadings = Answering::kHeadings;  // points of the margin by heading

  void scene_changed() { stale_ = true; }

  // What look_after has brought.
  struct Came {
    bool anything = false, picture = false;  // something new; something that the picture shows
    bool refused = false;                    // this machine cannot exist
  };
  // Sets out to answer the scene if it has changed since, and takes over what has come out; waits up to `patience` [s]
  // for the answer at this heading. Never throws for an impossible machine: see refusal().
  Came look_after(const Scene& scene, double patience);
  Came settle(const Scene& scene);         // waits for everything but the doubts
  Came settle_doubts(const Scene& scene);  // waits for everything

  bool working() const { return waiting_ || (work_ && !taken_); }  // what statics() says is of an earlier scene
  bool headings_complete() const { return !stale_ && !working() && (!work_ || next_heading_ >= kHeadings); }
  // What statics() says, and with it further(), doubts() and loads(), is of the scene as it is: neither refused nor
  // being worked out. Whoever shows a number of the machine at rest asks first.
  bool is_of_scene() const { return refusal_.empty() && work_ && taken_ && !stale_ && !waiting_; }
  bool headings_are_of_scene() const { return is_of_scene() && headings_complete(); }
  bool complete() const {  // nothing more will come out
    return headings_complete() && (!work_ || (work_->done() && pieces_ == work_->pieces()));
  }
  const std::string& refusal() const { return refusal_; }  // why this machine cannot exist; empty = it can
  const Model* model() const { return model_.get(); }      // of the last possible machine; nullptr before the first
  const StaticSolution& statics() const { return statics_; }
  const StandVerdict& verdict() const { return verdict_; }  // of it, with what is known so far
  const LoadCheck* loads() const { return is_of_scene() ? work_->loads() : nullptr; }
  const std::vector<EnvelopePoint>& by_heading() const { return by_heading_; }
  const std::vector<std::string>& warnings() const { return warnings_; }
  const Further* further() const { return is_of_scene() ? work_->further() : nullptr; }
  const Uncertainty* doubts() const { return is_of_scene() ? work_->doubts() : nullptr; }
  const TurnedDoubt* worst_doubt() const { return is_of_scene() ? work_->worst_doubt() : nullptr; }
  const TurnedDoubt* weakest_doubt() const { return is_of_scene() ? work_->weakest_doubt() : nullptr; }
  // The set-up as it is compared with another, as Answering has it: while only some of it is known, too.
  const SetUpAnswer* set_up() const { return is_of_scene() ? work_->set_up() : nullptr; }
  bool turned_is_known() const { return is_of_scene() && work_->turned_is_known(); }
  // Least slope that lifts a wheel; nullptr = none lifts, or not headings_are_of_scene().
  const EnvelopePoint* worst_heading() const;
  const State& still() const { return still_; }  // at rest; set down square where it finds no rest

  // The machine as it is now, without waiting for its answer.
  void take_machine();
  void take_machine(Model model) { model_ = std::make_unique<Model>(std::move(model)); }

 private:
  void leave_work();

  bool stale_ = true;
  std::string refusal_;
  std::unique_ptr<Model> model_;
  StaticSolution statics_;
  StandVerdict verdict_;
  std::vector<EnvelopePoint> by_heading_;
  std::unique_ptr<Model> waiting_;  // built, to be answered once enough of the work left has ended
  std::unique_ptr<Answering> work_;
  std::vector<std::unique_ptr<Answering>> leaving_;  // asked to stop; kept until they have, so that no picture waits
  bool taken_ = false;                               // statics_ is work_'s
  bool warned_ = false;                              // warnings_ are work_'s
  int pieces_ = 0;                                   // of work_ that have been seen
  std::vector<std::string> warnings_;
  int next_heading_ = kHeadings;  // of by_heading_, not taken from work_ yet
  State still_;
};

}  // namespace sidehill::screen

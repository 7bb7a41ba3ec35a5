// A plan being searched for on a thread of its own, what has been found, and which set-up of it is looked at. Knows no
// panel; a frame never waits for it.
#pragma once
#include <chrono>
#include <future>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>

#include "render/namespaces.h"
#include "sim/plan/plan.h"

namespace sidehill::screen {

class Planning {
 public:
  PlanQuestion asked;  // what the panel shows; the plan there is may have been asked another one

  Planning() = default;
  ~Planning();  // stops the search, and waits until it has
  Planning(const Planning&) = delete;
  Planning& operator=(const Planning&) = delete;

  // Sets out to search with what is `asked`. What is still going on is stopped and its result thrown away. Of a scene
  // that cannot be planned for the reason stands in refusal().
  void begin(const Scene& scene);
  void stop();     // what has been found so far comes soon
  void forget();   // the plan, and what is still going on: another scene lies there
  bool advance();  // once a turn: takes over what has come. Returns true if there is news
  void settle();   // waits until everything has come

  bool working() const { return search_.valid(); }
  bool is_discarding() const { return discard_; }  // what goes on is of no worth
  bool stopping() const { return working() && stop_.stop_requested(); }
  double share() const;                     // of the work that is done, 0 to 1
  std::optional<double> time_left() const;  // [s]; none: not known yet
  const std::string& refusal() const { return refusal_; }

  const Plan* plan() const { return plan_.get(); }  // the last that came; nullptr = none
  const Scene& scene() const { return scene_; }     // that it was asked about
  // The plan is of this scene: title, note and what stands on the ground have no say. `edits` counts up with every
  // change of the scene, so that it is written out only then.
  bool is_of(const Scene& scene, unsigned edits) const;
  // This scene is the set-up chosen, made the machine by `use`.
  bool is_in_use(const Scene& scene, unsigned edits) const;
  void use(const Scene& scene);
  bool is_of_question() const { return plan_ && plan_->question == asked; }

  // The set-up looked at. Of a plan of the front its interval comes later.
  void choose(std::size_t place);                                     // of Plan::chosen
  void choose_point(std::size_t place);                               // of Plan::on_front
  const ChosenPlan* chosen() const;                                   // nullptr = there is no plan
  std::optional<std::size_t> chosen_place() const { return place_; }  // of Plan::chosen; none: another one of the front
  bool range_is_coming() const { return range_wanted_ || range_.valid(); }

 private:
  struct Found {
    std::optional<Plan> plan;
    std::string refusal;
  };
  void start();
  bool advance_range();

  Scene scene_, wanted_;  // of the plan there is; of the search that goes on
  std::string scene_text_, wanted_text_;
  PlanQuestion wanted_question_;
  std::shared_ptr<const Plan> plan_;
  std::string refusal_;
  std::optional<std::size_t> place_;
  std::optional<ChosenPlan> point_;
  bool range_wanted_ = false;  // of point_
  bool again_ = false;         // once the search has stopped, another one begins
  bool discard_ = false;       // what it finds is of no worth
  std::string used_text_;      // of the scene that has become a set-up of the plan
  PlanChoice used_{};
  std::chrono::steady_clock::time_point began_;
  std::shared_ptr<PlanProgress> progress_;
  std::stop_source stop_, range_stop_;
  std::future<Found> search_;
  std::future<std::optional<Interval>> range_;
  mutable struct {
    unsigned edits = ~0u;
    const Plan* plan = nullptr;
    bool same = false, used = false;
  } compared_;  // the last answers of is_of() and is_in_use(), which are asked for in every picture
  void compare(const Scene& scene, unsigned edits) const;
};

}  // namespace sidehill::screen

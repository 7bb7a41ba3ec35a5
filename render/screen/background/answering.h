// The answer of one Model, worked out on a thread of its own, so that a window stays alive where the ground makes it
// slow. What is computed, and in which order, stands in sim/insight/answer; here is the thread, and what has come so
// far: first what holds at its heading, then the warnings and why it is so, then the slope that lifts a wheel at every
// other heading, and how far off it all may be. Knows no session.
#pragma once
#include <atomic>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

#include "render/namespaces.h"
#include "sim/insight/answer.h"
#include "sim/insight/set_ups.h"

namespace sidehill::screen {

// What is known of a set-up beyond its rest.
struct Further {
  LoadLimits limits;
  std::vector<RuleAnswer> rules;
  std::vector<ManoeuvreAnswer> manoeuvres;
  std::optional<Breakdown> breakdown;
};

// How far off an angle of another heading may be.
struct TurnedDoubt {
  double heading = 0;                               // [rad]
  std::optional<double> middle_lift, middle_slide;  // what it was worked out from, on even ground [rad]
  std::optional<Interval> first_lift_off, slide;    // [rad]; none = that never comes there
};

class Answering {
 public:
  static constexpr int kHeadings = kUsualHeadings;

  // Begins at once. `model`: what build(scene) gives.
  Answering(const Scene& scene, const Model& model);
  ~Answering() = default;  // stops, and waits until it has: some milliseconds
  Answering(const Answering&) = delete;
  Answering& operator=(const Answering&) = delete;

  void stop() { thread_.request_stop(); }  // within milliseconds; then finished, and nothing of what came is of worth
  // Wait up to `patience` [s] of wall time.
  bool solved(double patience) const;
  bool turned(double patience) const;  // all headings reached, or stopped
  bool finished(double patience) const;

  const Model& model() const { return answer_.model; }
  const StaticSolution& statics() const { return answer_.statics; }  // once solved
  const LoadCheck* loads() const {
    return answer_.loads ? &*answer_.loads : nullptr;
  }  // once solved; nullptr = not known
  bool warned() const { return warned_; }
  const std::vector<std::string>& warnings() const { return warnings_; }       // once warned
  const Further* further() const { return furthered_ ? &further_ : nullptr; }  // nullptr = not known yet, or never
  const Uncertainty* doubts() const { return doubted_ ? &*answer_.uncertainty : nullptr; }  // likewise
  // The set-up as it is compared with another: rules, work and soil beside its answer; nullptr = not known yet, or
  // never. What it has of other headings is there once `turned_is_known`, its intervals are once `doubts` are.
  const SetUpAnswer* set_up() const { return job_known_ ? &set_up_ : nullptr; }
  bool turned_is_known() const { return worst_known_; }
  // Closed in between the headings; nullptr = not known yet, or no wheel lifts at any.
  const EnvelopePoint* worst() const { return worst_known_ && answer_.worst ? &*answer_.worst : nullptr; }
  // Of worst(), and of the heading at which the tyres slide soonest if that comes first; on even ground. nullptr = not
  // known yet, or never.
  const TurnedDoubt* worst_doubt() const { return turned_doubted_ && worst_doubt_ ? &*worst_doubt_ : nullptr; }
  const TurnedDoubt* weakest_doubt() const { return turned_doubted_ && weakest_doubt_ ? &*weakest_doubt_ : nullptr; }
  // Counts up with each of warnings, further, set_up, worst, doubts, worst_doubt with weakest_doubt.
  int pieces() const { return pieces_; }
  bool done() const { return done_; }  // nothing more will come
  int headings_reached() const { return reached_; }
  const EnvelopePoint& at_heading(int i) const {
    return answer_.by_heading[static_cast<std::size_t>(i)];
  }  // i < headings_reached()

 private:
  void work(const std::stop_token& stop);
  bool turn_round(const std::stop_token& stop);
  void tell(Stage stage, const std::stop_token& stop);
  void doubt_turned(const std::stop_token& stop);
  void tell_piece(std::atomic<bool>& what);
  void announce(bool& what);

  SetUpAnswer set_up_;  // written by the thread alone; a member is read here only once it is said to be there
  Answer& answer_ = set_up_.answer;
  std::vector<std::string> warnings_;
  Further further_;
  std::optional<TurnedDoubt> worst_doubt_, weakest_doubt_;
  std::atomic<bool> warned_ = false, furthered_ = false, job_known_ = false, doubted_ = false, worst_known_ = false,
                    turned_doubted_ = false, done_ = false;
  std::atomic<int> pieces_ = 0;
  std::atomic<int> reached_ = 0;
  mutable std::mutex mutex_;  // guards the three flags
  mutable std::condition_variable changed_;
  bool solved_ = false, turned_ = false, finished_ = false;
  std::jthread thread_;  // last: everything it uses exists before it begins
};

}  // namespace sidehill::screen

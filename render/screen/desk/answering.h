// The answer of one Model, worked out on a thread of its own, so that a window stays alive where the ground makes it
// slow: first what holds at its heading, then the warnings and why it is so, then the slope that
// lifts a wheel at every other heading, and how far off it all may be. Knows no session.
#pragma once
#include <array>
#include <atomic>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

#include "sim/insight/ballast_rules.h"
#include "sim/insight/breakdown.h"
#include "sim/insight/uncertainty.h"
#include "sim/model/model.h"
#include "sim/rest/load_check.h"
#include "sim/rest/load_limits.h"
#include "sim/rest/manoeuvre.h"
#include "sim/rest/statics.h"

namespace sidehill {

// What is known of a set-up beyond its rest.
struct Further {
  LoadLimits limits;
  std::vector<RuleAnswer> rules;
  std::vector<ManoeuvreAnswer> manoeuvres;
  std::optional<Breakdown> breakdown;
};

class Answering {
 public:
  static constexpr int kHeadings = 72;

  // Begins at once. Without the scene the model was built from there are no warnings, nothing further and no doubts.
  explicit Answering(const Model& model, std::optional<Scene> scene = {});
  ~Answering() = default;  // stops, and waits until it has: some milliseconds
  Answering(const Answering&) = delete;
  Answering& operator=(const Answering&) = delete;

  void stop() { thread_.request_stop(); }  // within milliseconds; then finished, and nothing of what came is of worth
  // Wait up to `patience` [s] of wall time.
  bool solved(double patience) const;
  bool turned(double patience) const;  // all headings reached, or stopped
  bool finished(double patience) const;

  const Model& model() const { return model_; }
  const StaticSolution& statics() const { return statics_; }              // once solved
  const LoadCheck* loads() const { return loads_ ? &*loads_ : nullptr; }  // once solved; nullptr = not known
  bool warned() const { return warned_; }
  const std::vector<std::string>& warnings() const { return warnings_; }       // once warned
  const Further* further() const { return furthered_ ? &further_ : nullptr; }  // nullptr = not known yet, or never
  const Uncertainty* doubts() const { return doubted_ ? &doubts_ : nullptr; }  // likewise
  // Closed in between the headings; nullptr = not known yet, or no wheel lifts at any.
  const EnvelopePoint* worst() const { return worst_known_ && worst_ ? &*worst_ : nullptr; }
  int pieces() const { return pieces_; }  // counts up with each of warnings, further, worst, doubts
  bool done() const { return done_; }     // nothing more will come
  int headings_reached() const { return reached_; }
  const EnvelopePoint& at_heading(int i) const {
    return points_[static_cast<std::size_t>(i)];
  }  // i < headings_reached()

 private:
  void work(const std::stop_token& stop);
  void tell_further(const std::stop_token& stop);
  void tell_doubts(const std::stop_token& stop);
  void turn_round(const std::stop_token& stop);
  void announce(bool& what);

  const Model model_;
  const std::optional<Scene> scene_;
  StaticSolution statics_;
  std::optional<LoadCheck> loads_;
  std::array<EnvelopePoint, kHeadings> points_;
  std::vector<std::string> warnings_;
  std::atomic<bool> warned_ = false;
  Further further_;
  Uncertainty doubts_;
  std::optional<EnvelopePoint> worst_;
  std::atomic<bool> furthered_ = false, doubted_ = false, worst_known_ = false, done_ = false;
  std::atomic<int> pieces_ = 0;
  std::atomic<int> reached_ = 0;
  mutable std::mutex mutex_;  // guards the three flags
  mutable std::condition_variable changed_;
  bool solved_ = false, turned_ = false, finished_ = false;
  std::jthread thread_;  // last: everything it uses exists before it begins
};

}  // namespace sidehill

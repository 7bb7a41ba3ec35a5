// The answer of one Model, worked out on a thread of its own, so that a window stays alive where the ground makes it
// slow: first what holds at its heading, then what a person must be told of it, then the slope that lifts a wheel at
// every other. Knows no session.
#pragma once
#include <array>
#include <atomic>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "sim/model.h"
#include "sim/statics.h"

namespace sidehill {

class Answering {
 public:
  static constexpr int kHeadings = 72;

  // Begins at once. Without the scene the model was built from there are no warnings.
  explicit Answering(const Model& model, std::optional<Scene> scene = {});
  ~Answering();  // stops, and waits for the piece in hand
  Answering(const Answering&) = delete;
  Answering& operator=(const Answering&) = delete;

  void stop() { stopped_ = true; }  // after the piece in hand; then finished
  // Wait up to `patience` [s] of wall time.
  bool solved(double patience) const;
  bool finished(double patience) const;

  const Model& model() const { return model_; }
  const StaticSolution& statics() const { return statics_; }  // once solved
  bool warned() const { return warned_; }
  const std::vector<std::string>& warnings() const { return warnings_; }  // once warned
  int headings_reached() const { return reached_; }
  const EnvelopePoint& at_heading(int i) const {
    return points_[static_cast<std::size_t>(i)];
  }  // i < headings_reached()

 private:
  void work();
  void tell(bool& what);

  const Model model_;
  const std::optional<Scene> scene_;
  StaticSolution statics_;
  std::array<EnvelopePoint, kHeadings> points_;
  std::vector<std::string> warnings_;
  std::atomic<bool> warned_ = false;
  std::atomic<int> reached_ = 0;
  std::atomic<bool> stopped_ = false;
  mutable std::mutex mutex_;  // guards the two flags
  mutable std::condition_variable told_;
  bool solved_ = false, finished_ = false;
  std::thread thread_;  // last: everything it uses exists before it begins
};

}  // namespace sidehill

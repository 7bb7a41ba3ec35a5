// The steepest slope a run ends well on, or a table of such slopes, searched for on threads of its own: the table of
// `sidehill slope-limit`. Knows no panel; a frame never waits for it.
#pragma once
#include <chrono>
#include <future>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/motion/slope_limit_report.h"

namespace sidehill::screen {

class SlopeSearch {
 public:
  SlopeSearch() = default;
  ~SlopeSearch();  // stops the search, and waits until it has
  SlopeSearch(const SlopeSearch&) = delete;
  SlopeSearch& operator=(const SlopeSearch&) = delete;

  // Sets out. What is still going on is stopped and thrown away, and so is the table there was.
  void begin(SlopeLimitRequest request);
  void stop();     // what goes on is thrown away
  bool advance();  // once a turn: takes over what has come. Returns true if there is news
  void settle();   // waits until it has come
  // The scene has changed: a search of an older one is stopped. `edits` counts up with every change of the scene.
  void mind(const Scene& scene, unsigned edits);

  bool working() const { return search_.valid(); }
  bool stopping() const { return working() && stop_.stop_requested(); }
  double share() const;                                    // of the work that is done, 0 to 1
  std::optional<double> time_left() const;                 // [s]; none: not known yet
  const std::string& refusal() const { return refusal_; }  // why there is no table

  // What was asked, with all cells in order; nullptr = none has come.
  const SlopeLimitRequest* asked() const { return known_ ? &*known_ : nullptr; }
  const std::vector<SweptCell>& cells() const { return cells_; }
  // The table is of this scene: its title, note and expected values have no say.
  bool is_of_scene() const { return known_ && known_text_ == scene_text_; }
  bool was_stopped_by_edit() const { return stopped_by_edit_; }

 private:
  struct Found {
    std::vector<SweptCell> cells;
    std::string refusal;
  };
  void start();

  SlopeLimitRequest wanted_;
  std::optional<SlopeLimitRequest> known_;
  std::vector<SweptCell> cells_;
  std::string wanted_text_, known_text_, scene_text_, refusal_;
  unsigned edits_ = ~0u;
  bool again_ = false;  // once the search has stopped, another one begins
  bool stopped_by_edit_ = false;
  std::chrono::steady_clock::time_point began_;
  std::shared_ptr<SweepProgress> progress_;
  std::stop_source stop_;
  std::future<Found> search_;
};

}  // namespace sidehill::screen

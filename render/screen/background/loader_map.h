// The loader's map of a scene, worked out on threads of its own: every height and load of `sidehill loader`, then the
// interval of each, and the same of the scene's own height and load. Nothing of another machine is ever shown: what
// was asked for before is thrown away. Knows no panel; a frame never waits for it.
#pragma once
#include <atomic>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

#include "render/namespaces.h"
#include "sim/insight/loader_grid.h"

namespace sidehill::screen {

// Some heights and loads of one scene on a thread of its own, in the order given.
class LoaderJob {
 public:
  struct Place {
    double height = 0, load = 0;  // [m], [kg]
  };
  // `headings` tried for the worst of each; 0 = none is looked for.
  LoaderJob(Scene scene, std::vector<Place> places, int headings);
  LoaderJob(const LoaderJob&) = delete;
  LoaderJob& operator=(const LoaderJob&) = delete;

  void stop() { thread_.request_stop(); }
  bool done() const { return done_; }                                   // nothing more will come
  std::size_t cells() const { return cells_known_; }                    // so many of the first are there
  std::size_t doubts() const { return doubts_known_; }                  // likewise of their intervals
  const LoaderCell& cell(std::size_t i) const { return cells_[i]; }     // i < cells()
  const LoaderDoubt& doubt(std::size_t i) const { return doubts_[i]; }  // i < doubts()
  std::size_t places() const { return places_.size(); }
  // Why this machine cannot exist; read once done(). Empty = it can.
  const std::string& refusal() const { return refusal_; }

 private:
  void work(const std::stop_token& stop);

  Scene scene_;
  std::vector<Place> places_;
  int headings_;
  std::vector<LoaderCell> cells_;  // written by the thread alone, up to what is said to be known
  std::vector<LoaderDoubt> doubts_;
  std::string refusal_;
  std::atomic<std::size_t> cells_known_ = 0, doubts_known_ = 0;
  std::atomic<bool> done_ = false;
  std::jthread thread_;  // last: everything it uses exists before it begins
};

class LoaderMap {
 public:
  static constexpr int kSteps = 7;  // of height and of load

  // Once a turn while the map is looked at: sets out anew where the scene has changed. `edits` counts up with every
  // change of the scene, so that it is compared only then.
  void ask(const Scene& scene, unsigned edits);
  void forget();   // nobody looks at it
  bool advance();  // once a turn. Returns true if something new has come
  void settle();   // waits for everything
  bool working() const { return (map_ && !map_->done()) || (point_ && !point_->done()) || !leaving_.empty(); }

  const LoaderAxes& axes() const { return axes_; }  // empty without a loader
  // Row after row from the lowest height, as loader_grid; nullptr = not known yet.
  const LoaderCell* cell(std::size_t height, std::size_t load) const;
  const LoaderDoubt* doubt(std::size_t height, std::size_t load) const;
  // Of the scene's own height and load, without a worst heading; nullptr = not known yet.
  const LoaderCell* present() const;
  const LoaderDoubt* present_doubt() const;
  double share() const;  // of the map and its intervals that is done, 0 to 1
  bool map_is_known() const { return map_ && map_->cells() == map_->places(); }
  std::string refusal() const;

 private:
  void leave(std::unique_ptr<LoaderJob>& job);

  LoaderAxes axes_;
  std::string map_of_;  // the scene the map is of, written out; height, load and what stands on the ground apart
  unsigned edits_ = ~0u;
  std::unique_ptr<LoaderJob> map_, point_;
  std::optional<Scene> wanted_point_;
  std::size_t seen_ = 0;
  std::vector<std::unique_ptr<LoaderJob>> leaving_;  // stopped, until their threads have noticed
};

}  // namespace sidehill::screen

#include "render/screen/background/slope_search.h"

#include <tbb/task_arena.h>

#include <algorithm>
#include <exception>
#include <thread>
#include <utility>

#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

std::string text_of(Scene scene) {
  scene.title.clear();
  scene.note.clear();
  scene.expect.clear();
  return write_scene(scene);
}

}  // namespace

SlopeSearch::~SlopeSearch() {
  stop_.request_stop();
  if (search_.valid()) search_.wait();
}

void SlopeSearch::begin(SlopeLimitRequest request) {
  wanted_ = std::move(request);
  wanted_text_ = scene_text_ = text_of(wanted_.scene);
  known_.reset();
  cells_.clear();
  refusal_.clear();
  stopped_by_edit_ = false;
  again_ = working();
  if (again_)
    stop_.request_stop();
  else
    start();
}

void SlopeSearch::start() {
  again_ = false;
  stop_ = std::stop_source();
  progress_ = std::make_shared<SweepProgress>();
  began_ = std::chrono::steady_clock::now();
  search_ =
      std::async(std::launch::async, [asked = wanted_, stop = stop_.get_token(), progress = progress_]() -> Found {
        try {
          Found found;
          // One core is left to the window.
          const int cores = static_cast<int>(std::thread::hardware_concurrency());
          tbb::task_arena arena(std::max(1, cores - 1));
          arena.execute(
              [&] { found.cells = sweep(asked.scene, asked.keys, asked.ask, asked.shard, stop, progress.get()); });
          return found;
        } catch (const std::exception& error) {
          return {{}, error.what()};
        }
      });
}

void SlopeSearch::stop() {
  again_ = false;
  stop_.request_stop();
}

bool SlopeSearch::advance() {
  if (!search_.valid() || search_.wait_for(std::chrono::seconds(0)) != std::future_status::ready) return false;
  Found found = search_.get();
  if (again_) {
    start();
    return true;
  }
  if (stop_.stop_requested()) return true;
  refusal_ = std::move(found.refusal);
  if (!refusal_.empty()) return true;
  known_ = std::move(wanted_);
  known_text_ = wanted_text_;
  cells_ = std::move(found.cells);
  return true;
}

void SlopeSearch::settle() {
  while (working()) {
    search_.wait();
    advance();
  }
}

void SlopeSearch::mind(const Scene& scene, unsigned edits) {
  if (edits == edits_) return;
  edits_ = edits;
  scene_text_ = text_of(scene);
  if (working() && scene_text_ != wanted_text_ && !stopping()) {
    stop();
    stopped_by_edit_ = true;
  }
}

double SlopeSearch::share() const {
  if (!progress_ || progress_->of == 0) return 0;
  return std::clamp(static_cast<double>(progress_->done) / static_cast<double>(progress_->of), 0.0, 1.0);
}

std::optional<double> SlopeSearch::time_left() const {
  const double passed = std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count();
  const double done = share();
  if (!working() || passed < 1 || !(done > 0.02)) return std::nullopt;
  return passed * (1 - done) / done;
}

}  // namespace sidehill::screen

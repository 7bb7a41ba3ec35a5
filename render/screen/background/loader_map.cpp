#include "render/screen/background/loader_map.h"

#include <algorithm>
#include <chrono>
#include <exception>
#include <utility>

#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "vehicles/loader_tool.h"

namespace sidehill::screen {
namespace {

// All of a scene that the map depends on. The slope is not among it: the map says at which slope something gives way.
std::string map_text(Scene scene) {
  scene.title.clear();
  scene.note.clear();
  scene.expect.clear();
  scene.terrain.features.clear();
  scene.terrain.slope = 0;
  scene.programme = {};
  scene.ballast.loader_pin_height = 0;
  if (has_bale(scene.ballast.bale))
    scene.ballast.bale.density = 0;
  else
    scene.ballast.loader_payload = 0;
  return write_scene(scene);
}

}  // namespace

LoaderJob::LoaderJob(Scene scene, std::vector<Place> places, int headings)
    : scene_(std::move(scene)),
      places_(std::move(places)),
      headings_(headings),
      cells_(places_.size()),
      doubts_(places_.size()),
      thread_([this](const std::stop_token& stop) { work(stop); }) {}

void LoaderJob::work(const std::stop_token& stop) {
  try {
    Scene even = scene_;
    even.terrain.features.clear();
    const Model like = build(even);
    for (std::size_t i = 0; i < places_.size() && !stop.stop_requested(); ++i) {
      LoaderCell cell = loader_cell(even, like, places_[i].height, places_[i].load, headings_, stop);
      if (stop.stop_requested()) break;
      cells_[i] = cell;
      ++cells_known_;
    }
    for (std::size_t i = 0; i < places_.size() && !stop.stop_requested(); ++i) {
      LoaderDoubt doubt = loader_doubt(even, like, places_[i].height, places_[i].load, stop);
      if (stop.stop_requested()) break;
      doubts_[i] = doubt;
      ++doubts_known_;
    }
  } catch (const std::exception& error) {
    refusal_ = in_plain_names(error.what());
  }
  done_ = true;
}

void LoaderMap::leave(std::unique_ptr<LoaderJob>& job) {
  if (!job) return;
  job->stop();
  leaving_.push_back(std::move(job));
}

void LoaderMap::forget() {
  leave(map_);
  leave(point_);
  wanted_point_.reset();
  map_of_.clear();
  axes_ = {};
  edits_ = ~0u;
}

void LoaderMap::ask(const Scene& scene, unsigned edits) {
  if (edits == edits_) return;
  edits_ = edits;
  const std::string text = map_text(scene);
  if (text != map_of_) {
    leave(map_);
    map_of_ = text;
    axes_ = loader_axes(scene, kSteps);
    std::vector<LoaderJob::Place> places;
    for (double height : axes_.heights)
      for (double load : axes_.loads) places.push_back({height, load});
    if (!places.empty()) map_ = std::make_unique<LoaderJob>(scene, std::move(places), 72);
  }
  leave(point_);
  if (axes_.heights.empty()) return;
  const LoaderJob::Place here{scene.ballast.loader_pin_height, loader_load(scene.ballast)};
  point_ = std::make_unique<LoaderJob>(scene, std::vector{here}, 0);
  // Its cell takes some milliseconds: a frame later it would flicker while the point is dragged.
  const auto until = std::chrono::steady_clock::now() + std::chrono::milliseconds(12);
  while (point_->cells() == 0 && !point_->done() && std::chrono::steady_clock::now() < until)
    std::this_thread::sleep_for(std::chrono::microseconds(200));
}

bool LoaderMap::advance() {
  std::erase_if(leaving_, [](const auto& job) { return job->done(); });
  std::size_t now = 0;
  for (const LoaderJob* job : {map_.get(), point_.get()})
    if (job) now += job->cells() + job->doubts() + (job->done() ? 1 : 0);
  return std::exchange(seen_, now) != now;
}

void LoaderMap::settle() {
  while (working()) {
    advance();
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  advance();
}

const LoaderCell* LoaderMap::cell(std::size_t height, std::size_t load) const {
  const std::size_t i = height * axes_.loads.size() + load;
  return map_ && i < map_->cells() ? &map_->cell(i) : nullptr;
}

const LoaderDoubt* LoaderMap::doubt(std::size_t height, std::size_t load) const {
  const std::size_t i = height * axes_.loads.size() + load;
  return map_ && i < map_->doubts() ? &map_->doubt(i) : nullptr;
}

const LoaderCell* LoaderMap::present() const { return point_ && point_->cells() > 0 ? &point_->cell(0) : nullptr; }

const LoaderDoubt* LoaderMap::present_doubt() const {
  return point_ && point_->doubts() > 0 ? &point_->doubt(0) : nullptr;
}

double LoaderMap::share() const {
  if (!map_ || map_->places() == 0) return 0;
  return static_cast<double>(map_->cells() + map_->doubts()) / (2.0 * static_cast<double>(map_->places()));
}

std::string LoaderMap::refusal() const {
  for (const LoaderJob* job : {map_.get(), point_.get()})
    if (job && job->done() && !job->refusal().empty()) return job->refusal();
  return {};
}

}  // namespace sidehill::screen

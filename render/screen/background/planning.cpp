#include "render/screen/background/planning.h"

#include <algorithm>
#include <utility>

#include "sim/plan/plan_log.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

// All of a scene that a plan depends on.
std::string deciding_text(Scene scene) {
  scene.title.clear();
  scene.note.clear();
  scene.vehicle_file.clear();
  scene.job_file.clear();
  scene.expect.clear();
  scene.terrain.features.clear();
  // Rules ask for loads on the steeper of the two.
  if (scene.job.work != Work::none) scene.terrain.slope = std::max(scene.terrain.slope, scene.job.slope);
  return write_scene(scene);
}

template <class T>
bool is_there(const std::future<T>& future) {
  return future.valid() && future.wait_for(std::chrono::seconds(0)) == std::future_status::ready;
}

}  // namespace

Planning::~Planning() {
  stop_.request_stop();
  range_stop_.request_stop();
  if (search_.valid()) search_.wait();
  if (range_.valid()) range_.wait();
}

void Planning::begin(const Scene& scene) {
  wanted_ = scene;
  wanted_text_ = deciding_text(scene);
  wanted_question_ = asked;
  refusal_.clear();
  again_ = working();
  if (again_)
    stop_.request_stop();
  else
    start();
}

void Planning::start() {
  again_ = false;
  stop_ = std::stop_source();
  progress_ = std::make_shared<PlanProgress>();
  began_ = std::chrono::steady_clock::now();
  search_ = std::async(
      std::launch::async,
      [scene = wanted_, question = wanted_question_, stop = stop_.get_token(), progress = progress_]() -> Found {
        try {
          return {make_plan(scene, question, stop, progress.get()), ""};
        } catch (const std::exception& error) {
          return {std::nullopt, error.what()};
        }
      });
}

void Planning::stop() {
  if (!working()) return;
  if (again_) discard_ = true;  // what comes is of the scene before
  again_ = false;
  stop_.request_stop();
}

// Of a plan of the front, the last one looked at.
bool Planning::advance_range() {
  bool news = false;
  if (is_there(range_)) {
    const std::optional<Interval> range = range_.get();
    if (point_ && !range_wanted_) point_->range = range;
    news = true;
  }
  if (!range_wanted_ || range_.valid() || !point_) return news;
  range_wanted_ = false;
  range_stop_ = std::stop_source();
  range_ = std::async(std::launch::async,
                      [plan = plan_, choice = point_->choice, measures = point_->measures,
                       stop = range_stop_.get_token()] { return range_of(plan->ground, choice, measures, stop); });
  return true;
}

void Planning::forget() {
  stop();
  discard_ = working();
  plan_.reset();
  refusal_.clear();
  place_.reset();
  point_.reset();
  used_text_.clear();
  range_wanted_ = false;
  range_stop_.request_stop();
}

bool Planning::advance() {
  const bool news = advance_range();
  if (!is_there(search_)) return news;
  Found found = search_.get();
  if (again_) {
    discard_ = false;  // what was thrown away is the one that has just come
    start();
    return true;
  }
  if (std::exchange(discard_, false)) return true;
  refusal_ = in_plain_names(found.refusal);
  if (!found.plan) return true;
  used_text_.clear();
  const std::optional<Scene> was = chosen() ? std::optional(chosen()->scene) : std::nullopt;
  plan_ = std::make_shared<const Plan>(std::move(*found.plan));
  scene_ = std::move(wanted_);
  scene_text_ = std::move(wanted_text_);
  // The set-up that was looked at stays so, if it is among the new ones.
  std::size_t place = 0;
  for (std::size_t i = 0; was && i < plan_->chosen.size(); ++i)
    if (differences(*was, plan_->chosen[i].scene).empty()) place = i;
  choose(place);
  return true;
}

void Planning::settle() {
  while (working() || range_is_coming()) {
    if (search_.valid()) search_.wait();
    if (range_.valid()) range_.wait();
    advance();
  }
}

double Planning::share() const {
  if (!progress_ || progress_->of == 0) return 0;
  return std::clamp(static_cast<double>(progress_->done) / static_cast<double>(progress_->of), 0.0, 1.0);
}

std::optional<double> Planning::time_left() const {
  const double passed = std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count();
  const double done = share();
  if (!working() || passed < 0.5 || !(done > 0)) return std::nullopt;
  return passed * (1 - done) / done;
}

void Planning::compare(const Scene& scene, unsigned edits) const {
  if (compared_.edits == edits && compared_.plan == plan_.get()) return;
  const std::string text = deciding_text(scene);
  compared_ = {edits, plan_.get(), text == scene_text_, text == used_text_};
}

bool Planning::is_of(const Scene& scene, unsigned edits) const {
  if (!plan_) return false;
  compare(scene, edits);
  return compared_.same;
}

bool Planning::is_in_use(const Scene& scene, unsigned edits) const {
  if (!plan_ || used_text_.empty() || chosen()->choice != used_) return false;
  compare(scene, edits);
  return compared_.used;
}

void Planning::use(const Scene& scene) {
  if (!plan_) return;
  used_text_ = deciding_text(scene);
  used_ = chosen()->choice;
  compared_.plan = nullptr;
}

void Planning::choose(std::size_t place) {
  if (!plan_ || place >= plan_->chosen.size()) return;
  place_ = place;
  point_.reset();
  range_wanted_ = false;
  range_stop_.request_stop();
}

void Planning::choose_point(std::size_t place) {
  if (!plan_ || place >= plan_->on_front.size()) return;
  const FrontPlan& one = plan_->on_front[place];
  const auto same = std::ranges::find(plan_->chosen, one.choice, &ChosenPlan::choice);
  if (same != plan_->chosen.end()) return choose(static_cast<std::size_t>(same - plan_->chosen.begin()));
  if (point_ && point_->choice == one.choice) return;
  place_.reset();
  point_ = chosen_from(*plan_, one);
  range_wanted_ = true;
  range_stop_.request_stop();
}

const ChosenPlan* Planning::chosen() const {
  if (!plan_) return nullptr;
  return point_ ? &*point_ : &plan_->chosen[place_.value_or(0)];
}

}  // namespace sidehill::screen

#include "render/screen/background/fill_curves.h"

#include <algorithm>
#include <chrono>
#include <iterator>
#include <utility>

#include "sim/base/errors.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

using Clock = std::chrono::steady_clock;

double since(Clock::time_point began) { return std::chrono::duration<double>(Clock::now() - began).count(); }

// All of the scene that the curves depend on, and of which liquids they are.
std::string deciding_text(Scene scene, const std::vector<CurveMix>& mixes, bool front) {
  scene.title.clear();
  scene.note.clear();
  scene.vehicle_file.clear();
  scene.job_file.clear();
  scene.expect.clear();
  // The loads are of level ground, and slopes are counted from it; only a rule about the job's slope is not.
  scene.terrain.slope = 0;
  scene = filled_scene(scene, front, Medium::water, 0, 0);
  for (std::size_t wheel = front ? kFrontLeft : kRearLeft, n = 0; n < 2; ++n) scene.ballast.fill[wheel + n].price = {};
  std::string text = front ? "front\n" : "rear\n";
  for (const CurveMix& mix : mixes)
    text += std::string(info(mix.medium).key) + " " + std::to_string(strength(mix.medium, mix.concentration)) + "\n";
  return text + write_scene(scene);
}

CurveMix held(const Scene& scene, bool front) {
  const std::size_t left = front ? kFrontLeft : kRearLeft;
  const auto& fill = scene.ballast.fill;
  const TyreFill& one = fill[left + 1].fill_fraction > fill[left].fill_fraction ? fill[left + 1] : fill[left];
  return {one.medium, one.concentration};
}

FillCurve curve_of(const Scene& scene, const CurveMix& mix) {
  FillCurve curve;
  curve.mix = mix;
  const Mix of{mix.medium, mix.concentration, &scene.ballast.own_medium};
  curve.name = medium_name(of);
  const bool job = scene.job.work != Work::none;
  curve.at_coldest = winter(of, job ? scene.job.coldest : scene.settings.temperature).frost;
  const Frost now = winter(of, scene.settings.temperature).frost;
  curve.frozen_now = now == Frost::solid || now == Frost::slushy;
  return curve;
}

}  // namespace

bool differ_in_filling_alone(const Scene& a, const Scene& b, bool front) {
  return deciding_text(a, {}, front) == deciding_text(b, {}, front);
}

bool CurveMix::operator==(const CurveMix& other) const {
  return medium == other.medium && strength(medium, concentration) == strength(other.medium, other.concentration);
}

std::vector<CurveMix> curve_mixes(const Scene& ours, const Scene* beside, bool front) {
  std::vector<CurveMix> mixes;
  const auto add = [&](const CurveMix& mix, bool is_held) {
    if (mixes.size() >= kMostLiquids || std::ranges::find(mixes, mix) != mixes.end()) return;
    if (mix.medium == Medium::own && !(ours.ballast.own_medium.density >= kLeastOwnDensity)) return;
    if (!is_held && info(mix.medium).turns_with_wheel) return;
    // A named mix and the same salt at that strength are one liquid.
    if (!is_held && std::ranges::any_of(mixes, [&](const CurveMix& there) {
          return info(there.medium).solute && info(there.medium).solute == info(mix.medium).solute &&
                 strength(there.medium, there.concentration) == strength(mix.medium, mix.concentration);
        }))
      return;
    mixes.push_back(mix);
  };
  add(held(ours, front), true);
  if (beside) add(held(*beside, front), true);
  for (const Medium medium : {Medium::own, Medium::water, Medium::calcium_chloride_3_5, Medium::beet_by_product,
                              Medium::propylene_glycol, Medium::magnesium_chloride, Medium::methanol})
    add({medium, 0}, false);
  return mixes;
}

FillCurves::~FillCurves() { forget(); }  // each thread is waited for where its work ends

void FillCurves::forget() {
  if (!work_) return;
  work_->thread.request_stop();
  ending_.push_back(std::move(work_));
}

void FillCurves::want(const Scene& scene, const Scene* beside, bool front, unsigned edits) {
  if (edits == edits_ && front == front_ && !wanted_text_.empty()) return;
  edits_ = edits;
  std::vector<CurveMix> mixes = curve_mixes(scene, beside, front);
  // The order says only which interval comes first.
  std::vector<CurveMix> sorted = mixes;
  std::ranges::sort(sorted, {}, [](const CurveMix& mix) { return std::pair(mix.medium, mix.concentration); });
  std::string text = deciding_text(scene, sorted, front);
  if (text == wanted_text_) return;
  wanted_text_ = std::move(text);
  scene_ = scene;
  mixes_ = std::move(mixes);
  front_ = front;
  begin();
}

void FillCurves::again() {
  if (!wanted_text_.empty()) begin();
}

void FillCurves::begin() {
  forget();
  stopped_ = false;
  version_ = 0;
  set_ = {};
  set_.front = front_;
  for (const CurveMix& mix : mixes_) set_.curves.push_back(curve_of(scene_, mix));
  for (std::size_t i = 0; i < set_.curves.size(); ++i)
    if (std::ranges::count(set_.curves, set_.curves[i].name, &FillCurve::name) > 1)
      for (FillCurve& curve : set_.curves)
        curve.name = medium_name({curve.mix.medium, curve.mix.concentration, &scene_.ballast.own_medium}, true);
  work_ = std::make_unique<Work>();
  work_->set = set_;
  work_->steps = 1;
  Work& to = *work_;
  to.thread = std::jthread([&to, scene = scene_](const std::stop_token& stop) {
    work(to, scene, stop);
    to.ended = true;
    ++to.version;
  });
}

void FillCurves::work(Work& to, const Scene& scene, const std::stop_token& stop) {
  const Clock::time_point began = Clock::now();
  const bool front = to.set.front;
  const std::size_t curves = to.set.curves.size();
  constexpr int kPoints = kSteps + 1, kRanged = static_cast<int>(std::size(kRangedAt));
  const double cost = 40;  // an interval takes as long as so many points
  const int all_ranges = static_cast<int>(curves) * (kRanged - 1) + 1;
  to.steps = static_cast<int>(curves) * kPoints + static_cast<int>(cost) * all_ranges;
  const auto with = [&](const FillCurve& curve, int i) {
    return filled_scene(scene, front, curve.mix.medium, curve.mix.concentration, static_cast<double>(i) / kSteps);
  };
  const auto change = [&](auto&& what) {
    const std::scoped_lock lock(to.mutex);
    what(to.set);
    ++to.version;
  };
  std::vector<std::optional<Model>> like(kPoints);  // of each fill: the liquid's place does not depend on what it is
  for (std::size_t c = 0; c < curves; ++c) {
    std::vector<FillPoint> points;
    std::string refusal;
    for (int i = 0; i < kPoints && refusal.empty(); ++i) {
      if (stop.stop_requested()) return;
      try {
        const Scene filled = with(to.set.curves[c], i);
        Model model = build(filled, like[static_cast<std::size_t>(i)] ? &*like[static_cast<std::size_t>(i)] : nullptr);
        points.push_back(fill_point(filled, model, front, stop));
        points.back().fill = static_cast<double>(i) / kSteps;
        if (!like[static_cast<std::size_t>(i)]) like[static_cast<std::size_t>(i)] = std::move(model);
      } catch (const InputError& error) {
        refusal = error.what();
      }
      ++to.done;
    }
    if (stop.stop_requested()) return;
    if (!refusal.empty()) points.clear();
    change([&](FillCurveSet& set) {
      set.curves[c].points = std::move(points);
      set.curves[c].refusal = std::move(refusal);
      set.values_known = c + 1 == curves;
    });
  }
  to.values_took = since(began);
  std::optional<FillPoint> empty;  // the same for all liquids
  for (std::size_t c = 0; c < curves; ++c)
    for (const int i : kRangedAt) {
      if (stop.stop_requested()) return;
      const FillCurve& curve = to.set.curves[c];  // written by this thread alone
      if (curve.points.empty()) continue;
      FillPoint point = curve.points[static_cast<std::size_t>(i)];
      if (i == 0 && empty) {
        point = *empty;
      } else {
        add_ranges(point, with(curve, i), front, stop);
        if (stop.stop_requested()) return;
        if (i == 0) empty = point;
        to.done += static_cast<int>(cost);
      }
      change([&](FillCurveSet& set) { set.curves[c].points[static_cast<std::size_t>(i)] = point; });
    }
  change([](FillCurveSet& set) { set.intervals_known = true; });
  to.intervals_took = since(began);
}

bool FillCurves::advance() {
  std::erase_if(ending_, [](const std::unique_ptr<Work>& one) { return one->ended.load(); });
  if (!work_ || work_->version == version_) return false;
  const std::scoped_lock lock(work_->mutex);
  version_ = work_->version;
  set_ = work_->set;
  return true;
}

void FillCurves::stop() {
  if (!working()) return;
  advance();
  work_->thread.request_stop();
  stopped_ = true;
}

void FillCurves::settle() {
  if (work_ && work_->thread.joinable()) work_->thread.join();
  advance();
}

bool FillCurves::working() const { return work_ && !work_->ended && !stopped_; }

double FillCurves::share() const {
  return work_ ? std::clamp(static_cast<double>(work_->done) / std::max(1, work_->steps.load()), 0.0, 1.0) : 0;
}

double FillCurves::values_took() const { return work_ ? work_->values_took.load() : 0; }
double FillCurves::intervals_took() const { return work_ ? work_->intervals_took.load() : 0; }

}  // namespace sidehill::screen

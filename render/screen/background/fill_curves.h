// What gives way, and what the axle carries, over the filling of one axle's tyres: a curve for each of at most four
// liquids, worked out on a thread of its own. First come the points of all curves, then the intervals, those of the
// first liquid before the others. Knows no panel; a frame never waits for it.
#pragma once
#include <atomic>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

#include "render/namespaces.h"
#include "sim/insight/fill_points.h"
#include "sim/scene/scene.h"
#include "vehicles/winter.h"

namespace sidehill::screen {

struct CurveMix {
  Medium medium = Medium::water;
  double concentration = 0;                      // 0 = the usual strength
  bool operator==(const CurveMix& other) const;  // the same liquid at the same strength
};

// What is drawn, at most kMostLiquids, for the slope at which the tyres slide is a fifth line: what `ours` holds on
// this axle, then what `beside` holds (nullptr = nothing is compared), then the liquids people mostly ask for. What
// neither machine holds is left out where it is foam or has no data.
constexpr std::size_t kMostLiquids = 4;
std::vector<CurveMix> curve_mixes(const Scene& ours, const Scene* beside, bool front);
// Both have the same curves: they differ in how full that axle is and what with, at most.
bool differ_in_filling_alone(const Scene& a, const Scene& b, bool front);

struct FillCurve {
  CurveMix mix;
  std::string name;                  // "calcium chloride, to -24 °C"
  Frost at_coldest = Frost::liquid;  // in the job's coldest night, else at the scene's temperature
  bool frozen_now = false;           // at the scene's temperature: its points hold for the ice at its worst place
  std::vector<FillPoint> points;     // by rising fill; of a liquid that cannot be pumped in here none
  std::string refusal;               // why there are none
};

struct FillCurveSet {
  bool front = false;
  std::vector<FillCurve> curves;
  bool values_known = false;     // all points are there
  bool intervals_known = false;  // and their intervals, at FillCurves::kRangedAt
};

class FillCurves {
 public:
  static constexpr int kSteps = 8;                          // of the fill from 0 to 1
  static constexpr int kRangedAt[] = {6, 4, 2, 0, kSteps};  // points with an interval; where people fill to first

  FillCurves() = default;
  ~FillCurves();  // stops, and waits until it has
  FillCurves(const FillCurves&) = delete;
  FillCurves& operator=(const FillCurves&) = delete;

  // Sees that what is there, or is being worked out, is of this scene, axle and liquids. How full that axle is, the
  // slope of the ground and what stands on it have no say. What is of another scene is thrown away and begun anew.
  // `edits` is another number with every change of the scenes, so that they are looked at only then.
  void want(const Scene& scene, const Scene* beside, bool front, unsigned edits);
  bool advance();  // once a turn: takes over what has come. Returns true if there is news
  void stop();     // no more intervals; the points that are there stay
  void again();    // after a stop: begins anew
  void settle();   // waits until everything has come

  bool working() const;
  bool stopped() const { return stopped_; }
  double share() const;  // of the work that is done, 0 to 1
  // Of the scene that is wanted; its points may be few yet. nullptr = nothing was wanted so far.
  const FillCurveSet* curves() const { return wanted_text_.empty() ? nullptr : &set_; }
  double values_took() const;     // [s] of wall time until all points were there; 0 = not yet
  double intervals_took() const;  // [s] until the intervals were there as well; 0 = not yet

 private:
  struct Work {
    std::mutex mutex;  // guards the set
    FillCurveSet set;
    std::atomic<int> steps = 0, done = 0, version = 0;
    std::atomic<bool> ended = false;
    std::atomic<double> values_took = 0, intervals_took = 0;
    std::jthread thread;  // last: everything it uses exists before it begins
  };
  static void work(Work& to, const Scene& scene, const std::stop_token& stop);
  void begin();
  void forget();

  Scene scene_;
  std::vector<CurveMix> mixes_;
  bool front_ = false, stopped_ = false;
  unsigned edits_ = ~0u;
  std::string wanted_text_;
  FillCurveSet set_;
  int version_ = 0;
  std::unique_ptr<Work> work_;
  std::vector<std::unique_ptr<Work>> ending_;  // asked to stop; thrown away once they have
};

}  // namespace sidehill::screen

// One set-up with the tyres of one axle filled otherwise: at which slope something gives way first, and what that axle
// carries. The points that a curve over the filling is drawn from. Knows no words, no thread, no window.
#pragma once
#include <optional>
#include <stop_token>

#include "sim/insight/uncertainty.h"
#include "sim/model/model.h"

namespace sidehill {

struct FillPoint {
  double fill = 0;              // of both tyres of the axle, liquid over cavity [-]
  std::optional<double> lift;   // slope at which the first wheel lifts [rad]; none: never, or `failed`
  std::optional<double> slide;  // slope at which the tyres no longer hold [rad]; none likewise
  bool failed = false;          // no balance was found on the way: not the same as "never"
  double load = 0;              // on the axle that is filled, level ground, with what the job hangs on it [kg]
  bool ranged = false;          // the intervals below were worked out: nineteen times in twenty
  std::optional<Interval> lift_range, slide_range;  // [rad]; none where it never does
  std::optional<Interval> load_range;               // of `load` [kg]; none where it does not rest on the level

  bool slides_first() const { return slide && (!lift || *slide < *lift); }
  std::optional<double> gives_way() const { return slides_first() ? slide : lift; }  // whichever comes first [rad]
  std::optional<Interval> range() const;                                             // of it; see first_of
};

// The scene on even ground without bumps, both tyres of that axle holding this liquid (its own strength; 0 = the usual
// one). Foam fills the whole tyre whatever `fill` says, unless that is 0.
Scene filled_scene(const Scene& scene, bool front, Medium medium, double concentration, double fill);

// The point of a scene as it is, standing still at its heading, the whole ground tilted from the level; features are
// left out. `model`: what build gives of that scene. Its fill is the fuller tyre's. Some milliseconds. Once `stop` is
// requested it comes back within milliseconds, and what it gives then means nothing.
FillPoint fill_point(const Scene& scene, const Model& model, bool front, const std::stop_token& stop = {});

// Works out both intervals of a point of this scene: some hundred answers, 0.1 to 0.3 s. Those of the slopes are
// what uncertainty gives of the scene; that of the load takes the differences of the same answers on the level, up and
// down added as squares apart (k = 2). Throws InputError for an impossible machine.
void add_ranges(FillPoint& point, const Scene& scene, bool front, const std::stop_token& stop = {});

}  // namespace sidehill

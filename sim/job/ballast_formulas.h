// Published formulas of a tractor's ballast: how much of it, where, for which load. On plain numbers; the rules that
// use them are in sim/job/rules.h. Knows no file, no time. Masses [kg], lengths [m].
#pragma once
#include <optional>

#include "sim/model/model.h"

namespace sidehill {

// Levers of the implement formulas: a = front ballast or implement to front axle, b = wheelbase, c = rear axle to lower
// link points, d = lower link points to the rear implement's centre of gravity.
struct Levers {
  double a = 0, b = 0, c = 0, d = 0;
};

// Least front ballast for an implement of mass `rear_implement` behind, so that the front axle keeps 20 % of the
// unladen mass `unladen`, `front_axle` of it in front. Negative results count as 0. Source: EN ISO 4254-10 Annex B: [IR
// (c + d) - TF b + 0.2 TE b] / (a + b).
double front_ballast(double rear_implement, double front_axle, double unladen, const Levers& levers);

// Least rear ballast for an implement in front, so that the rear axle keeps 45 %.
// Source: EN ISO 4254-10 Annex B: [IF a - TR b + 0.45 TE b] / (b + c + d).
double rear_ballast(double front_implement, double rear_axle, double unladen, const Levers& levers);

// Least counterweight behind for a loaded loader, so that the rear axle keeps 20 % of the gross mass, the counterweight
// included. `rear_axle` G and `front_axle` G1 loads without the bucket's load N `bucket_load`; lengths `ahead` b load
// ahead of the front axle, `behind` l1 counterweight behind the rear axle, `wheelbase` l2. Negative results count as 0.
// Source: EN 12525 + A2: [5 N b + l2 (P + N - 5 G)] / [5 (l1 + l2) - l2], P = G + G1.
double loader_counterweight(double rear_axle, double front_axle, double bucket_load, double ahead, double behind,
                            double wheelbase);

// Highest coupling point of a ballasted tractor: unladen `unladen` mt with `ballasted_front` mla on the front axle,
// ballasted mass `ballasted` mlt, wheelbase l, vertical load S at the coupling, `behind` c the coupling's distance
// behind the rear axle. Source: Regulation (EU) 2018/829 Annex II (4)(a): [(mla - 0.2 mt) l - S c] / [0.6 (mlt - 0.2 mt
// + S)].
double coupling_height(double ballasted_front, double unladen, double ballasted, double wheelbase, double vertical_load,
                       double behind);

// Centre of gravity too high over the track for more than 30 km/h: height / mean track above 0.90. The law asks it of
// narrow tractors only (category T2: least track below 1.15 m). Source: Regulation (EU) 167/2013 Art. 4.
bool limited_to_30_kmh(double height, double mean_track);

// Load in the bucket at which the rear axle carries nothing, level hard ground, `ahead` = load ahead of the front axle
// [m]; `rear_axle` load with the bucket empty. The loader's rated load is half of it. Source: lever rule; ISO 14397-1
// (earth-moving machines: a guide here).
std::optional<double> tipping_load(double rear_axle, double wheelbase, double ahead);

// What the bucket tips: the loader's boom as far ahead as it reaches, liquid, weights and driver as in the scene.
struct LoaderTipping {
  double ahead = 0;  // load ahead of the front axle then [m], > 0
  double load = 0;   // at which the rear axle carries nothing, level hard ground, rigid [kg]; 0 = it tips empty
};
// None without a loader, or if the load stays behind the front axle. Source: lever rule, as tipping_load; farthest
// reach as in ISO 14397-1 (from memory).
std::optional<LoaderTipping> loader_tipping(const Model& model);

}  // namespace sidehill

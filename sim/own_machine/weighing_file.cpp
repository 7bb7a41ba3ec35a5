#include "sim/own_machine/weighing_file.h"

#include <fmt/format.h>

#include <array>
#include <string>

#include "sim/base/text_file.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

enum Key {
  kWheelbase,
  kFrontRadius,
  kRearRadius,
  kFront,
  kRear,
  kFrontLeftLoad,
  kFrontRightLoad,
  kRearLeftLoad,
  kRearRightLoad,
  kFrontTrack,
  kRearTrack,
  kRaiseFront,
  kRaiseRear,
  kFrontThen,
  kRearThen,
  kStandingRadius,
  kFrontLiquid,
  kRearLiquid,
  kFrontDepth,
  kRearDepth,
  kFrontFill,
  kRearFill,
  kFrontFree,
  kRearFree,
  kFrontRim,
  kRearRim,
  kFrontSection,
  kRearSection,
  kFrontDensity,
  kRearDensity,
  kScalePercent,
  kScaleLeast,
  kLength,
  kLiquidPercent,
  kDepthTolerance,
  kKeys
};

constexpr std::array<NumberKey, kKeys> kList{{
    {"wheelbase_m", "m", "between the wheel centres, level", 0.5, 10, true},
    {"front_radius_m", "m", "front wheel centre over the ground, level", 0.1, 2, true},
    {"rear_radius_m", "m", "rear wheel centre over the ground, level", 0.1, 2, true},
    {"front_kg", "kg", "front axle, level, if its wheels were not weighed singly", 1, 50000, false},
    {"rear_kg", "kg", "rear axle, level, if its wheels were not weighed singly", 1, 50000, false},
    {"front_left_kg", "kg", "front left wheel, level", 0, 25000, false},
    {"front_right_kg", "kg", "front right wheel, level", 0, 25000, false},
    {"rear_left_kg", "kg", "rear left wheel, level", 0, 25000, false},
    {"rear_right_kg", "kg", "rear right wheel, level", 0, 25000, false},
    {"front_track_m", "m", "between the front tyres' mid-planes", 0.2, 8, false},
    {"rear_track_m", "m", "between the rear tyres' mid-planes", 0.2, 8, false},
    {"raise_front_m", "m", "the front wheel centres were raised by", 0.02, 3, false},
    {"raise_rear_m", "m", "the rear wheel centres were raised by", 0.02, 3, false},
    {"raised_front_kg", "kg", "front axle, one axle raised", 0, 50000, false},
    {"raised_rear_kg", "kg", "rear axle, one axle raised", 0, 50000, false},
    {"raised_standing_radius_m", "m", "centre of the wheels left on the ground, over it, then", 0.1, 2, false},
    {"front_liquid_kg", "kg", "liquid in both front tyres", 0, 20000, false},
    {"rear_liquid_kg", "kg", "liquid in both rear tyres", 0, 20000, false},
    {"front_liquid_depth_m", "m", "its centroid under the wheel centre, if no fill fraction is given", 0, 2, false},
    {"rear_liquid_depth_m", "m", "its centroid under the wheel centre, if no fill fraction is given", 0, 2, false},
    {"front_fill_fraction", "", "of the room in each front tyre that liquid takes; 0.75 = filled to a valve at the top",
     0, 1, false},
    {"rear_fill_fraction", "", "of the room in each rear tyre that liquid takes; 0.75 = filled to a valve at the top",
     0, 1, false},
    {"front_free_radius_m", "m", "front tyre, inflated, off the ground; with a fill fraction", 0.1, 2, false},
    {"rear_free_radius_m", "m", "rear tyre, inflated, off the ground; with a fill fraction", 0.1, 2, false},
    {"front_rim_radius_m", "m", "front rim; with a fill fraction", 0.05, 1.5, false},
    {"rear_rim_radius_m", "m", "rear rim; with a fill fraction", 0.05, 1.5, false},
    {"front_section_m", "m", "width of the front tyre's section; with a fill fraction", 0.05, 1.5, false},
    {"rear_section_m", "m", "width of the rear tyre's section; with a fill fraction", 0.05, 1.5, false},
    {"front_liquid_kg_per_m3", "kg/m3", "its density, if front_liquid_kg is not known", 600, 2000, false},
    {"rear_liquid_kg_per_m3", "kg/m3", "its density, if rear_liquid_kg is not known", 600, 2000, false},
    {"scale_tolerance_percent", "%", "+- of a load, two standard deviations", 0, 20, false},
    {"scale_tolerance_least_kg", "kg", "but at least", 0, 500, false},
    {"length_tolerance_m", "m", "+- of every length, two standard deviations", 0, 0.2, false},
    {"liquid_tolerance_percent", "%", "+- of the liquid's mass, two standard deviations", 0, 100, false},
    {"liquid_depth_tolerance_m", "m", "+- of its depth, two standard deviations", 0, 0.5, false},
}};

// Of one axle.
struct LiquidKeys {
  Key mass, depth, fill, free, rim, section, density;
};

}  // namespace

std::span<const NumberKey> weighing_keys() { return kList; }

WeighingSheet parse_weighing(std::string_view text, const std::filesystem::path& path) {
  const std::string name = path.string();
  const std::vector<NumberValue> v = read_numbers(text, name, kList);
  const auto refuse = [&](Key key, const std::string& message) {
    refuse_number(name, v[key].line, kList[key].key, message);
  };
  const auto maybe = [&](Key key) { return v[key].given ? std::optional(v[key].value) : std::nullopt; };
  WeighingSheet sheet;
  Weighing& w = sheet.weighing;
  w.wheelbase = v[kWheelbase].value;
  w.front_radius = v[kFrontRadius].value;
  w.rear_radius = v[kRearRadius].value;
  w.front_track = v[kFrontTrack].value;
  w.rear_track = v[kRearTrack].value;
  constexpr Key kWheel[] = {kFrontLeftLoad, kFrontRightLoad, kRearLeftLoad, kRearRightLoad};
  for (std::size_t i = 0; i < 4; ++i) w.wheel[i] = maybe(kWheel[i]);
  const auto axle = [&](Key whole, std::size_t left, double& sum) {
    const bool singly = w.wheel[left] && w.wheel[left + 1];
    if (singly && v[whole].given) refuse(whole, "is said twice, allowed the axle or its two wheels");
    if (!singly && (w.wheel[left] || w.wheel[left + 1]))
      refuse(w.wheel[left] ? kWheel[left] : kWheel[left + 1],
             "stands alone, allowed both wheels of the axle or the axle");
    if (!singly && !v[whole].given) refuse(whole, "missing: the axle's load, or those of its two wheels");
    sum = singly ? *w.wheel[left] + *w.wheel[left + 1] : v[whole].value;
  };
  axle(kFront, 0, w.front);
  axle(kRear, 2, w.rear);
  if (v[kRaiseFront].given == v[kRaiseRear].given)
    refuse(kRaiseFront, v[kRaiseFront].given ? "and raise_rear_m are both there, allowed one of them"
                                             : "missing, as is raise_rear_m: one axle must have been raised");
  w.front_raised = v[kRaiseFront].given;
  w.height = v[w.front_raised ? kRaiseFront : kRaiseRear].value;
  w.front_then = maybe(kFrontThen);
  w.rear_then = maybe(kRearThen);
  w.standing_radius_then = maybe(kStandingRadius);
  const auto liquid = [&](const LiquidKeys& k, double& mass, double& depth) {
    mass = v[k.mass].value;
    depth = v[k.depth].value;
    if (!v[k.fill].given) {
      if (mass > 0 && !v[k.depth].given)
        refuse(k.mass, fmt::format("where does it lie? allowed with {} or {}", kList[k.depth].key, kList[k.fill].key));
      for (const Key lone : {k.free, k.rim, k.section, k.density})
        if (v[lone].given) refuse(lone, fmt::format("is of no use alone, allowed with {}", kList[k.fill].key));
      return;
    }
    if (v[k.depth].given) refuse(k.depth, fmt::format("is said twice, allowed it or {}", kList[k.fill].key));
    for (const Key needed : {k.free, k.rim, k.section})
      if (!v[needed].given)
        refuse_number(name, v[k.fill].line, kList[needed].key, fmt::format("missing: {} needs it", kList[k.fill].key));
    if (v[k.mass].given == v[k.density].given)
      refuse(k.fill, fmt::format("needs {} or {}, one of them", kList[k.mass].key, kList[k.density].key));
    if (v[k.free].value < 1.1 * v[k.rim].value)
      refuse(k.free, fmt::format("leaves no room for a tyre, allowed at least a tenth over {}", kList[k.rim].key));
    const TyreLiquid in =
        liquid_in_tyre(v[k.free].value, v[k.rim].value, v[k.section].value, v[k.fill].value, v[k.density].value);
    depth = in.depth;
    if (v[k.density].given) {
      mass = 2 * in.mass;
      return;
    }
    constexpr double kDensest = 1450;  // heavier than any filling known here [kg/m3]
    const double most =
        2 * kDensest * liquid_in_tyre(v[k.free].value, v[k.rim].value, v[k.section].value, v[k.fill].value, 1).mass;
    if (mass > most)
      refuse(k.mass,
             fmt::format("does not fit into two tyres filled to {}, allowed up to {:.0f} kg", v[k.fill].value, most));
  };
  liquid({kFrontLiquid, kFrontDepth, kFrontFill, kFrontFree, kFrontRim, kFrontSection, kFrontDensity}, w.front_liquid,
         w.front_liquid_depth);
  liquid({kRearLiquid, kRearDepth, kRearFill, kRearFree, kRearRim, kRearSection, kRearDensity}, w.rear_liquid,
         w.rear_liquid_depth);
  if (v[kScalePercent].given) sheet.tolerance.scale = v[kScalePercent].value / 100;
  if (v[kScaleLeast].given) sheet.tolerance.scale_least = v[kScaleLeast].value;
  if (v[kLength].given) sheet.tolerance.length = v[kLength].value;
  if (v[kLiquidPercent].given) sheet.tolerance.liquid = v[kLiquidPercent].value / 100;
  if (v[kDepthTolerance].given) sheet.tolerance.depth = v[kDepthTolerance].value;
  if (const auto conflict = find_weighing_conflict(w)) {
    unsigned line = 1;
    for (std::size_t i = 0; i < kKeys; ++i)
      if (kList[i].key == conflict->key) line = v[i].line;
    refuse_number(name, line, conflict->key, conflict->message);
  }
  // A doubt as large as the height itself is no answer, and near level it would be no number.
  const double height = centre_of_gravity_of(w).z, doubt = error_of(w, sheet.tolerance).centre.z;
  if (!(doubt < height))
    refuse(w.front_raised ? kRaiseFront : kRaiseRear,
           "is too little for these tolerances: the height's error would be as large as the height, allowed more");
  return sheet;
}

WeighingSheet load_weighing(const std::filesystem::path& path) { return parse_weighing(read_text(path), path); }

}  // namespace sidehill

#include "sim/weighing_file.h"

#include <array>
#include <string>

#include "sim/scene_file.h"

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
  kScalePercent,
  kScaleLeast,
  kLength,
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
    {"front_liquid_depth_m", "m", "its centroid under the wheel centre (`sidehill fill` helps)", 0, 2, false},
    {"rear_liquid_depth_m", "m", "its centroid under the wheel centre (`sidehill fill` helps)", 0, 2, false},
    {"scale_tolerance_percent", "%", "+- of a load, two standard deviations", 0, 20, false},
    {"scale_tolerance_least_kg", "kg", "but at least", 0, 500, false},
    {"length_tolerance_m", "m", "+- of every length, two standard deviations", 0, 0.2, false},
}};

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
  w.front_liquid = v[kFrontLiquid].value;
  w.rear_liquid = v[kRearLiquid].value;
  w.front_liquid_depth = v[kFrontDepth].value;
  w.rear_liquid_depth = v[kRearDepth].value;
  if (v[kScalePercent].given) sheet.tolerance.scale = v[kScalePercent].value / 100;
  if (v[kScaleLeast].given) sheet.tolerance.scale_least = v[kScaleLeast].value;
  if (v[kLength].given) sheet.tolerance.length = v[kLength].value;
  if (const auto conflict = find_weighing_conflict(w)) {
    unsigned line = 1;
    for (std::size_t i = 0; i < kKeys; ++i)
      if (kList[i].key == conflict->key) line = v[i].line;
    refuse_number(name, line, conflict->key, conflict->message);
  }
  return sheet;
}

WeighingSheet load_weighing(const std::filesystem::path& path) { return parse_weighing(read_text(path), path); }

}  // namespace sidehill

#include "sim/insight/difference.h"

#include <algorithm>
#include <cmath>
#include <span>

#include "sim/scene/scene_fields.h"
#include "vehicles/loader_tool.h"

namespace sidehill {
namespace {

bool same_machine(const Vehicle& a, const Vehicle& b) {
  return a.name == b.name && a.wheelbase == b.wheelbase && a.engine_power == b.engine_power;
}

bool same_filling(const Scene& a, const Scene& b, std::size_t wheel) {
  const TyreFill &one = a.ballast.fill[wheel], &two = b.ballast.fill[wheel];
  return one.medium == two.medium && one.concentration == two.concentration &&
         (one.fill_fraction > 0) == (two.fill_fraction > 0);
}

std::vector<PointMass> masses_named(const Scene& scene, std::string_view name) {
  std::vector<PointMass> found;
  for (const PointMass& mass : scene.ballast.point_masses)
    if (mass.name == name) found.push_back(mass);
  return found;
}

bool same_masses(const Scene& a, const Scene& b, std::string_view name) {
  return std::ranges::equal(masses_named(a, name), masses_named(b, name),
                            [](const PointMass& one, const PointMass& two) {
                              return one.mass == two.mass && one.place == two.place && one.on == two.on;
                            });
}

// Sizes of the two sides until the end, where they become ends.
struct DifferenceSum {
  std::optional<double> value;
  double down = 0, up = 0;
  bool no_low = false, no_high = false;

  // The answers with a cause moved; never = beyond any slope, else nothing is known of a side without an answer.
  std::optional<double> add(std::optional<double> a, std::optional<double> b, bool never) {
    if (!value) return std::nullopt;
    if (!a || !b) {
      no_low = no_low || !a || !never;
      no_high = no_high || !b || !never;
      return std::nullopt;
    }
    const double change = (*b - *a) - *value;
    double& side = change < 0 ? down : up;
    side = std::hypot(side, change);
    return change;
  }
  std::optional<DifferenceOf> settled() const {
    if (!value) return std::nullopt;
    DifferenceOf of{*value, {}, {}};
    if (!no_low) of.low = *value - down;
    if (!no_high) of.high = *value + up;
    return of;
  }
};

// What gives way first, of whichever kind.
std::optional<double> earliest_of(const Facts& f) {
  std::optional<double> first;
  for (const std::optional<double>& way : {f.slide, f.first_lift_off, f.tip_over})
    if (way && (!first || *way < *first)) first = way;
  return first;
}

// In one order for all: the six angles, the loads, the mass, the centre.
constexpr std::size_t kSlide = 2, kGivesWay = 5, kLoads = 6, kMass = kLoads + kWheels, kCentre = kMass + 1,
                      kAll = kCentre + 3;
std::array<std::optional<double>, kAll> all_of(const Facts& f) {
  std::array<std::optional<double>, kAll> all{f.first_lift_off, f.tip_over, f.slide,
                                              f.rigid_lift_off, f.margin,   earliest_of(f)};
  for (std::size_t i = 0; i < kWheels && f.rests; ++i) all[kLoads + i] = f.load[i];
  all[kMass] = f.mass;
  for (int k = 0; k < 3; ++k) all[kCentre + static_cast<std::size_t>(k)] = f.centre[k];
  return all;
}

struct DifferenceSums {
  std::vector<DifferenceSum> sums;
  std::vector<DifferenceDoubt> doubts;

  // The answers at both ends of a cause; none = that end is not there.
  void add(const std::string& key, bool common, const Facts* at_a[2], const Facts* at_b[2]) {
    DifferenceDoubt doubt{key, common, 0, 0};
    for (int side = 0; side < 2; ++side) {
      if (!at_a[side] || !at_b[side]) continue;
      const auto a = all_of(*at_a[side]), b = all_of(*at_b[side]);
      for (std::size_t i = 0; i < kAll; ++i) {
        const std::optional<double> change = sums[i].add(a[i], b[i], i < kLoads && i != kSlide);
        if (i > 0 || !change) continue;
        doubt.low = std::min(doubt.low, *change);
        doubt.high = std::max(doubt.high, *change);
      }
    }
    doubts.push_back(std::move(doubt));
  }
};

}  // namespace

bool same_unknown(const Scene& a, const Scene& b, const std::string& key) {
  const std::vector<const Field*> fields = targets_of(key);
  if (!fields.empty()) {
    if (key.starts_with("vehicle.") && !same_machine(a.vehicle, b.vehicle)) return false;
    for (std::size_t wheel = 0; wheel < kWheels; ++wheel) {
      const bool front = is_front(static_cast<int>(wheel));
      if (!key.starts_with(front ? "ballast.front" : "ballast.rear")) continue;
      if (key.find("fill_fraction") == key.npos && key.find("concentration") == key.npos) continue;
      if (!same_filling(a, b, wheel)) return false;
    }
    // Where both have no measure, it is the usual of each one's tool that is not known.
    const bool of_tool = key == "ballast.loader_tool_mass_kg" || key == "ballast.loader_load_ahead_m";
    if (of_tool &&
        (a.ballast.loader_tool != b.ballast.loader_tool || has_bale(a.ballast.bale) != has_bale(b.ballast.bale)))
      return false;
    return std::ranges::all_of(fields, [&](const Field* field) {
      const auto& number = std::get<NumberField>(field->kind);
      return file_value(number, a) == file_value(number, b);
    });
  }
  if (key.ends_with("density of the filling")) {
    const std::size_t first = key.starts_with("front") ? 0 : 2;
    return same_filling(a, b, first) && same_filling(a, b, first + 1);
  }
  for (std::string_view of : {": mass", ": height"})
    if (key.ends_with(of)) {
      const std::string name = key.substr(0, key.size() - of.size());
      if (!masses_named(a, name).empty()) return same_masses(a, b, name);
      if (!masses_named(b, name).empty()) return false;
    }
  return true;  // one of our rules
}

SetUpDifference difference(const Scene& a, const Uncertainty& of_a, const Scene& b, const Uncertainty& of_b) {
  DifferenceSums sums;
  const auto middle_a = all_of(of_a.middle), middle_b = all_of(of_b.middle);
  for (std::size_t i = 0; i < kAll; ++i) {
    sums.sums.emplace_back();
    if (middle_a[i] && middle_b[i]) sums.sums.back().value = *middle_b[i] - *middle_a[i];
  }

  std::vector<bool> met(of_b.moved.size(), false);
  const auto end_of = [](const Moved& moved, std::size_t side) {
    return moved.ends[side] ? &*moved.ends[side] : nullptr;
  };
  for (const Moved& one : of_a.moved) {
    std::size_t other = 0;
    while (other < met.size() && (met[other] || of_b.moved[other].key != one.key)) ++other;
    // Numbers known to a different width are not one unknown; the width of a rule's doubt depends on the set-up.
    const bool number = !targets_of(one.key).empty();
    if (other < met.size() && same_unknown(a, b, one.key) &&
        (!number || one.tolerance == of_b.moved[other].tolerance)) {
      met[other] = true;
      const Facts* at_a[2] = {end_of(one, 0), end_of(one, 1)};
      const Facts* at_b[2] = {end_of(of_b.moved[other], 0), end_of(of_b.moved[other], 1)};
      sums.add(one.key, true, at_a, at_b);
      continue;
    }
    const Facts* at_a[2] = {end_of(one, 0), end_of(one, 1)};
    const Facts* at_b[2] = {&of_b.middle, &of_b.middle};
    sums.add(one.key, false, at_a, at_b);
  }
  for (std::size_t i = 0; i < met.size(); ++i) {
    if (met[i]) continue;
    const Facts* at_a[2] = {&of_a.middle, &of_a.middle};
    const Facts* at_b[2] = {end_of(of_b.moved[i], 0), end_of(of_b.moved[i], 1)};
    sums.add(of_b.moved[i].key, false, at_a, at_b);
  }

  SetUpDifference out;
  out.same_machine = same_machine(a.vehicle, b.vehicle);
  out.first_lift_off = sums.sums[0].settled();
  out.tip_over = sums.sums[1].settled();
  out.slide = sums.sums[2].settled();
  out.rigid_lift_off = sums.sums[3].settled();
  out.margin = sums.sums[4].settled();
  out.gives_way = sums.sums[kGivesWay].settled();
  for (std::size_t i = 0; i < kWheels; ++i) out.load[i] = sums.sums[kLoads + i].settled();
  out.mass = *sums.sums[kMass].settled();
  for (std::size_t k = 0; k < 3; ++k) out.centre_of_gravity[k] = *sums.sums[kCentre + k].settled();
  out.doubts = std::move(sums.doubts);
  std::ranges::stable_sort(out.doubts, [](const DifferenceDoubt& one, const DifferenceDoubt& two) {
    return std::max(-one.low, one.high) > std::max(-two.low, two.high);
  });
  return out;
}

}  // namespace sidehill

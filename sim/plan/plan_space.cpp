#include "sim/plan/plan_space.h"

#include <algorithm>
#include <cmath>

#include "vehicles/tyre_cavity.h"
#include "vehicles/tyre_library.h"

namespace sidehill {
namespace {

constexpr double kFrontLevels[] = {0.4, 0.6, 0.75}, kRearLevels[] = {0.25, 0.4, 0.5, 0.6, 0.75};
constexpr double kSofter = 0.8;         // of today's pressure [-]
constexpr std::size_t kMostStates = 9;  // of one place for weights
constexpr std::size_t kMostWheels = 5;  // of one axle, the first of job.wheels

double room_of_axle(const Vehicle& vehicle, bool front) {
  return 2 * cavity_volume(cavity_of((front ? vehicle.front : vehicle.rear).tyre));
}

// The most that may hang there [kg], on wheels on each; 0 = no such place.
double most_at(const Vehicle& v, WeightPlace place) {
  switch (place) {
    case WeightPlace::front:
      return v.front_mount.max_mass;
    case WeightPlace::rear:
      return v.rear_mount.max_mass;
    case WeightPlace::front_wheels:
    case WeightPlace::rear_wheels:
      return v.max_wheel_weights;
  }
  return 0;
}

double mass_now(const BallastPlan& plan, WeightPlace place) {
  switch (place) {
    case WeightPlace::front:
      return plan.front_weights;
    case WeightPlace::rear:
      return plan.rear_weights;
    case WeightPlace::front_wheels:
      return plan.front_wheel_weights;
    case WeightPlace::rear_wheels:
      return plan.rear_wheel_weights;
  }
  return 0;
}

bool on_wheels(WeightPlace place) { return place == WeightPlace::front_wheels || place == WeightPlace::rear_wheels; }

// Every number of pieces of every entry for this place; wheels take them in pairs.
void add_pieces(const Job& job, WeightPlace place, double most, std::size_t entry, WeightState state,
                std::vector<WeightState>& out) {
  constexpr std::size_t kMany = 4000;
  if (out.size() > kMany) return;
  if (entry == job.weights.size()) {
    if (state.mass > 0) out.push_back(std::move(state));
    return;
  }
  const WeightOnHand& on_hand = job.weights[entry];
  const int step = on_wheels(place) ? 2 : 1;
  const int pieces = on_hand.place == place ? static_cast<int>(on_hand.pieces) : 0;
  for (int n = 0; n <= pieces; n += step) {
    WeightState next = state;
    next.pieces[entry] = n;
    const int on_each = n / step;  // on wheels
    next.mass += on_each * on_hand.mass;
    if (next.mass > most + 1e-9) break;
    add_pieces(job, place, most, entry + 1, std::move(next), out);
  }
}

// The first `firm` of a list, and evenly spaced ones of the rest, the last among them where there is room.
template <class T>
void thin(std::vector<T>& list, std::size_t most, std::size_t firm = 1) {
  if (list.size() <= most) return;
  std::vector<T> kept(list.begin(), list.begin() + static_cast<std::ptrdiff_t>(std::min(firm, most)));
  for (std::size_t left = most - kept.size(), rest = list.size() - kept.size(), i = 1; i <= left; ++i)
    kept.push_back(list[firm - 1 + i * rest / left]);
  list = std::move(kept);
}

// Today's filling, and behind it "on air" where there is one: what a plan that drains before the frost stands on.
std::size_t firm_fills(const std::vector<TyreFill>& fills) {
  return fills.size() > 1 && !(fills[1].fill_fraction > 0) ? 2 : 1;
}

void add_weights(PlanSpace& space, const Scene& scene, WeightPlace place) {
  const double now = mass_now(scene.ballast, place), most = most_at(scene.vehicle, place);
  const std::vector<int> none(scene.job.weights.size(), 0);
  std::vector<WeightState>& states = space.weights[static_cast<std::size_t>(place)];
  std::vector<WeightState> with;
  add_pieces(scene.job, place, most, 0, {0, none}, with);
  for (std::size_t i = 0; i < scene.job.weights.size(); ++i) {
    const WeightOnHand& one = scene.job.weights[i];
    if (one.place != place || (one.mass <= most + 1e-9 && (!on_wheels(place) || one.pieces >= 2))) continue;
    space.limits[static_cast<std::size_t>(PlanLimit::no_place)] = true;
    space.left_out.push_back(i);
  }
  std::ranges::stable_sort(with, {}, &WeightState::mass);
  const auto alike = [](const WeightState& a, const WeightState& b) { return a.mass == b.mass; };
  with.erase(std::unique(with.begin(), with.end(), alike), with.end());
  thin(with, kMostStates - 2);
  states.push_back({now, {}});
  if (now > 0) states.push_back({0, none});
  for (WeightState& state : with)
    if (state.mass != now) states.push_back(std::move(state));
}

void add_fills(PlanSpace& space, const Scene& scene, bool front) {
  const Job& job = scene.job;
  std::vector<TyreFill>& fills = space.fills[front ? 0 : 1];
  const TyreFill &left = scene.ballast.fill[front ? kFrontLeft : kRearLeft],
                 &right = scene.ballast.fill[front ? kFrontRight : kRearRight];
  fills.push_back(left);  // state 0 keeps both, however they differ
  if (left.fill_fraction > 0 || right.fill_fraction > 0) fills.push_back({});
  if (job.liquid_permitted == YesNo::no) {
    if (!job.media.empty()) space.limits[static_cast<std::size_t>(PlanLimit::liquid_not_permitted)] = true;
    return;
  }
  const double room = room_of_axle(scene.vehicle, front);
  for (const MediumOnHand& medium : job.media) {
    std::vector<double> levels(std::begin(kRearLevels), std::end(kRearLevels));
    if (front) levels.assign(std::begin(kFrontLevels), std::end(kFrontLevels));
    if (info(medium.medium).turns_with_wheel) levels = {1};
    bool any = false;
    for (const double level : levels) {
      const bool topped = left.medium == medium.medium && right.medium == medium.medium;
      const double kept = topped ? std::min(left.fill_fraction, right.fill_fraction) : 0;
      if (medium.volume > 0 && (level - kept) * room > medium.volume) continue;
      any = true;
      TyreFill fill;
      fill.medium = medium.medium;
      fill.fill_fraction = level;
      fill.price = medium.price;
      const bool there = fill.medium == left.medium && left.fill_fraction == level && right.fill_fraction == level;
      if (!there) fills.push_back(fill);
    }
    if (!any) space.limits[static_cast<std::size_t>(PlanLimit::too_little_liquid)] = true;
  }
}

std::optional<Axle> axle_with(const Axle& today, const WheelsOnHand& pair) {
  Axle axle = today;
  if (pair.fit == WheelsFit::beside) {
    if (today.dual_spacing > 0 || pair.dual_spacing < today.tyre.section_width) return std::nullopt;
    axle.dual_spacing = pair.dual_spacing;
    return axle;
  }
  axle.dual_spacing = 0;
  axle.tyre = tyre_of_size(pair.size);
  axle.tyre.service = pair.service;
  axle.tyre.pressure_offset = today.tyre.pressure_offset;
  axle.tyre.side_give_share = today.tyre.side_give_share;
  axle.wheel_mass = pair.wheel_mass;
  axle.spin_inertia = 0;
  axle.rim_capacity = pair.rim_capacity;
  const double change = axle.tyre.free_radius / today.tyre.free_radius - 1;
  if (std::abs(change) > kMostRadiusChange || axle.tyre.section_width >= axle.track) return std::nullopt;
  return axle;
}

void add_wheels(PlanSpace& space, const Scene& scene, bool front) {
  const Axle& today = front ? scene.vehicle.front : scene.vehicle.rear;
  std::vector<WheelsState>& states = space.wheels[front ? 0 : 1];
  states.push_back({today, {}});
  for (std::size_t i = 0; i < scene.job.wheels.size(); ++i) {
    const WheelsOnHand& pair = scene.job.wheels[i];
    if ((pair.axle == WheelsAxle::front) != front) continue;
    if (states.size() == kMostWheels) {
      space.limits[static_cast<std::size_t>(PlanLimit::thinned)] = true;
      break;
    }
    if (const auto axle = axle_with(today, pair))
      states.push_back({*axle, i});
    else
      space.limits[static_cast<std::size_t>(PlanLimit::wheels_do_not_fit)] = true;
  }
}

void thin_all(PlanSpace& space) {
  constexpr std::size_t kThinned =
      part(PlanPart::pressure);  // fillings and weights; of the rest there are few, and nothing lies between
  while (space.size() > kMostPlans) {
    // Of a list of fillings at least one stays that can be pumped in, as long as there are weights to leave out.
    std::size_t longest = kThinned, most = 0;
    for (std::size_t i = 0; i < kThinned; ++i) {
      const std::size_t least = i < 2 ? firm_fills(space.fills[i]) + 1 : 2,
                        states = space.states(static_cast<PlanPart>(i));
      if (states > least && states - least > most) longest = i, most = states - least;
    }
    if (longest == kThinned) return;  // to a few of each
    const std::size_t less = space.states(static_cast<PlanPart>(longest)) - 1;
    space.limits[static_cast<std::size_t>(PlanLimit::thinned)] = true;
    if (longest < 2)
      thin(space.fills[longest], less, firm_fills(space.fills[longest]));
    else
      thin(space.weights[longest - weights_part(0)], less);
  }
}

}  // namespace

std::size_t PlanSpace::states(PlanPart part) const {
  const auto i = static_cast<std::size_t>(part);
  if (i >= wheels_part(0)) return wheels[i - wheels_part(0)].size();
  if (part == PlanPart::pressure || part == PlanPart::track)
    return part == PlanPart::pressure ? pressures.size() : tracks.size();
  return i < weights_part(0) ? fills[i].size() : weights[i - weights_part(0)].size();
}

std::size_t PlanSpace::size() const {
  std::size_t all = 1;
  for (std::size_t i = 0; i < kPlanParts; ++i) all *= states(static_cast<PlanPart>(i));
  return all;
}

PlanSpace plan_space(const Scene& scene) {
  PlanSpace space;
  const Job& job = scene.job;
  space.limits[static_cast<std::size_t>(PlanLimit::nothing_on_hand)] =
      job.media.empty() && job.weights.empty() && job.wheels.empty();
  add_fills(space, scene, true);
  add_fills(space, scene, false);
  for (const auto& place : kWeightPlaces) add_weights(space, scene, place.value);
  space.pressures = {1, kSofter};
  const Axle &front = scene.vehicle.front, &rear = scene.vehicle.rear;
  space.tracks = {{front.track, rear.track}};
  const std::array<double, 2> wide{std::max(front.track, front.widest_track), std::max(rear.track, rear.widest_track)};
  if (wide != space.tracks.front()) space.tracks.push_back(wide);
  add_wheels(space, scene, true);
  add_wheels(space, scene, false);
  thin_all(space);
  return space;
}

PlanChoice plan_at(const PlanSpace& space, std::size_t place) {
  PlanChoice choice{};
  for (std::size_t i = 0; i < kPlanParts; ++i) {
    const std::size_t states = space.states(static_cast<PlanPart>(i));
    choice[i] = static_cast<std::uint8_t>(place % states);
    place /= states;
  }
  return choice;
}

std::size_t place_of(const PlanSpace& space, const PlanChoice& choice) {
  std::size_t place = 0;
  for (std::size_t i = kPlanParts; i-- > 0;) place = place * space.states(static_cast<PlanPart>(i)) + choice[i];
  return place;
}

Scene scene_of(const Scene& scene, const PlanSpace& space, const PlanChoice& choice) {
  Scene out = scene;
  BallastPlan& plan = out.ballast;
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}})
    if (choice[fill_part(axle)] > 0)
      plan.fill[2 * axle] = plan.fill[2 * axle + 1] = space.fills[axle][choice[fill_part(axle)]];
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}})
    if (choice[wheels_part(axle)] > 0)
      (axle == 0 ? out.vehicle.front : out.vehicle.rear) = space.wheels[axle][choice[wheels_part(axle)]].axle;
  plan.front_weights = space.weights[0][choice[weights_part(0)]].mass;
  plan.rear_weights = space.weights[1][choice[weights_part(1)]].mass;
  plan.front_wheel_weights = space.weights[2][choice[weights_part(2)]].mass;
  plan.rear_wheel_weights = space.weights[3][choice[weights_part(3)]].mass;
  const double softer = space.pressures[choice[part(PlanPart::pressure)]];
  out.vehicle.front.tyre.pressure *= softer;
  out.vehicle.rear.tyre.pressure *= softer;
  const auto& [front, rear] = space.tracks[choice[part(PlanPart::track)]];
  out.vehicle.front.track = front;
  out.vehicle.rear.track = rear;
  return out;
}

double room_in(const PlanSpace& space, const PlanChoice& choice, std::size_t axle) {
  return 2 * cavity_volume(cavity_of(space.wheels[axle][choice[wheels_part(axle)]].axle.tyre));
}

double kept_of_today(const Scene& scene, const PlanSpace& space, const PlanChoice& choice, std::size_t wheel) {
  const std::size_t axle = wheel / 2;
  const TyreFill &today = scene.ballast.fill[wheel], &fill = space.fills[axle][choice[fill_part(axle)]];
  const bool stays = today.medium == fill.medium &&
                     !space.wheels[axle][choice[wheels_part(axle)]].is_exchanged(scene.job) &&
                     strength(today.medium, today.concentration) == strength(fill.medium, fill.concentration);
  return stays ? today.fill_fraction : 0;
}

std::vector<double> liquid_taken(const Scene& scene, const PlanSpace& space, const PlanChoice& choice) {
  std::vector<double> taken(scene.job.media.size(), 0);
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}}) {
    if (choice[fill_part(axle)] == 0) continue;
    const TyreFill& fill = space.fills[axle][choice[fill_part(axle)]];
    const auto entry = std::ranges::find(scene.job.media, fill.medium, &MediumOnHand::medium);
    if (!(fill.fill_fraction > 0) || entry == scene.job.media.end()) continue;
    for (const std::size_t wheel : {2 * axle, 2 * axle + 1}) {
      const double in = kept_of_today(scene, space, choice, wheel);
      taken[static_cast<std::size_t>(entry - scene.job.media.begin())] +=
          std::max(0.0, fill.fill_fraction - in) * room_in(space, choice, axle) / 2;
    }
  }
  return taken;
}

bool is_in_stock(const Scene& scene, const PlanSpace& space, const PlanChoice& choice) {
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}}) {
    const auto& fill = scene.ballast.fill;
    const bool filled = fill[2 * axle].fill_fraction > 0 || fill[2 * axle + 1].fill_fraction > 0;
    if (filled && choice[fill_part(axle)] == 0 && space.wheels[axle][choice[wheels_part(axle)]].is_exchanged(scene.job))
      return false;
  }
  const std::vector<double> taken = liquid_taken(scene, space, choice);
  for (std::size_t i = 0; i < taken.size(); ++i)
    if (scene.job.media[i].volume > 0 && taken[i] > scene.job.media[i].volume + 1e-9) return false;
  return true;
}

}  // namespace sidehill

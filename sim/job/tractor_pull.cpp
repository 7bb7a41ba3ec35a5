#include "sim/job/tractor_pull.h"

#include <algorithm>
#include <cmath>

#include "sim/base/closed_in.h"
#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr int kPullSteps = 200;
constexpr double kLeadClosed = 1e-13;  // of a slip [-]
constexpr double kMassStep = 10;       // a slip is looked for at these steps of mass, then closed in [kg]
constexpr double kMassEnough = 1e-4;   // [kg]
constexpr double kPullEnough = 0.005;  // [N]

// One axle under way: its load, its equations, and its slip as a line over the slip that is looked for.
struct PullingAxle {
  double load = 0, mobility = 0;
  bool driven = false;
  WheelTraction wheel;
  double slip_from = 0, slip_by = 0;  // slip = slip_from + slip_by * leading slip

  double slip(double lead) const { return slip_from + slip_by * lead; }
  // A wheel that rolls freely has no gross traction: its whole motion resistance at no slip is in the way.
  double net(double lead) const {
    return driven ? load * net_ratio(wheel, slip(lead)) : -load * (wheel.at_zero + wheel.offset);
  }
  // How the pull grows with the leading slip.
  double growth(double lead) const {
    return load * slip_by * (wheel.most * wheel.rate * std::exp(-wheel.rate * slip(lead)) - wheel.by_slip);
  }
};

// PullingAxles axles at one pull. The leading slip is that of the rear wheels, or of the front ones where only they are
// driven.
struct PullingAxles {
  PullingAxle front, rear;
  double least = 0;  // of the leading slip, so that no driven wheel has a negative slip

  double net(double lead) const { return front.net(lead) + rear.net(lead); }
  double growth(double lead) const { return front.growth(lead) + rear.growth(lead); }
  bool carries() const { return front.load > 0 && rear.load > 0; }
};

PullingAxle pulling_axle(const PullAxle& axle, const PullGround& ground, double load) {
  PullingAxle d;
  d.load = load;
  d.driven = axle.driven;
  if (!(load > 0)) return d;
  d.mobility = mobility_number(axle.tyre, load / axle.tyres, ground.cone_index);
  d.wheel =
      ground.rolling ? road_traction(axle.set, d.mobility, *ground.rolling) : wheel_traction(axle.set, d.mobility);
  return d;
}

PullingAxles both_at(const PullTractor& t, const PullGround& ground, double pull) {
  const double moved = pull * t.hitch_height / t.wheelbase;
  PullingAxles b{pulling_axle(t.front, ground, t.front.load - moved),
                 pulling_axle(t.rear, ground, t.rear.load + moved)};
  if (t.rear.driven) b.rear.slip_by = 1;
  if (t.front.driven && !t.rear.driven) b.front.slip_by = 1;
  if (t.front.driven && t.rear.driven) {  // 1 - s_f = (1 - s_r) / (1 + lead)
    b.front.slip_by = 1 / (1 + t.front_lead);
    b.front.slip_from = 1 - b.front.slip_by;
    b.least = std::max(0.0, -t.front_lead);
  }
  return b;
}

// The leading slip of the greatest pull at these loads. The growth falls with slip and is convex, so that Newton's
// steps come from the left.
double slip_of_most(const PullingAxles& b) {
  if (b.growth(1) >= 0) return 1;
  double lead = b.least;
  for (int step = 0; step < kPullSteps; ++step) {
    const double growth = b.growth(lead);
    if (!(growth > 0)) break;
    double falls = 0;
    for (const PullingAxle* d : {&b.front, &b.rear})
      falls += d->load * d->slip_by * d->slip_by * d->wheel.most * d->wheel.rate * d->wheel.rate *
               std::exp(-d->wheel.rate * d->slip(lead));
    const double further = growth / falls;
    lead = std::min(lead + further, 1.0);
    if (further < kLeadClosed) break;
  }
  return lead;
}

// The first leading slip that gives the pull, which lies between `least` and `most`.
double slip_of_pull(const PullingAxles& b, double pull, double most) {
  double lead = b.least;
  for (int step = 0; step < kPullSteps; ++step) {
    const double short_of = pull - b.net(lead), growth = b.growth(lead);
    if (!(short_of > 0) || !(growth > 0)) break;
    const double further = short_of / growth;
    lead = std::min(lead + further, most);
    if (further < kLeadClosed) break;
  }
  return lead;
}

}  // namespace

PullAnswer pull_answer(const PullTractor& tractor, const PullGround& ground, double pull) {
  const PullingAxles b = both_at(tractor, ground, pull);
  PullAnswer a;
  a.front_load = b.front.load, a.rear_load = b.rear.load;
  if (!b.carries()) {
    a.kind = PullKind::axle_lifts;
    return a;
  }
  a.front_mobility = b.front.mobility, a.rear_mobility = b.rear.mobility;
  const double most = slip_of_most(b);
  a.most_here = b.net(most);
  if (!(pull <= a.most_here)) return a;
  a.kind = pull <= b.net(b.least) ? PullKind::needs_no_drive : PullKind::pulls;
  const double lead = slip_of_pull(b, pull, most);
  a.front_slip = b.front.slip(lead), a.rear_slip = b.rear.slip(lead);
  double spent = 0, driven = 0;
  for (const PullingAxle* d : {&b.front, &b.rear}) {
    if (!d->driven) continue;
    spent += gross_ratio(d->wheel, d->slip(lead)) * d->load / (1 - d->slip(lead));
    driven += d->load;
  }
  a.efficiency = spent > 0 ? pull / spent : 0;
  a.dynamic_ratio = driven > 0 ? pull / driven : 0;
  return a;
}

std::optional<double> greatest_pull(const PullTractor& tractor, const PullGround& ground) {
  const auto beyond = [&](double pull) {
    const PullingAxles b = both_at(tractor, ground, pull);
    return !b.carries() || !(pull <= b.net(slip_of_most(b)));
  };
  if (beyond(0)) return std::nullopt;
  // A wheel never pulls more than its load.
  const double all = tractor.front.load + tractor.rear.load;
  return closed_in(0, all, kPullEnough, beyond).first;
}

std::optional<double> least_mass_for_slip(const PullTractor& tractor, const PullGround& ground, double pull,
                                          double share_front, double slip_limit, double most) {
  const auto holds = [&](double mass) {
    PullTractor heavier = tractor;
    heavier.front.load += mass * kStandardGravity * share_front;
    heavier.rear.load += mass * kStandardGravity * (1 - share_front);
    const PullingAxles b = both_at(heavier, ground, pull);
    // The pull grows up to the slip of the greatest one: it is first reached at or before `slip_limit` if it is there.
    return b.carries() && slip_limit >= b.least && b.net(std::min(slip_limit, slip_of_most(b))) >= pull;
  };
  if (holds(0)) return 0;
  for (double mass = kMassStep; mass - kMassStep < most; mass += kMassStep) {
    const double there = std::min(mass, most);
    if (holds(there)) return closed_in(mass - kMassStep, there, kMassEnough, holds).second;
  }
  return std::nullopt;
}

}  // namespace sidehill

#include "sim/plan/plan_measures.h"

#include <algorithm>
#include <cmath>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/insight/job_slope.h"
#include "sim/job/at_work.h"
#include "vehicles/tyre_cavity.h"
#include "vehicles/winter.h"

namespace sidehill {
namespace {

std::vector<double> headings_of(JobHeadings headings) {
  if (headings == JobHeadings::across) return {-90 * kDegree, 90 * kDegree};
  if (headings == JobHeadings::up_and_down) return {0, 180 * kDegree};
  std::vector<double> all;
  for (int i = 0; i < 36; ++i) all.push_back((-180 + 10 * i) * kDegree);
  return all;
}

bool by_slide(const EnvelopePoint& point) {
  return point.slide && (!point.first_lift_off || *point.slide <= *point.first_lift_off);
}

// One of job.media by what a tyre holds; none of them: today's filling.
std::optional<std::size_t> entry_of(const Job& job, const TyreFill& fill) {
  for (std::size_t i = 0; i < job.media.size(); ++i)
    if (job.media[i].medium == fill.medium) return i;
  return std::nullopt;
}

bool freezes_at(const BallastPlan& plan, const TyreFill& fill, double coldest) {
  const WinterAnswer at = winter(Mix{fill.medium, fill.concentration, &plan.own_medium}, coldest);
  return at.frost == Frost::slushy || at.frost == Frost::solid || at.doubtful;
}

// What the plan holds in an axle, today's filling or a state of the space; it freezes on the coldest night.
bool in_frost(const PlanGround& ground, const PlanChoice& choice, std::size_t axle) {
  const Job& job = ground.scene.job;
  const auto freezes = [&](const TyreFill& fill) {
    if (!(fill.fill_fraction > 0) || info(fill.medium).turns_with_wheel) return false;
    const auto entry = fill.concentration > 0 ? std::nullopt : entry_of(job, fill);
    return entry ? ground.freezes[*entry] : freezes_at(ground.scene.ballast, fill, job.coldest);
  };
  if (choice[fill_part(axle)] > 0) return freezes(ground.space.fills[axle][choice[fill_part(axle)]]);
  return freezes(ground.scene.ballast.fill[2 * axle]) || freezes(ground.scene.ballast.fill[2 * axle + 1]);
}

// The state of an axle's tyres on air; today's where they are.
std::uint8_t on_air(const PlanGround& ground, std::size_t axle) {
  const std::vector<TyreFill>& fills = ground.space.fills[axle];
  return fills.size() > 1 && !(fills[1].fill_fraction > 0) ? 1 : 0;
}

void add_rules(PlanMeasures& out, const RuleReport& report) {
  std::bitset<kRuleIds> met;
  for (const RuleAnswer& rule : report.rules) {
    const auto id = static_cast<std::size_t>(rule.id);
    if (rule.limit) {
      if (rule.state == RuleState::not_met && !(out.drained && rule.id == RuleId::frost)) out.broken.set(id);
      if (rule.state == RuleState::not_known) out.not_known.set(id);
    } else if (rule.state == RuleState::met) {
      met.set(id);
    } else if (rule.state == RuleState::not_met) {
      out.missed.set(id);
    }
  }
  out.missed &= ~met;
}

void add_work(PlanMeasures& out, const Job& job, const WorkAnswer& work) {
  if (job.work != Work::none && work.known && work.pull_known) {
    const auto add = [&out](const PullAtWork& pull) {
      if (pull.answer.kind == PullKind::pulls)
        out.slip = std::max(out.slip.value_or(0), pull.answer.rear_slip);
      else if (pull.answer.kind == PullKind::needs_no_drive)
        out.slip = std::max(out.slip.value_or(0), 0.0);
      else
        out.cannot_pull = true;
    };
    add(work.level);
    if (job.slope > 0 && job.headings != JobHeadings::across) add(work.uphill);
  }
  if (work.work_rate || work.road_rate) out.fuel = work.work_year + work.road_year;
  if (out.fuel && !(*out.fuel > 0)) out.fuel.reset();
  out.ballast = work.ballast;
}

}  // namespace

PlanGround plan_ground(const Scene& scene) {
  PlanGround out;
  out.scene = scene;
  out.scene.terrain.features.clear();
  out.space = plan_space(out.scene);
  for (const MediumOnHand& medium : scene.job.media) {
    TyreFill fill;
    fill.medium = medium.medium;
    out.freezes.push_back(freezes_at(scene.ballast, fill, scene.job.coldest));
  }
  // Every room and every filling once: their tables take the time of a build.
  const auto lend = [&out](const Model& model) {
    for (const WheelModel& wheel : model.wheels)
      if (wheel.liquid.mass > 0) out.lumps.push_back(wheel.liquid);
  };
  const Model today = build(out.scene);
  lend(today);
  PlanChoice choice{};
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}})
    for (std::size_t i = 1; i < out.space.fills[axle].size(); ++i) {
      for (std::size_t wheels = 0; wheels < out.space.wheels[axle].size(); ++wheels) {
        if (wheels > 0 && !out.space.wheels[axle][wheels].is_exchanged(scene.job)) continue;  // the same room
        choice = {};
        choice[fill_part(axle)] = static_cast<std::uint8_t>(i);
        choice[wheels_part(axle)] = static_cast<std::uint8_t>(wheels);
        lend(build(scene_of(out.scene, out.space, choice), std::span<const LiquidLump>(out.lumps)));
      }
    }
  out.headings = headings_of(scene.job.work == Work::none ? JobHeadings::any : scene.job.headings);
  std::optional<EnvelopePoint> lifts, slides;
  for (const double heading : out.headings) {
    const EnvelopePoint point = point_at_heading(today, heading);
    if (point.first_lift_off && (!lifts || *point.first_lift_off < *lifts->first_lift_off)) lifts = point;
    if (point.slide && (!slides || *point.slide < *slides->slide)) slides = point;
  }
  for (const auto& point : {lifts, slides})
    if (point && std::ranges::find(out.deciding, point->heading) == out.deciding.end())
      out.deciding.push_back(point->heading);
  if (out.deciding.empty()) out.deciding.push_back(out.headings.front());
  return out;
}

PlanChoice drained(const PlanGround& ground, PlanChoice choice) {
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}})
    if (in_frost(ground, choice, axle)) choice[fill_part(axle)] = on_air(ground, axle);
  return choice;
}

PlanStand worse_of(const PlanStand& a, const PlanStand& b) {
  PlanStand out = b.gives_way && (!a.gives_way || *b.gives_way < *a.gives_way) ? b : a;
  out.lost = a.lost || b.lost;
  out.at_all = a.at_all && b.at_all;
  out.known = a.known && b.known;
  return out;
}

PlanStand stand_of(const PlanGround& ground, const PlanChoice& choice, bool all, const std::stop_token& stop) {
  const Model model = build(scene_of(ground.scene, ground.space, choice), std::span<const LiquidLump>(ground.lumps));
  PlanStand out;
  out.known = true;
  out.at_all = all || ground.deciding.size() == ground.headings.size();
  for (const double heading : all ? ground.headings : ground.deciding) {
    const EnvelopePoint point = point_at_heading(model, heading, stop);
    out.lost = out.lost || point.failed;
    if (point.failed || !point.gives_way() || (out.gives_way && *point.gives_way() >= *out.gives_way)) continue;
    out.gives_way = point.gives_way();
    out.heading = heading;
    out.by_slide = by_slide(point);
  }
  return out;
}

PlanMeasures measure(const PlanGround& ground, const PlanChoice& choice) {
  const Scene scene = scene_of(ground.scene, ground.space, choice);
  const Model model = build(scene, std::span<const LiquidLump>(ground.lumps));
  PlanMeasures out;
  out.drained = in_frost(ground, choice, 0) || in_frost(ground, choice, 1);
  const RuleReport rules = rules_on(scene, model);
  add_rules(out, rules);
  add_work(out, scene.job, at_work(scene, model, rules));
  for (const SoilUnder& under : soil_under(scene, model, rules).axles)
    if (under.stress[1]) out.soil = std::max(out.soil.value_or(0), *under.stress[1]);
  out.mass = total_mass(model);
  out.cost = cost_of_plan(ground.scene, ground.space, choice);
  out.effort = effort_of(ground, choice);
  return out;
}

double effort_of(const PlanGround& ground, const PlanChoice& choice) {
  constexpr double kMinute = 60, kRaise = 20 * kMinute, kMix = 15 * kMinute, kPiece = 4 * kMinute,
                   kHeavy = 12 * kMinute, kPump = 30e-3 / kMinute, kPressure = 10 * kMinute, kTrack = 60 * kMinute;
  const Scene& scene = ground.scene;
  const PlanSpace& space = ground.space;
  double time = 0;
  for (std::size_t axle = 0; axle < 2; ++axle) {
    const double room = room_in(space, choice, axle);
    const WheelsState& wheels = space.wheels[axle][choice[wheels_part(axle)]];
    if (wheels.entry) time += kRaise + 2 * kHeavy;
    const TyreFill& today = scene.ballast.fill[2 * axle];
    const TyreFill& fill = choice[fill_part(axle)] > 0 ? space.fills[axle][choice[fill_part(axle)]] : today;
    if (choice[fill_part(axle)] > 0) {
      const bool exchanged = wheels.is_exchanged(scene.job);  // today's liquid goes with its tyre
      double in = 0, out_of_it = 0;                           // of one tyre, both tyres of the axle together halved
      for (const std::size_t wheel : {2 * axle, 2 * axle + 1}) {
        const double today_in = scene.ballast.fill[wheel].fill_fraction,
                     stays = std::min(kept_of_today(scene, space, choice, wheel), fill.fill_fraction);
        in += (fill.fill_fraction - stays) / 2;
        if (!exchanged) out_of_it += (today_in - stays) / 2;
      }
      time += kRaise + (out_of_it + in) * room / kPump;
      if (in > 0 && info(fill.medium).solute) time += kMix;
    }
    if (in_frost(ground, choice, axle)) time += kRaise + fill.fill_fraction * room / kPump;
  }
  for (std::size_t place = 0; place < 4; ++place) {
    const WeightState& state = space.weights[place][choice[weights_part(place)]];
    if (choice[weights_part(place)] == 0) continue;
    const double today = space.weights[place][0].mass;
    if (today > 0) time += kHeavy;  // what is on comes off first
    for (std::size_t i = 0; i < state.pieces.size(); ++i)
      time += state.pieces[i] * (scene.job.weights[i].mass > 30 ? kHeavy : kPiece);
  }
  if (choice[part(PlanPart::pressure)] > 0) time += kPressure;
  if (choice[part(PlanPart::track)] > 0) time += 2 * kTrack;
  return time;
}

std::optional<double> cost_of_plan(const Scene& scene, const PlanSpace& space, const PlanChoice& choice) {
  double cost = 0;
  const std::vector<double> taken = liquid_taken(scene, space, choice);
  for (std::size_t i = 0; i < taken.size(); ++i) {
    if (!(taken[i] > 0)) continue;
    if (!is_given(scene.job.media[i].price)) return std::nullopt;
    cost += cost_of(scene.job.media[i].price, taken[i]).high;
  }
  for (std::size_t place = 0; place < 4; ++place) {
    const WeightState& state = space.weights[place][choice[weights_part(place)]];
    if (choice[weights_part(place)] == 0) continue;
    for (std::size_t i = 0; i < state.pieces.size(); ++i) {
      if (state.pieces[i] == 0) continue;
      if (!(scene.job.weights[i].price > 0)) return std::nullopt;
      cost += state.pieces[i] * scene.job.weights[i].price;
    }
  }
  for (const std::size_t axle : {std::size_t{0}, std::size_t{1}})
    if (const auto entry = space.wheels[axle][choice[wheels_part(axle)]].entry) {
      if (!(scene.job.wheels[*entry].price > 0)) return std::nullopt;
      cost += scene.job.wheels[*entry].price;
    }
  return cost;
}

}  // namespace sidehill

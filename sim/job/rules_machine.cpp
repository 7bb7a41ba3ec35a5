// What axles, tyres, rims, hitch and loader may carry, and what the steering needs. Part of sim/job/rules.
#include <algorithm>
#include <cmath>

#include "sim/job/rules_parts.h"

namespace sidehill {
namespace {

constexpr std::string_view kPlate = "the maker's plate";
constexpr std::string_view kLoaderStandard = "EN 12525 + A2";
constexpr double kNarrow = 1.15;  // track below which the law asks for the height, category T2 [m]
constexpr double kHeightOverTrack = 0.90;

}  // namespace

void RuleParts::add(RuleAnswer rule) {
  const std::optional<double> margin = margin_of(rule);
  if (margin)
    rule.state = *margin >= 0 ? RuleState::met : RuleState::not_met;
  else
    rule.state = RuleState::not_known;
  if (rule.state == RuleState::met) rule.cure = Cure::none, rule.amount = 0;
  report.rules.push_back(rule);
}

void RuleParts::axles_and_tyres() {
  const Vehicle& v = scene.vehicle;
  const AxleShare& now = report.axles;
  if (now.rear <= 0 || now.front <= 0)
    add({.id = RuleId::both_axles,
         .source = "it tips over the other axle where it stands",
         .when = now.rear <= 0 ? "the rear axle" : "the front axle",
         .low = 0,
         .there = std::min(now.front, now.rear),
         .cure = now.rear <= 0 ? Cure::less_load : Cure::front_weights});
  const auto most = [&](RuleId id, double capacity, double load, Cure cure) {
    const bool known = capacity > 0;
    add({.id = id,
         .kind = RuleKind::maker,
         .source = known ? kPlate : "no figure given",
         .high = known ? std::optional(capacity) : std::nullopt,
         .there = load,
         .cure = known ? cure : Cure::read_plate,
         .amount = known ? load - capacity : 0});
  };
  most(RuleId::total_mass, v.permitted_mass, now.front + now.rear, Cure::less_mass);
  most(RuleId::front_axle, v.front.capacity, now.front, Cure::less_load);
  most(RuleId::rear_axle, v.rear.capacity, now.rear, Cure::less_load);
  for (const bool front : {true, false}) {
    const std::size_t left = front ? 0 : 2, right = left + 1;
    const auto& tyres = report.loads.tyres;
    const TyreCheck& fuller = tyres[left].margin.load >= tyres[right].margin.load ? tyres[left] : tyres[right];
    const bool known = fuller.service.has_value();
    add({.id = front ? RuleId::front_tyres : RuleId::rear_tyres,
         .kind = known && fuller.rating == Rating::typical ? RuleKind::practice : RuleKind::maker,
         .source = !known ? "no mark given, and none typical of the size"
                   : fuller.rating == Rating::stated
                       ? "the service mark given; the pressure's part by the press's rule "
                         "of thumb"
                       : "our list of sizes; the pressure's part by the press's rule of "
                         "thumb",
         .when = fuller.multiple.use,
         .high = known ? std::optional(fuller.margin.capacity) : std::nullopt,
         .there = fuller.margin.load,
         .cure = known ? Cure::stronger_tyre : Cure::read_plate,
         .amount = known ? fuller.margin.load - fuller.margin.capacity : 0});
    const double rim = (front ? v.front : v.rear).rim_capacity;
    const int rims = (front ? v.front : v.rear).dual_spacing > 0 ? 2 : 1;
    most(front ? RuleId::front_rims : RuleId::rear_rims, rim, fuller.margin.load / rims, Cure::stronger_rim);
  }
}

void RuleParts::mounts() {
  const Vehicle& v = scene.vehicle;
  const BallastPlan& plan = scene.ballast;
  const auto most = [&](RuleId id, double capacity, double there) {
    if (!(there > 0)) return;
    add({.id = id,
         .kind = RuleKind::maker,
         .source = "the machine file's figure",
         .high = capacity,
         .there = there,
         .cure = Cure::less_mass,
         .amount = there - capacity});
  };
  most(RuleId::front_mount, v.front_mount.max_mass, plan.front_weights);
  most(RuleId::rear_mount, v.rear_mount.max_mass, plan.rear_weights);
  most(RuleId::wheel_weights, v.max_wheel_weights, plan.rear_wheel_weights);
}

void RuleParts::steering() {
  const Vehicle& v = scene.vehicle;
  const double bare = report.unladen.front + report.unladen.rear;
  // What is bolted on already is part of the axle loads, so the formulas' implement is nothing and their answer is what
  // must come on top.
  const Levers levers{v.front_mount.x - v.wheelbase, v.wheelbase, -v.rear_mount.x, 0};
  const auto fifth = [&](RuleId id, double front, std::string_view source, RuleKind kind) {
    const double more = levers.a + levers.b > 0 ? front_ballast(0, front, bare, levers) : 0;
    add({.id = id,
         .kind = kind,
         .source = source,
         .low = 0.2 * bare,
         .there = front,
         .cure = v.front_mount.max_mass > 0 && more > 0 ? Cure::front_weights : Cure::less_load,
         .amount = more});
  };
  if (!v.front_axle.casters) {
    const double standing = axle_share(model).front;
    fifth(RuleId::steering_axle, standing, "Regulation (EU) 2015/208 Annex XXII 2.2", RuleKind::law);
    if (std::abs(report.axles.front - standing) > 0.5)
      fifth(RuleId::steering_with_load, report.axles.front, "Regulation (EU) 2015/208 Annex XXII 2.2; a maker's manual",
            RuleKind::law);
  }
  const double height = centre_of_gravity(model).z, track = 0.5 * (v.front.track + v.rear.track);
  const bool narrow = std::min(v.front.track, v.rear.track) < kNarrow;
  add({.id = RuleId::centre_height,
       .kind = narrow ? RuleKind::law : RuleKind::practice,
       .source = narrow ? "Regulation (EU) 167/2013 Art. 4, category T2"
                        : "asked of tracks below 1.15 m by Regulation (EU) 167/2013 Art. 4, here a guide",
       .unit = RuleUnit::length,
       .high = kHeightOverTrack * track,
       .there = height,
       .limit = narrow,
       .cure = Cure::wider_track,
       .amount = height / kHeightOverTrack - track});
  if (scene.ballast.front_weights > 0) {
    const double more = levers.b + levers.c > 0 ? rear_ballast(0, report.axles.rear, bare, levers) : 0;
    add({.id = RuleId::rear_with_front_weight,
         .kind = RuleKind::standard,
         .source = "EN ISO 4254-10 Annex B",
         .low = 0.45 * bare,
         .there = report.axles.rear,
         .cure = v.rear_mount.max_mass > 0 && more > 0 ? Cure::rear_weights : Cure::less_load,
         .amount = more});
  }
}

void RuleParts::hitch() {
  const Vehicle& v = scene.vehicle;
  const bool by_job = scene.job.hitch == JobHitch::drawbar && !(scene.ballast.trailer.mass > 0);
  const AxleShare bar = drawbar_share(model);
  const double load = by_job ? scene.job.implement_mass : bar.front + bar.rear;
  if (!(load > 0)) return;
  if (!v.front_axle.casters) {
    const double front = by_job ? axle_share(model).front : report.axles.front - bar.front;
    const double highest = coupling_height(front, report.unladen.front + report.unladen.rear, total_mass(model),
                                           model.wheelbase, load, -v.hitch.x);
    add({.id = RuleId::coupling_height,
         .kind = RuleKind::law,
         .source = "Regulation (EU) 2018/829 Annex II (4)(a)",
         .unit = RuleUnit::length,
         .high = std::max(0.0, highest),
         .there = v.hitch.z,
         .cure = Cure::lower_hitch,
         .amount = v.hitch.z - std::max(0.0, highest)});
  }
  const bool known = v.hitch.max_load > 0;
  add({.id = RuleId::drawbar_load,
       .kind = RuleKind::maker,
       .source = known ? kPlate : "no figure given",
       .high = known ? std::optional(v.hitch.max_load) : std::nullopt,
       .there = load,
       .cure = known ? Cure::less_load : Cure::read_plate,
       .amount = known ? load - v.hitch.max_load : 0});
}

void RuleParts::loader() {
  const Vehicle& v = scene.vehicle;
  if (!v.loader.fitted) return;
  double load = 0, moment = 0;
  for (const LedgerLine& line : model.ledger)
    if (line.item == LedgerItem::payload) {
      load += line.props.mass;
      moment += line.props.mass * (line.props.com.x - model.wheelbase);
    }
  const double ahead = load > 0 ? moment / load : 0;
  add({.id = RuleId::loader_rating,
       .kind = RuleKind::maker,
       .source = kPlate,
       .high = v.loader.rated_payload,
       .there = load,
       .cure = Cure::less_load,
       .amount = load - v.loader.rated_payload});
  const AxleShare& now = report.axles;
  const double mass = now.front + now.rear, behind = -v.rear_mount.x, on_front = load * (1 + ahead / v.wheelbase);
  const double more =
      5 * behind + 4 * v.wheelbase > 0
          ? loader_counterweight(now.rear + on_front - load, now.front - on_front, load, ahead, behind, v.wheelbase)
          : 0;
  add({.id = RuleId::loader_rear_axle,
       .kind = RuleKind::standard,
       .source = kLoaderStandard,
       .low = 0.2 * mass,
       .there = now.rear,
       .cure = v.rear_mount.max_mass > 0 ? Cure::rear_weights : Cure::less_load,
       .amount = more});
  if (report.tips)
    add({.id = RuleId::loader_tipping,
         .kind = RuleKind::standard,
         .source = "ISO 14397-1 (earth-moving machines: a guide here)",
         .high = 0.5 * report.tips->load,
         .there = load,
         .cure = Cure::less_load,
         .amount = load - 0.5 * report.tips->load});
}

}  // namespace sidehill

#include "sim/insight/verdict.h"

#include <algorithm>

#include "sim/model/fill_frost.h"
#include "vehicles/loader_tool.h"

namespace sidehill {
namespace {

// A bend downhill may lift a wheel on the level that this slope presses down again: nothing gives way there.
std::optional<double> slope_of(const ManoeuvreAnswer& m, GivesWay what) {
  if (what == GivesWay::slide) return m.slide;
  if (m.margin && *m.margin < 0 && !lifts_under_way(m)) return std::nullopt;
  return m.lift_off.slope;
}

std::vector<WayGiven> ways_of(const Scene& scene, const StaticSolution& s, const Uncertainty* u,
                              std::span<const ManoeuvreAnswer> manoeuvres) {
  std::vector<WayGiven> ways;
  const bool even = scene.terrain.features.empty();
  const double here = scene.terrain.slope;
  const auto add = [&](GivesWay what, std::optional<double> slope, std::optional<Interval> interval, int wheel = -1) {
    if (slope) ways.push_back({what, *slope, here, *slope - here, even ? interval : std::nullopt, wheel});
  };
  const auto add_under_way = [&](GivesWay what, std::optional<double> standing) {
    std::optional<WayGiven> first;
    for (const ManoeuvreAnswer& m : manoeuvres) {
      const std::optional<double> slope = m.acceleration > 0 ? slope_of(m, what) : std::nullopt;
      if (!slope || (standing && *slope >= *standing) || (first && *slope >= first->slope)) continue;
      first = {what, *slope, here, *slope - here, {}, what == GivesWay::lift_off ? m.lift_off.wheel : -1, m.kind};
    }
    if (first) ways.push_back(*first);
  };
  add(GivesWay::slide, s.slide, u ? u->slide : std::nullopt);
  add(GivesWay::lift_off, s.first_lift_off, u ? u->first_lift_off : std::nullopt, s.first_wheel);
  add(GivesWay::tip_over, s.tip_over, u ? u->tip_over : std::nullopt);
  add_under_way(GivesWay::slide, s.slide);
  add_under_way(GivesWay::lift_off, s.first_lift_off);
  std::ranges::stable_sort(ways, {}, &WayGiven::slope);
  return ways;
}

void add_tyres_and_axles(StandVerdict& verdict, const LoadCheck& loads) {
  for (int axle = 0; axle < 2; ++axle) {
    const LoadMargin& margin = loads.axles[static_cast<std::size_t>(axle)];
    if (margin.capacity > 0 && margin.used > 1) verdict.over.push_back({LimitKind::axle, axle, margin});
    if (!(margin.capacity > 0)) verdict.axle_not_known[static_cast<std::size_t>(axle)] = true;
  }
  for (int w = 0; w < kWheels; ++w) {
    const TyreCheck& tyre = loads.tyres[static_cast<std::size_t>(w)];
    if (!tyre.service) verdict.tyres_not_known[is_front(w) ? 0 : 1] = true;
    if (!tyre.service || !(tyre.margin.used > 1)) continue;
    const bool typical = tyre.rating != Rating::stated;
    (typical ? verdict.may_be_over : verdict.over)
        .push_back({LimitKind::tyre, w, tyre.margin, typical, tyre.tyres > 1, tyre.by_one});
  }
}

// What is over its limit in the bend or braking asked for, and not standing still: the most of all that is asked for.
void add_loads_under_way(StandVerdict& verdict, const Scene& scene, const Model& model,
                         std::span<const ManoeuvreAnswer> manoeuvres) {
  const auto add = [](std::vector<OverLimit>& to, OverLimit limit, ManoeuvreKind kind) {
    const auto there = std::ranges::find_if(
        to, [&](const OverLimit& known) { return known.kind == limit.kind && known.where == limit.where; });
    limit.doing = kind;
    if (there == to.end())
      to.push_back(limit);
    else if (there->doing && there->margin.used < limit.margin.used)
      *there = limit;
  };
  for (const ManoeuvreAnswer& m : manoeuvres) {
    if (!m.rest || !model.terrain.features.empty()) continue;
    StandVerdict under_way;
    add_tyres_and_axles(under_way, check_loads(scene, model, *m.rest));
    for (const OverLimit& limit : under_way.over) add(verdict.over, limit, m.kind);
    for (const OverLimit& limit : under_way.may_be_over) add(verdict.may_be_over, limit, m.kind);
  }
}

// What is bolted on or carried, against the maker's figure; a place for nothing takes nothing.
void add_mounts(StandVerdict& verdict, const Scene& scene) {
  const Vehicle& v = scene.vehicle;
  const BallastPlan& plan = scene.ballast;
  const auto hold = [&](LimitKind kind, double there, double most) {
    const LoadMargin margin = load_margin(there, most);
    if (margin.used > 1) verdict.over.push_back({kind, 0, margin});
  };
  hold(LimitKind::front_mount, plan.front_weights, v.front_mount.max_mass);
  hold(LimitKind::rear_mount, plan.rear_weights, v.rear_mount.max_mass);
  hold(LimitKind::wheel_weights, plan.rear_wheel_weights, v.max_wheel_weights);
  if (v.loader.fitted) hold(LimitKind::bucket, loader_load(plan) + plan.hanging_mass, v.loader.rated_payload);
}

// Those of the even slope: on features they are not known. A tyre's that is passed already is among what is over.
std::vector<RatingPassed> ratings_of(const Scene& scene, const LoadLimits* limits) {
  std::vector<RatingPassed> ratings;
  if (!limits || !scene.terrain.features.empty()) return ratings;
  if (limits->tyre_overload && (*limits->tyre_overload > scene.terrain.slope || *limits->tyre_overload <= 0))
    ratings.push_back({false, limits->overloaded_wheel, limits->overload_stated, *limits->tyre_overload});
  if (limits->steering_gone) ratings.push_back({true, -1, false, *limits->steering_gone});
  std::ranges::stable_sort(ratings, {}, &RatingPassed::slope);
  return ratings;
}

// Once a wheel is up or the tyres do not hold standing still, that they do not under way is no news.
std::vector<UnderWay> under_way_of(std::span<const ManoeuvreAnswer> manoeuvres, RestStatus status, bool slides,
                                   double slope) {
  std::vector<UnderWay> list;
  if (status == RestStatus::tipped || status == RestStatus::on_stop || status == RestStatus::wheel_up) return list;
  for (const ManoeuvreAnswer& m : manoeuvres) {
    if (!(m.acceleration > 0)) continue;
    if (tips_under_way(m))
      list.push_back({StandCause::tips_under_way, m});
    else if (lifts_under_way(m))
      list.push_back({StandCause::lifts_under_way, m});
    else if (!slides && m.slide && *m.slide < slope)
      list.push_back({StandCause::slides_under_way, m});
  }
  std::ranges::stable_sort(list, {}, &UnderWay::what);
  return list;
}

}  // namespace

bool StandVerdict::holds(StandCause cause) const {
  return headline == cause || std::ranges::find(also, cause) != also.end();
}

StandVerdict verdict_on(const Scene& scene, const Model& model, const StaticSolution& statics, const LoadCheck* loads,
                        const Uncertainty* uncertainty, const LoadLimits* limits,
                        std::span<const ManoeuvreAnswer> manoeuvres) {
  StandVerdict out;
  const double slope = scene.terrain.slope;
  const RestStatus status = statics.status;
  const bool known = status != RestStatus::unsolved;
  if (known) out.gives_way = ways_of(scene, statics, uncertainty, manoeuvres);
  if (loads) {
    out.on_level = loads->level;
    add_tyres_and_axles(out, *loads);
    if (!loads->level) add_loads_under_way(out, scene, model, manoeuvres);
  }
  add_mounts(out, scene);
  const auto used = [](const OverLimit& limit) { return limit.margin.used; };
  std::ranges::stable_sort(out.over, std::ranges::greater{}, used);
  std::ranges::stable_sort(out.may_be_over, std::ranges::greater{}, used);
  out.ratings = ratings_of(scene, limits);

  const bool slides = known && (status == RestStatus::slides || (statics.slide && *statics.slide <= slope));
  const bool yields =
      status == RestStatus::tipped || status == RestStatus::on_stop || status == RestStatus::wheel_up || slides;
  out.under_way = under_way_of(manoeuvres, status, slides, slope);
  if (known && !yields)  // once something has given way that it may do so is no news
    for (const WayGiven& way : out.gives_way)
      if (!out.reaches && way.interval && way.interval->low <= slope) out.reaches = way;

  // What is passed in a bend already has a cause of its own.
  if (known && !yields) {
    const auto first = std::ranges::find_if(out.gives_way, [](const WayGiven& w) { return !w.doing || w.left >= 0; });
    if (first != out.gives_way.end() && first->left < kLittleLeft) out.little = *first;
  }

  std::vector<StandCause> causes;
  const auto if_holds = [&](bool holds, StandCause cause) {
    if (holds) causes.push_back(cause);
  };
  if_holds(status == RestStatus::tipped, StandCause::tipped);
  if_holds(status == RestStatus::on_stop, StandCause::on_stop);
  if_holds(status == RestStatus::wheel_up, StandCause::wheel_up);
  if_holds(slides, StandCause::slides);
  if_holds(!known, StandCause::unsolved);
  for (StandCause cause : {StandCause::tips_under_way, StandCause::lifts_under_way, StandCause::slides_under_way})
    if_holds(std::ranges::find(out.under_way, cause, &UnderWay::what) != out.under_way.end(), cause);
  if_holds(std::ranges::any_of(model.wheels, &WheelModel::ice), StandCause::frozen);
  if_holds(!out.over.empty(), StandCause::over_limit);
  if_holds(!out.may_be_over.empty(), StandCause::may_be_over_limit);
  if_holds(frost_not_known(scene), StandCause::frost_not_known);
  if_holds(out.reaches.has_value(), StandCause::interval_reaches_slope);
  if_holds(out.little.has_value(), StandCause::little_left);
  if (causes.empty()) causes.push_back(StandCause::stands);
  out.headline = causes.front();
  out.also.assign(causes.begin() + 1, causes.end());
  return out;
}

}  // namespace sidehill

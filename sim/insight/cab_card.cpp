#include "sim/insight/cab_card.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>
#include <tbb/partitioner.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/insight/answer.h"
#include "sim/insight/slope_limit.h"
#include "sim/insight/uncertainty.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "vehicles/loader_tool.h"

namespace sidehill {
namespace {

constexpr double kCarried = 0.45;          // bucket pin as one drives [m]; our choice
constexpr double kAlike = 0.1;             // heights nearer to each other are one row [m]
constexpr int kMovingParts = 4;            // of the work: a moving cell against a standing one
constexpr double kAcross = 90 * kDegree;   // [rad]
constexpr double kTurned = 200 * kDegree;  // round from across until past across on the other side [rad]

// At one heading: what gives way first, and how far off each way may be.
struct CardGiven {
  double low = 0, middle = 0;
  CardWay way = CardWay::lifts;
  double heading = 0;
  std::array<double, count_of<CardWay>()> doubt{};  // middle less lower end, order of enum CardWay [rad]; 0 = not there
};

// What gives way first at a heading. Of those whose lower ends round to the same whole degree the worst is named.
std::optional<CardGiven> given_at(const Scene& row, const Model& like, double heading, const std::stop_token& stop) {
  Scene turned = row;
  turned.start.heading = heading;
  const Model model = build(turned, &like);
  const Uncertainty all = uncertainty(turned, model, solve_statics(model, stop), stop);
  const std::array<std::optional<Interval>, 3> ends{all.slide, all.first_lift_off, all.tip_over};
  const std::array<std::optional<double>, 3> middles{all.middle.slide, all.middle.first_lift_off, all.middle.tip_over};
  std::optional<CardGiven> first;
  std::array<double, 3> doubt{};
  for (std::size_t i = 0; i < ends.size(); ++i) {
    if (!ends[i] || !middles[i]) continue;
    doubt[i] = *middles[i] - ends[i]->low;
    if (!first || ends[i]->low < first->low)
      first = CardGiven{ends[i]->low, *middles[i], static_cast<CardWay>(i), heading, {}};
  }
  if (!first) return first;
  first->doubt = doubt;
  for (std::size_t i = 0; i < ends.size(); ++i)
    if (ends[i] && whole_degrees_down(ends[i]->low) == whole_degrees_down(first->low))
      first->way = std::max(first->way, static_cast<CardWay>(i));
  return first;
}

CardCell standing_cell(const Scene& row, const Model& model, std::size_t& lost, const std::stop_token& stop) {
  CardCell cell;
  std::vector<EnvelopePoint> points;
  for (int i = 0; i < kUsualHeadings && !stop.stop_requested(); ++i)
    points.push_back(point_at_heading(model, -kPi + kTwoPi * i / kUsualHeadings, stop));
  lost = static_cast<std::size_t>(std::ranges::count_if(points, &EnvelopePoint::failed));
  if (stop.stop_requested() || lost == points.size()) return cell;
  // Where a wheel lifts soonest and where it slides soonest; the doubt decides which of the two comes first.
  std::vector<double> headings;
  if (const auto lifts = worst_heading(model, points, row.start.heading, stop)) headings.push_back(lifts->heading);
  std::optional<EnvelopePoint> slides;
  for (const EnvelopePoint& point : points)
    if (point.slide && (!slides || *point.slide < *slides->slide)) slides = point;
  if (slides) headings.push_back(slides->heading);
  std::optional<CardGiven> first;
  for (const double heading : headings) {
    const auto given = given_at(row, model, heading, stop);
    if (given && (!first || given->low < first->low)) first = given;
  }
  if (!first) {
    cell.answer = lost == 0 ? CardAnswer::nothing_found : CardAnswer::not_known;
    return cell;
  }
  cell.answer = CardAnswer::gives_way;
  cell.slope = std::max(0.0, first->low);
  cell.found = first->middle;
  cell.doubt = first->middle - first->low;
  cell.way = first->way;
  cell.heading = first->heading;
  return cell;
}

// What the runs alone say; `found` is the last slope they bear.
CardCell moving_cell(const Scene& programme, const CardMotion& motion, const std::stop_token& stop) {
  CardCell cell;
  SlopeLimitAsk ask;
  ask.steepest = motion.steepest;
  ask.fine = motion.search_width;
  SlopeLimit limit;
  try {
    limit = first_failing_slope(programme, ask, stop);
  } catch (const InputError&) {  // no machine that can drive so, or a run that cannot be judged
    return cell;
  }
  if (limit.open) {
    cell.answer = CardAnswer::nothing_found;
    return cell;
  }
  if (limit.no_limit == NoLimit::slides_unjudged || limit.fails_as == Outcome::diverged) return cell;
  cell.answer = CardAnswer::gives_way;
  if (limit.no_limit == NoLimit::slides_first) {
    cell.way = CardWay::slides;
    cell.found = limit.slides_at;
  } else {
    cell.way = overturns(limit.fails_as) ? CardWay::over : CardWay::lifts;
    cell.found = limit.slope.value_or(0);
  }
  return cell;
}

// True if the machine comes to stand at the bump instead of crossing it on this slope: what a run without a lift says
// then is nothing. One that goes over is another matter.
bool stops_at_bump(const Scene& programme, double slope, const std::stop_token& stop) {
  constexpr double kLook = 0.25;  // [s]
  Scene there = programme;
  there.terrain.slope = slope;
  there.settings.engine = Engine::own;
  Runner runner(there, build(there));
  while (!runner.done() && !stop.stop_requested()) runner.advance(kLook);
  const Recording& run = runner.recording();
  if (run.outcome == Outcome::diverged || overturns(run.outcome)) return false;
  // The rear wheels stand beyond its ridge.
  return std::abs(run.states.back().X_GV.p.x - run.states.front().X_GV.p.x) <
         std::abs(programme.terrain.features.front().x);
}

CardCell bump_cell(const Scene& programme, const CardMotion& motion, const std::stop_token& stop) {
  CardCell cell = moving_cell(programme, motion, stop);
  const bool slides = cell.answer == CardAnswer::gives_way && cell.way == CardWay::slides;
  try {
    if (stops_at_bump(programme, 0, stop) || (cell.found && !slides && stops_at_bump(programme, *cell.found, stop))) {
      cell = {};
      cell.stopped = true;
    }
  } catch (const InputError&) {  // cannot move: not known already
  }
  return cell;
}

// The search's width comes off, and the doubt of standing still in the same row: of its cell, or of the same way across
// the slope where that is more. Standing across the same slope is the upper bound: a bump or a bend only adds to it.
void take_doubt_off(CardCell& moving, const CardCell& standing, const std::optional<CardGiven>& across,
                    const CardMotion& motion) {
  if (moving.answer == CardAnswer::not_known) return;
  if (standing.answer != CardAnswer::gives_way || !across) {  // no doubt that could be taken off
    if (moving.answer == CardAnswer::gives_way || standing.answer == CardAnswer::not_known)
      moving.answer = CardAnswer::not_known;
    return;
  }
  if (moving.answer == CardAnswer::gives_way) {
    moving.doubt = std::max(standing.doubt, across->doubt[static_cast<std::size_t>(moving.way)]) + motion.search_width;
    moving.slope = std::max(0.0, *moving.found - moving.doubt);
    if (moving.slope <= across->low) return;
  }
  moving.answer = CardAnswer::gives_way;
  moving.slope = std::max(0.0, across->low);
  moving.way = across->way;
  moving.as_standing = true;
}

bool carries_too_much(const Scene& row, const Model& model) {
  Answer level = unanswered(row, model);
  level.model.terrain.slope = level.scene.terrain.slope = 0;
  constexpr Stage kAsked[] = {Stage::rest, Stage::loads};
  compute(kAsked, level);
  const StandVerdict verdict = verdict_on(level);
  return !verdict.over.empty() || !verdict.may_be_over.empty();
}

bool turns(const Scene& scene) { return !(scene.ballast.trailer.mass > 0); }

}  // namespace

int whole_degrees_down(double slope) { return std::max(0, static_cast<int>(std::floor(slope / kDegree))); }

std::optional<CardPlace> worst_of(const CabCard& card) {
  std::optional<CardPlace> worst;
  const auto before = [&](const CardCell& a, const CardCell& b) {
    const int here = whole_degrees_down(a.slope), there = whole_degrees_down(b.slope);
    return here != there ? here < there : a.way > b.way;
  };
  for (const CardCase what : {CardCase::standing, CardCase::bump, CardCase::bend})
    for (std::size_t i = 0; i < card.rows.size(); ++i) {
      const CardCell& cell = card.rows[i].at(what);
      if (cell.answer != CardAnswer::gives_way) continue;
      if (!worst || before(cell, card.rows[worst->row].at(worst->what))) worst = CardPlace{i, what};
    }
  return worst;
}

std::size_t cells_with(const CabCard& card, CardAnswer answer) {
  std::size_t count = 0;
  for (const CardRow& row : card.rows)
    count += static_cast<std::size_t>(
        std::ranges::count_if(row.cells, [&](const CardCell& cell) { return cell.answer == answer; }));
  return count;
}

std::vector<double> card_heights(const Scene& scene) {
  const Loader& loader = scene.vehicle.loader;
  if (!loader.fitted) return {};
  const double full = loader.max_pin_height, lowest = std::min(lowest_pin_height(loader, scene.ballast), full);
  std::vector<double> heights{lowest};
  for (const double height : {kCarried, 0.5 * (lowest + full), full})
    if (height > heights.back() + kAlike && (height <= full - kAlike || height == full)) heights.push_back(height);
  return heights;
}

std::vector<double> card_loads(const Scene& scene) {
  const Loader& loader = scene.vehicle.loader;
  if (!loader.fitted) return {};
  if (!(loader.rated_payload > 0)) return {0};
  return {0, 0.5 * loader.rated_payload, loader.rated_payload};
}

CardMotion card_motion(const Scene& scene) {
  CardMotion motion;
  if (scene.job.work != Work::none && scene.job.working_speed > 0) motion.bend_speed = scene.job.working_speed;
  return motion;
}

Scene scene_of_row(const Scene& scene, double pin_height, double payload) {
  Scene row = scene;
  row.terrain.features.clear();
  if (!scene.vehicle.loader.fitted) return row;
  row.ballast.loader_pin_height = pin_height;
  row.ballast = with_load(row.ballast, payload);
  return row;
}

double weaker_side(const Scene& row, const std::stop_token& stop) {
  const Model model = build(row);
  const auto right = point_at_heading(model, -kAcross, stop).gives_way();
  const auto left = point_at_heading(model, kAcross, stop).gives_way();
  return left && (!right || *left < *right - 1e-9) ? kAcross : -kAcross;
}

Scene over_a_bump(const Scene& row, const CardMotion& motion, double side) {
  const Vehicle& v = row.vehicle;
  Scene out = row;
  const double ahead = side < 0 ? 1 : -1;  // along G's x
  Feature bump;
  bump.kind = FeatureKind::bump;
  bump.height = motion.bump_height;
  bump.length = 1;
  const double clear = v.wheelbase + v.front.tyre.free_radius + 0.1;  // nothing stands on it at the start
  bump.x = ahead * (clear + 0.5 * bump.length);
  bump.y = 0.25 * (v.front.track + v.rear.track);  // uphill is along G's y
  // High enough over all of both uphill wheels' paths, and nothing of it under the downhill wheels.
  const double paths =
      0.5 * std::abs(v.front.track - v.rear.track) + std::max(v.front.tyre.section_width, v.rear.tyre.section_width);
  bump.width = std::min(paths / 0.6, 1.6 * bump.y);
  out.terrain.features = {bump};
  out.start = {side, 0, 0, row.start.articulation};
  out.programme = Programme{};
  out.programme.speed = motion.bump_speed;
  out.programme.drive_from = 0.3;
  out.programme.front_drive = v.front_drive;
  out.programme.duration = 2 + (clear + bump.length + v.rear.tyre.free_radius) / motion.bump_speed;
  return out;
}

Scene in_a_bend(const Scene& row, const CardMotion& motion, double side) {
  Scene out = row;
  out.start = {-side, 0, 0, row.start.articulation};
  out.programme = Programme{};
  out.programme.speed = motion.bend_speed;
  out.programme.drive_from = 0.3;
  out.programme.front_drive = row.vehicle.front_drive;
  Action curve;
  curve.what = ActionKind::curve;
  curve.at = 2;
  curve.radius = side < 0 ? motion.bend_radius : -motion.bend_radius;  // first downhill
  out.programme.actions = {curve};
  out.programme.duration = curve.at + kTurned * motion.bend_radius / motion.bend_speed;
  return out;
}

CabCard cab_card(const Scene& scene, CardProgress* progress, const std::stop_token& stop) {
  CabCard card;
  card.loader = scene.vehicle.loader.fitted;
  card.features_left_out = !scene.terrain.features.empty();
  card.motion = card_motion(scene);
  for (const double height : card_heights(scene))
    for (const double load : card_loads(scene)) card.rows.push_back({height, load, false, 0, {}});
  if (card.rows.empty()) card.rows.emplace_back();
  const Model like = build(scene_of_row(scene, card.rows.front().pin_height, card.rows.front().payload));
  const std::size_t rows = card.rows.size();
  std::vector<std::optional<CardGiven>> across(rows);
  if (progress) progress->all = static_cast<int>(rows) * (1 + 2 * kMovingParts);
  // Each cell stands alone and writes its own place. The long ones first, so that no core waits long at the end.
  const auto work = [&](std::size_t i) {
    const CardCase what = i < rows ? CardCase::bend : i < 2 * rows ? CardCase::bump : CardCase::standing;
    CardRow& row = card.rows[i % rows];
    CardCell& cell = row.cells[static_cast<std::size_t>(what)];
    try {
      const Scene there = scene_of_row(scene, row.pin_height, row.payload);
      if (what == CardCase::standing) {
        const Model model = build(there, &like);
        cell = standing_cell(there, model, row.lost, stop);
        across[i % rows] = given_at(there, model, weaker_side(there, stop), stop);
        row.overloaded = carries_too_much(there, model);
      } else if (what == CardCase::bump) {
        cell = bump_cell(over_a_bump(there, card.motion, weaker_side(there, stop)), card.motion, stop);
      } else if (turns(there)) {
        cell = moving_cell(in_a_bend(there, card.motion, weaker_side(there, stop)), card.motion, stop);
      }
    } catch (const InputError&) {  // no machine at this height with this load
      cell = {};
    }
    if (progress) progress->done += what == CardCase::standing ? 1 : kMovingParts;
  };
  tbb::parallel_for(
      tbb::blocked_range<std::size_t>(0, 3 * rows, 1),
      [&](const tbb::blocked_range<std::size_t>& part) {
        for (std::size_t i = part.begin(); i < part.end() && !stop.stop_requested(); ++i) work(i);
      },
      tbb::simple_partitioner());
  for (std::size_t i = 0; i < rows; ++i)
    for (const CardCase what : {CardCase::bump, CardCase::bend}) {
      CardRow& row = card.rows[i];
      take_doubt_off(row.cells[static_cast<std::size_t>(what)], row.at(CardCase::standing), across[i], card.motion);
    }
  return card;
}

}  // namespace sidehill

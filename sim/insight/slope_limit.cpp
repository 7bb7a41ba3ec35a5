#include "sim/insight/slope_limit.h"

#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "sim/base/attitude.h"
#include "sim/base/closed_in.h"
#include "sim/base/errors.h"
#include "sim/motion/run.h"
#include "sim/motion/slip.h"
#include "sim/scene/scene_checks.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

constexpr double kAway = 1;  // off its line, or carried along by its sliding tyres: it slides [m]

// How one run ended, as far as a limit asks.
struct Probe {
  bool bearable = true, tyre_slid = false, off_line = false;
  double slid = 0;  // how far its tyres let it slide [m]
  Outcome outcome = Outcome::stands;
};

// What must not happen has happened. `ended`: what a landing does counts only if it never came to rest from it.
bool bad(Bearable bearable, const Recording& so_far, bool ended) {
  if (so_far.outcome == Outcome::diverged || overturns(so_far.outcome)) return true;
  if (bearable == Bearable::no_roll) return false;
  const auto has = [&](EventKind kind) {
    return std::any_of(so_far.events.begin(), so_far.events.end(), [&](const Event& e) { return e.kind == kind; });
  };
  if (!ended && has(EventKind::touch_down) && !has(EventKind::settled)) return false;
  return first_lift_off(so_far.events) != nullptr;
}

bool steers(const Scene& scene) {
  return scene.start.articulation != 0 || std::any_of(scene.programme.actions.begin(), scene.programme.actions.end(),
                                                      [](const Action& a) { return a.what == ActionKind::curve; });
}

// The states up to the moment it begins to go over, if it does: what slides after that says nothing about its tyres.
std::vector<State> on_its_wheels(const Recording& run) {
  std::vector<State> states = run.states;
  const Event* lift = overturns(run.outcome) ? first_lift_off(run.events) : nullptr;
  if (lift) std::erase_if(states, [&](const State& s) { return s.time > std::max(lift->time, 1e-9); });
  return states;
}

// It has come off the line it started on: it has not met what lay ahead.
bool off_its_line(const Scene& scene, const std::vector<State>& states) {
  const Vec3 left = left_G(scene.start.heading);
  return std::abs(glm::dot(states.back().X_GV.p - states.front().X_GV.p, left)) > kAway;
}

// Runs the programme from rest on one slope, no longer than it takes to know.
Probe probe(const Scene& scene, const Model& like, double slope, Bearable bearable, const std::stop_token& stop = {}) {
  constexpr double kLook = 0.25;  // how often it is asked whether it is over [s]
  Scene there = scene;
  there.terrain.slope = slope;
  there.settings.engine = Engine::own;  // thousands of runs
  there.programme.drop_height = 0;
  const Model model = build(there, &like);
  Runner runner(there, model);
  while (!runner.done() && !bad(bearable, runner.recording(), false) && !stop.stop_requested()) runner.advance(kLook);
  const Recording& end = runner.recording();
  Probe out;
  out.bearable = !bad(bearable, end, true);
  const std::vector<State> states = on_its_wheels(end);
  out.tyre_slid =
      std::any_of(end.events.begin(), end.events.end(), [](const Event& e) { return e.kind == EventKind::slide; });
  out.off_line = out.tyre_slid && !steers(scene) && off_its_line(there, states);
  out.slid = slid_distance(states);
  out.outcome = end.outcome;
  return out;
}

// What this search would answer wrongly.
void refuse_unjudged(const Scene& scene) {
  const Programme& programme = scene.programme;
  if (programme.tilt_rate != 0)
    throw InputError(
        "programme.tilt_rate_deg_per_s: slope-limit looks for one slope and cannot judge ground that tilts "
        "during the run, allowed 0");
  if (!(scene.ballast.trailer.mass > 0)) return;
  const bool brakes = std::any_of(programme.actions.begin(), programme.actions.end(),
                                  [](const Action& a) { return a.what == ActionKind::brake; });
  if (std::cos(scene.start.heading) < -0.02 || brakes)
    throw InputError(fmt::format(
        "ballast.trailer.mass_kg: slope-limit cannot judge a trailer that pushes ({}): the machine slides along its "
        "own "
        "line, and no wheel need lift for that; allowed 0, or a machine that faces uphill or across and does not brake",
        brakes ? "it brakes" : "it faces downhill"));
}

// A search under way: first all coarse slopes, then the halving.
struct Search {
  const Scene* scene = nullptr;
  Model like;
  std::stop_token stop;
  std::vector<double> slopes;
  std::vector<Probe> probes;

  Search(const Scene& given, const SlopeLimitAsk& ask, std::stop_token stopped = {})
      : scene(&given), like(build(given)), stop(std::move(stopped)) {
    for (int i = 0; i * ask.coarse < ask.steepest - 1e-9; ++i) slopes.push_back(i * ask.coarse);
    slopes.push_back(ask.steepest);
    probes.resize(slopes.size());
  }

  Probe probe_at(double slope, Bearable bearable) const { return probe(*scene, like, slope, bearable, stop); }
  void try_slope(std::size_t i, Bearable bearable) { probes[i] = probe_at(slopes[i], bearable); }

  // Upwards as far as to the first that fails; what lies beyond is forgotten.
  void try_upwards(Bearable bearable) {
    std::size_t tried = 0;
    while (tried < slopes.size() && !stop.stop_requested()) {
      try_slope(tried, bearable);
      if (ends(probes[tried++])) break;
    }
    slopes.resize(tried);
    probes.resize(tried);
  }

  bool slides(const Probe& there) const { return there.off_line || there.slid > probes.front().slid + kAway; }
  bool ends(const Probe& there) const { return !there.bearable || slides(there); }

  // Between a coarse slope that is not yet so and the next, which is: the two ends of what is left, and the steeper
  // run.
  struct Between {
    double good = 0, wrong = 0;
    Probe there;
  };
  template <class Is>
  Between halve(std::size_t first, const SlopeLimitAsk& ask, SlopeLimit& out, Is is) const {
    Between between{0, 0, probes[first]};
    std::tie(between.good, between.wrong) = closed_in(slopes[first - 1], slopes[first], ask.fine, [&](double middle) {
      const Probe there = probe_at(middle, ask.bearable);
      ++out.runs;
      out.diverged = out.diverged || there.outcome == Outcome::diverged;
      const bool so = is(there);
      if (so) between.there = there;  // each that is so lies below the one before
      return so;
    });
    return between;
  }

  template <class Is>
  std::size_t first(Is is) const {
    return static_cast<std::size_t>(std::find_if(probes.begin(), probes.end(), is) - probes.begin());
  }

  // Least slope at which it is so, closed in; empty: nowhere.
  template <class Is>
  std::optional<double> least(const SlopeLimitAsk& ask, SlopeLimit& out, Is is) const {
    const std::size_t i = first(is);
    if (i == probes.size()) return std::nullopt;
    return i == 0 ? 0.0 : halve(i, ask, out, is).wrong;
  }

  // `upwards`: nothing was tried beyond the first that fails.
  SlopeLimit close_in(const SlopeLimitAsk& ask, bool upwards = false) const {
    SlopeLimit out;
    out.runs = static_cast<int>(probes.size());
    for (const Probe& there : probes) out.diverged = out.diverged || there.outcome == Outcome::diverged;
    const auto slid = [&](const Probe& p) { return slides(p); };
    const auto fails = [&](const Probe& p) { return ends(p); };
    const std::size_t end = first(fails);
    if (end == probes.size()) {
      const auto any_tyre = [](const Probe& p) { return p.tyre_slid; };
      out.slides_at = least(ask, out, any_tyre);
      out.open = !out.slides_at;
      if (out.open)
        out.slope = slopes.back();
      else
        out.no_limit = NoLimit::slides_unjudged;
      return out;
    }
    const Between at = end == 0 ? Between{0, 0, probes[0]} : halve(end, ask, out, fails);
    if (at.there.bearable) {
      out.no_limit = NoLimit::slides_first;
      out.slides_at = at.wrong;
      out.fails_as = Outcome::slides;
      return out;
    }
    out.fails_as = upwards ? probe_at(at.wrong, Bearable::no_roll).outcome : at.there.outcome;
    if (upwards)
      ++out.runs;
    else
      out.slides_at = least(ask, out, slid);
    if (end == 0) {
      out.no_limit = NoLimit::on_the_level;
      return out;
    }
    out.slope = at.good;
    for (std::size_t i = end; i < probes.size() && !out.again; ++i)
      if (!ends(probes[i])) out.again = slopes[i];
    return out;
  }
};

constexpr int kClosing = 8;  // about as many runs close a limit in

std::vector<SlopeLimit> limits_of(const std::vector<Scene>& scenes, const SlopeLimitAsk& ask,
                                  const std::stop_token& stop = {}, SweepProgress* progress = nullptr) {
  std::vector<Search> searches;
  searches.reserve(scenes.size());
  for (const Scene& scene : scenes) refuse_unjudged(scene);
  for (const Scene& scene : scenes) searches.emplace_back(scene, ask, stop);
  std::vector<SlopeLimit> limits(scenes.size());
  if (searches.empty()) return limits;
  const std::size_t slopes = searches.front().slopes.size();
  if (progress) progress->of = static_cast<int>(searches.size() * (slopes + kClosing));
  const auto count = [&](int parts) {
    if (progress) progress->done += parts;
  };
  // Every probe stands alone and writes its own place, so the order they are run in is nothing to the answer.
  tbb::parallel_for(std::size_t{0}, searches.size() * slopes, [&](std::size_t i) {
    if (stop.stop_requested()) return;
    searches[i / slopes].try_slope(i % slopes, ask.bearable);
    count(1);
  });
  if (stop.stop_requested()) return limits;
  tbb::parallel_for(std::size_t{0}, searches.size(), [&](std::size_t i) {
    if (stop.stop_requested()) return;
    limits[i] = searches[i].close_in(ask);
    count(kClosing);
  });
  return limits;
}

}  // namespace

SlopeLimit slope_limit(const Scene& scene, const SlopeLimitAsk& ask) { return limits_of({scene}, ask).front(); }

SlopeLimit first_failing_slope(const Scene& scene, const SlopeLimitAsk& ask, const std::stop_token& stop) {
  refuse_unjudged(scene);
  Search search(scene, ask, stop);
  search.try_upwards(ask.bearable);
  return search.probes.empty() ? SlopeLimit{} : search.close_in(ask, true);
}

double value_of(const SweptKey& key, int step) {
  return key.steps < 2 ? key.from : key.from + (key.to - key.from) * step / (key.steps - 1);
}

std::vector<SweptCell> sweep(const Scene& scene, const std::vector<SweptKey>& keys, const SlopeLimitAsk& ask,
                             const Shard& shard, const std::stop_token& stop, SweepProgress* progress) {
  int cells = 1;
  for (const SweptKey& key : keys) {
    if (key.key == "terrain.slope_deg") throw InputError("terrain.slope_deg: is what is looked for, allowed any other");
    if (const std::string words = allowed_without_numbers(key.key); !words.empty())
      throw InputError("--over: " + key.key + ": holds no number but " + words + ", allowed the key of a number");
    cells *= std::max(1, key.steps);
  }
  std::vector<SweptCell> out;
  std::vector<Scene> scenes;
  for (int number = shard.part; number < cells; number += std::max(1, shard.of)) {
    SweptCell cell{number, {}, {}};
    Scene there = scene;
    int rest = number, below = cells;
    for (const SweptKey& key : keys) {
      below /= std::max(1, key.steps);
      cell.values.push_back(value_of(key, rest / below));
      rest %= below;
      apply_override(there, fmt::format("{}={:.17g}", key.key, cell.values.back()), "--over");
    }
    if (const auto conflict = find_conflict(there)) throw InputError(conflict->key + ": " + conflict->message);
    out.push_back(std::move(cell));
    scenes.push_back(std::move(there));
  }
  const std::vector<SlopeLimit> limits = limits_of(scenes, ask, stop, progress);
  for (std::size_t i = 0; i < out.size(); ++i) out[i].limit = limits[i];
  return out;
}

}  // namespace sidehill

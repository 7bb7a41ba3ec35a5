#include "sim/slope_limit.h"

#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "sim/run.h"
#include "sim/scene_checks.h"
#include "sim/scene_fields.h"
#include "sim/scene_file.h"

namespace sidehill {
namespace {

// How one run ended, as far as a limit asks.
struct Probe {
  bool bearable = true, slides = false;
  Outcome outcome = Outcome::stands;
};

bool overturns(Outcome outcome) {
  return outcome == Outcome::on_frame || outcome == Outcome::rolls_on || outcome == Outcome::overturned_rear;
}

bool bad(Bearable bearable, const Recording& so_far) {
  if (so_far.outcome == Outcome::diverged || overturns(so_far.outcome)) return true;
  return bearable == Bearable::no_lift && std::any_of(so_far.events.begin(), so_far.events.end(),
                                                      [](const Event& e) { return e.kind == EventKind::lift_off; });
}

// Its tyres have slid and it is off the line it started on: it has not met what lay ahead.
bool slid_away(const Scene& scene, const Recording& run) {
  constexpr double kOff = 1;  // [m]
  if (std::none_of(run.events.begin(), run.events.end(), [](const Event& e) { return e.kind == EventKind::slide; }))
    return false;
  const Vec3 left(-std::cos(scene.start.heading), -std::sin(scene.start.heading), 0);
  return std::abs(glm::dot(run.states.back().X_GV.p - run.states.front().X_GV.p, left)) > kOff;
}

// Runs the programme from rest on one slope, no longer than it takes to know.
Probe probe(const Scene& scene, const Model& like, double slope, Bearable bearable) {
  constexpr double kLook = 0.25;  // how often it is asked whether it is over [s]
  Scene there = scene;
  there.terrain.slope = slope;
  there.settings.engine = Engine::own;  // thousands of runs
  there.programme.drop_height = 0;
  const Model model = build(there, &like);
  Runner runner(there, model);
  bool over = false;
  while (!runner.done() && !over) {
    runner.advance(kLook);
    over = bad(bearable, runner.recording());
  }
  const Recording& end = runner.recording();
  return {!bad(bearable, end), slid_away(there, end), end.outcome};
}

// A search under way: first all coarse slopes, then the halving.
struct Search {
  const Scene* scene = nullptr;
  Model like;
  std::vector<double> slopes;
  std::vector<Probe> probes;

  Search(const Scene& given, const SlopeLimitAsk& ask) : scene(&given), like(build(given)) {
    for (int i = 0; i * ask.coarse < ask.steepest - 1e-9; ++i) slopes.push_back(i * ask.coarse);
    slopes.push_back(ask.steepest);
    probes.resize(slopes.size());
  }

  void try_slope(std::size_t i, Bearable bearable) { probes[i] = probe(*scene, like, slopes[i], bearable); }

  SlopeLimit close_in(const SlopeLimitAsk& ask) const {
    SlopeLimit out;
    out.runs = static_cast<int>(probes.size());
    std::size_t failing = 0;
    while (failing < probes.size() && probes[failing].bearable) ++failing;
    for (std::size_t i = 0; i < probes.size(); ++i) {
      if (probes[i].slides && !out.slides_at) out.slides_at = slopes[i];
      if (i > failing && probes[i].bearable && !out.again) out.again = slopes[i];
      out.diverged = out.diverged || probes[i].outcome == Outcome::diverged;
    }
    if (failing == probes.size()) {
      out.slope = slopes.back();
      out.open = true;
      return out;
    }
    out.fails_as = probes[failing].outcome;
    if (failing == 0) return out;
    double good = slopes[failing - 1], wrong = slopes[failing];
    while (wrong - good > ask.fine) {
      const double middle = 0.5 * (good + wrong);
      const Probe there = probe(*scene, like, middle, ask.bearable);
      ++out.runs;
      out.diverged = out.diverged || there.outcome == Outcome::diverged;
      if (!there.bearable) out.fails_as = there.outcome;
      (there.bearable ? good : wrong) = middle;
    }
    out.slope = good;
    return out;
  }
};

std::vector<SlopeLimit> limits_of(const std::vector<Scene>& scenes, const SlopeLimitAsk& ask) {
  std::vector<Search> searches;
  searches.reserve(scenes.size());
  for (const Scene& scene : scenes) searches.emplace_back(scene, ask);
  std::vector<SlopeLimit> limits(scenes.size());
  if (searches.empty()) return limits;
  const std::size_t slopes = searches.front().slopes.size();
  // Every probe stands alone and writes its own place, so the order they are run in is nothing to the answer.
  tbb::parallel_for(std::size_t{0}, searches.size() * slopes,
                    [&](std::size_t i) { searches[i / slopes].try_slope(i % slopes, ask.bearable); });
  tbb::parallel_for(std::size_t{0}, searches.size(), [&](std::size_t i) { limits[i] = searches[i].close_in(ask); });
  return limits;
}

}  // namespace

SlopeLimit slope_limit(const Scene& scene, const SlopeLimitAsk& ask) { return limits_of({scene}, ask).front(); }

double value_of(const SweptKey& key, int step) {
  return key.steps < 2 ? key.from : key.from + (key.to - key.from) * step / (key.steps - 1);
}

std::vector<SweptCell> sweep(const Scene& scene, const std::vector<SweptKey>& keys, const SlopeLimitAsk& ask,
                             const Shard& shard) {
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
  const std::vector<SlopeLimit> limits = limits_of(scenes, ask);
  for (std::size_t i = 0; i < out.size(); ++i) out[i].limit = limits[i];
  return out;
}

}  // namespace sidehill

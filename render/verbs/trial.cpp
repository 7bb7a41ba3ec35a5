// `sidehill trial`: random scenes by the thousand. Reads options and prints; knows no window.
#include "sim/insight/trial.h"

#include <fmt/format.h>
#include <tbb/global_control.h>

#include <nlohmann/json.hpp>
#include <optional>

#include "render/verbs/arguments.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct TrialCommand {
  bool json = false;
  long runs = 1000;
  std::uint64_t first = 1;
  std::optional<std::uint64_t> scene;
  int cores = 0;
};

constexpr const char* kFaults[] = {"none", "not_a_number", "energy", "diverged", "refused"};  // order of enum Fault
constexpr std::size_t kMostListed = 20;

nlohmann::ordered_json trial_json(const Trials& t) {
  nlohmann::ordered_json faults, outcomes, faulty = nlohmann::ordered_json::array();
  for (std::size_t i = 0; i < t.faults.size(); ++i) faults[kFaults[i]] = t.faults[i];
  for (std::size_t i = 0; i < t.outcomes.size(); ++i) outcomes[to_string(static_cast<Outcome>(i))] = t.outcomes[i];
  for (const TrialRun& run : t.faulty)
    faulty.push_back({{"scene", run.number}, {"fault", kFaults[static_cast<int>(run.fault)]}, {"words", run.words}});
  return {{"runs", t.runs},
          {"faults", faults},
          {"outcomes", outcomes},
          {"most_energy_beyond_what_was_put_in_m", t.most_gain.gain},
          {"of_scene", t.most_gain.number},
          {"slowest_s", t.slowest.seconds},
          {"slowest_scene", t.slowest.number},
          {"faulty", faulty}};
}

void add_trial_flags(CLI::App& sub, TrialCommand& options) {
  sub.add_option("--runs", options.runs, "how many scenes")->check(whole_number(1, 100000000));
  sub.add_option("--first", options.first, "number of the first scene; the same number gives the same scene")
      ->check(whole_number(0, UINT64_MAX));
  sub.add_option("--scene", options.scene, "print the scene of this number, so that you can run it")
      ->check(whole_number(0, UINT64_MAX));
  sub.add_option("--cores", options.cores, "use at most so many cores; 0 = all")->check(whole_number(0, 1024));
}

int trial_verb(const TrialCommand& options, bool json) {
  if (options.scene) {
    fmt::print("{}", write_scene(random_scene(*options.scene)));
    return 0;
  }
  const tbb::global_control cores(
      tbb::global_control::max_allowed_parallelism,
      options.cores > 0 ? static_cast<std::size_t>(options.cores)
                        : tbb::global_control::active_value(tbb::global_control::max_allowed_parallelism));
  const Trials t = trial(options.first, options.runs);
  if (json) {
    print(trial_json(t));
  } else {
    fmt::print("{} random scenes run\n\n", t.runs);
    for (std::size_t i = 0; i < t.outcomes.size(); ++i)
      fmt::print("  {:24}{:>9}\n", to_string(static_cast<Outcome>(i)), t.outcomes[i]);
    fmt::print("\nGave way\n");
    for (std::size_t i = 1; i < t.faults.size(); ++i) fmt::print("  {:24}{:>9}\n", kFaults[i], t.faults[i]);
    for (std::size_t i = 0; i < std::min(t.faulty.size(), kMostListed); ++i)
      fmt::print("  scene {}: {} {}\n", t.faulty[i].number, kFaults[static_cast<int>(t.faulty[i].fault)],
                 t.faulty[i].words);
    fmt::print(
        "\nMost energy against what was put in: {:.3f} m of the weight (scene {}); slowest run {:.2f} s (scene {})\n",
        t.most_gain.gain, t.most_gain.number, t.slowest.seconds, t.slowest.number);
  }
  return t.faulty.empty() ? 0 : 3;
}

}  // namespace

VerbAction prepare_trial(CLI::App& sub) {
  const auto asked = std::make_shared<TrialCommand>();
  add_trial_flags(sub, *asked);
  take_json(sub, asked->json);
  return [asked] { return trial_verb(*asked, asked->json); };
}

}  // namespace sidehill

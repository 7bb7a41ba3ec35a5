// `sidehill plan`: every way to ballast a machine for its job, and the few worth choosing.
#include "sim/plan/plan.h"

#include <fmt/format.h>
#include <signal.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <future>
#include <stop_token>
#include <string>

#include "render/text/plan/plan_report.h"
#include "render/text/plan/plan_words.h"
#include "render/verbs/arguments.h"
#include "render/verbs/outputs.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/constants.h"
#include "sim/base/text_file.h"
#include "sim/base/today.h"
#include "sim/plan/plan_log.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct PlanCommand {
  SceneArguments in;
  bool json = false, strict = false;
  Units units = Units::si;
  std::string aim = "balanced";
  double left_deg = 0;
  std::optional<double> slip;
  std::string save;  // file for a set-up as a scene; empty = none
  int set_up = 0;    // which one, from 1; 0 = the first, if it is possible
  bool force = false;
};

std::atomic<bool> plan_interrupted = false;
static_assert(std::atomic<bool>::is_always_lock_free);

PlanQuestion question_of(const PlanCommand& asked) {
  PlanQuestion out;
  std::string words;
  for (const auto& aim : kPlanAims) {
    words += (words.empty() ? "" : ", ") + std::string(aim.key);
    if (aim.key == asked.aim) out.aim = aim.value;
  }
  if (kPlanAims[static_cast<std::size_t>(out.aim)].key != asked.aim) refuse_word("plan", "--best", asked.aim, words);
  check_in_range("plan", "--left-deg", asked.left_deg, 0, 60, "deg");
  out.left = asked.left_deg * kDegree;
  if (asked.slip) check_in_range("plan", "--slip", *asked.slip, 0.001, 0.999, "");
  out.slip = asked.slip;
  return out;
}

// With the share done and the time left on a terminal's error stream; Ctrl-C stops the search, which gives what it has.
Plan searched(const Scene& scene, const PlanQuestion& question) {
  struct sigaction ours = {}, before = {};
  ours.sa_handler = [](int) { plan_interrupted = true; };
  sigaction(SIGINT, &ours, &before);
  std::stop_source stop;
  PlanProgress progress;
  const bool shows = isatty(STDERR_FILENO) != 0;
  const auto began = std::chrono::steady_clock::now();
  auto found = std::async(std::launch::async, [&] { return make_plan(scene, question, stop.get_token(), &progress); });
  while (found.wait_for(std::chrono::milliseconds(100)) != std::future_status::ready) {
    if (plan_interrupted) stop.request_stop();
    const std::size_t done = progress.done, of = progress.of;
    const double passed = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
    if (shows && done > 0 && passed > 0.5)
      fmt::print(stderr, "\r{} of {} plans, about {:.0f} s left   ", done, of,
                 passed / static_cast<double>(done) * static_cast<double>(of - std::min(done, of)));
  }
  sigaction(SIGINT, &before, nullptr);
  if (shows) fmt::print(stderr, "\r{:60}\r", "");
  return found.get();
}

// A set-up as a scene of its own: with the ground and the programme of the scene that was asked about.
void save_set_up(const PlanCommand& asked, const Scene& scene, const Plan& plan) {
  const auto count = static_cast<int>(plan.chosen.size());
  if (asked.set_up == 0 && plan.possible == 0)
    throw InputError("plan: --save " + asked.save + ": no plan is possible; --set-up 1 saves the nearest to it");
  if (asked.set_up > count) throw InputError(fmt::format("plan: --set-up {}: allowed 1 to {}", asked.set_up, count));
  const ChosenPlan& one = plan.chosen[static_cast<std::size_t>(std::max(asked.set_up, 1) - 1)];
  save_text(asked.save, write_scene(plan_file_scene(scene, plan, one, today())));
}

int plan_verb(const PlanCommand& asked) {
  const PlanQuestion question = question_of(asked);
  if (asked.set_up < 0 || asked.set_up > static_cast<int>(kMostChosen))
    throw InputError(fmt::format("plan: --set-up {}: allowed 1 to {}", asked.set_up, kMostChosen));
  if (asked.set_up > 0 && asked.save.empty())
    throw InputError("plan: --set-up says which set-up --save writes: give --save FILE.toml as well");
  if (!asked.save.empty()) {
    if (!asked.save.ends_with(".toml"))
      throw InputError("plan: --save " + asked.save + ": a scene is written as TOML, give it a name in .toml");
    refuse_to_lose_log(asked.save);
    check_output(asked.save, asked.force);
  }
  const Scene scene = load_scene(asked.in.scene, asked.in.changes);
  const Plan plan = of_scene(asked.in.scene, [&] { return searched(scene, question); });
  asked.json ? print(plan_json(plan)) : fmt::print("{}", plan_table(plan, asked.units));
  if (!asked.save.empty()) save_set_up(asked, scene, plan);
  if (plan.stopped) return kInterrupted;
  const bool broken = plan.chosen.front().measures.broken.any();
  return asked.strict && (broken || plan.possible == 0) ? kLimitBroken : kAnswered;
}

}  // namespace

VerbAction prepare_plan(CLI::App& sub) {
  const auto asked = std::make_shared<PlanCommand>();
  take_scene(sub, asked->in);
  sub.add_option("--best", asked->aim,
                 "what decides between plans that hold: balanced, cheapest, lightest, most_stable, least_slip, "
                 "least_fuel, least_soil, least_effort; default balanced")
      ->type_name("WORD");
  sub.add_option("--left-deg", asked->left_deg, "degrees to keep on the job's slope; default 0")->type_name("NUMBER");
  sub.add_option("--slip", asked->slip, "the most slip at work, 0 to 1")->type_name("NUMBER");
  sub.add_option("--save", asked->save,
                 "write a set-up as a plan file: a scene to open, compare, print and check, and to log")
      ->type_name("FILE.toml");
  sub.add_option("--set-up", asked->set_up, "which one --save writes, as numbered; default 1")->type_name("NUMBER");
  add_force_flag(sub, asked->force);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  take_strict(sub, asked->strict);
  return [asked] { return plan_verb(*asked); };
}

}  // namespace sidehill

// The planner against brute force with an objective of its own, its limits, its interval, and being stopped.
#include "sim/plan/plan.h"

#include <algorithm>
#include <bitset>
#include <cmath>
#include <memory>
#include <random>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/insight/job_slope.h"
#include "sim/job/at_work.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"
#include "vehicles/winter.h"

using namespace sidehill;

namespace {

// ---- Written apart from the planner: what a plan is worth, by the answers of the other verbs.

struct Worth {
  PlanChoice choice{};
  double slope = 0;  // at which it gives way [deg]
  double slip = 0, fuel = 0, soil = 0, ballast = 0;
  bool pulls = true;
  std::bitset<kRuleIds> broken;
  double cost = 0, minutes = 0;
};

double weakest(const Scene& scene) {
  double least = 90;
  Model model = build(scene);
  for (int turned = -180; turned < 180; turned += 10) {
    if (scene.job.headings == JobHeadings::across && std::abs(turned) != 90) continue;
    if (scene.job.headings == JobHeadings::up_and_down && turned != 0 && turned != -180) continue;
    model.start.heading = turned * kDegree;
    const LiftOff lift_off = first_lift_off(model);
    REQUIRE_FALSE(lift_off.failed);
    if (lift_off.slope) least = std::min(least, *lift_off.slope / kDegree);
    if (const auto slide = slide_slope(model)) least = std::min(least, *slide / kDegree);
  }
  return least;
}

Worth worth_of(const PlanGround& ground, const PlanChoice& choice) {
  const Scene scene = scene_of(ground.scene, ground.space, choice);
  const Model model = build(scene);
  Worth out;
  out.choice = choice;
  out.slope = weakest(scene);
  Scene empty = scene;
  bool freezes = false;
  for (TyreFill& fill : empty.ballast.fill)
    if (fill.fill_fraction > 0 && slush_free(fill.medium, fill.concentration) > scene.job.coldest) {
      fill.fill_fraction = 0;
      freezes = true;
    }
  if (freezes) out.slope = std::min(out.slope, weakest(empty));
  const RuleReport rules = rules_on(scene, model);
  for (const RuleAnswer& rule : rules.rules)
    if (rule.limit && rule.state == RuleState::not_met && !(freezes && rule.id == RuleId::frost))
      out.broken.set(static_cast<std::size_t>(rule.id));
  const WorkAnswer work = at_work(scene, model, rules);
  out.ballast = work.ballast;
  if (scene.job.pull > 0) {
    std::vector<PullAtWork> ways{work.level};
    if (scene.job.slope > 0 && scene.job.headings != JobHeadings::across) ways.push_back(work.uphill);
    for (const PullAtWork& pull : ways) {
      out.pulls = out.pulls && (pull.answer.kind == PullKind::pulls || pull.answer.kind == PullKind::needs_no_drive);
      if (pull.answer.kind == PullKind::pulls) out.slip = std::max(out.slip, pull.answer.rear_slip);
    }
  }
  out.fuel = work.work_year + work.road_year;
  for (const SoilUnder& under : soil_under(scene, model, rules).axles)
    out.soil = std::max(out.soil, under.stress[1].value_or(0));
  out.cost = cost_of_plan(ground.scene, ground.space, choice).value_or(1e9);
  out.minutes = effort_of(ground, choice) / 60;
  return out;
}

// In the steps that the planner says it compares by.
std::array<double, 6> goals(const Worth& w) {
  return {-std::round(w.slope / 0.01), w.pulls ? std::round(w.slip / 0.0005) : 1e6,
          std::round(w.fuel),          std::round(w.soil / 100),
          std::round(w.cost),          std::round(w.minutes)};
}

double plan_slope(const Plan& plan) {
  return plan.chosen.front().measures.stand.gives_way.value_or(90 * kDegree) / kDegree;
}

Scene small_case(std::mt19937& random) {
  const char* machines[] = {"utility_75kw", "compact_26kw", "two_wheel_45kw"};
  const char* headings[] = {"across", "up_and_down", "up_and_down", "across", "any"};
  const char* works[] = {"heavy_pull", "light_pull", "mowing_on_slopes"};
  const auto pick = [&](auto& list) { return list[random() % std::size(list)]; };
  std::vector<std::string> keys{std::string("job.work=") + pick(works),
                                std::string("job.headings=") + pick(headings),
                                "job.steepest_deg=2",
                                "job.working_speed_kmh=6",
                                "job.working_time_h=100",
                                "job.coldest_c=" + std::to_string(-2 - static_cast<int>(random() % 18)),
                                "terrain.soil.adhesion_unlimited=false",
                                "terrain.soil.adhesion=0.6",
                                "ballast.rear.fill_fraction=" + std::string(random() % 2 ? "0" : "0.5")};
  if (random() % 2) keys.insert(keys.end(), {"job.hitch=drawbar", "job.pull_kn=" + std::to_string(3 + random() % 6)});
  Scene scene = test_machine(pick(machines), keys);
  if (random() % 2)
    scene.job.media.push_back({Medium::water, 0, {0.01, 0.02}});
  else
    scene.job.media.push_back({Medium::calcium_chloride_3_5, 0.4, {0.3, 0.5}});
  const WeightPlace place = random() % 2 ? WeightPlace::front : WeightPlace::rear_wheels;
  scene.job.weights.push_back(
      {"piece", place, 20.0 + static_cast<double>(random() % 40), 2, random() % 3 ? 80.0 : 0.0});
  return scene;
}

// A plough's pull. In a checked build with few plates on hand and two headings in place of 36.
Scene ploughing() {
  Scene scene = test_scene("first_slope", {"job_file=plough_heavy"});
  if (kShare > 1) {
    scene.job.weights.front().pieces = 3;
    scene.job.headings = JobHeadings::across;
  }
  return scene;
}

}  // namespace

TEST_CASE("fifty small cases: the planner finds what brute force finds, and its front misses none") {
  std::mt19937 random(20);
  int fronts = 0, unlike = 0;
  const int rounds = round_step() == 1 ? 52 : kShare > 1 ? 3 : 18;
  for (int round = 0; round < rounds; ++round) {
    CAPTURE(round);
    const Scene scene = small_case(random);
    CAPTURE(scene.vehicle.name);
    const PlanGround ground = plan_ground(scene);
    std::vector<Worth> worths, possible;
    std::bitset<kRuleIds> everywhere;
    everywhere.set();
    for (std::size_t i = 0; i < ground.space.size(); ++i) {
      const PlanChoice choice = plan_at(ground.space, i);
      if (!is_in_stock(ground.scene, ground.space, choice)) continue;
      worths.push_back(worth_of(ground, choice));
      everywhere &= worths.back().broken;
    }
    for (const Worth& w : worths)
      if (w.pulls && w.slope >= 2 && (w.broken & ~everywhere).none()) possible.push_back(w);

    PlanQuestion question;
    question.aim = PlanAim::lightest;
    const Plan plan = make_plan(scene, question);
    CHECK(plan.looked_at == worths.size());
    CHECK(plan.possible == possible.size());
    if (possible.empty()) continue;
    CHECK(plan.holds);
    double lightest = 1e9, steepest = 0;
    for (const Worth& w : possible) {
      lightest = std::min(lightest, std::round(w.ballast));
      steepest = std::max(steepest, w.slope);
    }
    CHECK(std::round(plan.chosen.front().measures.ballast) == lightest);
    question.aim = PlanAim::most_stable;
    if (round % 5 == 0) CHECK_NEAR(plan_slope(make_plan(scene, question)), steepest, 0.006);

    int front = 0;
    for (const Worth& w : possible) {
      bool beaten = false;
      for (const Worth& other : possible) {
        const auto a = goals(other), b = goals(w);
        bool as_good = true;
        for (std::size_t i = 0; i < a.size(); ++i) as_good = as_good && a[i] <= b[i];
        beaten = beaten || (as_good && (a != b || &other < &w));
      }
      front += beaten ? 0 : 1;
    }
    CHECK(plan.front == static_cast<std::size_t>(front));
    CHECK(plan.on_front.size() == plan.front);
    fronts += front;
    unlike += plan.chosen.size() > 2 ? 1 : 0;
    CHECK(plan.chosen.size() <= kMostChosen);
    CHECK(std::ranges::count(plan.chosen, PlanChoice{}, &ChosenPlan::choice) == 1);
  }
  CHECK(fronts > (kShare > 1 ? 0 : 2 * rounds));
  if (kShare == 1) CHECK(unlike > rounds / 6);
}

TEST_CASE("what a plan says is what the machine answers with these values set, and its interval is range_at's") {
  const Scene scene = ploughing();
  const Plan plan = make_plan(scene, {});
  REQUIRE(plan.chosen.size() > 2);
  for (const ChosenPlan& one : plan.chosen) {
    CHECK(one.measures.stand.at_all);
    const auto weakest_point = weakest_in_job(envelope(build(one.scene), 36, true), scene.job.headings);
    REQUIRE(weakest_point);
    REQUIRE(one.measures.stand.gives_way);
    if (!one.measures.worse_drained) {
      CHECK_NEAR(*one.measures.stand.gives_way, *weakest_point->gives_way(), 1e-9);
      const auto range = range_at(one.scene, one.measures.stand.heading);
      REQUIRE(range);
      CHECK(one.range->low == range->low);
      CHECK(one.range->high == range->high);
    } else {
      CHECK(*one.measures.stand.gives_way < *weakest_point->gives_way());
    }
    CHECK(one.barriers.empty() == (one.measures.broken.none()));
  }
  CHECK(plan.holds);
  CHECK(plan.chosen.front().range->low >= plan.slope);
}

TEST_CASE("degrees to keep and slip to keep below are kept, and the aim decides between those that do") {
  const Scene scene = ploughing();
  PlanQuestion question;
  question.slip = 0.075;
  question.left = 3 * kDegree;
  question.aim = PlanAim::lightest;
  const Plan plan = make_plan(scene, question);
  REQUIRE(plan.holds);
  const ChosenPlan& first = plan.chosen.front();
  CHECK(*first.measures.slip <= 0.075);
  CHECK(first.range->low >= plan.slope + question.left);
  question.aim = PlanAim::least_effort;
  const Plan easier = make_plan(scene, question);
  CHECK(easier.chosen.front().measures.effort <= first.measures.effort);
  CHECK(easier.chosen.front().measures.ballast >= first.measures.ballast);
}

TEST_CASE("nothing possible: it says so, names what to loosen, breaks no limit to stand, and shows today's machine") {
  const Plan plan = make_plan(test_scene("bale_on_spike", {"job_file=hill_bale"}), {});
  CHECK(plan.possible == 0);
  CHECK_FALSE(plan.holds);
  REQUIRE(plan.loosen);
  CHECK(plan.loosen->what == PlanBar::slope);
  CHECK(plan.loosened > 0);
  CHECK(plan.best_gives_way < plan.slope);
  CHECK(plan.best_gives_way > 10 * kDegree);
  CHECK(std::ranges::count(plan.chosen, PlanChoice{}, &ChosenPlan::choice) == 1);
  PlanQuestion steep;
  steep.left = 7 * kDegree;
  steep.slip = 0.07;
  Scene anyhow = ploughing();
  anyhow.job.headings = JobHeadings::any;
  const Plan within = make_plan(anyhow, steep);
  CHECK(within.possible == 0);
  CHECK(within.chosen.front().measures.broken.none());
}

TEST_CASE("stopped at once it still answers, with today's machine in it, and says that it was stopped") {
  const auto stop = std::make_unique<std::stop_source>();
  stop->request_stop();
  const Plan plan = make_plan(ploughing(), {}, stop->get_token());
  CHECK(plan.stopped);
  CHECK(plan.looked_at == 1);
  CHECK(plan.chosen.front().choice == PlanChoice{});
  CHECK(plan.chosen.front().measures.stand.at_all);
}

TEST_CASE("a question that its job cannot answer is refused by key") {
  const auto refused = [](const Scene& scene, const PlanQuestion& question) -> std::string {
    try {
      make_plan(scene, question);
    } catch (const InputError& error) {
      return error.what();
    }
    return "";
  };
  CHECK(has(refused(test_machine("utility_75kw"), {}), "job.work"));
  const Scene pulls_nothing = test_machine("utility_75kw", {"job.work=loader"});
  PlanQuestion slip;
  slip.slip = 0.1;
  CHECK(has(refused(pulls_nothing, slip), "job.pull_kn"));
  PlanQuestion cheap;
  cheap.aim = PlanAim::cheapest;
  CHECK(has(refused(pulls_nothing, cheap), "price"));
}

TEST_CASE("water that freezes is let out before the frost, and the plan counts as the worse of full and empty") {
  Scene scene = test_machine("utility_75kw", {"job.work=mowing_on_slopes", "job.steepest_deg=10", "job.headings=across",
                                              "job.coldest_c=-10", "ballast.rear.fill_fraction=0"});
  scene.job.media = {{Medium::water, 0, {}}};
  const PlanGround ground = plan_ground(scene);
  PlanChoice filled{};
  filled[static_cast<std::size_t>(PlanPart::rear_fill)] = 3;
  CHECK(measure(ground, filled).drained);
  CHECK_FALSE(measure(ground, filled).broken.test(static_cast<std::size_t>(RuleId::frost)));
  CHECK(drained(ground, filled) == PlanChoice{});
  scene.job.coldest = 283;
  const PlanGround mild = plan_ground(scene);
  CHECK_FALSE(measure(mild, filled).drained);
  CHECK(measure(mild, filled).effort < measure(ground, filled).effort);
}

TEST_CASE("dual wheels move the slope at which a machine tips, cost what is said, and are named with what sets them") {
  Scene scene = test_machine("utility_75kw", {"job.work=mowing_on_slopes", "job.steepest_deg=10", "job.headings=across",
                                              "terrain.soil.adhesion=1.4", "ballast.rear.fill_fraction=0"});
  WheelsOnHand dual;
  dual.name = "hired pair";
  dual.dual_spacing = 0.6;
  dual.price = 900;
  scene.job.wheels = {dual};
  const PlanGround ground = plan_ground(scene);
  PlanChoice with{};
  with[static_cast<std::size_t>(PlanPart::rear_tyres)] = 1;
  const PlanMeasures plain = measure(ground, {}), wide = measure(ground, with);
  CHECK(wide.cost == 900);
  CHECK(plain.cost == 0);
  CHECK(wide.effort > plain.effort);
  CHECK_NEAR(wide.mass - plain.mass, 2 * scene.vehicle.rear.wheel_mass, 1e-6);
  const PlanStand narrow = stand_of(ground, {}, true), broad = stand_of(ground, with, true);
  REQUIRE(narrow.gives_way);
  REQUIRE(broad.gives_way);
  CHECK(*broad.gives_way > *narrow.gives_way);
  const Model model = build(scene_of(ground.scene, ground.space, with));
  CHECK_NEAR(*broad.gives_way, *weakest_in_job(envelope(model, 36, true), scene.job.headings)->gives_way(), 1e-9);
}

#ifdef SIDEHILL_SCREEN
// The fourth start on all panels, pressed by label: search, list, checklist, chart, pages; and what must not be handed
// on.
#include "render/screen/panels/panels_plan.h"

#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "render/text/job/rule_words.h"
#include "render/text/plan/plan_columns.h"
#include "render/text/plan/plan_words.h"
#include "sim/base/constants.h"
#include "sim/job/rules.h"
#include "tests/kit/near.h"
#include "tests/kit/small_plan.h"
#include "tests/kit/table.h"

using namespace sidehill;

namespace {

struct PlanTable : Table {
  explicit PlanTable(float scale = 1) : Table("first_slope", scale) {
    session.open(small_plan_scene());
    session.settle();
    frame();
    click("Plan");
    found();
  }
  void found() {
    desk.planning->settle();
    attend_plan(desk);
    if (desk.other) desk.other->settle();
    frame();
    frame();
  }
  const Plan& plan() const { return *desk.planning->plan(); }
};

}  // namespace

TEST_CASE("the start Plan is a press away, needs a job first, and is stopped and begun again by buttons") {
  Table table;
  table.click("Plan");
  CHECK(table.desk.task == Task::plan);
  CHECK(table.has("job.work"));
  CHECK(table.ui.readouts.contains("Plan it"));  // no job, nothing to search
  CHECK_FALSE(table.has("Play"));                // both stand
  CHECK(carry_out(U' ', table.desk, table.choices));
  CHECK_FALSE(table.session.playing());
  table.click("Plough heavy");  // offered where there is none
  CHECK(table.session.scene().job.work == Work::heavy_pull);
  CHECK(table.desk.planning->working());
  table.frame();
  table.frame();
  CHECK(table.has("Search"));
  table.click("Stop");
  CHECK(table.desk.planning->stopping());
  table.desk.planning->settle();
  table.frame();
  table.frame();
  CHECK(table.has("Plan again"));
  CHECK(table.has("Set-up 1"));
  CHECK(plan_head(*table.desk.planning->plan(), Units::si).front().starts_with("STOPPED"));
}

TEST_CASE("a press in the list or on the chart stands that set-up beside today's machine") {
  PlanTable table;
  REQUIRE(table.plan().chosen.size() > 1);
  CHECK(table.has("Plan head"));
  CHECK(table.has("Banner T"));
  CHECK(table.has("Banner S"));
  table.click("Set-up 2");
  CHECK(table.desk.planning->chosen_place() == std::size_t{1});
  CHECK(names_of_two(table.desk) == std::pair<std::string, std::string>{"Today", "Set-up 2"});
  table.frame();
  table.click("Mark 1");
  CHECK(table.desk.planning->chosen_place() == std::size_t{0});
  std::size_t marks = 0, points = 0;
  for (const auto& [label, rect] : table.ui.items) {
    marks += label.starts_with("Mark ") ? 1 : 0;
    points += label.starts_with("Point ") ? 1 : 0;
  }
  std::size_t listed = 0;
  for (const FrontPlan& one : table.plan().on_front)
    listed += std::ranges::count(table.plan().chosen, one.choice, &ChosenPlan::choice) > 0 ? 1 : 0;
  CHECK(marks == table.plan().chosen.size());
  CHECK(points == table.plan().on_front.size() - listed);
}

TEST_CASE("both stand on the job's slope, at the heading at which the chosen set-up gives way first") {
  PlanTable table;
  Scene gentle = table.session.scene();
  gentle.terrain.slope = 0.02;
  gentle.start.heading = 0.3;
  table.session.edit(std::move(gentle));
  table.found();
  table.click("On the job's slope");
  table.found();
  REQUIRE(table.desk.planning->chosen());
  const PlanStand& stand = table.desk.planning->chosen()->measures.stand;
  REQUIRE(stand.gives_way);
  for (const Session* one : {&table.session, table.desk.other.get()}) {
    CHECK_NEAR(one->scene().terrain.slope, one->scene().job.slope, 1e-12);
    CHECK_NEAR(std::remainder(one->scene().start.heading - stand.heading, kTwoPi), 0, 1e-9);
  }
  CHECK_FALSE(table.has("On the job's slope"));
  CHECK(table.desk.planning->chosen_place() == std::size_t{0});
}

TEST_CASE("a mark lies higher where more degrees are left, and the axes are chosen with the mouse") {
  PlanTable table;
  const auto higher = [&](PlanColumn column) {
    for (std::size_t i = 0; i + 1 < table.plan().chosen.size(); ++i) {
      const auto a = column_value(column, table.plan().chosen[i].measures, Units::si);
      const auto b = column_value(column, table.plan().chosen[i + 1].measures, Units::si);
      if (!a || !b || std::abs(*a - *b) < 0.02 * std::abs(*a)) continue;
      const float y_a = table.item("Mark " + std::to_string(i + 1)).y,
                  y_b = table.item("Mark " + std::to_string(i + 2)).y;
      CHECK((*a > *b) == (y_a < y_b));
    }
  };
  higher(PlanColumn::gives_way);
  table.click("Chart up");
  table.click("Chart up: Ballast");
  CHECK(table.choices.plan.up == static_cast<int>(PlanColumn::ballast));
  table.frame();
  higher(PlanColumn::ballast);
}

TEST_CASE("the chosen set-up's rules are a checklist, every rule once, and what is asked stands before them") {
  PlanTable table;
  table.height = 2400;
  table.frame();
  table.frame();
  table.click("Why and rules");
  table.frame();
  CHECK(table.has("Asked: slope"));
  CHECK(table.has("Asked: pull"));
  const Session& session = *table.desk.other;
  const auto rules = worst_first(rules_on(session.scene(), *session.model()).rules);
  for (const RuleAnswer& rule : rules) {
    if (rule.id == RuleId::frost && table.desk.planning->chosen()->measures.drained) continue;
    CHECK_MESSAGE(table.has(std::string("Rule of the plan: ") + rule_key(rule.id)), rule_key(rule.id));
  }
}

TEST_CASE("pages are asked for of the set-up chosen, and none while the plan is of an older job") {
  PlanTable table;
  table.click("Report");
  REQUIRE(table.choices.to_make);
  CHECK(table.choices.to_make->of_other);
  CHECK(table.choices.to_make->kind == ExportKind::report);
  CHECK(table.choices.to_make->paper == PaperSize::a4);
  table.choices.to_make.reset();
  table.click("Letter");
  table.click("Cab card");
  REQUIRE(table.choices.to_make);
  CHECK(table.choices.to_make->kind == ExportKind::card);
  CHECK(table.choices.to_make->paper == PaperSize::letter);
  table.choices.to_make.reset();
  const std::string before = write_scene(table.session.scene());
  table.click("job.steepest_deg more");
  CHECK(write_scene(table.session.scene()) != before);
  table.frame();
  CHECK(table.has("Plan state"));
  CHECK(table.ui.readouts.contains("Report"));
  CHECK(table.ui.readouts.contains("Use it"));
  table.click("Report");
  CHECK_FALSE(table.choices.to_make);
  table.click("Plan again");
  table.found();
  CHECK_FALSE(table.has("Plan state"));
  CHECK_FALSE(table.ui.readouts.contains("Report"));
}

TEST_CASE("every item of Plan is reached by the keyboard or only read, at large type too") {
  for (const float scale : {1.f, 2.f}) {
    PlanTable table(scale);
    for (const std::string& label : table.unreached()) FAIL_CHECK(label);
    table.choices.plan.why = true;
    table.frame();
    for (const std::string& label : table.unreached()) FAIL_CHECK(label);
  }
}

TEST_CASE("every number of a job has a button for less and one for more") {
  PlanTable table;
  table.height = 1400;
  table.frame();
  table.frame();
  for (const char* key :
       {"job.implement_mass_kg", "job.pull_kn", "job.working_speed_kmh", "job.working_time_h", "job.road_speed_kmh",
        "job.road_time_h", "job.cone_index_kpa", "job.steepest_deg", "job.coldest_c"}) {
    const double before = table.session.number(key);
    table.click(std::string(key) + " more");
    CHECK_MESSAGE(table.session.number(key) > before, key);
    table.click(std::string(key) + " less");
    CHECK_MESSAGE(table.session.number(key) <= before + 1e-9, key);
  }
}
#endif

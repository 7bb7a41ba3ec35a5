#ifdef SIDEHILL_SCREEN
// A plan on the desk: it comes in the background, can be stopped, is chosen from, grows old, and becomes the machine.
#include "render/screen/background/planning.h"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "render/screen/desk/desk.h"
#include "render/text/plan/plan_report.h"
#include "render/text/plan/plan_words.h"
#include "sim/base/date.h"
#include "sim/base/text_file.h"
#include "sim/base/today.h"
#include "sim/plan/plan_log.h"
#include "sim/scene/machine_mark.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/machines.h"
#include "tests/kit/small_plan.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::screen;

namespace {

void settle_plan(Desk& desk) {
  desk.planning->settle();
  attend_plan(desk);
}

void find_plan(Desk& desk) {
  go_to(desk, Task::plan);
  settle_plan(desk);
}

}  // namespace

TEST_CASE("entering Plan searches without waiting, and what it finds is what the command finds") {
  Desk desk(small_plan_scene());
  go_to(desk, Task::plan);
  REQUIRE(desk.planning);
  CHECK(desk.planning->working());
  CHECK_FALSE(desk.planning->plan());
  CHECK(plan_state(desk) == PlanState::none);
  desk.planning->settle();
  REQUIRE(desk.planning->plan());
  CHECK_FALSE(desk.planning->working());
  CHECK(plan_state(desk) == PlanState::of_scene);
  CHECK(plan_json(*desk.planning->plan()) == plan_json(make_plan(desk.session.scene(), {})));
  CHECK(desk.planning->plan()->on_front.size() == desk.planning->plan()->front);
}

TEST_CASE("the set-up chosen stands beside today's machine, and the second set-up of one's own comes back") {
  Desk desk(small_plan_scene());
  go_to(desk, Task::compare);
  desk.other->set_number("ballast.rear.fill_fraction", 0.4);
  note_edits(desk, true);
  const std::string own = write_scene(desk.other->scene());
  go_to(desk, Task::plan);
  CHECK_FALSE(desk.other);  // nothing to show yet
  CHECK(worth_keeping(desk));
  settle_plan(desk);
  REQUIRE(desk.other);
  const Planning& planning = *desk.planning;
  CHECK(planning.chosen_place() == std::size_t{0});
  CHECK(write_scene(desk.other->scene()) ==
        write_scene(plan_file_scene(desk.session.scene(), *planning.plan(), planning.plan()->chosen[0], today())));
  REQUIRE(planning.plan()->chosen.size() > 1);
  choose_plan(desk, 1);
  CHECK(write_scene(desk.other->scene()) ==
        write_scene(plan_file_scene(desk.session.scene(), *planning.plan(), planning.plan()->chosen[1], today())));
  CHECK(write_scene(*work_of(desk).other) == own);  // what is kept and undone is one's own
  go_to(desk, Task::compare);
  REQUIRE(desk.other);
  CHECK(write_scene(desk.other->scene()) == own);
}

TEST_CASE("any plan of the front can be chosen, and its interval comes later") {
  Desk desk(small_plan_scene());
  find_plan(desk);
  const Plan& plan = *desk.planning->plan();
  std::size_t place = 0;
  const auto listed = [&](std::size_t i) {
    return std::ranges::find(plan.chosen, plan.on_front[i].choice, &ChosenPlan::choice) != plan.chosen.end();
  };
  while (place < plan.on_front.size() && listed(place)) ++place;
  REQUIRE(place < plan.on_front.size());
  choose_plan_point(desk, place);
  CHECK_FALSE(desk.planning->chosen_place());
  CHECK(desk.planning->chosen()->choice == plan.on_front[place].choice);
  CHECK(desk.planning->range_is_coming());
  settle_plan(desk);
  REQUIRE(desk.planning->chosen()->range);
  CHECK(desk.planning->chosen()->range->low < *desk.planning->chosen()->measures.stand.gives_way);
  CHECK(write_scene(desk.other->scene()) ==
        write_scene(plan_file_scene(desk.session.scene(), plan, *desk.planning->chosen(), today())));
  choose_plan_point(desk, 0);  // one of the few is chosen as such
  CHECK(desk.planning->chosen_place().has_value() == listed(0));
}

TEST_CASE("a plan grows old with the machine, the job and what is asked, and undo makes it good again") {
  Desk desk(small_plan_scene());
  find_plan(desk);
  Scene renamed = desk.session.scene();
  renamed.title = "another name";
  desk.session.edit(renamed);
  note_edits(desk, true);
  CHECK(plan_state(desk) == PlanState::of_scene);  // that decides nothing
  desk.session.set_number("job.steepest_deg", 3);
  note_edits(desk, true);
  CHECK(plan_state(desk) == PlanState::of_older);
  CHECK(desk.other->scene().job.slope == desk.session.scene().job.slope);
  undo(desk);
  CHECK(plan_state(desk) == PlanState::of_scene);
  desk.planning->asked.aim = PlanAim::lightest;
  CHECK(plan_state(desk) == PlanState::of_other_aim);
  begin_plan(desk);
  settle_plan(desk);
  CHECK(plan_state(desk) == PlanState::of_scene);
  CHECK(desk.planning->plan()->question.aim == PlanAim::lightest);
}

TEST_CASE("the set-up chosen becomes the machine in one step that undo takes back") {
  Desk desk(small_plan_scene());
  find_plan(desk);
  std::size_t other = 0;
  while (desk.planning->plan()->chosen[other].choice == PlanChoice{}) ++other;
  choose_plan(desk, other);
  const std::string before = write_scene(desk.session.scene());
  use_plan(desk);
  CHECK(write_scene(desk.session.scene()) != before);
  CHECK(desk.session.scene().ballast.fill[kRearLeft].fill_fraction ==
        desk.other->scene().ballast.fill[kRearLeft].fill_fraction);
  CHECK(plan_state(desk) == PlanState::in_use);
  undo(desk);
  CHECK(write_scene(desk.session.scene()) == before);
  CHECK(plan_state(desk) == PlanState::of_scene);
  desk.session.set_number("ballast.loader_payload_kg", 50);
  note_edits(desk, true);
  const std::string edited = write_scene(desk.session.scene());
  use_plan(desk);  // of an older machine: not over what was edited since
  CHECK(write_scene(desk.session.scene()) == edited);
}

TEST_CASE("the plan file is a scene that holds the set-up and says that it was planned") {
  Desk desk(small_plan_scene());
  find_plan(desk);
  const auto file = std::filesystem::temp_directory_path() / fmt::format("sidehill_plan_{}.toml", getpid());
  REQUIRE(save_plan(desk, file));
  const Scene read = load_scene(file.string(), {});
  CHECK(read.note.starts_with("Planned: "));
  CHECK(is_date(read.plan.made));
  CHECK(read.plan.machine_mark == machine_mark(read));
  CHECK(read.plan.before.size() == differences(desk.session.scene(), read).size());
  CHECK(read.ballast.fill[kRearLeft].fill_fraction == desk.other->scene().ballast.fill[kRearLeft].fill_fraction);
  std::filesystem::remove(file);
  CHECK_FALSE(save_plan(desk, "plan.txt"));
  CHECK(desk.message_is_bad);
}

TEST_CASE("a search can be stopped and keeps what it has, and one begun again throws the first away") {
  Desk desk(test_scene("first_slope", {"job_file=plough_heavy"}));
  go_to(desk, Task::plan);
  desk.planning->stop();
  CHECK(desk.planning->stopping());
  desk.planning->asked.aim = PlanAim::most_stable;
  begin_plan(desk);  // another question, while the first is still stopping
  desk.planning->stop();
  settle_plan(desk);
  CHECK_FALSE(desk.planning->plan());  // the first is of another question, and the second never began
  begin_plan(desk);
  desk.planning->stop();
  settle_plan(desk);
  REQUIRE(desk.planning->plan());
  CHECK(desk.planning->plan()->stopped);
  CHECK(desk.planning->plan()->question.aim == PlanAim::most_stable);
  CHECK(std::ranges::count(desk.planning->plan()->chosen, PlanChoice{}, &ChosenPlan::choice) == 1);
}

TEST_CASE("what is searched for a scene that is put away is thrown away, what is begun after it is not") {
  Desk desk(small_plan_scene());
  go_to(desk, Task::plan);
  desk.planning->forget();
  begin_plan(desk);
  settle_plan(desk);
  REQUIRE(desk.planning->plan());
  CHECK(plan_state(desk) == PlanState::of_scene);
}

TEST_CASE("without a job nothing is searched, and a question its job cannot answer says why") {
  Desk desk(test_scene("first_slope"));
  go_to(desk, Task::plan);
  CHECK_FALSE(desk.planning->working());
  CHECK(plan_state(desk) == PlanState::none);
  Scene scene = small_plan_scene();
  scene.job.weights.clear();
  scene.job.media = {{Medium::water, 0, {}}};
  desk.session.edit(scene);
  desk.planning->asked.aim = PlanAim::cheapest;
  begin_plan(desk);
  settle_plan(desk);
  CHECK_FALSE(desk.planning->plan());
  CHECK(desk.planning->refusal().find("price") != std::string::npos);
}
#endif

// The job's drawer: eight lines, bars, and the rules as a checklist; of both set-ups where there are two.
#ifdef SIDEHILL_SCREEN
#include "render/screen/panels/panels_job.h"

#include <algorithm>

#include "render/text/job/rule_words.h"
#include "sim/job/rules.h"
#include "sim/scene/scene_fields.h"
#include "tests/kit/table.h"

using namespace sidehill;

namespace {

Scene with_job(Scene scene, const char* job) {
  scene.job = load_job(job, SIDEHILL_SOURCE_DIR "/scenes");
  return scene;
}

}  // namespace

TEST_CASE("the job is a form of eight lines; what is put in reaches the scene") {
  Table table;
  pull(Drawer::job, table.choices);
  table.frame();
  table.frame();
  for (const char* key :
       {"job.work", "job.hitch", "job.implement_mass_kg", "job.pull_kn", "job.working_speed_kmh", "job.working_time_h",
        "job.road_speed_kmh", "job.road_time_h", "job.ground", "job.cone_index_kpa", "job.steepest_deg", "job.headings",
        "job.coldest_c", "job.filled_by", "job.tubes", "job.liquid_permitted"})
    CHECK_MESSAGE(table.has(key), key);
  CHECK(table.has("wet"));
  CHECK_FALSE(table.has("Job: slip"));  // no work, no slip
  table.click("wet");
  CHECK(table.session.scene().job.wet);
  table.session.edit(with_job(table.session.scene(), "plough_heavy"));
  table.session.settle();
  table.frame();
  table.frame();
  CHECK(table.has("Job: slip"));
  CHECK(table.has("Job: slip uphill"));
  CHECK(table.has("Job: fuel"));
}

TEST_CASE("the checklist has every rule once, the worst on top") {
  Table table;
  table.height = 2000;  // all of it in sight
  table.session.edit(with_job(table.session.scene(), "hill_bale"));
  table.session.settle();
  pull(Drawer::job, table.choices);
  table.frame();
  table.frame();
  CHECK(table.item("Job: stands").y < table.item("Job: worst").y);  // whether it stands on the slope, before all rules
  const RuleReport report = rules_on(table.session.scene(), *table.session.model());
  const auto rules = worst_first(report.rules);
  float last = -1;
  std::size_t rows = 0;
  for (std::size_t i = 0; i < rules.size(); ++i) {
    if (i > 0 && rules[i - 1].id == rules[i].id) continue;
    const Rect at = table.item(std::string("Rule: ") + rule_key(rules[i].id));
    CHECK(at.y > last);
    last = at.y;
    ++rows;
  }
  std::size_t items = 0;
  for (const auto& [label, rect] : table.ui.items) items += label.starts_with("Rule: ") ? 1 : 0;
  CHECK(items == rows);
}

TEST_CASE("two set-ups have their bars and their rules side by side, on one job") {
  Table table;
  table.height = 2600;
  carry_out(U'c', table.desk, table.choices);
  REQUIRE(table.desk.other);
  table.frame();
  table.desk.edited().edit(with_job(table.desk.edited().scene(), "plough_heavy"));
  for (int i = 0; i < 4; ++i) {
    note_edits(table.desk, true);
    table.session.settle();
    table.desk.other->settle();
    table.frame();
  }
  CHECK(table.desk.other->scene().job.work == Work::heavy_pull);
  CHECK(table.session.scene().job.work == Work::heavy_pull);
  pull(Drawer::job, table.choices);
  table.frame();
  table.frame();
  CHECK(table.has("Rule A: mass_per_power"));
  CHECK(table.has("Rule B: mass_per_power"));
}

TEST_CASE("while a lesson still asks, the job shows neither rules nor grip nor fuel") {
  Table table;
  table.height = 2000;
  table.click("Teach");
  table.click("Lesson Side slope");
  Scene scene = table.session.scene();
  scene.job = load_job("plough_heavy", SIDEHILL_SOURCE_DIR "/scenes");
  table.session.edit(scene);
  table.session.settle();
  pull(Drawer::job, table.choices);
  table.frame();
  table.frame();
  const auto numbers = [&] {
    return std::ranges::count_if(table.ui.items, [](const auto& item) {
      return item.first.starts_with("Rule") || item.first.starts_with("Job: ");
    });
  };
  REQUIRE(hides_numbers(table.desk, table.choices));
  CHECK(table.has("job.work"));
  CHECK(numbers() == 0);
  table.choices.lesson->stage = LessonStage::answered;
  REQUIRE_FALSE(hides_numbers(table.desk, table.choices));
  table.frame();
  table.frame();
  CHECK(numbers() > 5);
}

TEST_CASE("the key J opens the job and closes it, at any size of window and type") {
  for (const auto& [width, height, scale] :
       {std::tuple{1280.f, 720.f, 1.f}, std::tuple{640.f, 480.f, 1.f}, std::tuple{1920.f, 1080.f, 2.f}}) {
    Table table("first_slope", scale);
    table.width = width, table.height = height;
    CHECK(carry_out(U'j', table.desk, table.choices));
    CHECK(table.choices.drawer == Drawer::job);
    table.frame();
    table.frame();
    CHECK(table.has("job.work"));
    CHECK(table.unreached().empty());
    CHECK(carry_out(U'j', table.desk, table.choices));
    CHECK(table.choices.drawer == Drawer::none);
  }
}
#endif

// Two set-ups in one table over the picture: the rows of `sidehill compare`, in its words.
#ifdef SIDEHILL_SCREEN
#include "render/screen/panels/panels_side_by_side.h"

#include <algorithm>

#include "render/text/job/set_ups_report.h"
#include "sim/scene/scene_fields.h"
#include "tests/kit/table.h"

using namespace sidehill;

namespace {

void settle(Table& table) {
  note_edits(table.desk, true);
  table.session.settle_doubts();
  if (table.desk.other) table.desk.other->settle_doubts();
  table.frame();
  table.frame();
}

// A with a job, B with the rear tyres empty.
void lay_out(Table& table) {
  Scene scene = table.session.scene();
  scene.job = load_job("hill_bale", SIDEHILL_SOURCE_DIR "/scenes");
  table.session.edit(scene);
  carry_out(U'c', table.desk, table.choices);
  REQUIRE(table.desk.other);
  table.desk.edits_other = true;
  Scene bare = without_ballast(table.desk.other->scene());
  bare.job = scene.job;
  table.desk.other->edit(bare);
  table.frame();
  settle(table);
}

}  // namespace

TEST_CASE("what the window compares is what the command compares, to the last letter") {
  Table table;
  table.height = 1400;
  lay_out(table);
  const SetUpComparison all = compare_set_ups({{"A", table.session.scene()}, {"B", table.desk.other->scene()}});
  const SetUpAnswer *a = table.session.set_up(), *b = table.desk.other->set_up();
  REQUIRE(a);
  REQUIRE(b);
  REQUIRE(table.session.doubts());
  REQUIRE(table.desk.other->doubts());
  const SetUpDifference pair = difference(table.session.scene(), *table.session.doubts(), table.desk.other->scene(),
                                          *table.desk.other->doubts());
  std::size_t differing = 0;
  for (const SetUpRow& row : set_up_rows()) {
    const std::string key(row.key);
    CAPTURE(key);
    CHECK(cell_words(row, *a, Units::si) == cell_words(row, all.set_ups[0], Units::si));
    CHECK(cell_words(row, *b, Units::si) == cell_words(row, all.set_ups[1], Units::si));
    const std::string words = difference_words(row, *a, *b, &pair, Units::si);
    CHECK(words == difference_words(row, all.set_ups[0], all.set_ups[1], &all.differences[0], Units::si));
    if (!words.empty()) ++differing;
  }
  CHECK(differing > 5);
  const auto lines = [](const std::vector<SetUpLine>& list) {
    std::string text;
    for (const SetUpLine& line : list) text += line.before + line.words + "\n";
    return text;
  };
  const std::vector<ShownSetUp> here{{"A", a}, {"B", b}}, there{{"A", &all.set_ups[0]}, {"B", &all.set_ups[1]}};
  CHECK(lines(first_lines(here, Units::si)) == lines(first_lines(there, Units::si)));
  CHECK(lines(lines_of_limits(here, Units::si)) == lines(lines_of_limits(there, Units::si)));
}

TEST_CASE("the table opens from Compare and with I, the worst above the rows, all of them reached by scrolling") {
  Table table;
  lay_out(table);
  table.click("Side by side");
  CHECK(table.choices.drawer == Drawer::side_by_side);
  settle(table);
  const Rect worst = table.item("Side by side: worst"), limits = table.item("Side by side: limits");
  float last = std::max(worst.y, limits.y);
  for (const SetUpRow& row : set_up_rows()) {
    const Rect at = table.item("Side by side: " + std::string(row.key));
    CHECK(at.y > last);
    last = at.y;
  }
  const float rusts = table.item("Side by side: how it rusts").y;
  CHECK(rusts > last);
  CHECK(table.item("Side by side: cautions").y > rusts);
  CHECK(table.unreached().empty());
  CHECK(carry_out(U'i', table.desk, table.choices));
  CHECK(table.choices.drawer == Drawer::none);
}

TEST_CASE("while it is worked out no number of an earlier scene stands in the table") {
  Table table;
  lay_out(table);
  pull(Drawer::side_by_side, table.choices);
  settle(table);
  REQUIRE(table.has("Side by side: worst"));
  const float row = table.item("Side by side: total_mass_kg").y;
  REQUIRE(table.session.set_up());
  Scene changed = table.session.scene();
  changed.ballast.front_weights += 100;
  table.session.edit(changed);
  CHECK_FALSE(table.session.set_up());
  CHECK_FALSE(table.session.turned_is_known());
  table.frame([&] {  // before any answer is taken over
    begin_items(table.ui);
    draw_side_by_side(table.ui, table.desk, table.choices,
                      layout_of(table.width, table.height, 1, table.desk, table.choices));
  });
  CHECK_FALSE(table.has("Side by side: worst"));
  CHECK(table.item("Side by side: total_mass_kg").y == row);  // and nothing jumps
}

TEST_CASE("with one set-up, or while a lesson still asks, the table has no numbers") {
  Table table;
  pull(Drawer::side_by_side, table.choices);
  table.frame();
  table.frame();
  CHECK(table.has("Close side by side"));
  CHECK_FALSE(table.has("Side by side: total_mass_kg"));
  lay_out(table);
  REQUIRE(table.has("Side by side: total_mass_kg"));
  pull(Drawer::none, table.choices);
  table.click("Teach");
  table.click("Lesson Side slope");
  settle(table);
  REQUIRE(hides_numbers(table.desk, table.choices));
  pull(Drawer::side_by_side, table.choices);
  settle(table);
  CHECK(table.has("Close side by side"));
  CHECK_FALSE(table.has("Side by side: total_mass_kg"));
}
#endif

// Any datum is found by its plain name and changed in place.
#ifdef SIDEHILL_SCREEN
#include "render/screen/parts/find_field.h"

#include <algorithm>
#include <string>

#include "render/text/words/words.h"
#include "sim/base/errors.h"
#include "tests/kit/near.h"
#include "tests/kit/table.h"

using namespace sidehill;

namespace {

void look_for(Table& table, const char* words) {
  if (!table.choices.find.open) REQUIRE(carry_out(U'/', table.desk, table.choices));
  table.frame();
  table.frame();
  ImGui::GetIO().AddInputCharactersUTF8(words);
  table.frame();
  table.frame();
}

}  // namespace

TEST_CASE("the key leads to the search, and tyre pressure is found by its name and changed there") {
  Table table;
  look_for(table, "Tyre pressure");
  const std::string key = "vehicle.rear.tyre.pressure_kpa", item = "Find: " + key;
  REQUIRE(table.has(item));
  REQUIRE(table.has("Find: vehicle.front.tyre.pressure_kpa"));
  CHECK_FALSE(table.has("Slope"));  // the sliders have made room
  table.click(item);
  ImGui::GetIO().AddInputCharactersUTF8("95");
  table.frame();
  table.press_key(Table::kEnter);
  table.frame();
  CHECK_NEAR(table.session.number(key), 95, 1e-9);
  note_edits(table.desk, true);
  undo(table.desk);
  CHECK(table.session.number(key) != 95);
}

TEST_CASE("what is typed is kept when another item is clicked, and what is not allowed is said and not taken") {
  Table table;
  look_for(table, "pressure rear");
  const std::string key = "vehicle.rear.tyre.pressure_kpa", item = "Find: " + key;
  REQUIRE(table.has(item));
  const double before = table.session.number(key);
  table.click(item);
  ImGui::GetIO().AddInputCharactersUTF8("99999");
  table.frame();
  table.click("Find words");
  CHECK(table.session.number(key) == before);
  REQUIRE(table.has("Find is wrong"));
  CHECK(table.choices.find.wrong.find("allowed") != std::string::npos);
  table.click(item);
  ImGui::GetIO().AddInputCharactersUTF8("130");
  table.frame();
  table.click("Find words");
  CHECK_NEAR(table.session.number(key), 130, 1e-9);
  CHECK_FALSE(table.has("Find is wrong"));
}

TEST_CASE("every datum of the scene is found by the plain name it is shown with") {
  Table table("over_a_stump");
  const Scene& scene = table.session.scene();
  std::size_t fields = 0;
  for (const Field& field : scene_fields()) {
    if (std::holds_alternative<AnswerFieldOf<Scene>>(field.kind) ||
        std::holds_alternative<MaybeFieldOf<Scene>>(field.kind))
      continue;
    const std::string key(field.key);
    CAPTURE(key);
    const auto found = find_data(scene, plain_name(field.key), Units::si);
    CHECK(std::ranges::find(found, key, &FoundDatum::key) != found.end());
    ++fields;
  }
  CHECK(fields > 100);
  // Lists too, and by any case.
  const auto stump = find_data(scene, "FEATURE height", Units::si);
  CHECK(std::ranges::find(stump, "terrain.feature[0].height_m", &FoundDatum::key) != stump.end());
  CHECK(find_data(scene, "", Units::si).empty());
  CHECK(find_data(scene, "xyzzy", Units::si).empty());
}

TEST_CASE("numbers are typed in the units shown; lists, words and choices are changed by their names") {
  Table table("over_a_stump");
  const Scene scene = table.session.scene();
  const auto one = [&](const char* words, const char* key, Units units) {
    for (const FoundDatum& datum : find_data(scene, words, units))
      if (datum.key == key) return datum;
    FAIL("not found: " << key);
    return FoundDatum{};
  };
  const FoundDatum pressure = one("tyre pressure", "vehicle.rear.tyre.pressure_kpa", Units::us);
  CHECK(pressure.unit == "psi");
  CHECK_NEAR(with_datum(scene, pressure, "20", Units::us).vehicle.rear.tyre.pressure, 20 * 6894.757293168, 1);
  const FoundDatum height = one("feature height", "terrain.feature[0].height_m", Units::si);
  CHECK_NEAR(with_datum(scene, height, "0,21", Units::si).terrain.features[0].height, 0.21, 1e-12);
  CHECK_THROWS_AS(with_datum(scene, height, "many", Units::si), InputError);
  const FoundDatum medium = one("medium rear left", "ballast.rear_left.medium", Units::si);
  REQUIRE(medium.choices.size() > 3);
  CHECK(with_datum(scene, medium, medium.choices[1], Units::si).ballast.fill[kRearLeft].medium == Medium{1});
  const FoundDatum title = one("title", "title", Units::si);
  CHECK(with_datum(scene, title, "My \"own\" slope", Units::si).title == "My \"own\" slope");
}

TEST_CASE("the search keeps inside its panel, and Escape leads back to the sliders") {
  Table table;
  look_for(table, "pressure");
  const Layout layout = layout_of(table.width, table.height, 1, table.desk, table.choices);
  const Rect line = table.item("Find words"), close = table.item("##close find");
  CHECK(line.x >= layout.left.x);
  CHECK(close.x + close.width <= layout.left.x + layout.left.width);
  CHECK(table.unreached().empty());
  table.press_key(Table::kEscape);
  table.press_key(Table::kEscape);
  CHECK_FALSE(table.choices.find.open);
  CHECK(table.has("Slope"));
}
#endif

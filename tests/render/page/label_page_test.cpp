// Rim labels on paper: a card for each filled wheel with what must be known of it.
#include "render/page/label_page.h"

#include <algorithm>
#include <regex>

#include "render/page/provenance.h"
#include "render/text/words/words.h"
#include "sim/base/text_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/page_limits.h"
#include "tests/kit/page_words.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;

namespace {

std::size_t times_in(const std::string& words, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = words.find(part); at != words.npos; at = words.find(part, at + 1)) ++count;
  return count;
}

}  // namespace

TEST_CASE("a card for each filled wheel, all on one page, with medium, amount, frost, pressure and cautions") {
  const Scene scene = test_scene("first_slope", {"ballast.front.fill_fraction=0.4", "ballast.front.medium=water"});
  const auto fillings = axle_fillings(scene);
  for (const PaperSize size : {PaperSize::a4, PaperSize::letter})
    for (const Units units : {Units::si, Units::us}) {
      const auto pages = label_pages(fillings, units, size);
      REQUIRE(pages.size() == 1);
      check_words_apart(pages[0], 12);
      const std::string words = words_on(pages);
      CHECK(times_in(words, "Liquid inside: heavy when taken off") == 4);
      CHECK(times_in(words, "No welding or heating of this rim.") == 4);
      CHECK(times_in(words, "Frost limit: ") == 4);
      CHECK(times_in(words, "valve at the top") == 4);
      CHECK(times_in(words, "filled by") == 4);
      CHECK(times_in(words, "date") == 4);
      CHECK(times_in(words, "estimate from the tyre's size: ") == 4);
      for (const char* wheel : {"Front left wheel", "Front right wheel", "Rear left wheel", "Rear right wheel"})
        CHECK(times_in(words, wheel) == 1);
      for (const AxleFilling& filling : fillings) {
        const FillSheet& s = filling.sheet;
        CHECK(times_in(words, measured(Quantity::volume, s.jacked.volume, 0, units) + ", " +
                                  measured(Quantity::mass, mass_of(s), 0, units)) == 2);
        CHECK(has(words, s.medium == Medium::water ? "water" : "calcium chloride, 23 % by mass"));
        CHECK(has(words, measured(Quantity::pressure, s.pressure, 0, units)));
      }
      CHECK(has(words, made_by(scene)));
      CHECK(has(words, std::string(kCautionLine).substr(0, 30)));
    }
}

TEST_CASE("each wheel's card says what that wheel holds; one on air has none") {
  const auto one = axle_fillings(test_scene("first_slope", {"ballast.rear_left.fill_fraction=0"}));
  CHECK(times_in(words_on(label_pages(one)), "Liquid inside") == 1);
  CHECK(has(words_on(label_pages(one)), "Rear right wheel"));
  const auto two = axle_fillings(
      test_scene("first_slope", {"ballast.rear_left.fill_fraction=0.4", "ballast.rear_left.medium=ethylene_glycol"}));
  const std::string words = words_on(label_pages(two));
  CHECK(has(words, "POISON"));
  for (const FillSheet* sheet : {&two[0].sheet, &*two[0].other})
    CHECK(times_in(words, measured(Quantity::volume, sheet->jacked.volume, 0, Units::si) + ", ") == 1);
}

TEST_CASE("a card is about 100 mm by 70 mm and lies inside its cut marks") {
  CHECK(kLabelWidth * 25.4 / 72 > 90);
  CHECK(kLabelWidth * 25.4 / 72 < 105);
  CHECK(kLabelHeight * 25.4 / 72 > 65);
  CHECK(kLabelHeight * 25.4 / 72 < 75);
  const auto pages = label_pages(axle_fillings(test_scene("first_slope")));
  for (const auto& mark : pages[0].sheet.marks)
    if (const auto* path = std::get_if<PagePath>(&mark))
      for (const PagePoint& point : path->points) {
        CHECK(point.x >= 0);
        CHECK(point.x <= pages[0].sheet.width);
      }
}

TEST_CASE("a filling of which the frost is not known says so on its card") {
  const std::string words = words_on(label_pages(axle_fillings(
      test_scene("first_slope", {"ballast.rear.medium=own", "ballast.own_medium.density_kg_per_m3=1250"}))));
  CHECK(has(words, "Frost limit: not known"));
}

TEST_CASE("the same labels give the same bytes") {
  const Folder folder;
  const auto fillings = axle_fillings(test_scene("first_slope"));
  write_labels(folder / "a.pdf", fillings);
  write_labels(folder / "b.pdf", fillings);
  CHECK(read_text(folder / "a.pdf").substr(0, 4) == "%PDF");
  CHECK(read_text(folder / "a.pdf") == read_text(folder / "b.pdf"));
}

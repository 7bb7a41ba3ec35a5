// The card in the cab: one page with the worst first, every number as in JSON, every item that guidance asks for, and
// no word that allows anything.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <regex>
#include <set>

#include "render/page/cab_card.h"
#include "render/page/provenance.h"
#include "render/text/motion/cab_card_report.h"
#include "render/text/motion/slope_advice.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/text_file.h"
#include "sim/model/model.h"
#include "tests/kit/csv.h"
#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/page_words.h"
#include "tests/kit/share.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;

namespace {

struct MadeCard {
  Scene scene;
  Model model;
  CabCard card;
};

// Each is worked out once.
const MadeCard& made_card(const std::string& name) {
  static std::map<std::string, MadeCard> all;
  const auto at = all.find(name);
  if (at != all.end()) return at->second;
  std::vector<std::string> changes;
  if (name == "frozen")  // much to say: a warning, a long ballast, fills that differ
    changes = {"settings.temperature_c=-15", "ballast.rear_left.medium=\"water\"", "ballast.front_weights_kg=200",
               "ballast.rear_weights_kg=300", "ballast.front_left.fill_fraction=0.5"};
  if (name == "no_loader") changes = {"vehicle_file=\"orchard_60kw\"", "ballast.loader_payload_kg=0"};
  MadeCard made;
  made.scene = test_scene(changes.empty() ? name : "first_slope", changes);
  made.model = build(made.scene);
  // The page only shows a card: the numbers of one serve for every machine with a loader.
  made.card = name == "bucket_up" || name == "no_loader" ? cab_card(made.scene) : made_card("bucket_up").card;
  return all.emplace(name, made).first->second;
}

// A card with every cell of a loader takes long to work out: not in a checked build.
std::vector<const char*> with_and_without_loader() {
  if (kShare > 1) return {"no_loader"};
  return {"bucket_up", "first_slope", "no_loader"};
}

// Lines of a page as one line of words.
std::string card_words(const std::vector<PdfPage>& pages) {
  return std::regex_replace(words_on(pages), std::regex("\\s+"), " ");
}

std::string card_text(const std::string& name, Units units = Units::si, PaperSize size = PaperSize::a4) {
  const MadeCard& made = made_card(name);
  return card_words(card_pages(made.card, made.scene, made.model, units, size));
}

// What of each item of the guidance must stand on a card: its number in the list, and words.
const std::map<std::string, std::vector<std::string>>& item_words() {
  static const std::map<std::string, std::vector<std::string>> words{
      {"1", {"Not a fixed safe angle", "Steepness", "ground", "weather", "obstacles"}},
      {"2", {"Loss of grip", "running away", "jack-knifing", "going over", "flat ground", "banks", "ditches", "ramps"}},
      {"3", {"Roll-over frame up and locked", "lap belt on"}},
      {"4", {"as low as you can", "raised loader"}},
      {"5", {"No holes on the downhill side", "no stumps or bumps on the uphill side"}},
      {"6", {"Avoid turning uphill", "slowly and wide"}},
      {"7", {"keep the heavy end uphill", "Reverse up a steep slope"}},
      {"8", {"Implement at the side", "On the uphill side, and low"}},
      {"9", {"as far from the edge as the bank is deep"}},
      {"10", {"Low range before the slope", "Never coast", "clutch"}},
      {"11", {"A heavy load can push the tractor", "Fill tanks only in part", "Start on the flat or uphill"}},
      {"12", {"Set as wide as possible"}},
      {"13", {"low-torque", "slopes over 20 % (11.3°)"}},
      {"14", {"trained for slopes"}},
      {"15", {"20 % = 11.3°", "100 % = 45.0°"}},
      {"16", {"15° = 27 %", "17.5° = 32 %", "5° = 9 %", "not for tractors"}},
      {"17", {"hold only for this set-up", "date", "full", "kg", "to the safe side"}},
      {"18", {"WARNING"}},
  };
  return words;
}

}  // namespace

TEST_CASE("every item that guidance asks of a slope card stands on it, with and without a loader") {
  const auto rows = read_csv("job/slope_card_items.csv");
  CHECK(rows.size() == 18);
  for (const char* name : with_and_without_loader()) {
    const std::string words = card_text(name);
    for (const CsvRow& row : rows) {
      CAPTURE(row.at("item"));
      REQUIRE(item_words().contains(row.at("n")));
      for (const std::string& part : item_words().at(row.at("n"))) CHECK_MESSAGE(has(words, part), part);
    }
  }
  // The sign: a triangle of our own lines.
  const MadeCard& made = made_card("no_loader");
  const auto pages = card_pages(made.card, made.scene, made.model);
  bool triangle = false;
  for (const auto& mark : pages[0].sheet.marks)
    if (const auto* path = std::get_if<PagePath>(&mark))
      triangle = triangle || (path->closed && path->points.size() == 3);
  CHECK(triangle);
}

TEST_CASE("a card is one page on both papers and in both units, and nothing hangs over or below") {
  std::vector<const char*> names = with_and_without_loader();
  if (kShare == 1) names.insert(names.end(), {"bale_on_spike", "frozen"});
  for (const char* name : names)
    for (const PaperSize size : {PaperSize::a4, PaperSize::letter})
      for (const Units units : {Units::si, Units::us}) {
        CAPTURE(name);
        const MadeCard& made = made_card(name);
        const auto pages = card_pages(made.card, made.scene, made.model, units, size);
        REQUIRE(pages.size() == 1);
        const PageSheet& sheet = pages[0].sheet;
        CHECK(sheet.height == format_of(size).height);
        for (const auto& mark : sheet.marks)
          if (const auto* text = std::get_if<PageText>(&mark)) {
            CAPTURE(text->words);
            const double left = text->at.x - text->align * text_width(text->words, text->size, text->strong);
            CHECK(left >= 20);
            CHECK(left + text_width(text->words, text->size, text->strong) <= sheet.width - 20);
            CHECK(text->size >= 6.5);
            CHECK(text->at.y <= sheet.height - 5);
            // Below its line the foot stands alone.
            if (text->at.y > sheet.height - 36)
              CHECK((has(kCautionLine, text->words) || text->words == made_by(made.scene)));
          }
        CHECK(has(card_words(pages), "no leave to work on a slope."));
      }
}

TEST_CASE("the worst of the card is its first number and its largest letters") {
  for (const char* name : with_and_without_loader()) {
    CAPTURE(name);
    const MadeCard& made = made_card(name);
    const auto pages = card_pages(made.card, made.scene, made.model);
    const auto worst = worst_of(made.card);
    REQUIRE(worst);
    const std::string number = card_slope(made.card.rows[worst->row].at(worst->what).slope);
    const PageText* largest = nullptr;
    for (const auto& mark : pages[0].sheet.marks)
      if (const auto* text = std::get_if<PageText>(&mark))
        if (!largest || text->size > largest->size) largest = text;
    REQUIRE(largest);
    CHECK(largest->words == number);
    CHECK(largest->at.y < 130);
    const std::string words = card_words(pages);
    CHECK(words.find("°") == words.find(number) + number.find("°"));  // no angle stands before it
    for (const CardRow& row : made.card.rows)
      for (const CardCell& cell : row.cells)
        if (cell.answer == CardAnswer::gives_way)
          CHECK(whole_degrees_down(cell.slope) >= whole_degrees_down(made.card.rows[worst->row].at(worst->what).slope));
  }
}

TEST_CASE("every cell of the page is that of the JSON, in its order, and no slope stands there without per cent") {
  for (const char* name : with_and_without_loader()) {
    const MadeCard& made = made_card(name);
    const auto json = card_json(made.card, made.scene, made.model);
    std::vector<std::string> of_json, of_page;
    for (const auto& row : json["rows"])
      for (const char* what : {"standing", "over_a_bump", "in_a_bend"}) {
        const auto& cell = row[what];
        if (cell["answer"] != "gives_way") continue;
        of_json.push_back(fmt::format("{}° = {} %", cell["slope_deg"].get<int>(), cell["slope_percent"].get<int>()));
        CHECK(cell["slope_deg"].get<int>() <= cell["lower_end_deg"].get<double>() + 1e-9);
      }
    const auto pages = card_pages(made.card, made.scene, made.model);
    static const std::regex slope("[0-9]+° = [0-9]+ %");
    bool first = true;
    for (const auto& mark : pages[0].sheet.marks)
      if (const auto* text = std::get_if<PageText>(&mark)) {
        if (!std::regex_match(text->words, slope)) continue;
        if (!first) of_page.push_back(text->words);
        first = false;  // the big one
      }
    CHECK(of_json.size() >= (made.card.loader ? 30 : 1));
    CHECK(of_page == of_json);
    // The set-up in words stands in both.
    const std::string words = card_words(pages);
    for (const auto& value : json["set_up"]) {
      CAPTURE(value);
      CHECK(has(words, value.get<std::string>()));
    }
  }
}

TEST_CASE("per cent are rounded down by the house's own rule") {
  for (int degrees = 0; degrees <= 89; ++degrees) {
    const std::string house = degrees_and_percent(degrees * kDegree, 0, true);
    const auto percent = whole_percent_down(degrees);
    CHECK(house == (percent ? fmt::format("{}° = {} %", degrees, *percent) : fmt::format("{}°", degrees)));
    if (percent) CHECK(*percent <= 100 * std::tan(degrees * kDegree) + 1e-6);
  }
}

TEST_CASE("a card says where it gives way, never what is allowed, and leaves the working limit to its owner") {
  for (const char* name : with_and_without_loader()) {
    const std::string words = card_text(name);
    for (const char* bad :
         {"safe up to", "allowed up to", "permitted", "maximum slope", "nan", "inf ", "vehicle.", "ballast."})
      CHECK_FALSE_MESSAGE(has(words, bad), bad);
    CHECK(has(words, "our working limit, set by"));
    CHECK(has(words, "It allows nothing."));
    CHECK(has(words, "Left out:"));
    CHECK(has(words, scene_hash(made_card(name).scene)));
  }
}

TEST_CASE("a cell without an answer says so in words") {
  const MadeCard& made = made_card("no_loader");
  CabCard card = made.card;
  card.rows[0].cells[1].answer = CardAnswer::not_known;
  card.rows[0].cells[2].answer = CardAnswer::nothing_found;
  const std::string words = card_words(card_pages(card, made.scene, made.model));
  CHECK(has(words, "not known = the model finds no answer. It is not safe."));
  CHECK(has(words, "none up to 45° = 100 %"));
  CHECK_FALSE(has(card_text("no_loader"), "none up to"));
  CHECK(has(words, "It is no promise."));
  CHECK(has(words, "1 of 3 answers are not known and may be worse."));
  CHECK(card_cell_words(card.rows[0].cells[1], card.motion).slope == "not known");
  card.rows[0].cells[0].answer = CardAnswer::not_known;
  CHECK(card_worst(card, made.scene, Units::si).slope.empty());
}

TEST_CASE("a card in US units has nothing metric, and the same card gives the same bytes") {
  static const std::regex metric("[0-9] (kg|kPa|km/h|m|L|cm)( |,|;|:|\\.|\\)|$)|°C");
  for (const char* name : with_and_without_loader()) {
    CHECK(std::regex_search(card_text(name), metric));
    std::smatch found;
    const std::string us = card_text(name, Units::us);
    CHECK_FALSE_MESSAGE(std::regex_search(us, found, metric), found.str());
    CHECK(has(us, " lb"));
  }
  const Folder folder;
  const MadeCard& made = made_card("no_loader");
  write_card(folder / "a.pdf", made.card, made.scene, made.model);
  write_card(folder / "b.pdf", cab_card(made.scene), made.scene, made.model);
  const std::string a = read_text(folder / "a.pdf");
  CHECK(a.substr(0, 4) == "%PDF");
  CHECK(a == read_text(folder / "b.pdf"));
}

TEST_CASE("a frozen fill stands on the card before the table") {
  MadeCard made = made_card("no_loader");
  made.scene = test_scene("first_slope", {"vehicle_file=\"orchard_60kw\"", "ballast.loader_payload_kg=0",
                                          "ballast.rear.medium=\"water\"", "settings.temperature_c=-15"});
  const auto pages = card_pages(made.card, made.scene, build(made.scene));
  const std::string words = card_words(pages);
  CHECK(has(words, "! FROZEN"));
  CHECK(words.find("! FROZEN") < words.find("standing"));
}

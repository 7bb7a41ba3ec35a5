// Pages as a reader of PDF files sees them: every word drawn can be read off the file, and what `label` and `handout`
// print is what they draw. Read with pdftotext of poppler.
#include <algorithm>
#include <cctype>
#include <string>
#include <vector>

#include "render/page/cab_card.h"
#include "render/page/filling_page.h"
#include "render/page/handout.h"
#include "render/page/label_page.h"
#include "render/page/provenance.h"
#include "render/page/report.h"
#include "render/text/fill/axle_filling_json.h"
#include "sim/insight/cab_card.h"
#include "tests/kit/folder.h"
#include "tests/kit/machines.h"
#include "tests/kit/page_numbers.h"
#include "tests/kit/page_words.h"
#include "tests/kit/program.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;

namespace {

// Words without the spaces between them: a reader guesses those from distances. No-break spaces (U+00A0) and thin ones
// (U+2009, U+202F) are spaces too.
std::string close_up(std::string words) {
  for (const char* space : {"\u00a0", "\u2009", "\u202f"})
    for (std::size_t at; (at = words.find(space)) != words.npos;) words.erase(at, std::string(space).size());
  std::erase_if(words, [](char c) { return std::isspace(static_cast<unsigned char>(c)); });
  return words;
}

std::string read_off(const std::vector<PdfPage>& pages) {
  const Folder folder;
  const std::string file = folder / "page.pdf";
  write_pdf(file, pages, "words");
  const Said said = shell("pdftotext -raw '" + file + "' -");
  REQUIRE(said.code == 0);
  return close_up(said.out);
}

void check_read(const std::vector<PdfPage>& pages) {
  const std::string read = read_off(pages);
  std::size_t words = 0;
  for (const PdfPage& page : pages)
    for (const auto& mark : page.sheet.marks)
      if (const auto* text = std::get_if<PageText>(&mark)) {
        CAPTURE(text->words);
        CHECK(read.find(close_up(text->words)) != read.npos);
        ++words;
      }
  CHECK(words > 10);
  CHECK(read.find(close_up("no page says this 123456.7")) == read.npos);
}

void check_numbers(const std::string& words, const nlohmann::ordered_json& from, double greatest_step) {
  JsonNumbers json;
  collect_numbers(from, json);
  for (const double number : numbers_in(words)) {
    if (number == std::floor(number) && number <= greatest_step) continue;  // numbers of steps, answers and pages
    CAPTURE(number);
    CHECK(is_in(number, json));
  }
}

std::string without(std::string words, const std::string& part) {
  for (std::size_t at; !part.empty() && (at = words.find(part)) != words.npos;) words.erase(at, part.size());
  return words;
}

}  // namespace

TEST_CASE("every word of a page can be read off its PDF") {
  const Scene scene = test_scene("first_slope", {"job_file=hill_bale"});
  const auto fillings = axle_fillings(scene);
  check_read(filling_pages(fillings));
  check_read(label_pages(fillings));
  const Scene plain = test_scene("first_slope", {"vehicle_file=orchard_60kw", "ballast.loader_payload_kg=0"});
  check_read(card_pages(cab_card(plain), plain, build(plain)));
  const Answer found = answer(scene, 1);
  const ReportFacts facts = report_facts(found, false);
  check_read(report_pages(found, {}, Units::si, PaperSize::a4, &facts));
  Handout handout;
  handout.lesson = load_lesson(SIDEHILL_SOURCE_DIR "/scenes/lessons/hole.toml");
  handout.scene = scene_of(handout.lesson, SetUp::a);
  handout.truth = judge(handout.lesson);
  check_read(handout_pages(handout));
}

TEST_CASE("every number of rim labels is in the JSON that label prints") {
  for (const char* medium : {"water", "calcium_chloride"}) {
    const Scene scene = test_scene("first_slope", {std::string("ballast.rear.medium=") + medium, "job_file=hill_bale"});
    const auto fillings = axle_fillings(scene);
    std::string words = words_on(label_pages(fillings));
    words = without(words, made_by(scene));
    for (const AxleFilling& filling : fillings) words = without(words, filling.tyre.size + " " + filling.tyre.service);
    check_numbers(words, axle_fillings_json(fillings), 4);
  }
}

TEST_CASE("every number of a hand-out is in the JSON that handout prints") {
  for (const char* name : {"hole", "side_slope"}) {
    Handout handout;
    handout.lesson = load_lesson(std::string(SIDEHILL_SOURCE_DIR "/scenes/lessons/") + name + ".toml");
    handout.scene = scene_of(handout.lesson, SetUp::a);
    handout.truth = judge(handout.lesson);
    const std::string words = without(words_on(handout_pages(handout)), made_by(handout.scene));
    check_numbers(words, handout_json(handout), 6);
  }
}

TEST_CASE("label and handout print their numbers without a file") {
  const Said label = program("label " SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml --json");
  CHECK(label.code == 0);
  CHECK(nlohmann::json::parse(label.out).size() > 0);
  const Said handout = program("handout hole --json");
  CHECK(handout.code == 0);
  CHECK(nlohmann::json::parse(handout.out).size() > 0);
  for (const char* verb : {"label " SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml", "handout hole"}) {
    const Said none = program(std::string(verb) + " 2>&1");
    CHECK(none.code == 2);
    CHECK(none.out.find("--json alone needs none") != none.out.npos);
  }
}

// Reports on paper: what they say, and that nothing on them is cut, split or missing.
#include "render/page/report.h"

#include <algorithm>

#include "render/page/provenance.h"
#include "render/text/rest/doubt_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/ground_words.h"
#include "render/text/words/words.h"
#include "sim/base/text_file.h"
#include "sim/own_machine/made_machine.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/page_words.h"
#include "tests/kit/program.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;

namespace {

Scene report_scene(const char* name, std::vector<std::string> changes = {}) {
  return load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + name + ".toml", changes);
}

}  // namespace

TEST_CASE("the report says what the answer says, and the same bytes twice") {
  const Folder folder;
  const Answer found = with_reasons(with_uncertainty(answer(report_scene("bucket_up"))));
  const ReportPicture picture{2, 2, std::vector<std::uint8_t>(16, 128)};
  const auto pages = report_pages(found, picture);
  CHECK(pages.size() <= 6);
  CHECK(pages[0].photos.size() == 1);
  const std::string words = words_on(pages);
  for (const std::string& part :
       {scene_hash(found.scene), std::string(SIDEHILL_VERSION), found.scene.vehicle.name.substr(0, 10),
        degrees(found.statics.first_lift_off), kilograms(found.statics.rest->load[0] / found.scene.settings.gravity),
        found.breakdown->causes.front().name, datum_words(found.uncertainty->doubts.front().key).substr(0, 12),
        std::string("signed by"), std::string("licence no."), std::string("Frame up and belt on."),
        std::string("Left out:")}) {
    CAPTURE(part);
    CHECK(words.find(part) != words.npos);
  }
  // The last: a page to be signed has no raw keys.
  for (const char* bad : {"nan", "inf", "-0.00 ", "vehicle.", "terrain.", "ballast.", "_m", "_kg"}) {
    CAPTURE(bad);
    CHECK(words.find(bad) == words.npos);
  }
  // Nothing hangs over the edge of the paper.
  for (const PdfPage& page : pages)
    for (const auto& mark : page.sheet.marks)
      if (const auto* text = std::get_if<PageText>(&mark)) {
        CAPTURE(text->words);
        const double left = text->at.x - text->align * text_width(text->words, text->size, text->strong);
        CHECK(left >= 30);
        CHECK(left + text_width(text->words, text->size, text->strong) <= page.sheet.width - 30);
        CHECK(text->at.y <= page.sheet.height);
      }
  write_report(folder.path / "a.pdf", found, picture);
  write_report(folder.path / "b.pdf", found, picture);
  const std::string a = read_text(folder.path / "a.pdf");
  CHECK(a.substr(0, 4) == "%PDF");
  CHECK(a == read_text(folder.path / "b.pdf"));
}

TEST_CASE("the cautions of a report stand together on one page, below their heading") {
  for (const auto& [name, change] : {std::pair{"first_slope", "settings.temperature_c=-25"},
                                     {"over_a_stump", "settings.temperature_c=-25"},
                                     {"turn_uphill", "settings.temperature_c=15"},
                                     {"bucket_up", "ballast.loader_payload_kg=900"}}) {
    const Answer found = with_reasons(with_uncertainty(answer(report_scene(name, {change}))));
    std::vector<std::string> cautions = warnings(found);
    cautions.insert(cautions.end(), found.model.cautions.begin(), found.model.cautions.end());
    cautions.emplace_back(kCautionLine);
    std::size_t together = 0;
    for (const PdfPage& page : report_pages(found, {})) {
      std::string words;
      for (const auto& mark : page.sheet.marks)
        if (const auto* text = std::get_if<PageText>(&mark)) words += text->words + " ";
      const std::size_t heading = words.find("Cautions ");
      if (heading == words.npos) continue;
      together = static_cast<std::size_t>(std::ranges::count_if(
          cautions, [&](const std::string& caution) { return words.find("! " + caution, heading) != words.npos; }));
    }
    const auto& this_name = name;
    INFO(this_name);
    CHECK(together == cautions.size());
  }
}

TEST_CASE("no page before the signature leaves a quarter of its height empty") {
  ReportPicture picture;
  picture.width = 1000, picture.height = 620;
  picture.rgba.assign(std::size_t{4} * 1000 * 620, 200);
  for (const char* name : {"first_slope", "bucket_up", "turn_uphill"}) {
    const auto pages = report_pages(with_reasons(with_uncertainty(answer(report_scene(name)))), picture);
    std::size_t signature = 0;
    for (std::size_t i = 0; i < pages.size(); ++i)
      if (words_on({pages[i]}).find("signed by") != std::string::npos) signature = i;
    CHECK(signature >= 2);
    CHECK(signature <= 3);
    CHECK(words_on({pages[signature]}).find("Limits of this answer") != std::string::npos);  // it does not stand alone
    for (std::size_t i = 0; i < signature; ++i) {
      const double foot = pages[i].sheet.height - 54;
      double last = 0;
      for (const auto& mark : pages[i].sheet.marks)
        if (const auto* text = std::get_if<PageText>(&mark); text && text->at.y < foot)
          last = std::max(last, text->at.y);
      CAPTURE(std::string(name));
      // Limits and signature are one piece of 197 pt, a quarter of a page: the page before may lack as much.
      CHECK(last > 0.75 * foot);
    }
  }
}

TEST_CASE("the words below a report's picture are those of the moment drawn") {
  ReportPicture picture;
  picture.width = picture.height = 2;
  picture.rgba.assign(16, 200);
  const Answer found = answer(report_scene("first_slope"), 1);
  CHECK(words_on(report_pages(found, picture)).find("As computed") != std::string::npos);
  picture.drawn = "It is drawn at 1.20 s.";
  const std::string words = words_on(report_pages(found, picture));
  CHECK(words.find("It is drawn at 1.20 s.") != std::string::npos);
  CHECK(words.find("As computed") == std::string::npos);
}

TEST_CASE("numbers of a report are written out, never with a power of ten") {
  Answer found = with_reasons(with_uncertainty(answer(report_scene("bucket_up"), 8)));
  found.uncertainty->doubts.front().tolerance = 2049.6;
  const std::string words = words_on(report_pages(found, {}));
  CHECK(words.find("±2050 ") != words.npos);
  CHECK(words.find("e+0") == words.npos);
}

TEST_CASE("the report says what was measured of the machine and what was estimated") {
  MachineEntry entry;
  entry.rear_track = 1.9, entry.wheelbase = 2.5;
  const MadeMachine made = make_machine(entry, SIDEHILL_SOURCE_DIR);
  REQUIRE(made.usable);
  const auto said = [](const Scene& scene) {
    std::string words = words_on(report_pages(answer(scene, 1)));
    std::ranges::replace(words, '\n', ' ');
    return words;
  };
  const std::string words = said(scene_of(made));
  INFO(words);
  CHECK(words.find("Measured: 2 (wheelbase, rear track).") != words.npos);
  CHECK(words.find("Estimated from the class \"utility_75kw\": the rest") != words.npos);
  Scene unsaid = report_scene("first_slope");
  unsaid.vehicle.note.clear();
  CHECK(said(unsaid).find("not what was measured and what was estimated") != words.npos);
}

TEST_CASE("the report names what stands on the ground by kind and size, with a name or without") {
  Scene scene = report_scene("first_slope", {"terrain.slope_deg=12"});
  scene.terrain.features.clear();
  const auto ground = [&] {
    const std::string words = words_on(report_pages(answer(scene, 1)));
    return words.find("nothing: an even slope") == words.npos ? words : "even";
  };
  CHECK(ground() == "even");
  Feature hole;
  hole.kind = FeatureKind::hole, hole.length = 1.2, hole.height = 0.25, hole.x = 30;
  scene.terrain.features = {hole};
  const std::string with_hole = ground();
  for (const char* part : {"Hole,", "0.25 m deep,", "1.20 m"}) CHECK(with_hole.find(part) != with_hole.npos);
  CHECK(feature_sentence(hole) == "Hole, 0.25 m deep, 1.20 m across");
  hole.kind = FeatureKind::ditch, hole.name = "old rut", hole.width = 5;
  CHECK(feature_sentence(hole) == "old rut (ditch), 0.25 m deep, 1.20 m by 5.00 m");
  scene.terrain.features.assign(9, hole);
  CHECK(ground().find("and 3 more") != std::string::npos);
}

TEST_CASE("the report says the grip across the wheels where it is another") {
  Scene scene = report_scene("first_slope", {"terrain.soil.adhesion=0.6", "terrain.soil.adhesion_unlimited=false"});
  CHECK(grip_words(scene.terrain.soil) == "grip 0.60");
  scene.terrain.soil.adhesion_across_ratio = 0.8;
  CHECK(grip_words(scene.terrain.soil) == "grip 0.60 along the wheels, 0.48 across");
  CHECK(words_on(report_pages(answer(scene, 1))).find("0.48") != std::string::npos);
}

TEST_CASE("a report of what was not worked out, or cannot rest, says so") {
  const std::string words = words_on(report_pages(answer(report_scene("first_slope", {"terrain.slope_deg=60"}), 12)));
  CHECK(words.find("it does not rest here") != words.npos);
  CHECK(words.find("Not worked out.") != words.npos);
  CHECK(words.find("nan") == words.npos);
}

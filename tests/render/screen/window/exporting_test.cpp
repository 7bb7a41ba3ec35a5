#ifdef SIDEHILL_SCREEN
// What leaves the window: never numbers of an earlier set-up, none a lesson still asks for, the report at rest.
#include "render/screen/window/exporting.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <thread>

#include "render/page/filling_page.h"
#include "render/page/label_page.h"
#include "render/screen/desk/verdict.h"
#include "render/screen/gl/offscreen.h"
#include "render/screen/window/scenery.h"
#include "render/text/words/words.h"
#include "sim/base/text_file.h"
#include "sim/motion/recording_file.h"
#include "sim/motion/rest_state.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/full_disk.h"
#include "tests/kit/near.h"
#include "tests/kit/program.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

namespace fs = std::filesystem;

struct Bench {
  OffscreenContext windows_own;  // stands for the window's
  fs::path folder = fs::temp_directory_path() / ("sidehill_exporting_test." + std::to_string(getpid()));
  Session session{load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml")};
  Exporting exporting;
  Bench() {
    fs::create_directories(folder);
    session.settle();
  }
  ~Bench() { fs::remove_all(folder); }
  std::string ask(ExportKind kind, const char* name, bool hides = false, const char* chart = "heading") {
    ExportRequest request;
    request.kind = kind;
    request.file = (folder / name).string();
    request.width = 320, request.height = 180;
    request.chart_of = chart;
    exporting.start(request, session, Camera{}, Overlays{}, hides);
    for (int i = 0; exporting.busy() && i < 6000; ++i) {
      exporting.advance();
      std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    return exporting.said();
  }
  bool there(const char* name) const { return fs::exists(folder / name); }
};

bool has(const PictureStrip& strip, const std::string& name) {
  for (const StripEntry& entry : strip.entries)
    if (entry.name == name) return true;
  return false;
}

}  // namespace

TEST_CASE("no picture carries numbers of an earlier set-up or of a machine that cannot exist") {
  Bench bench;
  CHECK(bench.ask(ExportKind::picture, "a.png").ends_with("is written"));
  CHECK(bench.there("a.png"));
  Scene rough = bench.session.scene();
  Feature hole;
  hole.kind = FeatureKind::rough, hole.length = hole.width = 30;
  rough.terrain.features = {hole};
  bench.session.edit(rough);
  bench.session.answer(0);
  REQUIRE(bench.session.working());
  for (const auto& [kind, name] :
       {std::pair{ExportKind::picture, "b.png"}, {ExportKind::report, "b.pdf"}, {ExportKind::chart, "b.svg"}}) {
    const std::string said = bench.ask(kind, name);
    CAPTURE(said);
    CHECK(said.find("Still being worked out") == 0);
    CHECK_FALSE(bench.there(name));
  }
  bench.session.settle();
  CHECK(bench.ask(ExportKind::picture, "b.png").ends_with("is written"));
  bench.session.set_number("ballast.loader_pin_height_m", 6);  // higher than its boom is long
  bench.session.settle();
  REQUIRE_FALSE(bench.session.refusal().empty());
  CHECK(bench.ask(ExportKind::picture, "c.png").find("cannot exist") != std::string::npos);
  CHECK_FALSE(bench.there("c.png"));
}

TEST_CASE("a full disk is said, and the old picture and page stay") {
  Bench bench;
  for (const auto& [kind, name] :
       {std::pair{ExportKind::picture, "a.png"}, {ExportKind::report, "a.pdf"}, {ExportKind::chart, "a.svg"}}) {
    const auto& this_name = name;
    CAPTURE(this_name);
    save_text(bench.folder / name, "the old one");
    std::string said;
    {
      const FullDisk full(1000);
      said = bench.ask(kind, name);
    }
    CAPTURE(said);
    CHECK(said.find("cannot be written") != std::string::npos);
    CHECK(read_text(bench.folder / name) == "the old one");
  }
  CHECK(std::distance(fs::directory_iterator(bench.folder), {}) == 3);  // nothing half-made
}

TEST_CASE("while a lesson asks, a picture keeps the answer to itself and nothing else is made") {
  Bench bench;
  const PictureStrip open = strip_of(bench.session, bench.session.statics().margin, false);
  const PictureStrip hidden = strip_of(bench.session, bench.session.statics().margin, true);
  CHECK(has(open, "Gives way first"));
  CHECK(has(open, "Degrees left"));
  CHECK_FALSE(has(hidden, "Gives way first"));
  CHECK_FALSE(has(hidden, "Degrees left"));
  CHECK(has(hidden, "Slope"));
  CHECK(bench.ask(ExportKind::picture, "a.png", true).ends_with("is written"));
  CHECK(bench.ask(ExportKind::report, "a.pdf", true).find("lesson") != std::string::npos);
  CHECK(bench.ask(ExportKind::chart, "a.svg", true).find("lesson") != std::string::npos);
  CHECK_FALSE(bench.there("a.pdf"));
  CHECK_FALSE(bench.there("a.svg"));
}

TEST_CASE("the report shows the machine at rest, whatever moment of a run is on the screen") {
  Bench bench;
  const Session& session = bench.session;
  const Drawing before = drawing_for_report(session, {});
  bench.session.drive();
  for (int i = 0; i < 40; ++i) bench.session.advance(0.1, 5);
  bench.session.pause();
  bench.session.settle();  // driving off sets the scene's speed: answered again
  REQUIRE(session.showing() == Showing::run);
  REQUIRE(session.statics().rest);
  const State rest = rest_state(*session.model(), *session.statics().rest);
  CHECK(glm::length(session.shown().X_GV.p - rest.X_GV.p) > 0.3);  // it has driven on since
  Overlays at_rest;
  at_rest.stands = stand_words(session.verdict());
  at_rest.stands_short = short_stand_words(session.verdict());
  const Drawing wanted = draw(session.scene(), *session.model(), rest, at_rest);
  const Drawing shown = drawing_for_report(session, {});
  REQUIRE(shown.labels.size() == wanted.labels.size());
  for (std::size_t i = 0; i < shown.labels.size(); ++i) CHECK(shown.labels[i].text == wanted.labels[i].text);
  REQUIRE(before.labels.size() == shown.labels.size());
  const std::string said = bench.ask(ExportKind::report, "a.pdf");
  CAPTURE(said);
  REQUIRE(said.ends_with("is written"));
  CHECK(read_text(bench.folder / "a.pdf").substr(0, 4) == "%PDF");
}

TEST_CASE("a picture's read-outs name what gives way first, in agreement with the degrees left") {
  Bench bench;
  REQUIRE(*bench.session.statics().slide < *bench.session.statics().first_lift_off);
  const PictureStrip strip = strip_of(bench.session, {}, false);
  const auto first = std::ranges::find(strip.entries, std::string("Gives way first"), &StripEntry::name);
  REQUIRE(first != strip.entries.end());
  CHECK(first->value == "slides at " + degrees_and_percent(bench.session.statics().slide));
}

TEST_CASE("what cannot rest leaves the window as it is set down, without loads, and the foot says so") {
  Bench bench;
  bench.session.set_number("terrain.slope_deg", 45);
  bench.session.settle();
  REQUIRE(bench.session.showing() == Showing::placed);
  const PictureStrip strip = strip_of(bench.session, {}, false);
  REQUIRE_FALSE(strip.verdict.empty());
  CHECK(strip.verdict.front().starts_with("GOES OVER"));
  CHECK(strip.verdict.front().find("drawn as it is set down") != std::string::npos);
  for (const Drawing& drawing :
       {drawing_for_report(bench.session, {}), draw(bench.session.scene(), *bench.session.model(),
                                                    bench.session.shown(), true_overlays(bench.session, {}, false))})
    for (const Label& label : drawing.labels) CHECK_MESSAGE(label.text.find(" kg") == std::string::npos, label.text);
}

TEST_CASE("a recorded run leaves as a file that reads back, and only if there is one") {
  Bench bench;
  CHECK(bench.ask(ExportKind::run, "a.run").find("no run yet") != std::string::npos);
  CHECK(bench.ask(ExportKind::chart, "a.svg", false, "time").find("no run yet") != std::string::npos);
  CHECK(bench.ask(ExportKind::film, "a.mp4").find("no run yet") != std::string::npos);
  bench.session.drop();
  for (int i = 0; i < 5; ++i) bench.session.advance(0.1, 5);
  bench.session.pause();
  REQUIRE(bench.session.recording());
  const std::size_t moments = bench.session.recording()->moments.size();
  REQUIRE(moments > 2);
  CHECK(bench.ask(ExportKind::run, "a.run").ends_with("is written"));
  const Recording back = load_recording(bench.folder / "a.run");
  CHECK(back.moments.size() == moments);
  CHECK(back.scene_text == bench.session.recording()->scene_text);
  CHECK(bench.ask(ExportKind::chart, "a.svg", false, "time").ends_with("is written"));
  CHECK(bench.ask(ExportKind::run, "no/such/folder.run").find("written") != std::string::npos);
  CHECK(fs::directory_iterator(bench.folder) != fs::directory_iterator());
}

TEST_CASE("filling sheet and rim labels are those of the command, and a set-up without liquid has none") {
  Bench bench;
  CHECK(bench.ask(ExportKind::sheet, "sheet.pdf").ends_with("is written"));
  CHECK(bench.ask(ExportKind::labels, "labels.pdf").ends_with("is written"));
  const std::vector<AxleFilling> fillings = axle_fillings(bench.session.scene());
  write_filling_sheet(bench.folder / "sheet_2.pdf", fillings);
  write_labels(bench.folder / "labels_2.pdf", fillings);
  CHECK(read_text(bench.folder / "sheet.pdf") == read_text(bench.folder / "sheet_2.pdf"));
  CHECK(read_text(bench.folder / "labels.pdf") == read_text(bench.folder / "labels_2.pdf"));
  bench.session.set_number("ballast.rear.fill_fraction", 0);
  bench.session.settle();
  CHECK(bench.ask(ExportKind::sheet, "none.pdf").find("holds liquid") != std::string::npos);
  CHECK_FALSE(bench.there("none.pdf"));
}

TEST_CASE("a card is cancelled within a second and leaves nothing; a hand-out needs a lesson") {
  Bench bench;
  ExportRequest request;
  request.kind = ExportKind::card;
  request.file = (bench.folder / "card.pdf").string();
  bench.exporting.start(request, bench.session, Camera{}, Overlays{});
  CHECK(bench.exporting.busy());
  bench.exporting.cancel();
  for (int i = 0; bench.exporting.busy() && i < 6000; ++i) {
    bench.exporting.advance();
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  CHECK(bench.exporting.said().find("Cancelled") == 0);
  CHECK_FALSE(bench.there("card.pdf"));
  CHECK(bench.ask(ExportKind::handout, "handout.pdf").find("No lesson is open") == 0);
  CHECK_FALSE(bench.there("handout.pdf"));
}
#endif

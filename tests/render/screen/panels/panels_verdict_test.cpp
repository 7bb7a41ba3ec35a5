#ifdef SIDEHILL_SCREEN
// The verdict in the window: one headline, the least that is left as the big number, everything else that holds beside
// it, and the same words wherever a picture leaves the program.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "render/screen/desk/verdict.h"
#include "render/screen/parts/band.h"
#include "render/screen/window/exporting.h"
#include "render/screen/window/scenery.h"
#include "render/text/motion/outcome_words.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/motion/run.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"
#include "tests/kit/table.h"
#include "vehicles/fill_limit.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

int liquid_named(std::string_view name) {
  const auto found = std::ranges::find(media(), name, &MediumInfo::name);
  REQUIRE(found != media().end());
  return static_cast<int>(found - media().begin());
}

void freeze(Table& table) {
  table.session.set_choice("ballast.rear.medium", liquid_named("water"));
  table.session.set_number("settings.temperature_c", -15);
  table.session.settle_doubts();
  table.frame();
  table.frame();
}

std::string all_of(const BandText& text) {
  std::string all;
  for (const auto* lines : {&text.title, &text.lines})
    for (const std::string& line : *lines) all += line + " ";
  return all + text.beside;
}

}  // namespace

TEST_CASE("the big number is the least of slide, lift-off and tip-over minus the slope, whatever the set-up") {
  Table table;
  unsigned seed = 3;
  const auto random = [&] {
    seed = seed * 1664525u + 1013904223u;
    return static_cast<double>(seed >> 8) / 16777216.0;
  };
  int slides = 0, lifts = 0, gone = 0;
  for (int run = 0; run < 60; ++run) {
    table.session.set_number("terrain.slope_deg", 30 * random());
    table.session.set_number("terrain.soil.adhesion", 0.3 + 0.9 * random());
    table.session.set_number("start.heading_deg", -180 + 360 * random());
    table.session.set_number("ballast.rear.fill_fraction", random());
    do table.session.answer(1);
    while (table.session.working());
    REQUIRE(table.session.answer_is_of_scene());
    const StaticSolution& s = table.session.statics();
    const double slope = table.session.scene().terrain.slope;
    double least = 1e9;
    for (const auto& angle : {s.slide, s.first_lift_off, s.tip_over})
      if (angle) least = std::min(least, *angle - slope);
    const Verdict card = verdict_of(table.session);
    INFO("run " << run << ": " << card.title << ", " << card.number);
    if (s.status == RestStatus::stands && least < 1e8) {
      // As the two slopes are shown: the three numbers must add up on the screen.
      CHECK(card.number == degrees(angle_between_as_shown(slope, slope + least)));
      (s.slide && *s.slide - slope == least ? slides : lifts) += 1;
    } else if (s.status != RestStatus::stands) {
      CHECK(card.number.empty());  // no margin once it is over
      ++gone;
    }
  }
  CHECK(slides > 5);
  CHECK(lifts > 5);
  CHECK(gone > 3);
}

TEST_CASE("a slide that comes first is the big number, with its slope and its interval") {
  Table table;
  table.session.settle_doubts();
  table.frame();
  const StandVerdict& stands = table.session.verdict();
  REQUIRE(stands.gives_way.front().what == GivesWay::slide);
  const Verdict card = verdict_of(table.session);
  CHECK(card.number == degrees(left_as_shown(stands.gives_way.front())));
  CHECK(card.detail.find("until it slides, at " + degrees(stands.gives_way.front().slope)) != std::string::npos);
  REQUIRE(stands.gives_way.front().interval);
  CHECK(card.detail.find(degrees(stands.gives_way.front().interval->low)) != std::string::npos);
  // The rest in the same measure.
  const auto rows = thresholds_of(table.session.scene(), table.session.statics(), stands, table.session.doubts());
  int measured = 0;
  for (const Threshold& row : rows)
    if (row.left) {
      CHECK_NEAR(*row.left, angle_between_as_shown(table.session.scene().terrain.slope, *row.slope), 1e-12);
      ++measured;
    }
  CHECK(measured == 3);
  // And in the picture.
  const Overlays seen = true_overlays(table.session, {}, false);
  CHECK(seen.stands == left_words(left_as_shown(stands.gives_way.front())) + ", then it slides");
}

TEST_CASE("without an answer the window shows no wheel load, no support, and does not say that it rests") {
  Table table("../tests/data/uneven_no_answer");
  do table.session.answer(1);
  while (table.session.working());
  REQUIRE(table.session.statics().status == RestStatus::unsolved);
  const Overlays seen = true_overlays(table.session, {}, false);
  CHECK_FALSE(seen.wheel_loads);
  CHECK_FALSE(seen.support);
  CHECK(no_loads(table.session) == "No balance was found on this ground: no wheel load is known.");
  CHECK(before_run_words(table.session).find("not known") != std::string::npos);
  CHECK(verdict_found_words(table.session, Units::si).find("rest in more than one way") != std::string::npos);
}

TEST_CASE("at rest the window shows wheel loads and support, and says that it rests") {
  Table rests;
  rests.session.settle_doubts();
  CHECK(no_loads(rests.session).empty());
  CHECK(before_run_words(rests.session) == "At rest.");
  CHECK(true_overlays(rests.session, {}, false).support);
  CHECK(true_overlays(rests.session, {}, false).wheel_loads);
}

TEST_CASE("after a drop that threw it over the band says so, and that it would have stood") {
  Table table("bucket_up");
  table.session.set_number("ballast.loader_payload_kg", 800);
  table.session.set_number("terrain.slope_deg", 14);
  table.session.set_number("programme.drop_height_m", 0);
  do table.session.answer(1);
  while (table.session.working());
  table.session.drop();  // the button's own height
  for (int i = 0; i < 400 && !table.session.finished(); ++i) table.session.advance(0.1, 10);
  REQUIRE(table.session.finished());
  table.frame();
  const Verdict ended = moment_of(table.session);
  CHECK(ended.title == "Overturned, lies on its frame");
  CHECK(ended.detail == "the drop threw it over: set down gently it stands");
}

TEST_CASE("a frozen tyre is the headline, with its own sign, and everything else that holds follows") {
  Table table;
  freeze(table);
  const StandVerdict& stands = table.session.verdict();
  CHECK(stands.headline == StandCause::frozen);
  const Verdict now = moment_of(table.session), card = verdict_of(table.session);
  CHECK(now.title == cause_title(StandCause::frozen));
  CHECK(card.title == now.title);
  CHECK(now.tone == Tone::limit);
  CHECK(card.tone == Tone::limit);
  REQUIRE(now.more.size() == stands.also.size());
  for (std::size_t i = 0; i < stands.also.size(); ++i) CHECK(now.more[i].starts_with(cause_title(stands.also[i])));
  // Running, it is no blue tick either.
  table.session.play();
  table.session.advance(0.5, 10);
  CHECK(moment_of(table.session).tone != Tone::steady);
}

TEST_CASE("every cause that holds stands in the band, which grows for it, however narrow") {
  for (const float width : {1024.f, 1280.f, 1920.f}) {
    if (kShare > 1 && width > 1024) continue;
    Table table;
    table.width = width;
    freeze(table);
    table.session.set_number("ballast.loader_payload_kg", 900);
    table.session.set_number("vehicle.rear.capacity_kg", 500);
    table.session.settle_doubts();
    for (int i = 0; i < 3; ++i) table.frame();
    const StandVerdict& stands = table.session.verdict();
    REQUIRE(stands.also.size() >= 1);
    const Verdict now = moment_of(table.session);
    const Rect band = table.item("Banner");
    const Layout layout = layout_of(width, 720, 1, table.desk, table.choices);
    CHECK_NEAR(band.height, layout.banner.height, 0.01);
    CHECK(band.y + band.height <= layout.view.y + 0.01f);
    const BandText text = band_text(table.ui.fonts, now, "", "", band.width, 40, 245, 1);
    CHECK(text.height <= band.height + 1);
    for (const StandCause cause : stands.also) {
      INFO(cause_title(cause));
      std::string joined = all_of(text);
      CHECK(joined.find(cause_title(cause).substr(0, 8)) != std::string::npos);
    }
  }
}

TEST_CASE("a band too high for its window keeps every title") {
  Table table;
  Verdict verdict{Tone::limit, "", "FROZEN, DO NOT DRIVE", "What is in the tyres is ice.", {}};
  for (const char* title : {"OVER ITS LIMITS AS SET UP", "MAY BE OVER A TYRE'S LIMIT", "LITTLE LEFT"})
    verdict.more.push_back(std::string(title) + ": " + std::string(300, 'x') + " and " + std::string(60, 'y'));
  const BandText low = band_text(table.ui.fonts, verdict, "", "", 400, 40, 120, 1);
  for (const char* title : {"OVER ITS LIMITS", "MAY BE OVER", "LITTLE LEFT"})
    CHECK(all_of(low).find(title) != std::string::npos);
  CHECK(all_of(low).find("xxx") == std::string::npos);
}

TEST_CASE("with panels away, two bands are readable to their ends, and a button brings the panels back") {
  Table table;
  go_to(table.desk, Task::compare);
  table.choices.presenter = true;
  for (int i = 0; i < 3; ++i) table.frame();
  REQUIRE(table.has("Panels back"));
  const Rect back = table.item("Panels back");
  for (const char* band : {"Banner A", "Banner B"}) {
    const Rect r = table.item(band);
    CHECK(back.y >= r.y + r.height);
  }
  table.click("Panels back");
  CHECK_FALSE(table.choices.presenter);
}

TEST_CASE("what leaves as a picture says the same verdict in the same words") {
  Table table;
  freeze(table);
  const PictureStrip strip = strip_of(table.session, {}, false);
  CHECK(strip.verdict == verdict_sentences(table.session.verdict(), table.session.scene(), table.session.statics()));
  CHECK(strip.grave);
  CHECK(strip_of(table.session, {}, true).verdict.empty());  // a lesson asks
  const Standing alone = standing_of(table.session.scene(), *table.session.model());
  CHECK(verdict_sentences(alone.verdict, table.session.scene(), alone.statics) == strip.verdict);
}

TEST_CASE("the card names an overload as well, where there is no answer or something has given way") {
  for (const char* scene : {"first_slope", "../tests/data/uneven_no_answer"}) {
    Table table(scene);
    if (table.session.scene().terrain.features.empty()) table.session.set_number("terrain.slope_deg", 45);
    table.session.set_number("vehicle.front.capacity_kg", 500);
    table.session.settle_doubts();
    const StandVerdict& stands = table.session.verdict();
    CAPTURE(scene);
    REQUIRE(stands.headline < StandCause::frozen);
    REQUIRE(stands.holds(StandCause::over_limit));
    std::string card;
    for (const std::string& words : verdict_of(table.session).more) card += words + "\n";
    CHECK(card.find(cause_words(StandCause::over_limit, stands, table.session.scene(), table.session.statics())) !=
          std::string::npos);
  }
}

TEST_CASE("what is wrong at a moment of a run: overturned before the wheels that are up") {
  const Scene scene = load_scene(SIDEHILL_SOURCE_DIR "/scenes/raised_while_driving.toml");
  const Recording recording = run(scene);
  REQUIRE(overturns(recording.outcome));
  const std::string end = now_words(scene, recording.states.back());
  CAPTURE(end);
  CHECK(end.starts_with("NOW: overturned, " + lying(scene, recording).words));
  CHECK(now_words(scene, recording.states.front()).empty());
}

TEST_CASE("the dial's worst heading is the one that slides or lifts soonest, and says which") {
  Table table;
  table.session.settle();
  const auto weakest = weakest_heading(table.session);
  REQUIRE(weakest);
  for (const EnvelopePoint& point : table.session.by_heading())
    if (point.gives_way()) CHECK(*point.gives_way() >= *weakest->gives_way() - 1e-6);
  // Facing downhill it slides on this very slope.
  const std::string words = weakest_words(*weakest, table.session.scene().terrain.slope);
  CAPTURE(words);
  CHECK(words.ends_with("past: it slides there"));
  table.session.set_flag("terrain.soil.adhesion_unlimited", true);
  table.session.settle();
  const auto held = weakest_heading(table.session);
  REQUIRE(held);
  CHECK(weakest_words(*held, 0.3).ends_with(" wheel lifts"));
}

TEST_CASE("what is left has one sign and one word on either side of the limit") {
  CHECK(left_words(0.1) == degrees(0.1) + " left");
  CHECK(left_words(-0.1) == degrees(0.1) + " past");
  CHECK(left_words({}) == "-");
}

TEST_CASE("the temperature is a slider, and freezing by it is seen") {
  Table table;
  CHECK(table.has("Temperature"));
  table.session.set_choice("ballast.rear.medium", liquid_named("water"));
  table.slide_to("Temperature", 0.02f);
  CHECK(table.session.number("settings.temperature_c") < -20);
  table.session.settle();
  CHECK(table.session.verdict().holds(StandCause::frozen));
}

TEST_CASE("a number out of range is set to the nearest one, and one sentence says so") {
  Table table("bucket_up");
  const auto type = [&](const char* label, const char* text) {
    table.click(std::string(label) + " number");
    for (int i = 0; i < 3; ++i) table.frame();
    ImGui::GetIO().AddInputCharactersUTF8(text);
    table.frame();
    table.press_at({640, 450});
    table.frame();
  };
  type("Bucket height", "99");
  const double most = table.session.scene().vehicle.loader.max_pin_height;
  CHECK_NEAR(table.session.number("ballast.loader_pin_height_m"), most, 1e-9);
  CHECK(table.session.refusal().empty());
  CHECK(table.has("Corrected"));
  CHECK(table.ui.correction.find("99.00 m is out of range") != std::string::npos);
  CHECK(table.ui.correction.find("this loader reaches 3.60 m") != std::string::npos);
  type("Bucket height", "1");
  CHECK_FALSE(table.has("Corrected"));
}

TEST_CASE("a slider ends at what this machine can do, and says what that is when it is there") {
  Table table("bucket_up");
  const auto limit = [&](const char* key) {
    for (const Dial& dial : dials_of(table.session.scene()))
      if (dial.key == key) return dial;
    return Dial{};
  };
  const Vehicle& v = table.session.scene().vehicle;
  CHECK(limit("ballast.loader_pin_height_m").max == v.loader.max_pin_height);
  CHECK(limit("ballast.loader_pin_height_m").ends == "this loader reaches");
  CHECK(limit("ballast.loader_payload_kg").max == std::max(v.loader.rated_payload, 1.0));
  CHECK(limit("ballast.rear.fill_fraction").max == kMostLiquid);
  CHECK(limit("ballast.rear_weights_kg").max == v.rear_mount.max_mass);
  CHECK_FALSE(table.has("Rear limit"));
  table.slide_to("Rear", 0.995f);
  table.frame();
  CHECK_NEAR(table.session.number("ballast.rear.fill_fraction"), kMostLiquid, 1e-9);
  CHECK(table.has("Rear limit"));
  // A load that was there before is more than the limit: the slider holds it, and says so.
  table.session.set_number("ballast.loader_payload_kg", v.loader.rated_payload + 500);
  table.frame();
  table.frame();
  CHECK(table.has("Payload limit"));
  CHECK_NEAR(limit("ballast.loader_payload_kg").max, v.loader.rated_payload + 500, 1e-9);
}

TEST_CASE("where there is no machine Play can not be pressed and the reason stands there once") {
  Table table("bucket_up");
  table.session.set_number("ballast.loader_pin_height_m", 8);
  table.frame();
  table.frame();
  REQUIRE_FALSE(table.session.refusal().empty());
  CHECK(table.ui.readouts.contains("Play"));
  table.click("Play");
  CHECK_FALSE(table.session.playing());
  CHECK(verdict_of(table.session).detail == table.session.refusal());
  CHECK(moment_of(table.session).detail.empty());
  CHECK_FALSE(table.has("Total, axle split"));
}

TEST_CASE("Escape closes Open and Pictures") {
  Table table;
  for (const Drawer drawer : {Drawer::files, Drawer::make}) {
    pull(drawer, table.choices);
    table.frame();
    table.frame();
    REQUIRE(table.choices.drawer == drawer);
    table.press_key(Table::kEscape);
    CHECK(table.choices.drawer == Drawer::none);
  }
}

TEST_CASE("a liquid that differs is called by its name") {
  Table table;
  go_to(table.desk, Task::compare);
  table.frame();
  table.desk.other->set_choice("ballast.rear.medium", liquid_named("water"));
  table.desk.session.set_choice("ballast.rear.medium", 1);
  const std::string words = what_differs(table.desk, 9);
  CHECK(words.find(std::string(media()[1].name)) != std::string::npos);
  CHECK(words.find('_') == std::string::npos);
}

TEST_CASE("letters grow only as far as the window has room for all buttons") {
  for (const auto& size : {std::pair{1280.0, 720.0}, {1920.0, 1080.0}, {960.0, 600.0}}) {
    const double w = size.first, h = size.second;
    Table table;
    const double most = most_text_scale(w, h, 1);
    INFO("window " << w << " x " << h << ", letters up to " << most);
    CHECK(most >= 1);
    table.ui.scale = static_cast<float>(most);
    table.ui.fonts = load_fonts(most);
    unsigned char* pixels = nullptr;
    int a = 0, b = 0;
    ImGui::GetIO().Fonts->GetTexDataAsRGBA32(&pixels, &a, &b);
    apply_style(most);
    table.width = static_cast<float>(w), table.height = static_cast<float>(h);
    Layout layout;
    for (int i = 0; i < 4; ++i)
      table.frame([&] {
        layout = layout_of(w, h, most, table.desk, table.choices);
        draw_panels(table.ui, table.desk, table.choices, layout);
      });
    for (const char* label : {"Teach", "Open", "Machine", "Ground", "Pictures", "Units", "A-", "A+", "Present"}) {
      const Rect r = table.item(label);
      INFO(label);
      CHECK(r.y + r.height <= layout.top.height + 0.5f);
      CHECK(r.x + r.width <= w + 0.5);
    }
    for (const char* label : {"Follow", "View", "Show"}) {
      const Rect r = table.item(label);
      CHECK(r.y + r.height <= table.item("Play").y);
    }
  }
}
#endif

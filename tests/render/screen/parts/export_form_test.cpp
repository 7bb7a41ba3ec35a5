#ifdef SIDEHILL_SCREEN
// The panel for what leaves the program, without any window: clicked by label.
#include "render/screen/parts/export_form.h"

#include <doctest/doctest.h>

#include <cstdio>

#include "tests/kit/hands.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct ExportBoard : Hands<ExportBoard> {
  ExportChoices choices;
  ExportAnswer answer;
  ExportBoard() {
    width = 800, height = 600;
    frame();
    frame();
  }
  void draw() {
    begin_items(ui);
    ImGui::SetNextWindowPos({20, 20});
    ImGui::SetNextWindowSize({300, 420});
    ImGui::Begin("test", nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize);
    const ExportAnswer now = draw_export(ui, choices);
    if (now.make) answer.make = now.make;
    answer.cancel |= now.cancel;
    ImGui::End();
  }
  void choose(const std::string& of, const std::string& name) {
    click(of);
    click(of + ": " + name);
  }
};

}  // namespace

TEST_CASE("a picture is asked for with its size and name") {
  ExportBoard desk;
  desk.click("Make it");
  REQUIRE(desk.answer.make);
  CHECK(desk.answer.make->kind == ExportKind::picture);
  CHECK(desk.answer.make->file == "picture.png");
  CHECK(desk.answer.make->width == 1920);
  CHECK(desk.answer.make->height == 1080);
}

TEST_CASE("a film needs a run, and its name follows the format") {
  ExportBoard desk;
  desk.choose("Export kind", "Film of the run");
  CHECK(std::string(desk.choices.file) == "film.mp4");
  desk.click("Make it");
  CHECK_FALSE(desk.answer.make);
  desk.choices.has_run = true;
  desk.choose("Film format", "GIF, large, plays anywhere");
  desk.choose("Film speed", "5 times slower");
  desk.click("Film labels");
  desk.click("Make it");
  REQUIRE(desk.answer.make);
  CHECK(desk.answer.make->file == "film.gif");
  CHECK(desk.answer.make->slow == 5);
  CHECK_FALSE(desk.answer.make->labels);
  CHECK(desk.answer.make->width == 1280);
}

TEST_CASE("a chart and a report are asked for") {
  ExportBoard desk;
  desk.choose("Export kind", "Chart");
  desk.choose("Chart of", "Why: by cause");
  desk.click("Make it");
  REQUIRE(desk.answer.make);
  CHECK(desk.answer.make->chart_of == "why");
  CHECK(desk.answer.make->file == "chart.svg");
  desk.choose("Export kind", "Report to sign");
  desk.click("Make it");
  CHECK(desk.answer.make->kind == ExportKind::report);
  CHECK(desk.answer.make->file == "report.pdf");
}

TEST_CASE("a recorded run is kept only where there is one") {
  ExportBoard desk;
  desk.choose("Export kind", "Recorded run");
  CHECK(std::string(desk.choices.file) == "recorded.run");
  desk.click("Make it");
  CHECK_FALSE(desk.answer.make);
  desk.choices.has_run = true;
  desk.frame();
  desk.click("Make it");
  REQUIRE(desk.answer.make);
  CHECK(desk.answer.make->kind == ExportKind::run);
  CHECK(desk.answer.make->file == "recorded.run");
}

TEST_CASE("while something is made there is a bar and a way out, and nothing else") {
  ExportBoard desk;
  desk.choices.busy = true;
  desk.choices.done = 10;
  desk.choices.total = 40;
  desk.frame();
  CHECK(desk.ui.items.count("Make it") == 0);
  CHECK(desk.item("Progress").width > 100);
  desk.click("Cancel");
  CHECK(desk.answer.cancel);
}

TEST_CASE("a name gets the ending that goes with it, and keeps the rest") {
  ExportChoices choices;
  const auto named = [&](const char* name, ExportKind kind) {
    choices.kind = static_cast<int>(kind);
    std::snprintf(choices.file, sizeof choices.file, "%s", name);
    return export_file(choices);
  };
  CHECK(named("", ExportKind::picture) == "picture.png");
  CHECK(named("  ", ExportKind::report) == "report.pdf");
  CHECK(named("my slope.png", ExportKind::film) == "my slope.mp4");
  CHECK(named("v1.2", ExportKind::chart) == "v1.2.svg");
  CHECK(named("/folder/", ExportKind::report) == "/folder/report.pdf");
  CHECK(named("/folder/.pdf", ExportKind::report) == "/folder/report.pdf");
}

TEST_CASE("everything keeps inside the panel") {
  ExportBoard desk;
  for (const char* kind : {"Film of the run", "Chart", "Report to sign", "Recorded run", "Picture"}) {
    desk.choose("Export kind", kind);
    for (const auto& [label, rect] : desk.ui.items) {
      if (label.find(": ") != std::string::npos) continue;  // of an open list
      const auto& this_label = label;
      CAPTURE(this_label);
      CHECK(rect.x >= 20);
      CHECK(rect.x + rect.width <= 320);
    }
  }
}
#endif  // SIDEHILL_SCREEN

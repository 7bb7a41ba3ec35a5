#ifdef SIDEHILL_SCREEN
// The panels without any window: ImGui with no backend, clicked by label.
#include "render/screen/panels.h"

#include <doctest/doctest.h>
#include <imgui.h>

#include "sim/scene_file.h"
#include "tests/near.h"

using namespace sidehill;

namespace {

struct Desk {
  Session session;
  ViewChoices choices;
  Ui ui;
  double width = 1280, height = 720;

  explicit Desk(const char* scene = "first_slope")
      : session(load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + scene + ".toml")) {
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ui.fonts = load_fonts(1);
    unsigned char* pixels = nullptr;
    int w = 0, h = 0;
    ImGui::GetIO().Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
    apply_style(1);
    frame();
    frame();
  }
  ~Desk() { ImGui::DestroyContext(); }

  void frame() {
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
    io.DeltaTime = 1.f / 60;
    ImGui::NewFrame();
    draw_panels(ui, session, choices, layout_of(width, height, 1));
    ImGui::Render();
  }
  Rect item(const char* label) {
    const auto found = ui.items.find(label);
    REQUIRE_MESSAGE(found != ui.items.end(), "no item " << label);
    return found->second;
  }
  void press_at(ImVec2 place) {
    ImGuiIO& io = ImGui::GetIO();
    io.MousePos = place;
    frame();
    io.MouseDown[0] = true;
    frame();
    io.MouseDown[0] = false;
    frame();
  }
  void click(const char* label) { press_at(item(label).middle()); }
  void slide_to(const char* label, float part) {
    const Rect r = item(label);
    press_at({r.x + part * r.width, r.middle().y});
  }
};

}  // namespace

TEST_CASE("every primary slider is on the first screen at 1280 x 720 and keeps inside its panel") {
  Desk desk;
  const Layout layout = layout_of(desk.width, desk.height, 1);
  for (const Dial& dial : dials_of(desk.session.scene())) {
    INFO(dial.label);
    const Rect r = desk.item(dial.label);
    CHECK(r.x >= layout.left.x);
    CHECK(r.x + r.width <= layout.left.x + layout.left.width + 1);
    CHECK(r.y + r.height <= layout.left.y + layout.left.height);
  }
}

TEST_CASE("a click on a slider's track moves its datum") {
  Desk desk;
  desk.slide_to("Slope", 0.9f);
  CHECK(desk.session.number("terrain.slope_deg") > 35);
  desk.slide_to("Rear", 0.02f);
  CHECK(desk.session.number("ballast.rear.fill_fraction") < 0.1);
  desk.click("Restore");
  CHECK_NEAR(desk.session.number("terrain.slope_deg"), 18, 1e-9);
}

TEST_CASE("play, step and reset do what they say") {
  Desk desk;
  desk.click("Play");
  CHECK(desk.session.playing());
  desk.session.advance(0.1, 5);
  desk.frame();
  desk.click("Pause");
  CHECK_FALSE(desk.session.playing());
  const double before = desk.session.shown().time;
  desk.click("Step");
  CHECK(desk.session.shown().time > before);
  desk.click("Reset");
  CHECK(desk.session.showing() == Showing::rest);
}

TEST_CASE("letters do what the buttons do, and no two commands share one") {
  Desk desk;
  CHECK(carry_out(U' ', desk.session, desk.choices));
  CHECK(desk.session.playing());
  CHECK(carry_out(U'R', desk.session, desk.choices));
  CHECK_FALSE(desk.session.playing());
  CHECK_FALSE(carry_out(U'q', desk.session, desk.choices));
  for (const Command& a : commands())
    for (const Command& b : commands()) CHECK((&a == &b || a.letter != b.letter));
}

TEST_CASE("the caution line is on the screen in every state, and the notes open") {
  for (const char* scene : {"first_slope", "bucket_up", "orchard_row", "wide_or_narrow"}) {
    Desk desk(scene);
    CHECK(desk.ui.items.count("What it leaves out") == 1);
    desk.click("What it leaves out");
    CHECK(desk.choices.notes);
  }
}

TEST_CASE("panels hold at odd sizes and for slopes where nothing stands") {
  Desk desk;
  for (const auto& [w, h] : {std::pair{640.0, 480.0}, {1920.0, 1080.0}, {800.0, 1200.0}}) {
    desk.width = w, desk.height = h;
    for (double slope : {0.0, 30.0, 60.0}) {
      desk.session.set_number("terrain.slope_deg", slope);
      desk.frame();
      desk.frame();
    }
  }
  CHECK(desk.session.refusal().empty());
}
#endif  // SIDEHILL_SCREEN

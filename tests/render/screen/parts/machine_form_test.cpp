#ifdef SIDEHILL_SCREEN
// The machine form without any window: ImGui with no backend, typed into by label.
#include "render/screen/parts/machine_form.h"

#include <doctest/doctest.h>
#include <imgui.h>
#include <imgui_internal.h>

#include <cmath>
#include <filesystem>

#include "render/screen/parts/machine_sketch.h"
#include "render/screen/parts/machine_state.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/hands.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct FormBoard : Hands<FormBoard> {
  MachineForm form;
  MachineRequest request = MachineRequest::none;

  explicit FormBoard(float w = 960, float h = 600, float scale = 1, const MachineEntry& entry = {})
      : Hands(scale), form(open_machine_form(entry)) {
    width = w, height = h;
    frame();
    frame();
  }
  void draw() {
    begin_items(ui);
    const MachineRequest wanted = draw_machine_form(ui, form, {0, 0, width, height});
    if (wanted != MachineRequest::none) request = wanted;
  }
  // Brings a row into view with the wheel, as a person would.
  void scroll_to(const std::string& label) {
    ImGuiIO& io = ImGui::GetIO();
    for (int i = 0; i < 400; ++i) {
      const float y = item(label).middle().y;
      const float top = 80 * ui.scale, bottom = height - 120 * ui.scale;
      if (y > top && y < bottom) return;
      io.MousePos = {40, (top + bottom) / 2};
      io.MouseWheel = y < top ? 0.5f : -0.5f;
      frame();
      io.MouseWheel = 0;
      frame();
    }
    FAIL("cannot be scrolled to: " << label);
  }
  void type(const std::string& label, const char* text) {
    leave();  // so that the click selects what stands there
    scroll_to(label);
    click(label);
    ImGui::GetIO().AddInputCharactersUTF8(text);
    frame();
    frame();
  }
  void leave() { press_at({width / 2, 12 * ui.scale}); }
  std::string words(const char* entry_key) { return row_words(form, entry_key); }
};

}  // namespace

TEST_CASE("the form opens on a machine estimated from its class, and says so in every row") {
  FormBoard desk;
  REQUIRE(desk.form.made.usable);
  REQUIRE(desk.form.answer);
  CHECK(desk.words("wheelbase_m") == "estimated 2.45 m ±0.2, from its class");
  CHECK(desk.words("mass_kg").find("missing") == 0);
  for (const EntryField& field : entry_fields()) {
    INFO(field.key);
    if (field.group == EntryGroup::loader && !desk.form.made.vehicle.loader.fitted) continue;
    CHECK_FALSE(desk.words(std::string(field.key).c_str()).empty());
    CHECK(desk.ui.items.count(std::string(field.label)) == 1);
    CHECK(desk.ui.items.count(std::string(field.label) + " state") == 1);
  }
}

TEST_CASE("a typed number becomes measured, moves the machine and is answered once the row is left") {
  FormBoard desk;
  const double before = *desk.form.answer->first_lift_off, low = desk.form.answer->low;
  desk.type("Rear track", "2,10");
  REQUIRE(desk.form.entry.rear_track);
  CHECK_NEAR(*desk.form.entry.rear_track, 2.10, 1e-9);
  CHECK(desk.words("rear_track_m") == "measured");
  CHECK(desk.form.waits);
  desk.leave();
  CHECK_FALSE(desk.form.waits);
  REQUIRE(desk.form.answer);
  CHECK(*desk.form.answer->first_lift_off > before + 0.01);
  CHECK(desk.form.answer->low > low);
  desk.type("Rear track", " ");
  desk.leave();
  CHECK_FALSE(desk.form.entry.rear_track);
  CHECK_NEAR(*desk.form.answer->first_lift_off, before, 1e-12);
}

TEST_CASE("an error is shown beside its row at once, and nothing can be used or saved with it") {
  FormBoard desk;
  desk.type("Wheelbase", "two");
  CHECK(desk.words("wheelbase_m") == "a number belongs here, allowed 0.6 to 6 m");
  CHECK_FALSE(desk.form.made.usable);
  desk.click("Use this machine");
  desk.click("Save machine file");
  CHECK(desk.request == MachineRequest::none);
  desk.type("Wheelbase", "21");
  CHECK(desk.words("wheelbase_m") == "out of range, allowed 0.6 to 6 m");
  for (const char* text : {"nan", "inf", "0x2", "1e999", "2.4.5", "-", "2 4", "--2"}) {
    desk.type("Wheelbase", text);
    INFO(std::string(text));
    CHECK_FALSE(desk.form.made.usable);
  }
  desk.type("Wheelbase", "2.5");
  CHECK(desk.form.made.usable);
  desk.leave();
  desk.click("Use this machine");
  CHECK(desk.request == MachineRequest::use);
}

TEST_CASE("contradictions show in the row they belong to") {
  FormBoard desk;
  desk.type("Whole machine", "4700");
  desk.type("Front axle", "1900");
  desk.type("Rear axle", "2100");
  desk.leave();
  CHECK_FALSE(desk.form.made.usable);
  CHECK(desk.words("mass_kg").find("the axles add up to 4000 kg, 700 kg less than the whole") == 0);
  desk.type("Whole machine", "4010");
  CHECK(desk.form.made.usable);
  desk.type("Rear tyre size", "18.4Q34");
  CHECK_FALSE(desk.form.made.usable);
  desk.type("Rear tyre size", "18.4R34");
  INFO(desk.words("rear_tyre"));
  CHECK(desk.words("rear_tyre").find("from the sidewall: radius 0.8") == 0);
}

TEST_CASE("pounds and inches are what is shown and typed, metres and kilograms what is kept") {
  FormBoard desk;
  desk.type("Rear track", "1.8");
  desk.leave();
  CHECK_FALSE(desk.has("Units"));  // there is one switch of units, along the top
  desk.type("Driver when weighed", "many");
  desk.ui.units = Units::us;
  desk.frame();
  CHECK(std::string(desk.form.typed["driver_kg"].data()) == "many");  // what was typed wrong stays to be seen
  desk.type("Driver when weighed", "80");
  CHECK(std::string(desk.form.typed["rear_track_m"].data()) == "70.9");
  CHECK_NEAR(*desk.form.entry.rear_track, 1.8, 1e-12);
  desk.type("Whole machine", "9000");
  CHECK_NEAR(*desk.form.entry.mass, 9000 * 0.45359237, 1e-6);
  desk.type("Rear pressure", "20");
  CHECK_NEAR(*desk.form.entry.rear_pressure, 137895, 1);
  CHECK(in_us_units("the axles add up to 4000 kg, 700 kg less; 51 kg per kW, 2.45 m, 144A8 of 18.4R34") ==
        "the axles add up to 8,818 lb, 1,543 lb less; 84 lb per hp, 96.5 in, 144A8 of 18.4R34");
  desk.type("Wheelbase", "2000");
  CHECK(desk.words("wheelbase_m") == "out of range, allowed 23.6 to 236.2 in");
}

TEST_CASE("another class and its choices; the loader's rows come and go") {
  FormBoard desk;
  CHECK(desk.ui.items.count("Boom length") == 1);
  desk.click("Class");
  desk.frame();
  desk.click("Class: narrow orchard 60 kW, four-wheel drive");
  desk.frame();
  CHECK(desk.form.entry.machine_class == "orchard_60kw");
  CHECK(desk.form.made.usable);
  CHECK(desk.ui.items.count("Boom length") == 0);
  desk.scroll_to("Front loader");
  desk.click("Front loader");
  desk.frame();
  desk.click("Front loader: fitted");
  desk.frame();
  CHECK(desk.form.made.vehicle.loader.fitted);
  CHECK(desk.form.made.usable);
  CHECK(desk.ui.items.count("Boom length") == 1);
}

TEST_CASE("the Tab key goes from row to row, also to those out of sight") {
  FormBoard desk;
  desk.click("Engine power");
  CHECK(desk.form.active_row == "engine_power_kw");
  std::vector<std::string> visited;
  for (int i = 0; i < 12; ++i) {
    desk.press_key(FormBoard::kTab);
    desk.frame();
    visited.push_back(desk.form.active_row);
  }
  CHECK(visited[0] == "front_capacity_kg");
  CHECK(visited[5] == "mass_kg");
  CHECK(visited[8] == "driver_kg");
  const Rect row = desk.item("Liquid in the rear tyres");
  CHECK(visited[11] == "rear_liquid_kg");
  CHECK(row.y > 60);
  CHECK(row.y + row.height < 600 - 100);
  ImGui::GetIO().AddInputCharactersUTF8("450");
  desk.frame();
  desk.frame();
  CHECK_NEAR(desk.form.entry.rear_liquid.value_or(0), 450, 1e-9);
}

TEST_CASE("it fits: 960 x 600 at scale 1 and 2, and a small window") {
  for (const auto& [w, h, scale] :
       {std::tuple{960.f, 600.f, 1.f}, {1280.f, 720.f, 1.f}, {1920.f, 1200.f, 2.f}, {960.f, 600.f, 2.f}}) {
    const auto& this_w = w;
    const auto& this_h = h;
    const auto& this_scale = scale;
    INFO(this_w, " x ", this_h, " at ", this_scale);
    FormBoard desk(w, h, scale);
    for (const char* label : {"Use this machine", "Save machine file", "Cancel", "Class", "Answer"}) {
      const Rect r = desk.item(label);
      CHECK(r.x >= 0);
      CHECK(r.y >= 0);
      CHECK(r.x + r.width <= w);
      CHECK(r.y + r.height <= h);
    }
    for (const char* label : {"Engine power", "Rear pressure"}) {
      desk.scroll_to(label);
      const Rect r = desk.item(label), state = desk.item(std::string(label) + " state");
      CHECK(r.x + r.width <= w);
      CHECK(state.x + state.width <= w);
      CHECK((state.y >= r.y || state.x >= r.x + r.width));
    }
  }
}

TEST_CASE("the caution of the form stands there whole, and rows can still be reached") {
  for (const auto& [w, h, scale] :
       {std::tuple{960.f, 600.f, 1.f}, {960.f, 600.f, 2.f}, {1280.f, 440.f, 3.f}, {640.f, 400.f, 2.f}}) {
    const auto& this_w = w;
    const auto& this_h = h;
    const auto& this_scale = scale;
    INFO(this_w, " x ", this_h, " at ", this_scale);
    FormBoard desk(w, h, scale);
    const Rect caution = desk.item("Machine caution"), answer = desk.item("Answer"),
               use = desk.item("Use this machine");
    CHECK(caution.width > 0.25f * w);
    CHECK(caution.x + caution.width <= w);
    CHECK(caution.y >= answer.y + answer.height);
    CHECK(use.y + use.height <= h);
    // Above the buttons, or scrolled with the rows.
    const bool in_foot = caution.y + caution.height <= use.y && caution.y > desk.item("What you call it").y;
    const bool over_rows = caution.y + caution.height <= desk.item("What you call it").y;
    CHECK((in_foot || over_rows));
    // As long as the sentence is in these letters: nothing is cut.
    const float one_line = size_of(desk.ui.fonts.small,
                                   "No slope is safe: frame up, belt on, load low, slow; the maker's limits first. At "
                                   "rest, even ground, tyres on air.")
                               .x;
    CHECK(caution.width * (caution.height / desk.ui.fonts.small->FontSize) >= 0.999f * one_line);
  }
}

TEST_CASE("cancel by button and by Escape; Escape in a field only leaves the field") {
  FormBoard desk;
  desk.click("Engine power");
  desk.press_key(FormBoard::kEscape);
  CHECK(desk.request == MachineRequest::none);
  desk.click("File name");
  desk.press_key(FormBoard::kEscape);
  CHECK(desk.request == MachineRequest::none);
  desk.press_key(FormBoard::kEscape);
  CHECK(desk.request == MachineRequest::cancel);
  desk.request = MachineRequest::none;
  desk.click("Cancel");
  CHECK(desk.request == MachineRequest::cancel);
}

TEST_CASE("a name too long is refused beside its row") {
  FormBoard desk;
  desk.type("What you call it", std::string(126, 'x').c_str());
  CHECK(desk.words("name") == "too long, allowed up to 120 letters");
  CHECK_FALSE(desk.form.made.usable);
  desk.type("What you call it", "x");
  CHECK(desk.form.made.usable);
}

TEST_CASE("what the form saves is the machine it shows") {
  MachineEntry entry;
  entry.name = "The Old One";
  entry.rear_track = 1.9;
  FormBoard desk(1280, 720, 1, entry);
  desk.click("Save machine file");
  CHECK(desk.request == MachineRequest::save);
  CHECK(machine_file_name(desk.form) == "the_old_one.toml");
  const auto folder = std::filesystem::temp_directory_path() / "sidehill_machine_form";
  std::filesystem::create_directories(folder);
  save_machine(desk.form.made, desk.form.entry, folder / machine_file_name(desk.form));
  CHECK(load_vehicle("the_old_one.toml", folder).rear.track == 1.9);
  std::filesystem::remove_all(folder);
}

TEST_CASE("every length of the form can be drawn, on every class") {
  for (const auto& file : vehicle_files()) {
    const Vehicle v = load_vehicle(file.stem().string(), ".");
    int drawn = 0;
    for (const EntryField& field : entry_fields()) {
      const auto d = dimension_of(field.key, v, true);
      if (!d) continue;
      ++drawn;
      CHECK(std::isfinite(d->from_across + d->from_up + d->to_across + d->to_up));
      CHECK(std::hypot(d->to_across - d->from_across, d->to_up - d->from_up) > 0.02);
    }
    CHECK(drawn >= 14);
  }
  const Vehicle utility = load_vehicle("utility_75kw", SIDEHILL_SOURCE_DIR);
  const auto outside = dimension_of("rear_track_m", utility, true),
             middles = dimension_of("rear_track_m", utility, false);
  REQUIRE(outside);
  CHECK_NEAR(outside->to_across - outside->from_across, utility.rear.track + utility.rear.tyre.section_width, 1e-12);
  CHECK_NEAR(middles->to_across - middles->from_across, utility.rear.track, 1e-12);
}

TEST_CASE("a row in full view stays where it is when it is clicked") {
  FormBoard board(1280, 720);
  int clicked = 0;
  for (const EntryField& field : entry_fields()) {
    const std::string label(field.label);
    if (!board.has(label)) continue;
    const Rect before = board.item(label);
    if (before.y < 360 || before.y + before.height > 560) continue;
    board.click(label);
    board.frame();
    CHECK_NEAR(board.item(label).y, before.y, 0.5);
    ++clicked;
  }
  CHECK(clicked > 1);
}
#endif

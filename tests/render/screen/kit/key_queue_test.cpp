#ifdef SIDEHILL_SCREEN
// No keystroke is lost, however slow the pictures come: what is typed in one go reaches the field it was meant for.
#include "render/screen/kit/key_queue.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "render/screen/panels/panels_machine.h"
#include "tests/kit/hands.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

struct FormHand : Hands<FormHand> {
  MachineForm form = open_machine_form({});
  KeyQueue keys;

  FormHand() {
    width = 1280, height = 720;
    frame();
    frame();
  }
  void draw() {
    begin_items(ui);
    draw_machine_form(ui, form, {0, 0, width, height});
  }
  // As they come from a keyboard: each key goes down, types its letter, and is let go.
  void type(const std::string& text) {
    for (const char c : text) {
      if (c == '\t') {
        KeyEvent tab{false, static_cast<unsigned>(kTab)};
        tab.leads = true;
        keys.add(tab);
        tab.action = KeyEvent::up;
        keys.add(tab);
        continue;
      }
      KeyEvent key{false, static_cast<unsigned>(c)};
      keys.add(key);
      keys.add({true, static_cast<unsigned>(c)});
      key.action = KeyEvent::up;
      keys.add(key);
    }
  }
  // As the window does it: a key that went down and up between two frames is down for one.
  void frames_until_quiet() {
    ImGuiIO& io = ImGui::GetIO();
    for (int i = 0; i < 200 && !keys.empty(); ++i) {
      std::vector<unsigned> pressed;
      for (const KeyEvent& event : keys.next_frame()) {
        if (event.letter)
          io.AddInputCharacter(event.key);
        else if (event.action == KeyEvent::down)
          pressed.push_back(event.key);
      }
      for (const unsigned key : pressed) io.KeysDown[key] = true;
      frame();
      for (const unsigned key : pressed) io.KeysDown[key] = false;
    }
    for (int i = 0; i < 4; ++i) frame();
  }
};

}  // namespace

TEST_CASE("digits, Tab, digits, Tab, all before the next picture: every digit is in its field") {
  FormHand hand;
  const auto& fields = entry_fields();
  REQUIRE(fields.size() > 4);
  // The rows as the keyboard goes through them.
  hand.click("Engine power");
  hand.frame();
  hand.type("81\t2611\t3722\t");
  hand.frames_until_quiet();
  std::vector<std::string> typed;
  for (const auto& [key, buffer] : hand.form.typed)
    if (buffer[0] != '\0') typed.emplace_back(buffer.data());
  for (const char* wanted : {"81", "2611", "3722"}) {
    INFO(wanted);
    CHECK(std::ranges::find(typed, wanted) != typed.end());
  }
}

TEST_CASE("a Tab never goes out with letters before or after it, and nothing is lost or turned round") {
  KeyQueue keys;
  std::string came;
  for (const char c : std::string("12\t34\t\t5")) {
    KeyEvent event{c != '\t', static_cast<unsigned>(c)};
    event.leads = c == '\t';
    keys.add(event);
  }
  for (int i = 0; i < 100 && !keys.empty(); ++i) {
    bool tab = false, letter = false;
    for (const KeyEvent& event : keys.next_frame()) {
      came += static_cast<char>(event.key);
      (event.leads ? tab : letter) = true;
    }
    CHECK_FALSE((tab && letter));
  }
  CHECK(keys.empty());
  CHECK(came == "12\t34\t\t5");
}
#endif

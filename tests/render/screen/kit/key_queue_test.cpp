#ifdef SIDEHILL_SCREEN
// No keystroke is lost, however slow the pictures come: what is typed in one go reaches the field it was meant for.
#include "render/screen/kit/key_queue.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "render/screen/parts/machine_form.h"
#include "tests/kit/hands.h"
#include "tests/kit/table.h"

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

// Keys as they fall at a steady pace into frames that take their time: what came since the last frame is waiting when
// the next one begins, and what a frame does not take stays for the one after. As render/screen/window does it.
template <class Board>
void type_at_pace(Board& board, KeyQueue& keys, const std::string& text, double per_second, double frame_time) {
  ImGuiIO& io = ImGui::GetIO();
  std::size_t typed = 0;
  double now = 0;
  for (int frames = 0; (typed < text.size() || !keys.empty()) && frames < 20000; ++frames) {
    for (; typed < text.size() && static_cast<double>(typed) / per_second <= now; ++typed) {
      const char c = text[typed];
      const bool leads = c == '\t' || c == '\n';
      const int code = c == '\t' ? FormHand::kTab : c == '\n' ? FormHand::kEnter : c;
      KeyEvent key{false, static_cast<unsigned>(code)};
      key.leads = leads;
      keys.add(key);
      if (!leads) keys.add({true, static_cast<unsigned>(c)});
      key.action = KeyEvent::up;
      keys.add(key);
    }
    std::vector<unsigned> pressed;
    for (const KeyEvent& event : keys.next_frame()) {
      if (event.letter)
        io.AddInputCharacter(event.key);
      else if (event.action == KeyEvent::down)
        pressed.push_back(event.key);
    }
    for (const unsigned key : pressed) io.KeysDown[key] = true;
    board.frame();
    for (const unsigned key : pressed) io.KeysDown[key] = false;
    now += frame_time;
  }
  CHECK(keys.empty());
  for (int i = 0; i < 6; ++i) board.frame();
}

}  // namespace

TEST_CASE("two hundred fields of the form at 15 keys a second, with frames of 150 ms: every key is where it belongs") {
  FormHand hand;
  constexpr int kFields = 200;
  hand.click("Engine power");
  hand.frame();
  hand.type("99999\t");  // no machine from here on: the buttons that need one stay out of the keyboard's way
  hand.frames_until_quiet();
  hand.click("Engine power");
  hand.frame();
  // As often round the form as it takes. What is typed last into a field is what must stand there: the field it was
  // meant for is the one the keyboard is on, counted along its own order.
  std::vector<std::string> order;
  for (const std::string& label : hand.ui.order)
    for (const EntryField& field : entry_fields())
      if (field.label == label) order.emplace_back(field.key);
  REQUIRE(order.size() > 20);
  std::map<std::string, std::string> wanted;
  std::string text;
  // Along all the form can be tabbed through, other items - choices, buttons - are passed by a Tab of their own.
  const auto labels = hand.ui.order;
  std::size_t at = static_cast<std::size_t>(std::ranges::find(labels, "Engine power") - labels.begin());
  REQUIRE(at < labels.size());
  for (int fields = 0; fields < kFields; at = (at + 1) % labels.size()) {
    for (const EntryField& field : entry_fields())
      if (field.label == labels[at]) {
        const std::string number = std::to_string(1000 + 7 * fields++);
        wanted[std::string(field.key)] = number;
        text += number;
      }
    text += '\t';
  }
  type_at_pace(hand, hand.keys, text, 15, 0.150);
  for (const auto& [key, number] : wanted) {
    const auto& this_key = key;
    CAPTURE(this_key);
    CHECK(std::string(hand.form.typed[key].data()) == number);
  }
  CHECK(wanted.size() == order.size());
}

TEST_CASE("numbers typed into the sliders, Enter, number, Enter, Tab, at the same pace: none is lost") {
  Table table;
  KeyQueue keys;
  ImGuiIO& io = ImGui::GetIO();
  io.KeyMap[ImGuiKey_Enter] = Table::kEnter;
  table.height = 1600;  // none is folded away
  table.frame();
  table.frame();
  std::vector<Dial> dials = dials_of(table.session.scene());
  // An axle's slider and those of its tyres set the same data.
  std::erase_if(dials, [](const Dial& dial) { return dial.more && dial.key.starts_with("ballast."); });
  REQUIRE(dials.size() > 8);
  table.click("Slope number");
  table.frame();
  table.press_key(Table::kEscape);
  table.press_at({640, 400});
  // From the slider that Tab comes to first, through all of them.
  table.ui.focus = dials.front().label;
  std::string text;
  std::map<std::string, double> wanted;
  const auto& order = table.ui.order;
  const auto begins = std::ranges::find(order, dials.front().label);
  REQUIRE(begins != order.end());
  for (auto label = begins; label != order.end(); ++label) {
    const auto dial = std::ranges::find(dials, *label, &Dial::label);
    if (dial != dials.end()) {
      const TypedUnit unit = typed_unit(dial->key, Units::si, dial->max);
      const double middle = unit.shown(dial->min + 0.37 * (dial->max - dial->min));
      const std::string number = fmt::format("{:.{}f}", middle, dial->digits);
      wanted[dial->key] = unit.file(std::stod(number));
      text += '\n' + number + '\n';
    }
    text += '\t';
    if (wanted.size() == dials.size()) break;
  }
  REQUIRE(wanted.size() == dials.size());
  type_at_pace(table, keys, text, 15, 0.150);
  for (const auto& [key, value] : wanted) {
    const auto& this_key = key;
    CAPTURE(this_key);
    CHECK(std::abs(table.session.number(key) - value) < 1e-9 * std::max(1.0, std::abs(value)));
  }
}

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

TEST_CASE("a key pressed twice before the next picture is seen to go up in between, and a letter need not wait") {
  constexpr unsigned kBackspace = 8;
  KeyQueue keys;
  for (int i = 0; i < 3; ++i) {
    keys.add({false, kBackspace});
    KeyEvent up{false, kBackspace};
    up.action = KeyEvent::up;
    keys.add(up);
  }
  // As ImGui sees it: once a frame, down if it went down in it.
  int presses = 0;
  bool before = false;
  for (int i = 0; i < 20 && !keys.empty(); ++i) {
    bool down = false;
    for (const KeyEvent& event : keys.next_frame()) down = down || event.action == KeyEvent::down;
    presses += down && !before ? 1 : 0;
    before = down;
  }
  CHECK(presses == 3);
  for (int i = 0; i < 3; ++i) {  // "111" comes in one frame
    KeyEvent key{false, '1'};
    keys.add(key);
    keys.add({true, '1'});
    key.action = KeyEvent::up;
    keys.add(key);
  }
  CHECK(keys.next_frame().size() == 9);
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

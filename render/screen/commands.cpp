// What the keys do.
#include <imgui.h>

#include <iterator>

#include "render/screen/panels.h"

namespace sidehill {

const std::vector<Command>& commands() {
  static const std::vector<Command> list = {
      {U' ', "Play", "Lets the machine fall on to the slope and runs the scene; pauses it. Key: space"},
      {U'.', "Step", "One step of the simulation (a thousandth of a second, as a rule), then pause. Key: full stop"},
      {U'r', "Reset", "Back to the set-up at rest. Key: R"},
      {U'd', "Drop", "Lets it fall and stand: speed 0. Key: D"},
      {U'g', "Drive", "Lets it fall, then drives off along its heading. Key: G"},
      {U'h', "By hand",
       "Drive it yourself from the keyboard; again: let go, and it stops. Key: H. Then Up and Down: speed, Left and "
       "Right: steer, B: brake, Page Up and Page Down: loader"},
      {U'\u2191', "Faster", "By hand: 1 km/h faster. Key: Up"},
      {U'\u2193', "Slower", "By hand: 1 km/h slower, below 0 backwards. Key: Down"},
      {U's', "Slow motion", "Next slower: 1x, 1/2, 1/5, 1/10, then 1x again. Key: S"},
      {U'f', "Follow", "The camera travels with the machine. Key: F"},
      {U'v', "View",
       "Next view: three quarters, front, rear, left, right, from downhill, top. Key: V. Drag the picture to "
       "look around, drag with the right button to shift it, wheel to go nearer"},
      {U'l', "Labels", "Words in the picture. Key: L"},
      {U'x', "See-through tyres", "Outer sidewalls as glass, so that the liquid shows. Key: X"},
      {U'n', "Notes", "All cautions, and what the answer leaves out. Key: N"},
  };
  return list;
}

bool carry_out(char32_t letter, Session& session, ViewChoices& choices) {
  if (letter >= U'A' && letter <= U'Z') letter += U'a' - U'A';
  switch (letter) {
    case U' ':
      session.toggle();
      return true;
    case U'.':
      session.step_once();
      return true;
    case U'r':
      session.reset();
      return true;
    case U'd':
      session.drop();
      return true;
    case U'g':
      session.drive();
      return true;
    case U'h':
      session.by_hand() ? session.let_go() : session.take_over();
      return true;
    case U'\u2191':
      session.change_speed(1);
      return true;
    case U'\u2193':
      session.change_speed(-1);
      return true;
    case U's': {
      std::size_t next = 0;
      for (std::size_t i = 0; i < std::size(Session::kRates); ++i) {
        if (Session::kRates[i] == session.rate()) next = (i + 1) % std::size(Session::kRates);
      }
      session.set_rate(Session::kRates[next]);
      return true;
    }
    case U'f':
      choices.follow = !choices.follow;
      return true;
    case U'v':
      choices.preset = (choices.preset + 1) % 7;
      choices.go_to = static_cast<CameraPreset>(choices.preset);
      return true;
    case U'l':
      choices.overlays.labels = !choices.overlays.labels;
      return true;
    case U'x':
      choices.overlays.see_through_tyres = !choices.overlays.see_through_tyres;
      return true;
    case U'n':
      choices.notes = !choices.notes;
      return true;
    default:
      return false;
  }
}

void hold_keys(const Ui& ui, Session& session) {
  HandKeys keys;
  if (!ImGui::GetIO().WantTextInput && ui.typing.empty()) {
    const auto down = [](ImGuiKey key) { return ImGui::IsKeyDown(ImGui::GetKeyIndex(key)); };
    keys = {down(ImGuiKey_LeftArrow), down(ImGuiKey_RightArrow), ImGui::IsKeyDown('B'), down(ImGuiKey_PageUp),
            down(ImGuiKey_PageDown)};
  }
  session.hold_keys(keys);
}

}  // namespace sidehill

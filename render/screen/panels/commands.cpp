// What the keys do.
#include <imgui.h>

#include <algorithm>
#include <iterator>

#include "render/screen/panels/panels.h"
#include "sim/base/enum_table.h"

namespace sidehill::screen {

const std::vector<Command>& commands() {
  static const std::vector<Command> list = {
      {U' ', "Play", "Runs the scene from where the machine stands; pauses it. Key: space",
       [](Desk& desk, ViewChoices&) { toggle(desk); }},
      {U'.', "Step",
       "One step of the simulation (a thousandth of a second, as a rule), or the next stored moment when looking back; "
       "then pause. Key: full stop",
       [](Desk& desk, ViewChoices&) { step_once(desk); }},
      {U',', "Back", "The stored moment before, then pause. Key: comma",
       [](Desk& desk, ViewChoices&) { step_back(desk); }},
      {U'o', "Loop", "Over and over, from two seconds before the first wheel lifts. Key: O",
       [](Desk& desk, ViewChoices&) { set_loop(desk, !desk.session.loops()); }},
      {U'r', "Reset", "Back to the set-up at rest. Key: R", [](Desk& desk, ViewChoices&) { reset(desk); }},
      {U'd', "Drop", "Lets it fall, from 0.1 m unless the scene has a height, and stand: speed 0. Key: D",
       [](Desk& desk, ViewChoices&) { drop(desk); }},
      {U'g', "Drive", "Drives off along its heading. Key: G", [](Desk& desk, ViewChoices&) { drive(desk); }},
      {U'h', "By hand",
       "Drive it yourself from the keyboard; again: let go, and it stops. Key: H. Then Up and Down: speed, Left and "
       "Right: steer, B: brake, Page Up and Page Down: loader",
       [](Desk& desk, ViewChoices&) { desk.session.by_hand() ? let_go(desk) : take_over(desk); }},
      {U'\u2191', "Faster", "By hand: 1 km/h faster. Key: Up", [](Desk& desk, ViewChoices&) { change_speed(desk, 1); }},
      {U'\u2193', "Slower", "By hand: 1 km/h slower, below 0 backwards. Key: Down",
       [](Desk& desk, ViewChoices&) { change_speed(desk, -1); }},
      {U's', "Slow motion", "Next slower: 1x, 1/2, 1/5, 1/10, then 1x again. Key: S",
       [](Desk& desk, ViewChoices&) {
         std::size_t next = 0;
         for (std::size_t i = 0; i < std::size(Session::kRates); ++i) {
           if (Session::kRates[i] == desk.session.rate()) next = (i + 1) % std::size(Session::kRates);
         }
         set_rate(desk, Session::kRates[next]);
       }},
      {U'f', "Follow", "The camera travels with the machine. Key: F",
       [](Desk&, ViewChoices& choices) { choices.follow = !choices.follow; }},
      {U'v', "View",
       "Next view: as the scene asks, three quarters, front, rear, left, right, from downhill, top. Key: V. Drag "
       "the picture to look around, drag with the right button to shift it, wheel to go nearer to what is under "
       "the mouse",
       [](Desk& desk, ViewChoices& choices) {
         const bool doubled = lower_side(desk.session.scene().start.heading).has_value();
         do choices.preset = (choices.preset + 1) % count_of<CameraPreset>();
         while (doubled && static_cast<CameraPreset>(choices.preset) == CameraPreset::downhill);
         choices.go_to = static_cast<CameraPreset>(choices.preset);
       }},
      {U'l', "Labels", "Words in the picture. Key: L",
       [](Desk&, ViewChoices& choices) { choices.overlays.labels = !choices.overlays.labels; }},
      {U'x', "See-through tyres", "Outer sidewalls as glass, so that the liquid shows. Key: X",
       [](Desk&, ViewChoices& choices) { choices.overlays.see_through_tyres = !choices.overlays.see_through_tyres; }},
      {U'n', "Notes", "All cautions, and what the answer leaves out. Key: N",
       [](Desk&, ViewChoices& choices) { choices.notes = !choices.notes; }},
      {U't', "Teach", "Prepared lessons in large type: they ask for a guess before they show. Key: T",
       [](Desk& desk, ViewChoices&) { go_to(desk, Task::teach); }},
      {U'k', "Check", "Machine, loader and loads against their limits, with every margin. Key: K",
       [](Desk& desk, ViewChoices&) { go_to(desk, Task::check); }},
      {U'c', "Compare",
       "Two set-ups on the same ground at the same moment, with the difference of every reading. Key: C",
       [](Desk& desk, ViewChoices&) { go_to(desk, Task::compare); }},
      {U'y', "Plan",
       "Every way to ballast the machine for its job with what is on hand, the few worth choosing, and their pages. "
       "Key: Y",
       [](Desk& desk, ViewChoices& choices) {
         go_to(desk, Task::plan);
         if (choices.drawer == Drawer::job) choices.drawer = Drawer::none;  // it stands on the left
       }},
      {U'a', "A or B", "Of two set-ups, change the other one. Key: A",
       [](Desk& desk, ViewChoices&) {
         if (desk.other) desk.edits_other = !desk.edits_other;
       }},
      {U'2', "Two views", "Two set-ups beside each other instead of one through the other. Key: 2",
       [](Desk&, ViewChoices& choices) { choices.two_views = !choices.two_views; }},
      {U'p', "Present", "For a class: picture, run and lesson alone, in larger type; again: the panels back. Key: P",
       [](Desk&, ViewChoices& choices) { choices.presenter = !choices.presenter; }},
      {U'u', "Units",
       "The unit of every weight, and with lb the customary units of the United States; files stay metric. Key: U, the "
       "next one",
       [](Desk&, ViewChoices& choices) {
         choices.units = choices.units == Units::si ? Units::kn : choices.units == Units::kn ? Units::us : Units::si;
       }},
      {U'+', "Larger", "Larger type, up to three times. Key: +",
       [](Desk&, ViewChoices& choices) {
         choices.text_scale = std::min(choices.most_text, choices.text_scale + 0.25);
       }},
      {U'-', "Smaller", "Smaller type. Key: -",
       [](Desk&, ViewChoices& choices) { choices.text_scale = std::max(1.0, choices.text_scale - 0.25); }},
      {U'/', "Find",
       "Any datum of the scene by its plain name: type a word or two, and change it there. Keys: / or Ctrl+F",
       [](Desk& desk, ViewChoices& choices) {
         if (desk.task == Task::teach || plans(desk)) go_to(desk, Task::check);  // the set-up stands on the left there
         choices.answer_side = false;
         if (choices.drawer == Drawer::ground) pull(Drawer::none, choices);
         flip_find(choices.find);
       }},
      {ctrl('z'), "Undo", "Takes the last change back. Ctrl+Z", [](Desk& desk, ViewChoices&) { undo(desk); }},
      {ctrl('y'), "Redo", "Does it again. Ctrl+Y", [](Desk& desk, ViewChoices&) { redo(desk); }},
      {ctrl('s'), "Save", "Every value of the scene, in its file. Ctrl+S",
       [](Desk& desk, ViewChoices& choices) {
         if (desk.path().empty() || came_with_program(desk.path()))
           choices.drawer = Drawer::none, pull(Drawer::files, choices);  // asks for a name
         else
           save_file(desk, desk.path());
       }},
  };
  return list;
}

const char* help_for(std::string_view name) {
  for (const Command& command : commands()) {
    if (command.name == name) return command.help;
  }
  for (const DrawerEntry& entry : drawers()) {
    if (entry.name == name) return entry.help;
  }
  return "";
}

void pull(Drawer drawer, ViewChoices& choices) {
  choices.drawer = choices.drawer == drawer ? Drawer::none : drawer;
  choices.placing.tool = choices.drawer == Drawer::ground ? Tool::move : Tool::look;
  choices.placing.selected = kNothing;
  choices.placing.menu.reset();
  choices.typed_path[0] = 0;  // asked anew each time
  choices.files = {};
}

bool carry_out(char32_t letter, Desk& desk, ViewChoices& choices) {
  if (choices.leaving) return true;  // it is answered first
  if (letter >= U'A' && letter <= U'Z') letter += U'a' - U'A';
  if (letter == ctrl('f')) letter = U'/';
  if (letter == U'b' && desk.session.by_hand()) return true;  // the brake
  // A form has its fields, a lesson its keys for answers.
  if ((choices.drawer == Drawer::machine || choices.drawer == Drawer::weigh) && letter >= U' ') return false;
  if (desk.task == Task::teach && choices.drawer == Drawer::none && !desk.session.by_hand() &&
      ((letter >= U'0' && letter <= U'9') || letter == U'\u2191' || letter == U'\u2193'))
    return false;
  // What runs it would show the answer before the class has guessed.
  if (asks_first(desk, choices) && std::u32string_view(U" .,ordgh").find(letter) != std::u32string_view::npos) {
    if (letter == U' ' && choices.lesson->guess) show_lesson(*choices.lesson);
    return true;
  }
  // Both machines stand while a plan is looked at, and the job is there already.
  if (plans(desk) && std::u32string_view(U" .,ordghsj").find(letter) != std::u32string_view::npos) return true;
  if (choices.drawer == Drawer::ground) {  // its tools have keys of their own
    if (const std::optional<Tool> tool = tool_of_key(letter)) {
      choose(choices.placing, *tool, desk.edited().scene());
      return true;
    }
    if (choices.placing.selected != kNothing && (letter == U'+' || letter == U'-')) return false;  // changes its size
  }
  for (const DrawerEntry& entry : drawers()) {
    if (entry.letter == letter) return pull(entry.drawer, choices), true;
  }
  for (const Command& command : commands()) {
    if (command.letter == letter) return command.does(desk, choices), true;
  }
  return false;
}

void hold_keys(const Ui& ui, Desk& desk) {
  HandKeys keys;
  if (!ImGui::GetIO().WantTextInput && ui.typing.empty()) {
    const auto down = [](ImGuiKey key) { return ImGui::IsKeyDown(ImGui::GetKeyIndex(key)); };
    keys = {down(ImGuiKey_LeftArrow), down(ImGuiKey_RightArrow), ImGui::IsKeyDown('B'), down(ImGuiKey_PageUp),
            down(ImGuiKey_PageDown)};
  }
  hold_keys(desk, keys);
}

}  // namespace sidehill::screen

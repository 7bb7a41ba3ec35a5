// The few things panels are made of - slider, button, choice, tooltip - in the tool's own look, each remembering where
// it stands by its label, so that a test without a window can click by label. Knows Dear ImGui, no Session, no OpenGL.
#pragma once
#include <imgui.h>

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/kit/fonts.h"
#include "render/screen/kit/theme.h"
#include "render/text/words/units.h"

namespace sidehill::screen {

struct Rect {
  float x = 0, y = 0, width = 0, height = 0;  // [px], y down
  ImVec2 middle() const { return {x + width / 2, y + height / 2}; }
  ImVec2 low() const { return {x, y}; }
  ImVec2 high() const { return {x + width, y + height}; }
};

struct Ui {
  Fonts fonts;
  float scale = 1;
  Units units = Units::si;                         // what a person reads and types
  std::map<std::string, Rect, std::less<>> items;  // of the frame just drawn, by label
  std::map<std::string, Rect, std::less<>> seen;   // what of them is in view: not scrolled away
  std::set<std::string, std::less<>> readouts;     // those of them that are only read: nothing to press or to change
  std::string typing;                              // label of the slider whose number is being typed; empty = none
  char typed[32] = {};
  bool typing_starts = false;
  unsigned hovered = 0;        // item the mouse rests on, 0 = none that has help
  double hovered_since = 0;    // [s] of ImGui's clock
  bool pressed_there = false;  // it has been pressed since: its help would only be in the way
  bool help_is_due = false;    // a tooltip waits for its moment: the next frame must not be skipped
  bool arrows_taken = false;   // the arrow keys drive the machine, not the sliders
  // The keyboard's way through the items: Tab and Shift+Tab move, Enter presses, arrows nudge.
  std::string focus;                  // label of the item it is on; empty = none
  bool focus_moved = false;           // in this frame: the item wants to be seen
  std::vector<std::string> order;     // items it can reach, as drawn in this frame
  bool enter = false;                 // pressed in this frame
  std::string field;                  // label of the line being typed into; empty = none
  std::string corrected, correction;  // slider whose typed number was out of range, and what was done about it
  int nudge = 0;                      // arrows pressed in this frame, right or up +1, left or down -1
  float px(double size) const { return static_cast<float>(size) * scale; }
};

enum class Icon {
  none,
  play,
  pause,
  step,
  back,
  reset,
  loop,
  drop,
  drive,
  follow,
  restore,
  by_hand,
  undo,
  redo,
  present,
  close,
  find
};

struct SliderLook {
  std::string label;        // above the track, left
  std::string unit;         // after the number
  double min = 0, max = 1;  // of the track; what is typed may lie outside
  double step = 1;          // a drag and the arrow keys move by this
  double shown_factor = 1;  // number shown = value * factor (100 for a fraction in %)
  int digits = 0;
  double mark = 0;   // small tick: the value as opened
  std::string note;  // after the number, small; may be empty
  std::string end;   // beside the track's upper end, small: "3.60 m"; may be empty
  std::string help;  // tooltip
};

ImU32 colour(Colour c);
inline ImVec2 vec(double x, double y) { return {static_cast<float>(x), static_cast<float>(y)}; }
ImVec4 vector_colour(Colour c);

// ImGui's own style from the theme, for the scale.
void apply_style(double scale);
// Forgets the items of the previous frame and takes in the keys that move among them.
void begin_items(Ui& ui);
// Remembers a place under a label.
void remember(Ui& ui, std::string_view label, Rect rect);
// The same of what is only read, or cannot be pressed just now: the keyboard passes it by.
void remember_readout(Ui& ui, std::string_view label, Rect rect);

// Makes an item one that the keyboard can reach, and marks it while it is on it. Returns true then: the caller acts on
// `enter` and `nudge`.
bool reach(Ui& ui, std::string_view label, Rect rect);
// Before and after one of ImGui's own lines to type into: makes it an item of that label that the keyboard can reach.
// Enter gives it the keyboard, of a form (`by_tab`) Tab as well; Tab leads on from it.
void before_field(const Ui& ui, std::string_view label, bool by_tab = false);
void after_field(Ui& ui, std::string_view label);
// A line of an open popup, and of it alone: `item` is its label. Returns true once it is chosen; then the popup closes.
bool popup_entry(Ui& ui, const std::string& item, const char* text, bool chosen);
// Lets Escape close the popup that is being drawn.
void popup_escape();
// Escape went down in this frame: what lies over the picture closes.
bool escape_pressed();
// A box to be ticked, with its word. Returns true if `on` changed.
bool tick(Ui& ui, const char* label, bool& on, std::string_view help = {});
// A line that opens what is below it, in small type. Returns true while it is open.
bool header(Ui& ui, const char* label);
void flip_fold(const char* label);  // opens or closes ImGui's fold of that label, drawn next

// Number above the track, never under the grab. Drag or click on the track, arrow keys while the mouse is over it,
// click on the number to type one. Returns true if `value` was changed. Items "<label>" (track) and "<label> number".
bool slider(Ui& ui, const SliderLook& look, double& value);
// `pressed` draws it as chosen. An id that begins with ## shows its icon only. Width 0 = as wide as its text.
bool button(Ui& ui, std::string_view id, Icon icon, std::string_view help, bool pressed = false, float width = 0,
            bool enabled = true);
// One word of several, opened as a list by a click or Enter. `id` is its item's label. Returns true if `index` changed.
bool choice(Ui& ui, std::string_view id, const std::vector<std::string>& names, int& index, std::string_view help,
            float max_width);
void section(Ui& ui, const char* title, const std::string& note = {});  // `note` at the end of its line
// Small text in the soft ink.
void soft_text(Ui& ui, std::string_view text, bool wrapped = false);
void tooltip(Ui& ui, std::string_view text);  // for the item before, after a moment
// Text at a place, without moving ImGui's cursor. `align` 0 = from here to the right, 0.5 centred, 1 = ends here.
void text_at(ImDrawList& list, const ImFont* font, ImVec2 place, Colour ink, std::string_view text, float align = 0);
ImVec2 size_of(const ImFont* font, std::string_view text);
// As much of `text` as fits, with an ellipsis if it had to be cut.
std::string fitted(const ImFont* font, std::string_view text, float width);
// The same of a path: its end is kept, with the ellipsis before it.
std::string fitted_end(const ImFont* font, std::string_view text, float width);

}  // namespace sidehill::screen

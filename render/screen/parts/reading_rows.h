// Readings as rows that open their "how was this found", and two set-ups' readings side by side. Know Dear ImGui and
// readings; no Session, no OpenGL.
#pragma once
#include <span>
#include <string>

#include "render/namespaces.h"
#include "render/screen/desk/readings.h"
#include "render/screen/kit/ui.h"

namespace sidehill::screen {

// A heading per group, a row per reading: name, value, (low to high), in ui.units. A click on a row, or Enter while the
// mouse is over it, opens its note below it; `opened` is the id of the open one, empty = none. Items "Reading: <id>",
// and "Found: <id>" for the open note. `group` not empty: only the readings of that group, without its heading.
// `row_height` [px at scale 1]; lower than the usual one, headings are as low.
constexpr double kReadingRow = 21, kLeastReadingRow = 15;
void draw_readings(Ui& ui, std::span<const Reading> readings, std::string& opened, const std::string& group = {},
                   double row_height = kReadingRow);
// The row height with which all of them stand in so much room [px]; no less than the least.
double row_height_for(const Ui& ui, std::span<const Reading> readings, double room);

// Columns: name, A, B, B less A; an arrow and a word say which is better where that is clear, with a question mark
// where it may be the other way round. `only_what_differs` leaves the other rows out. Items "Difference: <id>".
void draw_differences(Ui& ui, std::span<const Difference> rows, const std::string& name_a, const std::string& name_b,
                      bool only_what_differs = false);

// A header that opens what stands below it, closed at first; its item is its title. Returns true while open.
bool folded(Ui& ui, const char* title);
// "How was this found" in a card of its own.
void draw_note(Ui& ui, const std::string& item, const std::string& words);

}  // namespace sidehill::screen

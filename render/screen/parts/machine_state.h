// What stands beside a row of the machine form (machine_form): measured, estimated, missing or wrong, in words and by
// a mark of its own shape; and units as they are shown. No layout.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/parts/machine_form.h"
#include "render/screen/parts/machine_sketch.h"

namespace sidehill::screen {

struct EntryUnit {
  double to_si = 1;  // si = shown * to_si
  std::string_view name;
  int digits = 0;  // worth showing after the point
};
EntryUnit entry_unit(const EntryField& field, Units units);

enum class StateMark { measured, estimated, missing, look, grave };  // tick, wave, ring, triangle, filled triangle
struct RowState {
  StateMark mark = StateMark::missing;
  std::string words;
};
RowState state_of(const MachineForm& form, std::string_view entry_key);
void draw_state_mark(ImDrawList& list, StateMark mark, ImVec2 centre, float size, float line);

std::string_view label_of(std::string_view entry_key);
std::string_view how_to(std::string_view entry_key);     // how to find it out
std::string first_grave_words(const MachineForm& form);  // "Rear track: ..."; empty if a machine can be made
// Every length and mass that was typed and is a number in its range, as it is read.
std::vector<SketchNote> typed_notes(const MachineForm& form);
std::string length_words(const MachineForm& form, std::string_view entry_key);  // "1.84 m", "about 1.80 m", or empty
std::string other_measures(const MachineForm& form);                            // what else to measure, a line each

}  // namespace sidehill::screen

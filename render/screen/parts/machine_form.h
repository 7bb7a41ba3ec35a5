// A form for one's own machine: what its plate, a weighbridge and a tape measure say, each datum optional, checked
// while it is typed; what is not known is estimated from a class and marked so. Knows no Session: it returns what is
// wanted of it, and the machine stands in `made`.
#pragma once
#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/kit/ui.h"
#include "sim/own_machine/made_machine.h"

namespace sidehill::screen {

struct MachineForm {
  MachineEntry entry;
  Units units = Units::si;              // the window's own, followed in each frame
  std::string message;                  // of whoever carried out a request, shown at the foot: "Saved: ..."
  MadeMachine made;                     // of the entry as it stands
  std::optional<MachineAnswer> answer;  // none while it is typed, or if no machine can be made
  // The form's own.
  Vehicle like;  // of the class
  std::vector<std::string> class_names, class_labels;
  std::map<std::string, std::array<char, 128>, std::less<>> typed;  // by entry key
  std::map<std::string, std::string, std::less<>> mistakes;         // by entry key: what is wrong with what is typed
  std::array<char, 128> file{};                                     // name for the machine file
  std::string looked_at = "wheelbase_m";                            // row whose drawing is shown
  std::string changed_row, active_row;                              // an answer waits until the row is left
  bool waits = true;                                                // `answer` is not of this entry yet
  bool to_top = true;                                               // scroll there once
  bool to_weigh = false;                                            // the guided weighing is asked for
};

// Opens the form on an entry; the classes are sought as sim/scene/data_files does. Never throws: a class that cannot be
// read is named in the form.
MachineForm open_machine_form(const MachineEntry& entry = {}, Units units = Units::si);

enum class MachineRequest { none, use, save, cancel };

// Draws it as a window of its own over `area` [px]. `use`: put form.made.vehicle into the scene (and
// form.made.tolerances); `save`: save_machine(form.made, form.entry, folder / machine_file_name(form)); both only if
// form.made.usable. Escape cancels, as the button does. Items: every row by its label, "Class", "Use this
// machine", "Save machine file", "Cancel", and "<label> state" for what stands beside a row.
MachineRequest draw_machine_form(Ui& ui, MachineForm& form, Rect area);

// What the row of this entry key says beside its field, "measured", "estimated 1.62 m ±0.08 from its class", "missing"
// or what is wrong with it.
std::string row_words(const MachineForm& form, std::string_view entry_key);

std::string machine_file_name(const MachineForm& form);  // "the_old_one.toml": as typed, else from the machine's name

}  // namespace sidehill::screen

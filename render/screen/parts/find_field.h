// Any datum of the scene, looked for by its plain name and changed in place. Knows Dear ImGui and the field list.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/desk/session.h"
#include "render/screen/kit/ui.h"

namespace sidehill::screen {

struct FindChoices {
  bool open = false;
  char words[64] = {};
  bool to_field = false;  // the keyboard goes to the line of words
  // The row being typed into, by its key, and what was wrong with what was typed last.
  std::string row, wrong_row, wrong;
  char typed[160] = {};
};
void flip_find(FindChoices& find);  // opens it with the keyboard in its line, or closes it

// A datum as it is shown.
struct FoundDatum {
  std::string key;      // as apply_override takes it: "vehicle.rear.tyre.pressure_kpa", "terrain.feature[0].height_m"
  std::string name;     // plain: "Rear tyre: pressure"
  std::string help;     // what it is, and what is allowed
  std::string value;    // in the units shown
  std::string unit;     // likewise; may be empty
  bool number = false;  // typed in the units shown
  bool words = false;   // a text, or one of several words
  double file_max = 0;  // of a number, for its unit
  std::vector<std::string> choices;  // words to choose from; "false" and "true" of a flag
};
// Every datum whose plain name, help or key holds all of the words, case aside; names that hold them first, then in the
// order of the file. Nothing for no words.
std::vector<FoundDatum> find_data(const Scene& scene, std::string_view words, Units units);

// The scene with that datum as typed. Throws InputError: what is allowed.
Scene with_datum(Scene scene, const FoundDatum& datum, std::string_view typed, Units units);

void draw_find(Ui& ui, Session& session, FindChoices& find);

}  // namespace sidehill::screen

// The whole file format on one page: every datum of a Scene once, with its key, unit, range and one-line help. The same
// list serves the reader, the writer, --set, the sliders, the fuzzing and the reference.
// Keys carry a human's unit as suffix (_m, _deg, _kpa ...); the members are SI and radians. `to_si` converts.
#pragma once
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <variant>

#include "sim/scene.h"

namespace sidehill {

// Plain accessors: return the address of the member inside a given scene.
struct NumberField { double* (*at)(Scene&); double to_si = 1; double offset = 0; double min = 0, max = 0; };  // si = file * to_si + offset
struct FlagField { bool* (*at)(Scene&); };
struct TextField { std::string* (*at)(Scene&); };
struct ChoiceField { int (*get)(const Scene&); void (*set)(Scene&, int); std::span<const std::string_view> choices; };

struct Field {
  std::string_view key;    // "vehicle.rear.track_m"
  std::string_view help;   // one line
  std::variant<NumberField, FlagField, TextField, ChoiceField> kind;
  bool primary = false;    // worth a slider in the first window
};

std::span<const Field> scene_fields();
const Field* find_field(std::string_view key);  // nullptr if there is none

// Value in the file's unit.
double file_value(const NumberField& field, const Scene& scene);
void set_file_value(const NumberField& field, Scene& scene, double value);  // no range check

// Keys that stand for several ("ballast.rear.fill_fraction" = both rear tyres).
struct Alias { std::string_view key; std::string_view targets[2]; std::string_view help; };
std::span<const Alias> scene_aliases();

}  // namespace sidehill

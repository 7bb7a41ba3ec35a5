// The whole file format on one page: every datum of a Scene once, with its key, unit, range and one-line help. The same
// list serves the reader, the writer, --set, the sliders, the fuzzing and the reference in the README.
// Keys are the dotted member path with a human's unit as suffix (_m, _deg, _kpa ...), none if the datum has no
// dimension; the members are SI and radians. Places are single numbers (..._x_m, ..._y_m, ..._z_m), never lists.
// Knows no TOML (scene_file), no physics.
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "sim/scene/scene.h"

namespace sidehill {

// Plain accessors: return the address of the member inside a given T (a Scene, or one entry of one of its lists).
template <class T>
struct NumberFieldOf {  // si = file * to_si + offset; min and max in the file's unit, both allowed
  double* (*at)(T&);
  double to_si = 1, offset = 0, min = 0, max = 0;
};
template <class T>
struct FlagFieldOf {
  bool* (*at)(T&);
};
template <class T>
struct TextFieldOf {
  std::string* (*at)(T&);
  std::size_t max_length = 200;  // [bytes]
};
template <class T>
struct ChoiceFieldOf {
  int (*get)(const T&);
  void (*set)(T&, int);
  std::span<const std::string_view> choices;
};
template <class T>
struct CountFieldOf {  // a whole number, 0 to 2^32 - 1
  std::uint32_t* (*at)(T&);
};
template <class T>
struct AnswerFieldOf {  // a number of any unit, or "never"
  std::optional<double>* (*at)(T&);
};

template <class T>
struct FieldOf {
  std::string_view key;   // "vehicle.rear.track_m"; in a list entry the last part alone, "mass_kg"
  std::string_view unit;  // for people, from the key's suffix; empty if it has no dimension
  std::string_view help;  // one line
  std::variant<NumberFieldOf<T>, FlagFieldOf<T>, TextFieldOf<T>, ChoiceFieldOf<T>, CountFieldOf<T>, AnswerFieldOf<T>>
      kind;
  bool primary = false;  // worth a slider in the first window
};

using Field = FieldOf<Scene>;
using NumberField = NumberFieldOf<Scene>;
using FlagField = FlagFieldOf<Scene>;
using TextField = TextFieldOf<Scene>;
using ChoiceField = ChoiceFieldOf<Scene>;

std::span<const Field> scene_fields();
const Field* find_field(std::string_view key);  // nullptr if there is none

// Entries of the lists [[terrain.feature]], [[ballast.point_mass]], [[programme.action]], [[tolerance]], [[expect]].
std::span<const FieldOf<Feature>> feature_fields();
std::span<const FieldOf<PointMass>> point_mass_fields();
std::span<const FieldOf<Action>> action_fields();
std::span<const FieldOf<Tolerance>> tolerance_fields();
std::span<const FieldOf<Expect>> expect_fields();

// Value in the file's unit.
template <class T>
double file_value(const NumberFieldOf<T>& field, const T& object) {
  return (*field.at(const_cast<T&>(object)) - field.offset) / field.to_si;  // read only; the accessor serves both ways
}
template <class T>
void set_file_value(const NumberFieldOf<T>& field, T& object, double value) {  // no range check
  *field.at(object) = value * field.to_si + field.offset;
}

// Keys that stand for several ("ballast.rear.fill_fraction" = both rear tyres); both targets are of the same kind.
struct Alias {
  std::string_view key;
  std::string_view targets[2];
  std::string_view help;
};
std::span<const Alias> scene_aliases();

// The number fields a key stands for: one, two for an alias, none if it is no number's key.
std::vector<const Field*> targets_of(std::string_view key);

// What a key that is known and holds no number allows ("true or false", "text of up to 120 letters"); empty for a
// number's key, an entry's in a list ("terrain.feature[0].x_m") among them, and for one that is not known.
std::string allowed_without_numbers(std::string_view key);

// "0.2 to 8 m", "one of pivoting, fixed", "true or false" ...: what a field allows, for messages and the reference.
template <class T>
std::string allowed(const FieldOf<T>& field);

// Of every key, list entries as "terrain.feature[].height_m": the one nearest in spelling to a wrong one, for "did you
// mean"; empty if none is near.
std::string nearest_key(std::string_view wrong_key);

}  // namespace sidehill

// Every datum of a Scene once, with all that is said of it: key, unit, range, one line of help, how well it is known,
// how it follows from a machine's class, its slider and its plain name. The same list serves the reader, the writer,
// --set, the answer's intervals, the sliders, the fuzzing and the reference in docs/keys.md. The rows stand in
// sim/scene/*_fields.cpp, the lists of a scene in sim/scene/scene_lists.h.
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
  bool is_date = false;          // a day of the calendar (sim/base/date.h), or empty
};
template <class T>
struct ChoiceFieldOf {
  int (*get)(const T&);
  void (*set)(T&, int);
  std::span<const std::string_view> choices;
  // Takes another name than those of `choices`; gives back why not, empty where it was taken, nothing where it is no
  // such name. nullptr: there are no others.
  std::optional<std::string> (*by_name)(T&, std::string_view) = nullptr;
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
struct MaybeFieldOf {  // a number that may be left out; si = file * to_si
  std::optional<double>* (*at)(T&);
  double to_si = 1, min = 0, max = 0;  // in the file's unit, both allowed
};

// How well a number is known if neither the scene nor its machine file says it, +- at two standard deviations in the
// field's unit. Source: our estimates.
struct UsualDoubt {
  enum class Kind {
    not_said,   // no row may leave it so: a test names the key
    chosen,     // decided or asked for, not measured
    idle,       // moves nothing at rest
    elsewhere,  // moved together with others, in sim/insight/uncertainty.cpp
    absolute,   // +- `width`
    share,      // +- `width` times the value
    if_any,     // +- `width` where the value is above zero
    rule        // as the scene has it
  };
  Kind kind = Kind::not_said;
  double width = 0;
  double (*rule)(const Scene&) = nullptr;
};

// How a number of the class becomes one of a machine its owner did not measure (sim/own_machine). All our estimates.
enum class ScalesBy {
  nothing,  // as in the class
  never,    // never estimated: 0 = not known
  tyre,     // from the tyre's size and pressure
  mass,
  size,    // cube root of the mass
  length,  // wheelbase
  height,  // rear tyres' radius
  front,   // front tyres' radius
  inertia,
  stop,  // of the front axle
  loader_mass,
  loader_length,
  loader_height
};
struct FromClass {
  ScalesBy by = ScalesBy::nothing;
  double share = 0;           // how far off it may then be, +- at two standard deviations over the value [-]; 0 = moves
                              // nothing at rest, or as any measured datum of its kind
  std::string_view better{};  // key of the machine entry that gives it; empty = none
};

// Of a slider's track, in the field's unit.
struct Span {
  double min = 0, max = 0;
  // What of this machine ends it, and where: "this loader reaches" 3.6. The track ends there, unless the scene is
  // beyond it already; empty = nothing of the machine does.
  std::string_view ends{};
  double limit = 0;
};
// A slider in the window's set-up panel. Its track covers what is usual; the field's range is what is allowed.
struct Slider {
  std::string_view section, label;
  int place = 0;                                        // from the top
  double min = 0, max = 0;                              // of the track, in the field's unit
  double step = 1;                                      //
  int digits = 0;                                       // after the point
  std::optional<Span> (*span)(const Scene&) = nullptr;  // in place of min and max; none = no slider on this machine
  std::string_view choice{};                            // key of a choice in the same row; may be empty
  bool more = false;                                    // below the others, folded away where there is little room
};

template <class T>
struct FieldOf {
  std::string_view key;   // "vehicle.rear.track_m"; in a list entry the last part alone, "mass_kg"
  std::string_view unit;  // for people, from the key's suffix; empty if it has no dimension
  std::string_view help;  // one line
  std::variant<NumberFieldOf<T>, FlagFieldOf<T>, TextFieldOf<T>, ChoiceFieldOf<T>, CountFieldOf<T>, AnswerFieldOf<T>,
               MaybeFieldOf<T>>
      kind;
  UsualDoubt doubt{};                     // of a number
  std::optional<FromClass> from_class{};  // of a machine's number
  std::optional<Slider> slider{};         // where it is worth one in the first window
  std::string_view name{};                // for people; empty = the key reads well (plain_name)
  bool (*there)(const Scene&) = nullptr;  // the part it belongs to is on the machine; nullptr = always
  bool needed = false;                    // of a list's entry: it may not be left out
  bool only_set = false;                  // of a text: written only where it is not empty
};

using Field = FieldOf<Scene>;
using NumberField = NumberFieldOf<Scene>;
using FlagField = FlagFieldOf<Scene>;
using TextField = TextFieldOf<Scene>;
using ChoiceField = ChoiceFieldOf<Scene>;

std::span<const Field> scene_fields();
const Field* find_field(std::string_view key);  // nullptr if there is none

// Entries of the lists in sim/scene/scene_lists.h.
std::span<const FieldOf<Feature>> feature_fields();
std::span<const FieldOf<PointMass>> point_mass_fields();
std::span<const FieldOf<Action>> action_fields();
std::span<const FieldOf<WeightOnHand>> weight_on_hand_fields();
std::span<const FieldOf<MediumOnHand>> medium_on_hand_fields();
std::span<const FieldOf<WheelsOnHand>> wheels_on_hand_fields();
std::span<const FieldOf<Tolerance>> tolerance_fields();
std::span<const FieldOf<Expect>> expect_fields();
std::span<const FieldOf<PlanBefore>> plan_before_fields();
std::span<const FieldOf<LogEntry>> log_fields();

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
  std::string_view name{};  // as in FieldOf
  std::optional<Slider> slider{};
};
std::span<const Alias> scene_aliases();

// What people call a datum, without its unit: "rear track", "rear tyre: pressure". The name in its row, else its key in
// words; so too for a key that is not in the list.
std::string plain_name(std::string_view key);
// A sentence with the plain name in place of every key of a datum that stands in it as a word.
std::string in_plain_names(std::string_view sentence);

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

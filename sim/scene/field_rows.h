// How a row of the field list is written (sim/scene/scene_fields.h): one call per datum with everything that is said of
// it. A number without its doubt, or a machine's number without how it follows from its class, does not compile.
// For the files sim/scene/*_fields.cpp alone.
#pragma once
#include <algorithm>
#include <array>
#include <iterator>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "sim/base/key_units.h"
#include "sim/base/steps.h"
#include "sim/scene/scene_fields.h"

namespace sidehill {

// The list is put together of these, in the order of a file.
std::vector<Field> vehicle_fields();  // axle_fields among them
std::vector<Field> axle_fields();
std::vector<Field> ballast_fields();
std::vector<Field> ground_fields();
std::vector<Field> programme_fields();
std::vector<Field> job_fields();
std::vector<Field> plan_fields();

// ---- keys that are put together -----------------------------------------------------------------------------------

template <std::size_t n>
struct Letters {
  char letters[n]{};
  consteval Letters(const char (&text)[n]) { std::copy_n(text, n, letters); }
  constexpr std::string_view view() const { return {letters, n - 1}; }
};

// "vehicle." + "rear" + ".track_m", kept for as long as the program runs.
template <Letters... parts>
constexpr auto kJoined = [] {
  std::array<char, (parts.view().size() + ... + 0)> all{};
  auto to = all.begin();
  ((to = std::ranges::copy(parts.view(), to).out), ...);
  return all;
}();
template <Letters... parts>
constexpr std::string_view joined() {
  return {kJoined<parts...>.data(), kJoined<parts...>.size()};
}

// ---- members ------------------------------------------------------------------------------------------------------

template <class Member>
struct OwnerOf;
template <class T, class M>
struct OwnerOf<M T::*> {
  using type = T;
};
template <auto member>
using Owner = typename OwnerOf<decltype(member)>::type;

// Where a member lies in an object, or a member's member: at<&Scene::start, &Start::heading>().
template <auto first, auto... rest>
constexpr auto at() {
  return +[](Owner<first>& object) { return &((object.*first).*....*rest); };
}

constexpr double kRigid = 1e9;  // stiffness of what counts as rigid [kN/m]

// ---- how well it is known, if nobody says ---------------------------------------------------------------------------

constexpr UsualDoubt chosen() { return {UsualDoubt::Kind::chosen}; }
constexpr UsualDoubt idle() { return {UsualDoubt::Kind::idle}; }
constexpr UsualDoubt moved_elsewhere() { return {UsualDoubt::Kind::elsewhere}; }
constexpr UsualDoubt within(double width) { return {UsualDoubt::Kind::absolute, width}; }
constexpr UsualDoubt share(double of_value) { return {UsualDoubt::Kind::share, of_value}; }
constexpr UsualDoubt if_any(double width) { return {UsualDoubt::Kind::if_any, width}; }
constexpr UsualDoubt by_rule(double (*rule)(const Scene&)) { return {UsualDoubt::Kind::rule, 0, rule}; }

// ---- what else may be said of it ------------------------------------------------------------------------------------

struct Named {  // in words of its own, where the key does not read well
  std::string_view name;
};
struct Needed {};  // an entry without it is refused

template <class T>
void put(FieldOf<T>& field, Named named) {
  field.name = named.name;
}
template <class T>
void put(FieldOf<T>& field, Needed) {
  field.needed = true;
}
template <class T>
void put(FieldOf<T>& field, const FromClass& from_class) {
  field.from_class = from_class;
}
template <class T>
void put(FieldOf<T>& field, const Slider& slider) {
  field.slider = slider;
}

// ---- rows -----------------------------------------------------------------------------------------------------------

template <class T, class... More>
FieldOf<T> row(std::string_view key, std::string_view unit, std::string_view help, decltype(FieldOf<T>::kind) kind,
               const More&... more) {
  FieldOf<T> field{.key = key, .unit = unit, .help = help, .kind = std::move(kind)};
  (put(field, more), ...);
  return field;
}
template <class T, class... More>
FieldOf<T> number(std::string_view key, double* (*where)(T&), double min, double max, std::string_view help,
                  UsualDoubt doubt, const More&... more) {
  const KeyUnit unit = key_unit(key);
  FieldOf<T> field = row<T>(key, unit.name, help, NumberFieldOf<T>{where, unit.to_si, unit.offset, min, max}, more...);
  field.doubt = doubt;
  return field;
}
// A number of the machine itself, which an owner may not know.
template <class... More>
Field of_machine(std::string_view key, double* (*where)(Scene&), double min, double max, std::string_view help,
                 UsualDoubt doubt, const FromClass& from_class, const More&... more) {
  return number(key, where, min, max, help, doubt, from_class, more...);
}
template <class T>
FieldOf<T> flag(std::string_view key, bool* (*where)(T&), std::string_view help) {
  return row<T>(key, "", help, FlagFieldOf<T>{where});
}
template <class T>
FieldOf<T> text(std::string_view key, std::string* (*where)(T&), std::size_t max_length, std::string_view help) {
  return row<T>(key, "", help, TextFieldOf<T>{where, max_length});
}
template <class T>
FieldOf<T> date(std::string_view key, std::string* (*where)(T&), std::string_view help) {
  return row<T>(key, "", help, TextFieldOf<T>{where, 10, true});
}
// A number that may be left out.
template <class T>
FieldOf<T> maybe(std::string_view key, std::optional<double>* (*where)(T&), double min, double max,
                 std::string_view help) {
  const KeyUnit unit = key_unit(key);
  return row<T>(key, unit.name, help, MaybeFieldOf<T>{where, unit.to_si, min, max});
}
template <class T>
FieldOf<T> only_set(FieldOf<T> field) {
  field.only_set = true;
  return field;
}
template <class T>
FieldOf<T> needed(FieldOf<T> field) {
  field.needed = true;
  return field;
}
// An enumeration at<path...>(), by the words of its table.
template <auto first, auto... rest, class... More>
FieldOf<Owner<first>> choice(std::string_view key, std::span<const std::string_view> words, std::string_view help,
                             const More&... more) {
  using T = Owner<first>;
  using E = std::remove_pointer_t<decltype(at<first, rest...>()(std::declval<T&>()))>;
  return row<T>(
      key, "", help,
      ChoiceFieldOf<T>{[](const T& object) { return static_cast<int>(*at<first, rest...>()(const_cast<T&>(object))); },
                       [](T& object, int index) { *at<first, rest...>()(object) = static_cast<E>(index); }, words},
      more...);
}

// All of them belong to a part that a machine may lack.
inline std::vector<Field> only_if(bool (*there)(const Scene&), std::vector<Field> rows) {
  for (Field& field : rows) field.there = there;
  return rows;
}

inline void append(std::vector<Field>& all, std::vector<Field> more) {
  std::ranges::move(more, std::back_inserter(all));
}

}  // namespace sidehill

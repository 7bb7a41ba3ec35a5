// Set-ups side by side: one table, JSON and CSV from one list of rows. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/set_ups.h"

namespace sidehill::text {

// One thing that set-ups are compared by.
struct SetUpRow {
  std::string_view key;   // in JSON and CSV, its unit as suffix
  std::string_view name;  // for people
  Quantity quantity = Quantity::number;
  std::optional<double> (*value)(const SetUpAnswer&) = nullptr;           // [SI]; none = never, or not known
  std::string (*instead)(const SetUpAnswer&) = nullptr;                   // said where there is no value
  std::optional<DifferenceOf> (*pair)(const SetUpDifference&) = nullptr;  // nullptr: its interval is not known
  std::string (*word)(const SetUpAnswer&) = nullptr;  // of a row that has a word in place of a value
  std::optional<double> most{};                       // above it something is wrong [SI]
  bool of_headings = false;                           // needs the answers of all headings
};
// In the order they are shown.
std::span<const SetUpRow> set_up_rows();

// "12.5°", or what is said instead.
std::string cell_words(const SetUpRow& row, const SetUpAnswer& set_up, Units units);
// It is above what is allowed.
bool too_much(const SetUpRow& row, const SetUpAnswer& set_up);
// Of `b` minus `a`: "+0.4° (-0.3° to +1.1°)"; "" where one of the two has no value, or nothing differs. `pair`: of the
// two, nullptr: no interval is known yet.
std::string difference_words(const SetUpRow& row, const SetUpAnswer& a, const SetUpAnswer& b,
                             const SetUpDifference* pair, Units units);

// A set-up under the name it is shown by.
struct ShownSetUp {
  std::string name;  // "as it is", "B"
  const SetUpAnswer* answer = nullptr;
};

// A sentence about the set-ups, with what stands before it: "as it is: ".
struct SetUpLine {
  std::string before, words;
  bool grave = false;
};
// What is read ahead of the rows, the worst first: which do not stand on the job's slope; what gives way in each;
// whether ballast has a say in it at all.
std::vector<SetUpLine> first_lines(std::span<const ShownSetUp> all, Units units);
// The limits that each does not meet; empty where all are met or not known.
std::vector<SetUpLine> lines_of_limits(std::span<const ShownSetUp> all, Units units);
// What each filling does to rim and valve, in the library's words or those of its data sheet.
std::vector<SetUpLine> lines_of_rust(std::span<const ShownSetUp> all, Units units);
// What the rows leave out.
std::vector<SetUpLine> lines_of_cautions();

std::string set_ups_table(const SetUpComparison& all, Units units = Units::si);
nlohmann::ordered_json set_ups_json(const SetUpComparison& all);
std::string set_ups_csv(const SetUpComparison& all);

}  // namespace sidehill::text

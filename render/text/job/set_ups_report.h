// Set-ups side by side: one table, JSON and CSV from one list of rows. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>

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
};
// In the order they are shown.
std::span<const SetUpRow> set_up_rows();

// "12.5°", or what is said instead.
std::string cell_words(const SetUpRow& row, const SetUpAnswer& set_up, Units units);
// "+0.4° (-0.3° to +1.1°)"; "" where one of the two has no value.
std::string difference_words(const SetUpRow& row, const SetUpComparison& all, std::size_t other, Units units);

std::string set_ups_table(const SetUpComparison& all, Units units = Units::si);
nlohmann::ordered_json set_ups_json(const SetUpComparison& all);
std::string set_ups_csv(const SetUpComparison& all);

}  // namespace sidehill::text

// What plans are compared by, a column each: its names, its value and its words, once for the table and the window's
// chart. Knows no file, no window.
#pragma once
#include <array>
#include <optional>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/base/enum_table.h"
#include "sim/plan/plan.h"

namespace sidehill::text {

enum class PlanColumn { gives_way, ballast, slip, fuel, soil, cost, effort };
inline constexpr std::size_t kPlanColumns = count_of<PlanColumn>();

struct PlanColumnNames {
  PlanColumn column;
  const char* head;    // over the table's column: "fuel a year"
  const char* name;    // of an axis: "Fuel a year"
  const char* better;  // which way is better: "less is better"
};
const PlanColumnNames& column_names(PlanColumn column);

// "12.3° = 22 %", "240 kg", "not known".
std::string column_words(PlanColumn column, const PlanMeasures& measures, Units units);
// The same as a number in column_unit; none where it is not known, not given, or nothing ever gives way.
std::optional<double> column_value(PlanColumn column, const PlanMeasures& measures, Units units);
std::string column_unit(PlanColumn column, Units units);  // "°", "kg", "EUR"
// What stands in place of a number: "never", "cannot pull", "not given"; empty where there is one.
std::string no_column_value(PlanColumn column, const PlanMeasures& measures);

// Where the slope at which it gives way may lie: "11.4° to 13.5°"; "-" where nothing gives way.
std::string range_words(const std::optional<Interval>& range, Units units);

}  // namespace sidehill::text

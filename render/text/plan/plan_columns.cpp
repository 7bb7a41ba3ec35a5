#include "render/text/plan/plan_columns.h"

#include <fmt/format.h>

#include "render/text/plan/plan_words.h"
#include "render/text/words/words.h"

namespace sidehill::text {
namespace {

constexpr std::array kPlanColumnNames{
    PlanColumnNames{PlanColumn::gives_way, "gives way at", "Slope at which it gives way", "more is better"},
    PlanColumnNames{PlanColumn::ballast, "ballast", "Ballast", "less is better"},
    PlanColumnNames{PlanColumn::slip, "slip", "Slip of the rear wheels", "less is better"},
    PlanColumnNames{PlanColumn::fuel, "fuel a year", "Fuel a year", "less is better"},
    PlanColumnNames{PlanColumn::soil, "soil, 30 cm", "Stress in the soil, 30 cm deep", "less is better"},
    PlanColumnNames{PlanColumn::cost, "price", "Price", "less is better"},
    PlanColumnNames{PlanColumn::effort, "effort", "Effort", "less is better"},
};
static_assert(sidehill::is_whole(kPlanColumnNames, &PlanColumnNames::column));

// In SI, and the quantity it is.
struct PlanValue {
  Quantity quantity;
  std::optional<double> si;
};

PlanValue plan_value(PlanColumn column, const PlanMeasures& m) {
  switch (column) {
    case PlanColumn::gives_way:
      return {Quantity::angle, m.stand.lost ? std::nullopt : m.stand.gives_way};
    case PlanColumn::ballast:
      return {Quantity::mass, m.ballast};
    case PlanColumn::slip:
      return {Quantity::share, m.cannot_pull ? std::nullopt : m.slip};
    case PlanColumn::fuel:
      return {Quantity::volume, m.fuel ? std::optional(*m.fuel * 1e-3) : std::nullopt};
    case PlanColumn::soil:
      return {Quantity::pressure, m.soil};
    case PlanColumn::cost:
      return {Quantity::cost, m.cost};
    case PlanColumn::effort:
      return {Quantity::number, m.effort / 60};
  }
  return {Quantity::number, std::nullopt};
}

}  // namespace

const PlanColumnNames& column_names(PlanColumn column) { return kPlanColumnNames[static_cast<std::size_t>(column)]; }

std::string no_column_value(PlanColumn column, const PlanMeasures& m) {
  if (plan_value(column, m).si) return "";
  if (column == PlanColumn::gives_way) return m.stand.lost ? "not known" : "never";
  if (column == PlanColumn::slip && m.cannot_pull) return "cannot pull";
  return column == PlanColumn::cost ? "not given" : "not known";
}

std::string column_words(PlanColumn column, const PlanMeasures& m, Units units) {
  const PlanValue value = plan_value(column, m);
  if (!value.si) return no_column_value(column, m);
  switch (column) {
    case PlanColumn::gives_way:
      return degrees_and_percent(value.si);
    case PlanColumn::ballast:
      return shown(Quantity::mass, *value.si, units);
    case PlanColumn::slip:
      return fmt::format("{:.1f} %", 100 * *value.si);
    case PlanColumn::fuel:
    case PlanColumn::soil:
      return measured(value.quantity, *value.si, 0, units);
    case PlanColumn::cost:
      return fmt::format("{:.0f} EUR", *value.si);
    case PlanColumn::effort:
      return effort_words(m.effort);
  }
  return "";
}

std::optional<double> column_value(PlanColumn column, const PlanMeasures& m, Units units) {
  const PlanValue value = plan_value(column, m);
  if (!value.si) return std::nullopt;
  const ShownUnit unit = shown_unit(value.quantity, units);
  return *value.si * unit.factor + unit.offset;
}

std::string column_unit(PlanColumn column, Units units) {
  if (column == PlanColumn::effort) return "min";
  return std::string(shown_unit(plan_value(column, {}).quantity, units).name);
}

std::string range_words(const std::optional<Interval>& range, Units units) {
  if (!range) return "-";
  return shown_interval(Quantity::angle, range->low, range->open ? std::nullopt : std::optional(range->high), units);
}

}  // namespace sidehill::text

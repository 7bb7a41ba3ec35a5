#include "render/text/rest/masses_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/rest/answer_json.h"
#include "render/text/words/columns.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/rest/mass_sums.h"
#include "vehicles/tyre_cavity.h"
#include "vehicles/tyre_damage.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

const char* body_key(LedgerBody body) {
  constexpr const char* kKeys[] = {"chassis",   "front_axle", "front_left", "front_right",
                                   "rear_left", "rear_right", "boom",       "bucket"};
  static_assert(std::size(kKeys) == count_of<LedgerBody>());
  return kKeys[static_cast<int>(body)];
}

const char* item_key(LedgerItem item) {
  constexpr const char* kKeys[] = {"machine",      "driver",        "tank",   "fill",    "front_weights",
                                   "rear_weights", "wheel_weights", "loader", "payload", "added"};
  static_assert(std::size(kKeys) == count_of<LedgerItem>());
  return kKeys[static_cast<int>(item)];
}

Json axle_pair(const AxleShare& share) { return {number_or_null(share.front), number_or_null(share.rear)}; }

Json ledger_json(const Model& model) {
  Json list = Json::array();
  for (const LedgerLine& line : model.ledger) {
    const Mat3& i = line.props.inertia;
    list.push_back({{"name", line.name},
                    {"item", item_key(line.item)},
                    {"body", body_key(line.body)},
                    {"liquid", line.liquid},
                    {"mass_kg", number_or_null(line.props.mass)},
                    {"place_m", place(line.props.com)},
                    {"inertia_kgm2", place({i[0][0], i[1][1], i[2][2]})},  // about its own centre, along x, y, z
                    {"on_axles_kg", axle_pair(axle_share(line, model.wheelbase))}});
  }
  return list;
}

std::string case_name(const MassCase& c, bool has_tank) {
  const std::string driver = c.driver_on ? "driver on" : "nobody on";
  return has_tank ? driver + (c.tank_full ? ", tank full" : ", tank empty") : driver;
}

std::string margin_words(const LoadMargin& margin, Units units) {
  const auto mass = [units](double kg) { return shown(Quantity::mass, kg, units); };
  if (!(margin.capacity > 0)) return margin.load > 0 ? "too fast for it" : "-";
  if (margin.margin < 0)
    return fmt::format("of {:>9}: {} TOO MUCH, {} over", mass(margin.capacity), mass(-margin.margin),
                       over_words(margin.used));
  return fmt::format("of {:>9}: {} left, {} used", mass(margin.capacity), mass(margin.margin), percent(margin.used));
}

}  // namespace

std::string rating_words(const TyreCheck& tyre) {
  std::string text;
  if (tyre.multiple.factor > 1)
    text = fmt::format("{:.2f} times by {}: {}, up to {:.0f} km/h", tyre.multiple.factor, tyre.multiple.short_source,
                       tyre.multiple.use, tyre.multiple.top_speed * 3.6);
  if (tyre.tyres > 1)
    text += fmt::format(
        "{}{}", text.empty() ? "" : "; ",
        tyre.by_one ? fmt::format("a pair, {} of the load on its fuller tyre", percent(tyre.fuller))
                    : fmt::format("a pair, {} x {:.2f} of a single tyre", tyre.tyres, side_by_side(tyre.tyres)));
  return text;
}

void add_masses(Json& json, const Answer& answer) {
  const Model& model = answer.model;
  json["ledger"] = ledger_json(model);
  json["mass_in_wheel_kg"] = mass_in_wheels(model);
  json["on_axles_level_kg"] = axle_pair(axle_share(model));
  Json cases = Json::array();
  for (const MassCase& c : answer.mass_cases)
    cases.push_back({{"driver_on", c.driver_on},
                     {"tank_full", answer.scene.vehicle.tank.capacity > 0 ? Json(c.tank_full) : Json()},
                     {"mass_kg", number_or_null(c.mass)},
                     {"centre_of_gravity_m", place(c.centre_of_gravity)},
                     {"on_axles_level_kg", axle_pair(c.axles)},
                     {"even_slope_first_lift_off_deg", number_or_null(c.first_lift_off, kDegree)}});
  json["mass_cases"] = cases;
}

void add_tyres(Json& json, const Answer& answer) {
  Json pressure = Json::array(), stiffness = Json::array(), doubt = Json::array();
  for (const WheelModel& wheel : answer.model.wheels) {
    pressure.push_back(number_or_null(wheel.tyre.pressure, 1e3));
    stiffness.push_back(wheel.tyre.rigid ? Json() : number_or_null(wheel.tyre.vertical_stiffness, 1e3));
    doubt.push_back(number_or_null(wheel.tyre.vertical_stiffness_uncertainty, 1e3));
  }
  json["tyre_pressure_kpa"] = pressure;
  json["tyre_stiffness_kn_per_m"] = stiffness;
  json["tyre_stiffening_doubt_kn_per_m"] = doubt;  // one standard deviation
  if (const auto cost = cost_of_fills(answer.scene))
    json["fill_cost_eur"] = {number_or_null(cost->low), number_or_null(cost->high)};
  if (!answer.loads) {
    json["load_check"] = nullptr;
    return;
  }
  const auto margin_json = [](const LoadMargin& m, bool known) {
    Json entry = {{"load_kg", number_or_null(m.load)}};
    entry["capacity_kg"] = known ? number_or_null(m.capacity) : Json();
    entry["margin_kg"] = known ? number_or_null(m.margin) : Json();
    entry["used"] = known ? number_or_null(m.used) : Json();
    return entry;
  };
  Json tyres = Json::array(), axles = Json::array();
  for (int i = 0; i < kWheels; ++i) {
    const TyreCheck& check = answer.loads->tyres[static_cast<std::size_t>(i)];
    Json entry = {{"tyre", axle_of(answer.scene.vehicle, i).tyre.size}, {"service", nullptr}};
    if (check.service) entry["service"] = std::to_string(check.service->load_index) + check.service->speed_symbol;
    constexpr const char* kRatings[] = {"not_known", "typical", "stated"};
    entry["rating"] = kRatings[static_cast<int>(check.rating)];
    entry["typical"] = check.rating == Rating::typical;
    entry["tyres"] = check.tyres;
    entry["multiple"] = check.service ? number_or_null(check.multiple.factor) : Json();
    entry["multiple_of"] = check.multiple.use.empty() ? Json() : Json(check.multiple.use);
    entry["multiple_source"] = check.multiple.source.empty() ? Json() : Json(check.multiple.source);
    entry["at_index_kg"] = check.service ? number_or_null(check.at_index) : Json();
    entry.update(margin_json(check.margin, check.service.has_value()));
    tyres.push_back(entry);
  }
  for (const LoadMargin& axle : answer.loads->axles) axles.push_back(margin_json(axle, axle.capacity > 0));
  json["load_check"] = {
      {"loads_of", answer.loads->level ? "level" : "slope"},  // the level where it does not rest on the slope
      {"speed_kmh", number_or_null(answer.loads->speed, 1 / 3.6)},
      {"tyres", tyres},
      {"axles", axles}};
}

std::string masses_table(const Answer& answer, Units units) {
  const auto mass = [units](double kg) { return shown(Quantity::mass, kg, units); };
  const auto length = [units](double m) { return shown(Quantity::length, m, units); };
  const std::vector<Column> columns{{54, false}, {10}, {9}, {9}, {9}, {11}, {11}, {16}};
  std::vector<std::vector<std::string>> rows{{"Masses", "mass", "ahead", "left", "up", "front*", "rear*"}};
  for (const LedgerLine& line : answer.model.ledger) {
    const AxleShare share = axle_share(line, answer.model.wheelbase);
    rows.push_back({"  " + read_in(line.name, units), mass(line.props.mass), length(line.props.com.x),
                    length(line.props.com.y), length(line.props.com.z), mass(share.front), mass(share.rear)});
  }
  const Vec3 c = centre_of_gravity_at_rest(answer.model, answer.statics);
  const AxleShare all = axle_share(answer.model);
  if (const AxleShare bar = drawbar_share(answer.model); bar.front + bar.rear > 0)
    rows.push_back({"  trailer's drawbar on the hitch", "", "", "", "", mass(bar.front), mass(bar.rear)});
  rows.push_back({"  all together, liquid where it lies here", mass(total_mass(answer.model)), length(c.x), length(c.y),
                  length(c.z), mass(all.front), mass(all.rear)});
  const bool has_tank = answer.scene.vehicle.tank.capacity > 0;
  rows.push_back({""});
  rows.push_back(
      {answer.scene.terrain.features.empty() ? "With and without" : "With and without, lift-off on an even slope",
       "mass", "ahead", "left", "up", "front*", "rear*", "lifts at"});
  for (const MassCase& m : answer.mass_cases)
    rows.push_back({"  " + case_name(m, has_tank), mass(m.mass), length(m.centre_of_gravity.x),
                    length(m.centre_of_gravity.y), length(m.centre_of_gravity.z), mass(m.axles.front),
                    mass(m.axles.rear), degrees_and_percent(m.first_lift_off)});
  rows.push_back({"  * on that axle, on the level."});
  return lines_of_cells("", columns, rows);
}

std::string loads_table(const Answer& answer, Units units) {
  if (!answer.loads) return {};
  const LoadCheck& check = *answer.loads;
  std::string text = fmt::format("Load against what may be carried, {}{}\n",
                                 check.level        ? "on the level (it does not rest here)"
                                 : check.slope == 0 ? "on the level"
                                                    : "on this slope",
                                 check.speed > 0 ? ", at " + measured(Quantity::speed, check.speed, 0, units) : "");
  bool typical = false;
  for (int i = 0; i < kWheels; ++i) {
    const TyreCheck& tyre = check.tyres[static_cast<std::size_t>(i)];
    const std::string mark = tyre.service ? fmt::format("{}{}{}", tyre.service->load_index, tyre.service->speed_symbol,
                                                        tyre.rating == Rating::typical ? "*" : "")
                                          : "";
    typical = typical || tyre.rating == Rating::typical;
    text +=
        fmt::format("  {:12}{:24}{:>10}  {}\n", wheel_name(i), axle_of(answer.scene.vehicle, i).tyre.size + " " + mark,
                    shown(Quantity::mass, tyre.margin.load, units),
                    tyre.service ? margin_words(tyre.margin, units) : "not known for this size");
    if (const std::string how = rating_words(tyre); !how.empty())
      text += fmt::format("  {:12}  {}\n", "", read_in(how, units));
  }
  for (std::size_t axle = 0; axle < 2; ++axle)
    text += fmt::format(
        "  {:12}{:24}{:>10}  {}\n", axle == 0 ? "front axle" : "rear axle", "",
        shown(Quantity::mass, check.axles[axle].load, units),
        check.axles[axle].capacity > 0 ? margin_words(check.axles[axle], units) : "maker's limit not given");
  if (typical) text += "  * typical of the size: the sidewall decides.\n";
  text +=
      "  By the press's rule of thumb at this pressure: ask the maker before you sign. No multiple counts above a "
      "slope "
      "of 20 %.\n";
  return text;
}

std::string tyres_table(const Answer& answer, Units units) {
  std::string text;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const TyreFill& fill = answer.scene.ballast.fill[i];
    if (fill.fill_fraction <= 0) continue;
    const Tyre& tyre = axle_of(answer.scene.vehicle, static_cast<int>(i)).tyre;
    const double volume = cavity_volume(cavity_of(tyre)) * fill.fill_fraction;
    const TyreLaw& law = answer.model.wheels[i].tyre;
    const auto cost = cost_of_fill(answer.scene, i);
    const ShownUnit stiffness = shown_unit(Quantity::stiffness, units);
    const std::string spring =
        law.rigid ? "taken as rigid"
                  : fmt::format("{} +-{} (on air {})", measured(Quantity::stiffness, law.vertical_stiffness, 0, units),
                                number_in(2 * law.vertical_stiffness_uncertainty * stiffness.factor, 0, units),
                                number_in(tyre.vertical_stiffness * stiffness.factor, 0, units));
    text += fmt::format("  {:12}{:>{}} +-{:.0f} %  air {}  spring {}{}\n", wheel_name(static_cast<int>(i)),
                        measured(Quantity::volume, volume, 0, units), units == Units::us ? 9 : 7,
                        200 * cavity_uncertainty(tyre), measured(Quantity::pressure, law.pressure, 0, units), spring,
                        cost ? fmt::format("  {:.0f} to {:.0f} EUR", cost->low, cost->high) : "");
  }
  if (text.empty()) return text;
  if (answer.stiffening_doubt)
    text += fmt::format("  What is not known of the stiffening moves the lift-off by up to {}.\n",
                        degrees(answer.stiffening_doubt, 2));
  return "Filled tyres\n" + text;
}

std::string damage_text(const Answer& answer, Units units) {
  std::vector<std::string_view> printed;
  std::string text;
  for (const TyreFill& fill : answer.scene.ballast.fill)
    for (const std::string_view note : damage_notes(fill.medium, fill.fill_fraction)) {
      if (std::find(printed.begin(), printed.end(), note) != printed.end()) continue;
      printed.push_back(note);
      text += paragraph("  ", read_in(std::string(note), units));
    }
  return text.empty() ? text : "If a filled tyre is damaged\n" + text;
}

}  // namespace sidehill::text

#include "render/text/machine/lists.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/rest/answer_json.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "sim/scene/scene_lists.h"
#include "vehicles/load_index.h"
#include "vehicles/recipe.h"
#include "vehicles/tyre_library.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

// A file that cannot be read is listed with the reason: a list must not fail for one bad entry.
Json machine_json(const std::filesystem::path& path) {
  Json json = {{"name", path.stem().string()}, {"file", path.string()}};
  try {
    Scene scene;
    scene.vehicle = load_vehicle(path.filename().string(), path.parent_path());
    json["what"] = scene.vehicle.name;
    json["engine_power_kw"] = scene.vehicle.engine_power / 1e3;
    json["mass_kg"] = number_or_null(total_mass(build(scene)));
    json["wheelbase_m"] = scene.vehicle.wheelbase;
    json["rear_track_m"] = scene.vehicle.rear.track;
    json["front_drive"] = scene.vehicle.front_drive;
    json["loader"] = scene.vehicle.loader.fitted;
  } catch (const InputError& error) {
    json["error"] = error.what();
  }
  return json;
}

Json scene_json(const std::filesystem::path& path) {
  Json json = {{"file", path.string()}};
  try {
    const Scene scene = load_scene(path);
    json["title"] = scene.title;
    json["note"] = scene.note;
  } catch (const InputError& error) {
    json["error"] = error.what();
  }
  return json;
}

Json job_json(const std::filesystem::path& path) {
  Json json = {{"name", path.stem().string()}, {"file", path.string()}};
  try {
    const Job job = load_job(path.filename().string(), path.parent_path());
    json["what"] = job.name;
    json["work"] = kWorks[static_cast<std::size_t>(job.work)].key;
    json["steepest_slope_deg"] = number_or_null(job.slope / kDegree);
    json["coldest_c"] = number_or_null(job.coldest - kZeroCelsius);
  } catch (const InputError& error) {
    json["error"] = error.what();
  }
  return json;
}

struct KeyRow {
  std::string key, unit, range, help;
};

template <class T>
void add_rows(std::vector<KeyRow>& rows, std::string_view prefix, std::span<const FieldOf<T>> fields) {
  for (const FieldOf<T>& field : fields)
    rows.push_back(
        {fmt::format("{}{}", prefix, field.key), std::string(field.unit), allowed(field), std::string(field.help)});
}

std::vector<KeyRow> key_rows() {
  std::vector<KeyRow> rows = {{"vehicle_file", "", "a name from `sidehill list machines`, or a path",
                               "the machine that vehicle.* then changes"}};
  rows.push_back({"job_file", "", "a name from `sidehill list jobs`, or a path", "the job that job.* then changes"});
  add_rows(rows, "", scene_fields());
  for (const Alias& alias : scene_aliases())
    rows.push_back({std::string(alias.key), "", allowed(*find_field(alias.targets[0])), std::string(alias.help)});
  for_each_list([&](const auto& list) { add_rows(rows, fmt::format("{}[].", list.name), list.fields()); });
  return rows;
}

}  // namespace

Json machines_json() {
  Json list = Json::array();
  for (const auto& path : vehicle_files()) list.push_back(machine_json(path));
  return list;
}

Json scenes_json() {
  Json list = Json::array();
  for (const auto& path : scene_files()) list.push_back(scene_json(path));
  return list;
}

Json jobs_json() {
  Json list = Json::array();
  for (const auto& path : job_files()) list.push_back(job_json(path));
  return list;
}

static Json celsius_or_null(std::optional<double> kelvin) { return kelvin ? Json(*kelvin - kZeroCelsius) : Json(); }

constexpr double kTen = 283.15;  // the temperature a density is usually quoted near, in the cool season [K]

Json media_json() {
  Json list = Json::array();
  for (const MediumInfo& medium : media()) {
    const FreezingPoints ice = freezing_points(medium.medium, 0);
    const StrengthRange range = strength_range(medium.medium);
    const bool chosen = range.max > 0;  // else null: its strength is what it is
    Json bought = Json::array();
    for (const Product& product : products(medium.medium))
      bought.push_back({{"name", product.key}, {"what", product.name}, {"purity", product.purity}});
    list.push_back({{"name", medium.key},
                    {"what", medium_name({medium.medium, 0, nullptr}, true)},
                    {"density_at_10_c_kg_per_m3", density(medium.medium, kTen)},
                    {"density_uncertainty", density_uncertainty(medium.medium, 0)},  // one standard deviation over it
                    {"concentration", medium.mass_fraction},
                    {"concentration_min", chosen ? Json(range.min) : Json()},
                    {"concentration_max", chosen ? Json(range.max) : Json()},
                    {"slush_free_c", celsius_or_null(ice.slush_free)},
                    {"slush_free_uncertainty_c", ice.slush_free ? Json(ice.slush_free_uncertainty) : Json()},
                    {"solid_c", celsius_or_null(ice.solid)},
                    {"solid_uncertainty_c", ice.solid ? Json(ice.solid_uncertainty) : Json()},
                    {"freezing_note", ice.note},
                    {"turns_with_wheel", medium.turns_with_wheel},
                    {"products", bought},
                    {"caution", medium.caution},
                    {"tube", medium.tube},
                    {"corrosion", medium.corrosion},
                    {"toxicity", medium.toxicity},
                    {"spill", medium.spill},
                    {"source", medium.source}});
  }
  return list;
}

Json tyres_json() {
  Json list = Json::array();
  for (const LibraryTyre& tyre : tyre_library()) {
    const TyreSize size = parse_tyre_size(std::string(tyre.designation) + " " + std::string(tyre.service));
    list.push_back({{"designation", tyre.designation},
                    {"section_width_m", tyre.section_width},
                    {"overall_diameter_m", tyre.overall_diameter},
                    {"rim_diameter_m", tyre.rim_diameter},
                    {"cavity_l", size.cavity_volume * 1e3},
                    {"cavity_uncertainty", size.volume_uncertainty},  // one standard deviation over it
                    {"water_75_percent_kg", 0.75 * size.cavity_volume * density(Medium::water, kTen)},
                    {"load_index", size.service->load_index},
                    {"load_kg", load_index_mass(size.service->load_index)},
                    {"speed_symbol", size.service->speed_symbol},
                    {"speed_kmh", speed_symbol_speed(size.service->speed_symbol) * 3.6},
                    {"reference_pressure_kpa", tyre.reference_pressure * 1e-3},
                    {"field_pressure_kpa", tyre.field_pressure * 1e-3},
                    {"use", tyre.use}});
  }
  return list;
}

Json keys_json() {
  Json list = Json::array();
  for (const KeyRow& row : key_rows())
    list.push_back({{"key", row.key}, {"unit", row.unit}, {"allowed", row.range}, {"help", row.help}});
  return list;
}

std::string machines_table(Units units) {
  std::string text =
      fmt::format("{:22}{:>8}{:>10}{:>11}  {:7}{}\n", "name", "power", "mass", "rear track", "loader", "what");
  for (const Json& row : machines_json()) {
    const std::string name = row["name"];
    if (row.contains("error"))
      text += fmt::format("{:22}{}\n", name, row["error"].get<std::string>());
    else
      text += fmt::format("{:22}{:>8}{:>10}{:>11}  {:7}{}\n", name,
                          measured(Quantity::power, row["engine_power_kw"].get<double>() * 1e3, 0, units),
                          shown(Quantity::mass, row["mass_kg"].get<double>(), units),
                          measured(Quantity::length, row["rear_track_m"].get<double>(), 2, units),
                          row["loader"].get<bool>() ? "yes" : "no", read_in(row["what"].get<std::string>(), units));
  }
  return text;
}

std::string scenes_table() {
  std::string text;
  for (const Json& row : scenes_json()) {
    text += row["file"].get<std::string>() + "\n  " +
            (row.contains("error") ? row["error"] : row["title"]).get<std::string>();
    text += "\n";
  }
  return text;
}

std::string jobs_table(Units units) {
  std::string text = fmt::format("{:18}{:20}{:>12}{:>11}  {}\n", "job", "work", "steepest", "coldest", "what");
  for (const Json& row : jobs_json()) {
    const std::string name = row["name"].get<std::string>();
    if (row.contains("error"))
      text += fmt::format("{:18}{}\n", name, row["error"].get<std::string>());
    else
      text += fmt::format("{:18}{:20}{:>12}{:>11}  {}\n", name, row["work"].get<std::string>(),
                          degrees_and_percent(row["steepest_slope_deg"].get<double>() * kDegree, 0),
                          shown(Quantity::temperature, row["coldest_c"].get<double>() + kZeroCelsius, units),
                          row["what"].get<std::string>());
  }
  return text + "\nsidehill ballast SCENE --set job_file=NAME holds a machine against a job.\n";
}

std::string tyres_table(Units units) {
  const int room = units == Units::us ? 11 : 8, rim = units == Units::us ? 6 : 5;
  std::string text =
      fmt::format("{:13}{:>7}{:>10}{:>{}}{:>{}}{:>12}{:>9}{:>10}{:>9}  {}\n", "size", "width", "diameter", "rim",
                  rim + 3, "room", room, "75 % water", "marked", "carries", "up to", "use");
  for (const Json& row : tyres_json()) {
    const auto number = [&](const char* key) { return row[key].get<double>(); };
    const auto length = [&](const char* key) { return measured(Quantity::length, number(key), 2, units); };
    const auto mass = [&](const char* key) { return shown(Quantity::mass, number(key), units); };
    text += fmt::format(
        "{:13}{:>7}{:>10}{:>{}.4g} in{:>{}}{:>12}{:>9}{:>10}{:>9}  {}\n", row["designation"].get<std::string>(),
        length("section_width_m"), length("overall_diameter_m"), number("rim_diameter_m") / 0.0254, rim,
        measured(Quantity::volume, number("cavity_l") * 1e-3, 0, units), room, mass("water_75_percent_kg"),
        fmt::format("{}{}", row["load_index"].get<int>(), row["speed_symbol"].get<std::string>()), mass("load_kg"),
        measured(Quantity::speed, number("speed_kmh") / 3.6, 0, units), row["use"].get<std::string>());
  }
  return text +
         "\nSizes that are not here are read too. Widths, diameters, marks and room are typical of the size (room from "
         "the\n"
         "designation, good to 5 to 10 %); the sidewall and the maker's table decide.\n";
}

std::string media_table(Units units) {
  const auto celsius = [units](const Json& value, const Json& doubt, const char* instead) {
    if (value.is_null()) return std::string(instead);
    const double off = doubt.get<double>();
    return read_in(fmt::format("{:.1f}{} °C", value.get<double>(), off > 0 ? fmt::format(" +-{:.1f}", off) : ""),
                   units);
  };
  const ShownUnit unit = shown_unit(Quantity::density, units);
  const double last = std::pow(10, unit.digits);  // rounded up in the last digit shown
  const int wide = units == Units::us ? 19 : 15;
  std::string text = fmt::format("{:22}{:>{}}{:>17}{:>17}  {}\n", "name", read_in("at 10 °C", units), wide, "first ice",
                                 "solid", "what");
  const Json rows = media_json();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Json& row = rows[i];
    const double density = row["density_at_10_c_kg_per_m3"].get<double>();
    text += fmt::format(
        "{:22}{:>{}}{:>17}{:>17}  {}\n", row["name"].get<std::string>(),
        fmt::format("{:.{}f} +-{:.{}f} {}", density * unit.factor, unit.digits,
                    std::ceil(density * unit.factor * row["density_uncertainty"].get<double>() * last - 1e-9) / last,
                    unit.digits, unit.name),
        wide, celsius(row["slush_free_c"], row["slush_free_uncertainty_c"], "never"),
        celsius(row["solid_c"], row["solid_uncertainty_c"],
                row["turns_with_wheel"].get<bool>() ? "never" : "not known"),
        read_in(row["what"].get<std::string>(), units));
    // Mixes of one salt stand together and share their caution.
    if (i + 1 == rows.size() || rows[i + 1]["caution"] != row["caution"])
      text += "  " + read_in(row["caution"].get<std::string>(), units) + "\n";
  }
  return text +
         read_in(
             "\n+- is one standard deviation, as wide as second sources lie off (--json names them). \"to -23 °C\" is "
             "the "
             "first ice, to the\nwhole degree on its warm side. A medium of a data sheet of yours is \"own\". Rims, "
             "people, "
             "spills, tubes and strengths:\n--json, or `sidehill fill`. What each does in one tyre: `sidehill list "
             "media "
             "--tyre SIZE --coldest-c N`.\n",
             units);
}

std::string keys_table() {
  constexpr std::size_t kWidest = 48;  // what is allowed; what says more has its meaning on the next line
  const std::vector<KeyRow> rows = key_rows();
  std::size_t keys = 0, ranges = 0;
  for (const KeyRow& row : rows) {
    keys = std::max(keys, row.key.size() + 2);
    if (row.range.size() <= kWidest) ranges = std::max(ranges, row.range.size() + 2);
  }
  std::string text;
  for (const KeyRow& row : rows)
    text += fmt::format("{:{}}{:{}}{}{}\n", row.key, keys, row.range, ranges,
                        row.range.size() <= kWidest ? "" : "\n" + std::string(keys + ranges, ' '), row.help);
  return text;
}

std::string keys_markdown() {
  std::string text = "| key | allowed | meaning |\n|---|---|---|\n";
  for (const KeyRow& row : key_rows()) text += fmt::format("| `{}` | {} | {} |\n", row.key, row.range, row.help);
  return text;
}

}  // namespace sidehill::text

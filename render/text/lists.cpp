#include "render/text/lists.h"

#include <fmt/format.h>

#include "render/text/answer.h"
#include "render/text/words.h"
#include "sim/data_files.h"
#include "sim/scene_fields.h"
#include "sim/scene_file.h"

namespace sidehill {
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
  add_rows(rows, "", scene_fields());
  for (const Alias& alias : scene_aliases())
    rows.push_back({std::string(alias.key), "", allowed(*find_field(alias.targets[0])), std::string(alias.help)});
  add_rows(rows, "terrain.feature[].", feature_fields());
  add_rows(rows, "ballast.point_mass[].", point_mass_fields());
  add_rows(rows, "expect[].", expect_fields());
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

static Json celsius_or_null(std::optional<double> kelvin) { return kelvin ? Json(*kelvin - 273.15) : Json(); }

Json media_json() {
  constexpr double kTen = 283.15;  // the temperature a density is usually quoted near, in the cool season [K]
  Json list = Json::array();
  for (const MediumInfo& medium : media())
    list.push_back({{"name", medium.key},
                    {"what", medium.name},
                    {"density_at_10_c_kg_per_m3", density(medium.medium, kTen)},
                    {"slush_free_c", celsius_or_null(freezing_points(medium.medium, 0).slush_free)},
                    {"solid_c", celsius_or_null(freezing_points(medium.medium, 0).solid)},
                    {"caution", medium.caution},
                    {"source", medium.source}});
  return list;
}

Json keys_json() {
  Json list = Json::array();
  for (const KeyRow& row : key_rows())
    list.push_back({{"key", row.key}, {"unit", row.unit}, {"allowed", row.range}, {"help", row.help}});
  return list;
}

std::string machines_table() {
  std::string text =
      fmt::format("{:22}{:>8}{:>10}{:>11}  {:7}{}\n", "name", "power", "mass", "rear track", "loader", "what");
  for (const Json& row : machines_json()) {
    const std::string name = row["name"];
    if (row.contains("error"))
      text += fmt::format("{:22}{}\n", name, row["error"].get<std::string>());
    else
      text += fmt::format("{:22}{:>5.0f} kW{:>10}{:>11}  {:7}{}\n", name, row["engine_power_kw"].get<double>(),
                          kilograms(row["mass_kg"]), metres(row["rear_track_m"]),
                          row["loader"].get<bool>() ? "yes" : "no", row["what"].get<std::string>());
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

std::string media_table() {
  std::string text = fmt::format("{:22}{:>12}{:>12}  {}\n", "name", "at 10 C", "slush-free", "what");
  for (const Json& row : media_json())
    text += fmt::format(
        "{:22}{:>6.0f} kg/m3{:>12}  {}\n{:48}{}\n", row["name"].get<std::string>(),
        row["density_at_10_c_kg_per_m3"].get<double>(),
        row["slush_free_c"].is_null() ? "never" : fmt::format("{:.1f} C", row["slush_free_c"].get<double>()),
        row["what"].get<std::string>(), "", row["caution"].get<std::string>());
  return text;
}

std::string keys_table() {
  std::string text;
  for (const KeyRow& row : key_rows()) text += fmt::format("{:52}{:34}{}\n", row.key, row.range, row.help);
  return text;
}

std::string keys_markdown() {
  std::string text = "| key | allowed | meaning |\n|---|---|---|\n";
  for (const KeyRow& row : key_rows()) text += fmt::format("| `{}` | {} | {} |\n", row.key, row.range, row.help);
  return text;
}

}  // namespace sidehill

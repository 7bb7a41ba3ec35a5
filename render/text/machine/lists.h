// What `list` prints: machines, scenes, jobs, tyres, media, keys; as text, Markdown (keys) or JSON. Reads the files it
// names.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"

namespace sidehill::text {

std::string machines_table(Units units = Units::si);
std::string scenes_table();
std::string jobs_table(Units units = Units::si);
std::string tyres_table(Units units = Units::si);
std::string media_table(Units units = Units::si);
std::string keys_table();
std::string keys_markdown();  // the table of docs/keys.md

nlohmann::ordered_json machines_json();
nlohmann::ordered_json scenes_json();
nlohmann::ordered_json jobs_json();
nlohmann::ordered_json tyres_json();
nlohmann::ordered_json media_json();
nlohmann::ordered_json keys_json();

}  // namespace sidehill::text

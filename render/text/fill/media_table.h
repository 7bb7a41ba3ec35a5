// `list media --tyre`: what each medium would be in one tyre, as a table and as JSON.
#pragma once
#include <nlohmann/json.hpp>
#include <span>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/fill_sheet.h"

namespace sidehill::text {

// `sheets` as media_in_tyre gives them, at least one. What freezes solid at the coldest stands first.
std::string tyre_media_table(std::span<const FillSheet> sheets, Units units = Units::si);
nlohmann::ordered_json tyre_media_json(std::span<const FillSheet> sheets);

}  // namespace sidehill::text

// Slope limits and tables of them, in words and as JSON; parts of a table put together again. Knows no window.
#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/slope_limit.h"

namespace sidehill::text {

// What was asked, so that parts of different tables are not mixed up.
struct SlopeLimitRequest {
  Scene scene;
  SlopeLimitAsk ask;
  std::vector<SweptKey> keys;  // none, one or two
  Shard shard;
};

// "programme.speed_kmh=2:10:5". Throws InputError naming what is wrong.
SweptKey swept_key(const std::string& text);
// "2/5": the second of five. Throws InputError.
Shard shard_of(const std::string& text);

nlohmann::ordered_json slope_limit_json(const SlopeLimitRequest& request, const std::vector<SweptCell>& cells);

// Of a whole table, from slope_limit_json or merged.
std::string slope_limit_table(const nlohmann::ordered_json& whole, Units units = Units::si);

// A file's text as JSON, for `merged`. Throws InputError naming the file: no JSON, or nested deeper than any table.
nlohmann::ordered_json part_of(const std::string& text, const std::string& name);

// The parts of one table as the whole. Throws InputError naming the file: of another table, twice the same part, a part
// missing, not a part at all.
nlohmann::ordered_json merged(const std::vector<std::pair<std::string, nlohmann::ordered_json>>& parts);

}  // namespace sidehill::text

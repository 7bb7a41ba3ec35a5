// How far an answer may be off, in words and as JSON. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <utility>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/answer.h"

namespace sidehill::text {

void add_intervals(nlohmann::ordered_json& json, const Answer& answer);  // "intervals", "doubts"; null if not asked for

// What a Doubt's key stands for, in everyday words without its unit: "rear tyre: pressure at the downhill edge".
std::string datum_words(std::string_view key);
std::string datum_words(std::string_view key,
                        const BallastPlan& plan);  // the same with this loader's tool: "load on the forks"
// How well a datum is known, "+-" left out, and its unit: {"20", "kg"}.
std::pair<std::string, std::string> tolerance_words(const Doubt& doubt, Units units);
// " (36.2° to 39.9°)" behind an angle; empty if not worked out.
std::string interval_words(const std::optional<Interval>& interval);
std::string doubts_table(const Answer& answer,
                         Units units = Units::si);  // what moves the first lift-off most; empty if not worked out

}  // namespace sidehill::text

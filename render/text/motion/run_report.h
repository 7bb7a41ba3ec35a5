// A finished run as JSON and as text. Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/answer.h"
#include "sim/motion/recording.h"

namespace sidehill::text {

// The answer at rest, then outcome, events and the last state. Slopes and turns in degrees, "not there" null.
nlohmann::ordered_json to_json(const Answer& answer, const Recording& recording);

// Outcome, the landing apart, events in order, the least margins, `after_events`, the wheel loads at the end, cautions.
std::string run_table(const Answer& answer, const Recording& recording, const std::string& after_events = {},
                      Units units = Units::si);

// Where a run is stored.
struct StoredRun {
  std::string file;
  std::size_t bytes = 0, frames = 0;
};
std::string stored_line(const StoredRun& stored);
nlohmann::ordered_json to_json(const StoredRun& stored);

}  // namespace sidehill::text

// What a report to sign says beside the answer at rest, as sentences, rows of cells and JSON. Knows no paper, no file.
#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/report_facts.h"

namespace sidehill::text {

// One sentence for each bar, in plain names: "Front rims carry at most what is stamped on them: not known; look up the
// front rim's capacity."
std::vector<std::string> bar_words(const Answer& answer, const ReportFacts& facts);

// "Not to be signed: LIMIT BROKEN: ... The report names 4 reasons more."; empty where nothing bars it.
std::string bars_line(const Answer& answer, const ReportFacts& facts, Units units);

// Heads, then a row for each rule, the worst first: rule, asked, there, state with what is to spare, who asks it.
std::vector<std::vector<std::string>> rule_rows(const ReportFacts& facts, const Scene& scene, Units units);

// Heads, then a row for each height and load.
std::vector<std::vector<std::string>> loader_rows(const ReportFacts& facts, Units units);

// What it does when it moves: how it ended, then what happened and when. Empty where it only stands.
std::vector<std::string> moving_words(const Answer& answer, const ReportFacts& facts);

// Everything in the report; numbers in SI as in the other verbs' JSON.
nlohmann::ordered_json report_json(const Answer& answer, const ReportFacts& facts);

}  // namespace sidehill::text

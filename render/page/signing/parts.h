// The parts of a report that make it fit to sign: who it is for, what keeps it from being signed, all rules, the
// loader's table, the run, where to sign, and every input. For render/page/report alone.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/page/paper.h"
#include "render/text/words/units.h"
#include "sim/insight/report_facts.h"

namespace sidehill::page {

inline constexpr const char* kNotToBeSigned = "NOT TO BE SIGNED";

// Machine number, owner, place, asked by, date given: words where they are known, else a line to write on.
void add_record(Paper& paper, const PageRecord& record, const std::string& machine);

// Why it must not be signed, in a heavy frame; or that nothing of it keeps it from being signed.
void add_bars(Paper& paper, const std::vector<std::string>& bars);

void add_rules(Paper& paper, const ReportFacts& facts, const Scene& scene, Units units);
void add_loader_table(Paper& paper, const ReportFacts& facts, const Scene& scene, Units units);  // nothing without one
void add_moving(Paper& paper, const std::vector<std::string>& words, Units units);  // nothing where it only stands

double height_of_signature(const Paper& paper, bool barred);
void add_signature(Paper& paper, const PageRecord& record, bool barred);

// On pages of its own: every datum that went in, with how well it is known.
void add_inputs(Paper& paper, const Scene& scene, Units units);

}  // namespace sidehill::page

// The engineer's page: what was asked, what came out, how far off it may be, what it leaves out, and a line to sign.
// Knows the answer; no drawing library, no screen: a picture of the machine is handed in as pixels.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/page/page_format.h"
#include "render/page/paint.h"
#include "render/text/words/units.h"
#include "sim/insight/answer.h"
#include "sim/insight/report_facts.h"

namespace sidehill::page {

// A picture of the machine for the first page; no pixels = none.
struct ReportPicture {
  int width = 0, height = 0;       // [px]
  std::vector<std::uint8_t> rgba;  // top row first
  std::string drawn = {};          // below it: what is drawn in place of a rest; empty where it rests
};

// Mostly four pages and an appendix. `answer` should have its uncertainty and its reasons (sim/insight/answer.h); what
// was not worked out is said to be missing. `facts`: as report_facts gives them for this answer; nullptr: worked out
// here, without the run. Across every page stands that it is not to be signed, as long as something bars it.
std::vector<PdfPage> report_pages(const Answer& answer, const ReportPicture& picture = {}, Units units = Units::si,
                                  PaperSize size = PaperSize::a4, const ReportFacts* facts = nullptr);

// As PDF, written to a temporary name, then renamed; same answer, same bytes. Throws InputError if it cannot be
// written.
void write_report(const std::filesystem::path& path, const Answer& answer, const ReportPicture& picture = {},
                  Units units = Units::si, PaperSize size = PaperSize::a4, const ReportFacts* facts = nullptr);

}  // namespace sidehill::page

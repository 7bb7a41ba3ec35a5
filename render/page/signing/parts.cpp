#include "render/page/signing/parts.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/page/form.h"
#include "render/text/job/report_words.h"
#include "render/text/words/words.h"
#include "vehicles/loader_tool.h"

namespace sidehill::page {
namespace {

constexpr double kRecordRow = 17, kSmall = 7.5;

// A name, and behind it what is known or a line to write on.
void add_blank(Paper& paper, double left, double width, const char* name, const std::string& value) {
  const double x = Paper::kMargin + left, label = text_width(name, 8) + 6;
  add_text(paper.sheet(), x, paper.y(), name, 8, palette::kInkSoft);
  if (value.empty())
    add_line(paper.sheet(), {x + label, paper.y() + 2}, {x + width, paper.y() + 2}, palette::kInkSoft, 0.5,
             Dash::dotted);
  else
    add_fitted(paper.sheet(), x + label, paper.y(), value, Paper::kText, width - label, true);
}

const char* const kCovers =
    "The signature covers: that the inputs in the appendix are those of this machine and this ground, which of them "
    "were "
    "measured and how; that every limit above was looked up on plate, sidewall, rim or in the maker's book; and that "
    "the "
    "cautions were read.";
const char* const kCoversNot =
    "It does not cover: another load, ballast, tyre pressure, ground or slope than those printed here; ground that is "
    "not "
    "as firm and even as assumed; the machine under way, apart from what this page names; the driver's work. It is no "
    "approval of the machine, and no leave to work on a slope.";

}  // namespace

void add_record(Paper& paper, const PageRecord& record, const std::string& machine) {
  const double half = (paper.room() - 15) / 2;
  paper.skip(20);
  add_blank(paper, 0, half, "Machine", machine);
  add_blank(paper, half + 15, half, "Machine number", record.machine_number);
  paper.skip(kRecordRow);
  add_blank(paper, 0, half, "Owner", record.owner);
  add_blank(paper, half + 15, half, "Place", record.place);
  paper.skip(kRecordRow);
  add_blank(paper, 0, half, "Asked by", record.asked_by);
  add_blank(paper, half + 15, half, "Date", record.date);
  paper.skip(6);
}

void add_bars(Paper& paper, const std::vector<std::string>& bars) {
  constexpr double kInset = 8, kText = 9;
  const double room = paper.room() - 2 * kInset - 10;
  if (bars.empty()) {
    paper.skip(4);
    paper.paragraph(
        "No limit looked at is broken, and none is unknown. Whether it may be signed is for whoever checks the inputs.",
        true);
    return;
  }
  double height = 2 * kInset + 16;
  for (const std::string& bar : bars) height += Paper::tall(bar, room, kText) + 2;
  paper.skip(6);
  paper.need(std::min(height, paper.height() - 150));
  const double top = paper.y();
  paper.skip(kInset + 10);
  add_text(paper.sheet(), Paper::kMargin + kInset, paper.y(), kNotToBeSigned, 12, palette::kInk, true);
  add_text(paper.sheet(), Paper::kMargin + kInset + text_width(std::string(kNotToBeSigned) + "  ", 12, true), paper.y(),
           bars.size() == 1 ? "for this reason:" : "as long as one of these stands:", kText, palette::kInk);
  paper.skip(3);
  const int page = paper.page();
  for (const std::string& bar : bars) {
    paper.need(Paper::tall(bar, room, kText));
    add_text(paper.sheet(), Paper::kMargin + kInset, paper.y() + kText * 1.4, "!", kText, palette::kInk, true);
    paper.paragraph(bar, false, kInset + 10, room, kText);
    paper.skip(2);
  }
  paper.skip(kInset - 2);
  if (paper.page() == page)
    add_rectangle(paper.sheet(), Paper::kMargin, top, paper.room(), paper.y() - top, Pattern::none, palette::kCard,
                  palette::kInk, 1.5);
}

void add_rules(Paper& paper, const ReportFacts& facts, const Scene& scene, Units units) {
  paper.need(90);
  paper.heading("All rules, the worst first");
  paper.table({{0}, {188}, {282}, {350}, {462}}, rule_rows(facts, scene, units), true, 0, kSmall);
}

void add_loader_table(Paper& paper, const ReportFacts& facts, const Scene& scene, Units units) {
  if (facts.loader.empty()) return;
  const auto rows = loader_rows(facts, units);
  paper.need(Paper::kHeading + Paper::kLine * static_cast<double>(rows.size() + 3));
  paper.heading("Loader: height and load together");
  paper.table({{0}, {110, 1}, {190, 1}, {270, 1}, {355, 1}, {405, 1}, {455, 1}, {515, 1}}, rows);
  paper.paragraph(
      fmt::format(
          "Even slope, standing still{}. Lifts here, slides here: at the report's heading. Front axle: share of "
          "the maker's figure, level. Rear axle: what it carries, level. TOO MUCH: more in front than may be "
          "carried, or less than 20 % of the mass behind (EN 12525).",
          has_bale(scene.ballast.bale) || scene.ballast.loader_load_ahead != 0 ? ", the load where the scene has it"
                                                                               : ""),
      false, 0, paper.room(), kSmall);
}

void add_moving(Paper& paper, const std::vector<std::string>& words, Units units) {
  if (words.empty()) return;
  paper.need(60);
  paper.heading("When it moves as the scene says");
  for (const std::string& line : words) paper.paragraph(read_in(line, units), &line == &words.front());
}

double height_of_signature(const Paper& paper, bool barred) {
  return Paper::kHeading + Paper::tall(kCovers, paper.room(), kSmall) + Paper::tall(kCoversNot, paper.room(), kSmall) +
         48 + (barred ? 15 : 0);
}

void add_signature(Paper& paper, const PageRecord& record, bool barred) {
  paper.need(height_of_signature(paper, barred));
  paper.heading("Signature");
  if (barred)
    paper.paragraph(std::string(kNotToBeSigned) + " while a reason on the first page stands.", true, 0, 0, 10.5);
  paper.paragraph(kCovers, false, 0, paper.room(), kSmall);
  paper.paragraph(kCoversNot, false, 0, paper.room(), kSmall);
  paper.skip(32);
  const double y = paper.y(), wide = paper.room() - 30;
  double x = Paper::kMargin;
  for (const auto& [words, share] : {std::pair{"signed by", 0.42}, {"licence no.", 0.33}, {"date", 0.25}}) {
    add_line(paper.sheet(), {x, y}, {x + share * wide, y}, palette::kInk, 0.75);
    add_text(paper.sheet(), x, y + 11, words, 8, palette::kInkSoft);
    x += share * wide + 15;
  }
  if (!record.machine_number.empty())
    add_fitted(paper.sheet(), paper.width() - Paper::kMargin, y - 24, "machine " + record.machine_number, 8, 200, false,
               1);
  paper.skip(16);
}

}  // namespace sidehill::page

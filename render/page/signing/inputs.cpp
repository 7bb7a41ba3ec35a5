// The appendix of a report: every datum that went in, in two columns.
#include <algorithm>

#include "render/page/form.h"
#include "render/page/signing/parts.h"
#include "render/text/job/report_inputs.h"

namespace sidehill::page {
namespace {

constexpr double kInputText = 7, kInputLine = 9.6, kInputGap = 14, kGroupLine = 17;

}  // namespace

void add_inputs(Paper& paper, const Scene& scene, Units units) {
  const std::vector<InputRow> rows = input_rows(scene, units);
  paper.need(paper.height());  // on a page of its own
  paper.heading("Appendix: what went in");
  paper.paragraph(inputs_sentence(rows));
  paper.skip(4);
  const double width = (paper.room() - kInputGap) / 2, value_at = width - 48;
  double top = paper.y(), y = top, left = 0;
  std::string group;
  for (const InputRow& row : rows) {
    const bool begins = row.group != group;
    const double foot = paper.y() + paper.left();
    if (y + kInputLine + (begins ? kGroupLine + kInputLine : 0) > foot) {
      if (left > 0) {
        paper.need(paper.height());
        top = paper.y();
        left = 0;
      } else {
        left = width + kInputGap;
      }
      y = top;
      paper.go_to(top);
      group.clear();
    }
    const double x = Paper::kMargin + left;
    if (row.group != group) {
      group = row.group;
      y += kGroupLine;
      add_text(paper.sheet(), x, y - 3, group, 8.5, palette::kInk, true);
    }
    y += kInputLine;
    const double name = std::min(text_width(row.name, kInputText), value_at - 50);
    add_fitted(paper.sheet(), x, y, row.name, kInputText, value_at - 50);
    add_fitted(paper.sheet(), x + value_at, y, row.value, kInputText, value_at - name - 6, true, 1);
    add_fitted(paper.sheet(), x + width, y, row.known + (row.by == KnownBy::estimate ? "*" : ""), kInputText, 44, false,
               1);
  }
  paper.go_to(paper.y() + paper.left());
}

}  // namespace sidehill::page

#include "render/page/filling_page.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/page/filling_wheel.h"
#include "render/page/form.h"
#include "render/page/paper.h"
#include "render/page/provenance.h"
#include "render/text/fill/axle_filling_words.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"

namespace sidehill::page {
namespace {

constexpr double kLeading = 1.22;                // of a line over its letters
constexpr double kLargest = 11.5, kLeast = 9.5;  // letters of the steps [pt]
constexpr double kGutter = 14, kNumber = 18;     // between the columns; for a step's number [pt]
constexpr double kStepGap = 2.6;                 // between two steps [pt]

// One step as its lines; `lead` is set bold at the head of the first one.
struct SetStep {
  std::string lead;
  std::vector<std::string> lines;
};

SetStep set_step(const FillingStep& step, double room, double size) {
  const double bolder = text_width(step.lead, size, true) - text_width(step.lead, size);
  const auto width_of = [&](const std::string& line) {
    return text_width(line, size) + (line.starts_with(step.lead) ? bolder : 0);
  };
  return {step.lead, lines_of(step.lead + " " + step.words, room, width_of)};
}

double height_of(const SetStep& step, double size) {
  return size * kLeading * static_cast<double>(step.lines.size()) + kStepGap;
}

void draw_step(PageSheet& sheet, const SetStep& step, int number, double x, double y, double size) {
  double line_y = y + size;
  add_text(sheet, x, line_y, fmt::format("{}", number), size + 1.5, palette::kInk, true);
  x += kNumber;
  for (std::size_t i = 0; i < step.lines.size(); ++i, line_y += size * kLeading) {
    const std::string& line = step.lines[i];
    if (i > 0 || !line.starts_with(step.lead)) {
      add_text(sheet, x, line_y, line, size, palette::kInk, i == 0);
      continue;
    }
    add_text(sheet, x, line_y, step.lead, size, palette::kInk, true);
    add_text(sheet, x + text_width(step.lead + " ", size, true), line_y,
             line.substr(std::min(step.lead.size() + 1, line.size())), size);
  }
}

// Where columns begin and end on this page.
struct Columns {
  double left = 0, width = 0, top = 0, foot = 0;
  double right_top = 0;  // below the drawing
};

// Draws the steps with letters of that size; false, and nothing drawn, if they do not fit.
bool lay_steps(PageSheet& sheet, const std::vector<FillingStep>& steps, const Columns& at, double size) {
  std::vector<SetStep> set;
  set.reserve(steps.size());
  for (const FillingStep& step : steps) set.push_back(set_step(step, at.width - kNumber, size));
  std::size_t in_left = 0;
  for (double y = at.top; in_left < set.size() && y + height_of(set[in_left], size) <= at.foot + kStepGap; ++in_left)
    y += height_of(set[in_left], size);
  double right = at.right_top;
  for (std::size_t i = in_left; i < set.size(); ++i) right += height_of(set[i], size);
  if (right > at.foot + kStepGap) return false;
  double y = at.top;
  for (std::size_t i = 0; i < set.size(); ++i) {
    if (i == in_left) y = at.right_top;
    draw_step(sheet, set[i], static_cast<int>(i) + 1, i < in_left ? at.left : at.left + at.width + kGutter, y, size);
    y += height_of(set[i], size);
  }
  return true;
}

// Machine, tyre and medium below the title.
std::string what_words(const AxleFilling& filling, Units units) {
  const FillSheet& s = filling.sheet;
  return fmt::format("{}. {} {}{}, both with {}, filled to {}.", capital(read_in(filling.scene.vehicle.name, units)),
                     axle_title(filling), filling.tyre.size,
                     filling.tyre.service.empty() ? "" : " " + filling.tyre.service,
                     read_in(medium_name(mix_of(s), true), units), percent(s.fill_fraction));
}

void draw_numbers(PageSheet& sheet, const AxleFilling& filling, Units units, double y, double width) {
  const FillSheet& s = filling.sheet;
  const Recipe& recipe = s.recipe;
  const std::string stuff = !s.product                  ? litres_words(recipe.volume, units)
                            : recipe.product_volume > 0 ? litres_words(recipe.product_volume, units)
                                                        : measured(Quantity::mass, recipe.product_mass, 0, units);
  const BigNumber numbers[] = {
      {filling_from_empty(filling) ? "Pump in each tyre" : "In an empty tyre", litres_words(s.jacked.volume, units),
       "estimate: " + litres_range(s, 1, units)},
      {filling_from_empty(filling) ? "Bring for both" : "For two empty tyres",
       s.product ? stuff + " + " + litres_words(recipe.water_volume, units) : stuff,
       s.product ? "product + water = " + litres_words(recipe.volume, units) : read_in(medium_name(mix_of(s)), units)},
      {"Valve at", s.valve->reached ? valve_words(filling) : "no help", "as on a clock, 12 is the top"},
      {"Set the air to", measured(Quantity::pressure, s.pressure, 0, units),
       units == Units::us ? "valve at the top" : fmt::format("{:.1f} bar, valve at the top", s.pressure * 1e-5)}};
  draw_big_numbers(sheet, numbers, Paper::kMargin, y, width);
}

std::string limits_words(const AxleFilling& filling, Units units) {
  const FillSheet& s = filling.sheet;
  return read_in(
      fmt::format(
          "Estimates: the litres, from the tyre's {}, nineteen times in twenty in the range given; the frost limit, "
          "at the warm end of the doubt of first ice. One tyre weighs {} more; its load on level ground: {}. Left "
          "out: old liquid in it, a tube's thickness. The makers come before this page.",
          filling.tyre.cavity_volume > 0 ? "data book" : "measures", kilograms(mass_of(s)),
          s.request.load_kg ? kilograms(*s.request.load_kg) : "not known"),
      units);
}

PageSheet axle_page(const AxleFilling& filling, Units units, const Paper& paper) {
  PageSheet sheet;
  const double room = paper.room(), left = Paper::kMargin;
  double y = 26;
  add_text(sheet, left, y += 16, "Filling sheet: " + std::string(filling.front ? "front tyres" : "rear tyres"), 19,
           palette::kInk, true);
  y += 3;
  for (const std::string& line : wrapped(what_words(filling, units), room, 10))
    add_text(sheet, left, y += 12.5, line, 10);
  y = draw_facts(sheet, filling_facts(filling, units), left, y + 7, room);
  draw_numbers(sheet, filling, units, y + 6, room);
  y += 6 + kBigNumbers + 8;

  const std::vector<std::string> fields[] = {
      {"done by", "date", "pressure set"},
      {units == Units::us ? "gallons by the meter: left" : "litres by the meter: left", "right", "nut torque",
       "tightened again"}};
  const std::vector<std::string> limits = wrapped(limits_words(filling, units), room, 7.5);
  const double foot = paper.height() - 50;
  const double below = 9.5 * static_cast<double>(limits.size()) + kFieldRow * std::size(fields) + 4;
  double at = foot - 9.5 * static_cast<double>(limits.size());
  for (const std::string& line : limits) add_text(sheet, left, at += 9.5, line, 7.5, palette::kInkSoft);
  at = foot - below + 2;
  for (const auto& row : fields) draw_fields(sheet, row, left, at += kFieldRow, room);

  Columns columns{left, (room - kGutter) / 2, y, foot - below - 2, 0};
  for (const double drawing : {146.0, 122.0, 106.0}) {
    columns.right_top = y + drawing + 8;
    // In the last of them the letters may become small: better than a second page.
    for (double size = kLargest; size >= (drawing < 110 ? 6 : kLeast); size -= 0.25) {
      if (!lay_steps(sheet, filling_steps(filling, units), columns, size)) continue;
      place(sheet, filling_wheel(filling, units, columns.width, drawing), left + columns.width + kGutter, y);
      return sheet;
    }
  }
  return sheet;
}

}  // namespace

std::vector<PdfPage> filling_pages(std::span<const AxleFilling> fillings, Units units, PaperSize size) {
  Paper paper(size);
  for (const AxleFilling& filling : fillings) {
    if (&filling != &fillings.front()) {
      paper.go_to(paper.height());
      paper.need(1);  // a page of its own
    }
    place(paper.sheet(), axle_page(filling, on_scales(units), paper), 0, 0);
  }
  return paper.finish(kCautionLine, made_by(fillings.front().scene));
}

void write_filling_sheet(const std::filesystem::path& path, std::span<const AxleFilling> fillings, Units units,
                         PaperSize size) {
  const std::string& title = fillings.front().scene.title;
  write_pdf(path, filling_pages(fillings, units, size), title.empty() ? "Filling sheet" : "Filling sheet: " + title);
}

}  // namespace sidehill::page

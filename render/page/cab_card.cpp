#include "render/page/cab_card.h"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "render/page/provenance.h"
#include "render/text/motion/cab_card_report.h"
#include "render/text/motion/slope_advice.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "vehicles/loader_tool.h"

namespace sidehill::page {
namespace {

constexpr double kEdge = 30;                          // margin on every side [pt]
constexpr double kField = 112;                        // width of the empty field beside the table [pt]
constexpr double kCardLargest = 11.5, kSmallest = 7;  // letters below the table [pt]
constexpr double kCardLeading = 1.25;                 // lines of these, over their size
constexpr double kFootRoom = 40;                      // below everything, for the caution [pt]

// Letters of the table: the more rows, the smaller.
struct TableSize {
  double row = 25.5, slope = 13.5, way = 9;
};
TableSize table_size(std::size_t rows) {
  if (rows <= 3) return {50, 22, 13};
  if (rows <= 9) return {31, 16, 10};
  return {};
}

struct CardPage {
  const CabCard* card = nullptr;
  const Scene* scene = nullptr;
  const Model* model = nullptr;
  Units units = Units::si;
  PageSheet sheet;
  double y = kEdge;
  double room() const { return sheet.width - 2 * kEdge; }
  double right() const { return sheet.width - kEdge; }
};

// The general warning sign: a triangle with an exclamation mark, by our own lines. Source: ISO 11684, ISO 7010 W001 for
// what it shows.
void add_triangle(PageSheet& sheet, double x, double y, double side) {
  const double height = side * 0.866;
  sheet.marks.emplace_back(PagePath{{{x, y}, {x + side, y}, {x + 0.5 * side, y - height}},
                                    true,
                                    2.2,
                                    palette::kInk,
                                    Dash::solid,
                                    Pattern::plain,
                                    rgb(0xFFFFFF)});
  const double middle = x + 0.5 * side, wide = 0.05 * side;
  sheet.marks.emplace_back(PagePath{{{middle - wide, y - 0.60 * height},
                                     {middle + wide, y - 0.60 * height},
                                     {middle + 0.6 * wide, y - 0.27 * height},
                                     {middle - 0.6 * wide, y - 0.27 * height}},
                                    true,
                                    0,
                                    palette::kInk,
                                    Dash::solid,
                                    Pattern::plain,
                                    palette::kInk});
  add_circle(sheet, {middle, y - 0.15 * height}, 1.1 * wide, palette::kInk, 0, Pattern::plain, palette::kInk);
}

// A bold title and words that run on behind it, broken into lines of at most `room`; returns how tall it is.
double add_run(PageSheet& sheet, double x, double y, double room, const std::string& title, const std::string& words,
               double size) {
  const double line = size * kCardLeading, begins = title.empty() ? 0 : text_width(title + ". ", size, true) + 1;
  if (!title.empty()) add_text(sheet, x, y + size, title + ".", size, palette::kInk, true);
  // As many pieces as fit behind the title; the others below.
  std::size_t fits = 0;
  while (fits < words.size()) {
    const std::size_t from = fits > 0 ? fits + 1 : 0, end = from + piece_end(std::string_view(words).substr(from));
    if (text_width(words.substr(0, end), size) > room - begins) break;
    fits = end;
  }
  if (fits > 0) add_text(sheet, x + begins, y + size, words.substr(0, fits), size);
  if (fits == words.size()) return line;
  double tall = line;
  for (const std::string& part : wrapped(std::string_view(words).substr(fits > 0 ? fits + 1 : 0), room, size)) {
    add_text(sheet, x, y + tall + size, part, size);
    tall += line;
  }
  return tall;
}

double add_lines(PageSheet& sheet, double x, double y, double room, const std::string& words, double size,
                 bool strong) {
  double tall = 0;
  for (const std::string& part : wrapped(words, room, size, strong)) {
    add_text(sheet, x, y + tall + size, part, size, palette::kInk, strong);
    tall += size * kCardLeading;
  }
  return tall;
}

// The sign with its signal word, then the worst of the whole card in the largest letters.
void add_worst(CardPage& page) {
  constexpr double kPanel = 30, kNumber = 44;
  const CardWorst worst = card_worst(*page.card, *page.scene, page.units);
  const double top = page.y;
  add_rectangle(page.sheet, kEdge, top, page.room(), kPanel, Pattern::plain, palette::kNear, palette::kInk, 1.5);
  add_triangle(page.sheet, kEdge + 10, top + kPanel - 4, 25);
  add_text(page.sheet, kEdge + 44, top + 22.5, "WARNING", 21, palette::kInk, true);
  add_text(page.sheet, page.right() - 8, top + 13, "The machine can go over and crush you. Frame up, belt on.", 9.5,
           palette::kInk, true, 1);
  add_text(page.sheet, page.right() - 8, top + 25, "This card says where it gives way. It allows nothing.", 9.5,
           palette::kInk, true, 1);
  const double y = top + kPanel;
  const std::string number = worst.slope.empty() ? "not known" : worst.slope;
  add_text(page.sheet, kEdge + 8, y + 45, number, kNumber, palette::kInk, true);
  const double left = kEdge + 8 + text_width(number, kNumber, true) + 16;
  double under = y + 7;
  under += add_lines(page.sheet, left, under, page.right() - 8 - left, "The least slope on this card. " + worst.words,
                     12.5, true);
  if (!worst.rest.empty()) under += add_lines(page.sheet, left, under, page.right() - 8 - left, worst.rest, 9.5, false);
  const double foot = std::max(y + 56, under + 5);
  add_rectangle(page.sheet, kEdge, top, page.room(), foot - top, Pattern::none, palette::kCard, palette::kInk, 1.5);
  page.y = foot + 6;
  for (const std::string& words : card_warnings(*page.card, *page.scene))
    page.y += add_lines(page.sheet, kEdge, page.y, page.room(), "! " + read_in(words, page.units), 10, true) + 4;
}

// The empty field: only the owner fills it in.
void add_field(CardPage& page, double top, double foot) {
  const double x = page.right() - kField;
  add_rectangle(page.sheet, x, top, kField, foot - top, Pattern::none, palette::kCard, palette::kInk, 1.5);
  add_text(page.sheet, x + 0.5 * kField, top + 15, "our working limit,", 11, palette::kInk, true, 0.5);
  add_text(page.sheet, x + 0.5 * kField, top + 29, "set by", 11, palette::kInk, true, 0.5);
  const double lines = std::min(foot - 44, top + 62);
  add_line(page.sheet, {x + 10, lines}, {x + kField - 10, lines}, palette::kInk, 0.75);
  add_text(page.sheet, x + 10, foot - 8, "date", 9, palette::kInkSoft);
  add_line(page.sheet, {x + 34, foot - 8}, {x + kField - 10, foot - 8}, palette::kInk, 0.75);
}

// `row_scale`: how tall its rows are, over the ordinary.
void add_card_table(CardPage& page, double row_scale) {
  const CabCard& card = *page.card;
  TableSize size = table_size(card.rows.size());
  size.row *= row_scale, size.slope *= row_scale, size.way *= row_scale;
  const bool us = page.units == Units::us;  // "11 ft 9.7 in" is long
  const double wide = page.room() - kField - 8, label = !card.loader ? 0 : us ? 150 : 132, column = (wide - label) / 3;
  const double top = page.y, head = 34;
  const auto x_of = [&](std::size_t i) { return kEdge + label + column * (static_cast<double>(i) + 0.5); };
  add_rectangle(page.sheet, kEdge, top, wide, head, Pattern::plain, palette::kTrough, palette::kInk, 1);
  if (card.loader) {
    add_text(page.sheet, kEdge + 6, top + 14, "gives way at", 10, palette::kInk, true);
    add_text(page.sheet, kEdge + 6, top + 27,
             fmt::format("{}: height, load", words_of(page.scene->ballast.loader_tool).name), 8.5);
  }
  for (std::size_t i = 0; i < kCardCases.size(); ++i) {
    const CardHead words = card_head(kCardCases[i].value, card.motion, page.units);
    add_text(page.sheet, x_of(i), top + 13, words.title, 11.5, palette::kInk, true, 0.5);
    double y = top + 13;
    for (const std::string& line : wrapped(words.how, column - 4, 7.5))
      add_text(page.sheet, x_of(i), y += 9, line, 7.5, palette::kInk, false, 0.5);
  }
  double y = top + head;
  const auto worst = worst_of(card);
  for (std::size_t r = 0; r < card.rows.size(); ++r, y += size.row) {
    const CardRow& row = card.rows[r];
    const bool new_height = r == 0 || card.rows[r - 1].pin_height != row.pin_height;
    add_line(page.sheet,
             {kEdge + (new_height ? 0
                       : us       ? 80
                                  : 62),
              y},
             {kEdge + wide, y}, palette::kInk, new_height ? 1.2 : 0.4);
    if (card.loader) {
      if (new_height) {
        add_text(page.sheet, kEdge + 6, y + 0.5 * size.row + 4.5, shown(Quantity::length, row.pin_height, page.units),
                 us ? 10 : 11.5, palette::kInk, true);
        add_text(page.sheet, kEdge + 6, y + 0.5 * size.row + 16, card_height_name(card, row.pin_height), 8.5);
      }
      add_text(page.sheet, kEdge + label - 8, y + 0.5 * size.row + 4,
               (row.overloaded ? "! " : "") +
                   (row.payload > 0 ? shown(Quantity::mass, row.payload, page.units) : std::string("empty")),
               10.5, palette::kInk, row.overloaded, 1);
    }
    for (std::size_t i = 0; i < kCardCases.size(); ++i) {
      const CardCellWords words = card_cell_words(row.cells[i], card.motion);
      const bool given = !words.way.empty();
      const double base = given ? y + size.row * 0.52 : y + size.row * 0.62;
      add_text(page.sheet, x_of(i), base, words.slope, given ? size.slope : 0.8 * size.slope, palette::kInk, true, 0.5);
      if (given)
        add_text(page.sheet, x_of(i), y + size.row * 0.87, words.way, size.way, palette::kInk,
                 row.cells[i].way == CardWay::over, 0.5);
      if (worst && worst->row == r && worst->what == kCardCases[i].value)
        add_rectangle(page.sheet, x_of(i) - 0.5 * column + 2, y + 1.5, column - 4, size.row - 3, Pattern::none,
                      palette::kCard, palette::kInk, 2);
    }
  }
  for (std::size_t i = 0; i < kCardCases.size(); ++i)
    if (label > 0 || i > 0)
      add_line(page.sheet, {x_of(i) - 0.5 * column, top}, {x_of(i) - 0.5 * column, y}, palette::kInk, 0.6);
  add_rectangle(page.sheet, kEdge, top, wide, y - top, Pattern::none, palette::kCard, palette::kInk, 1.2);
  add_field(page, top, y);
  page.y = y + 4;
}

void add_card_heading(CardPage& page, const std::string& words, double size) {
  page.y += 0.45 * size;
  add_text(page.sheet, kEdge, page.y + size, words, size + 0.75, palette::kInk, true);
  page.y += (size + 0.75) * kCardLeading;
}

// Everything below the table in letters of that size.
void add_below(CardPage& page, double size) {
  for (const std::string& words : card_legend(*page.card, page.units))
    page.y += add_run(page.sheet, kEdge, page.y, page.room(), "", words, size);
  add_card_heading(page, "These numbers hold only for this set-up", size);
  add_text(page.sheet, page.right() - 110, page.y - 3, "date", size, palette::kInkSoft);
  add_line(page.sheet, {page.right() - 84, page.y - 3}, {page.right(), page.y - 3}, palette::kInk, 0.75);
  for (const CardSetUp& line : card_set_up(*page.card, *page.scene, *page.model, page.units))
    page.y += add_run(page.sheet, kEdge, page.y, page.room(), line.name, line.words, size);
  add_card_heading(page, "On every slope", size);
  const std::vector<SlopeAdvice> advice = slope_advice();
  constexpr double kGap = 14;
  const double column = 0.5 * (page.room() - kGap), top = page.y;
  const auto add = [&](PageSheet& sheet, const SlopeAdvice& one, double x, double y) {
    return add_run(sheet, x, y, column, one.title, read_in(one.words, page.units), size);
  };
  double all = 0;
  PageSheet aside;
  for (const SlopeAdvice& one : advice) all += add(aside, one, 0, 0);
  double foot = top, x = kEdge;
  for (const SlopeAdvice& one : advice) {
    if (x == kEdge && page.y - top >= 0.5 * all) x += column + kGap, page.y = top;  // the other half
    page.y += add(page.sheet, one, x, page.y);
    foot = std::max(foot, page.y);
  }
  page.y = foot;
  add_card_heading(page, "Limits of these numbers", size);
  std::string limits = read_in(answer_limits_words(holds_liquid(page.scene->ballast)), page.units);
  std::replace(limits.begin(), limits.end(), '\n', ' ');
  page.y +=
      add_run(page.sheet, kEdge, page.y, page.room(), "",
              limits + " This card repeats a calculation: no test, no approval, no leave to work on a slope.", size);
}

}  // namespace

std::vector<PdfPage> card_pages(const CabCard& card, const Scene& scene, const Model& model, Units units,
                                PaperSize paper) {
  CardPage above;
  above.card = &card, above.scene = &scene, above.model = &model, above.units = units;
  const PageFormat format = format_of(paper);
  above.sheet.width = format.width, above.sheet.height = format.height;
  add_worst(above);
  // As large as there is room for: first the letters below the table give way, then its rows.
  CardPage page;
  bool fits = false;
  for (double scale = 1; !fits && scale > 0.6; scale -= 0.08) {
    CardPage table = above;
    add_card_table(table, scale);
    for (double size = kCardLargest; !fits && size >= kSmallest; size -= 0.25) {
      page = table;
      add_below(page, size);
      fits = page.y <= format.height - kFootRoom;
    }
  }
  double y = format.height - 34;
  add_line(page.sheet, {kEdge, y}, {page.right(), y}, palette::kInk, 0.75);
  for (const std::string& line : wrapped(kCautionLine, page.room(), 7.5, true))
    add_text(page.sheet, kEdge, y += 9, line, 7.5, palette::kInk, true);
  add_text(page.sheet, page.right(), format.height - 8, made_by(scene), 6.5, palette::kInkSoft, false, 1);
  std::vector<PdfPage> pages(1);
  pages.front().sheet = std::move(page.sheet);
  return pages;
}

void write_card(const std::filesystem::path& path, const CabCard& card, const Scene& scene, const Model& model,
                Units units, PaperSize size) {
  write_pdf(path, card_pages(card, scene, model, units, size),
            scene.title.empty() ? "Cab card" : "Cab card: " + scene.title);
}

}  // namespace sidehill::page

#include "render/page/paper.h"

#include <fmt/format.h>

#include <algorithm>

namespace sidehill::page {
namespace {

constexpr double kFoot = 54;  // [pt] kept free for the foot

}  // namespace

Paper::Paper(PaperSize size) : format_(format_of(size)) { open(); }

void Paper::open() {
  pages_.emplace_back();
  pages_.back().sheet.width = format_.width;
  pages_.back().sheet.height = format_.height;
  y_ = kMargin;
}

void Paper::need(double height) {
  if (y_ + height > format_.height - kFoot && y_ > kMargin) open();
}

double Paper::left() const { return height() - kFoot - y_; }

void Paper::heading(const std::string& words, double left) {
  need(40);
  y_ += 18;
  add_text(sheet(), kMargin + left, y_, words, 10.5, palette::kInk, true);
  y_ += 4;
}

void Paper::paragraph(const std::string& words, bool strong, double left, double room, double size) {
  for (const std::string& line : wrapped(words, room > 0 ? room : this->room(), size, strong)) {
    need(size * 1.4);
    y_ += size * 1.4;
    add_text(sheet(), kMargin + left, y_, line, size, palette::kInk, strong);
  }
}

double Paper::tall(const std::string& words, double room, double size) {
  return size * 1.4 * static_cast<double>(wrapped(words, room, size, false).size());
}

void Paper::table(const std::vector<PaperColumn>& columns, const std::vector<std::vector<std::string>>& rows,
                  bool heads, double left, double size) {
  const double line = kLine * size / kText;
  double right = 0;
  for (const PaperColumn& column : columns) right = std::max(right, column.at);
  for (std::size_t r = 0; r < rows.size(); ++r) {
    const bool head = heads && r == 0;
    // Columns that begin at their place may run on in further lines, up to the next column.
    std::vector<std::vector<std::string>> cells;
    std::size_t lines = 1;
    for (std::size_t c = 0; c < std::min(columns.size(), rows[r].size()); ++c) {
      double room = this->room() - left - columns[c].at;
      if (c + 1 < columns.size() && columns[c + 1].align < 0.5) room = columns[c + 1].at - columns[c].at - 6;
      if (c + 1 < columns.size() && columns[c + 1].align >= 0.5)
        room = columns[c + 1].at - columns[c].at - 6 -
               (c + 1 < rows[r].size() ? text_width(rows[r][c + 1], size, head) : 0.0);
      cells.push_back(columns[c].align < 0.5 ? wrapped(rows[r][c], room, size, head)
                                             : std::vector<std::string>{rows[r][c]});
      lines = std::max(lines, cells.back().size());
    }
    need(line * static_cast<double>(lines));
    for (std::size_t c = 0; c < cells.size(); ++c)
      for (std::size_t l = 0; l < cells[c].size(); ++l)
        add_text(sheet(), kMargin + left + columns[c].at, y_ + line * static_cast<double>(l + 1), cells[c][l], size,
                 head ? palette::kInkSoft : palette::kInk, head, columns[c].align);
    y_ += line * static_cast<double>(lines);
    if (head) {
      y_ += 3;
      add_line(sheet(), {kMargin + left, y_}, {kMargin + left + std::max(right, 60.0), y_}, palette::kInkSoft, 0.5);
    }
  }
}

void Paper::piece(const PageSheet& part, double scale, double left) {
  need(part.height * scale + 6);
  place(sheet(), part, kMargin + left, y_ + 4, scale);
  y_ += part.height * scale + 6;
}

std::vector<PdfPage> Paper::finish(const std::string& foot, const std::string& origin) {
  for (std::size_t i = 0; i < pages_.size(); ++i) {
    PageSheet& page = pages_[i].sheet;
    double y = height() - 46;
    add_line(page, {kMargin, y}, {width() - kMargin, y}, palette::kInkSoft, 0.75);
    for (const std::string& line : wrapped(foot, room(), 8, true))
      add_text(page, kMargin, y += 11, line, 8, palette::kInk, true);
    add_text(page, kMargin, height() - 12, origin, 7.5, palette::kInkSoft);
    add_text(page, width() - kMargin, height() - 12, fmt::format("page {} of {}", i + 1, pages_.size()), 7.5,
             palette::kInkSoft, false, 1);
  }
  return std::move(pages_);
}

}  // namespace sidehill::page

// Fills pages from top to bottom: headings, paragraphs, tables, pieces of charts; opens a new page when one is full.
// Knows no physics.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/page/page_format.h"
#include "render/page/paint.h"

namespace sidehill::page {

struct PaperColumn {
  double at = 0;     // [pt] from the block's left edge
  double align = 0;  // 0 = begins there, 1 = ends there
};

class Paper {
 public:
  static constexpr double kMargin = 40;                            // on every side [pt]
  static constexpr double kText = 8.5, kLine = 12, kHeading = 22;  // [pt]

  explicit Paper(PaperSize size = PaperSize::a4);
  double width() const { return format_.width; }               // [pt]
  double height() const { return format_.height; }             // [pt]
  double room() const { return format_.width - 2 * kMargin; }  // between the margins [pt]
  void need(double height);                                    // opens a new page if less than that is left
  double y() const { return y_; }
  double left() const;  // down to the foot of this page [pt]
  void go_to(double y) { y_ = y; }
  void skip(double height) { y_ += height; }
  int page() const { return static_cast<int>(pages_.size()); }
  PageSheet& sheet() { return pages_.back().sheet; }
  PdfPage& page_now() { return pages_.back(); }

  // All at `left` [pt] from the margin, no wider than `room`; 0 = all there is.
  void heading(const std::string& words, double left = 0);
  void paragraph(const std::string& words, bool strong = false, double left = 0, double room = 0, double size = kText);
  static double tall(const std::string& words, double room, double size = kText);  // of such a paragraph [pt]
  // The first row is set as the heads of the columns; the first column is cut in lines no wider than up to the next.
  void table(const std::vector<PaperColumn>& columns, const std::vector<std::vector<std::string>>& rows,
             bool heads = true, double left = 0, double size = kText);
  void piece(const PageSheet& part, double scale, double left = 0);

  // Ends it: `foot` stands at the foot of every page, with its number.
  std::vector<PdfPage> finish(const std::string& foot, const std::string& origin);

 private:
  void open();
  PageFormat format_;
  std::vector<PdfPage> pages_;
  double y_ = 0;
};

}  // namespace sidehill::page

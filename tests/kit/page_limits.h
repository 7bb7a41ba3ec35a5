// That words on pages stay on the paper and do not lie on each other.
#pragma once
#include <doctest/doctest.h>

#include <string>
#include <variant>
#include <vector>

#include "render/page/paint.h"

struct WordBox {
  double left = 0, right = 0, top = 0, foot = 0;  // [pt]
  std::string words;
};

inline std::vector<WordBox> word_boxes(const sidehill::page::PdfPage& page) {
  std::vector<WordBox> out;
  for (const auto& mark : page.sheet.marks)
    if (const auto* text = std::get_if<sidehill::page::PageText>(&mark); text && !text->words.empty()) {
      const double width = sidehill::page::text_width(text->words, text->size, text->strong);
      const double left = text->at.x - text->align * width;
      out.push_back({left, left + width, text->at.y - 0.72 * text->size, text->at.y + 0.05 * text->size, text->words});
    }
  return out;
}

// No words over the edge of the paper, `margin` [pt] from it, and none on others.
inline void check_words_apart(const sidehill::page::PdfPage& page, double margin) {
  const std::vector<WordBox> boxes = word_boxes(page);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    const WordBox& a = boxes[i];
    CAPTURE(a.words);
    CHECK(a.left >= margin);
    CHECK(a.right <= page.sheet.width - margin);
    CHECK(a.top >= 0);
    CHECK(a.foot <= page.sheet.height);
    for (std::size_t k = i + 1; k < boxes.size(); ++k) {
      const WordBox& b = boxes[k];
      const bool apart =
          a.right <= b.left + 0.5 || b.right <= a.left + 0.5 || a.foot <= b.top + 0.5 || b.foot <= a.top + 0.5;
      if (!apart) FAIL_CHECK(a.words << " lies on " << b.words);  // a page has thousands of pairs
    }
  }
}

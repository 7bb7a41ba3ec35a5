// All words that stand on some pages, a line each.
#pragma once
#include <string>
#include <variant>
#include <vector>

#include "render/page/paper.h"

inline std::string words_on(const std::vector<sidehill::PdfPage>& pages) {
  std::string all;
  for (const sidehill::PdfPage& page : pages)
    for (const auto& mark : page.sheet.marks)
      if (const auto* text = std::get_if<sidehill::PageText>(&mark)) all += text->words + "\n";
  return all;
}

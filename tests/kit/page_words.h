// All words that stand on some pages, a line each.
#pragma once
#include <string>
#include <variant>
#include <vector>

#include "render/page/paper.h"

inline std::string words_on(const std::vector<sidehill::page::PdfPage>& pages) {
  std::string all;
  for (const sidehill::page::PdfPage& one : pages)
    for (const auto& mark : one.sheet.marks)
      if (const auto* text = std::get_if<sidehill::page::PageText>(&mark)) all += text->words + "\n";
  return all;
}

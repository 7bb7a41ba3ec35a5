// A sheet as SVG 1.1: text stays text, so that it can be searched, translated and read out. Knows no drawing library.
#pragma once
#include <string>

#include "render/namespaces.h"
#include "render/page/sheet.h"

namespace sidehill::page {

// The whole file. `title` and `summary` are for those who have it read out to them. Same sheet, same bytes; numbers
// that are not finite are left out with what they belong to. Never throws.
std::string svg_of(const PageSheet& sheet, const std::string& title, const std::string& summary);

}  // namespace sidehill::page

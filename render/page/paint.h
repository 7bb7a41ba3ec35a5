// Draws sheets with cairo and pango: as PNG and as PDF, and measures words for whoever lays them out. The only file
// that knows either library; knows no physics, no OpenGL, no window.
#pragma once
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "render/namespaces.h"
#include "render/page/sheet.h"

namespace sidehill::page {

// Width of a line of words [pt], in the typeface of the page (Inter; else what the system has in its place).
double text_width(std::string_view words, double size, bool strong = false);

// Broken into lines no wider than `room` [pt]; a word longer than that stands alone. At least one line.
std::vector<std::string> wrapped(std::string_view words, double room, double size, bool strong = false);

// A picture on a page.
struct PagePhoto {
  double x = 0, y = 0, width = 0, height = 0;  // [pt]
  int pixels_wide = 0, pixels_high = 0;
  std::vector<std::uint8_t> rgba;  // top row first
};

struct PdfPage {
  PageSheet sheet;
  std::vector<PagePhoto> photos;  // below the sheet's marks
  std::string across;             // large and light from corner to corner, below the marks; empty = nothing
};

// `scale` pixels a point, 0.25 to 8. Written to a temporary name, then renamed; same sheet, same bytes. Throw
// InputError if it cannot be written.
void write_png(const std::filesystem::path& path, const PageSheet& sheet, double scale = 2);
// No date is put into the file: the same pages give the same bytes.
void write_pdf(const std::filesystem::path& path, const std::vector<PdfPage>& pages, const std::string& title);

}  // namespace sidehill::page

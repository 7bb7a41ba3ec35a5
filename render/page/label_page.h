// Rim labels on paper: a card for each filled wheel, to be cut out and tied to it. Knows the filling; no drawing
// library, no screen.
#pragma once
#include <filesystem>
#include <span>
#include <vector>

#include "render/namespaces.h"
#include "render/page/page_format.h"
#include "render/page/paint.h"
#include "render/text/words/units.h"
#include "sim/insight/fill_of_scene.h"

namespace sidehill::page {

inline constexpr double kLabelWidth = 264, kLabelHeight = 198;  // 93 mm x 70 mm [pt]

// Each wheel as the scene has it filled; six cards on a page.
std::vector<PdfPage> label_pages(std::span<const AxleFilling> fillings, Units units = Units::si,
                                 PaperSize size = PaperSize::a4);

// As PDF, written to a temporary name, then renamed; same fillings, same bytes. Throws InputError if it cannot be
// written.
void write_labels(const std::filesystem::path& path, std::span<const AxleFilling> fillings, Units units = Units::si,
                  PaperSize size = PaperSize::a4);

}  // namespace sidehill::page

// The filling sheet on paper: one page for each axle, for whoever does the work with wet hands. Knows the filling; no
// drawing library, no screen.
#pragma once
#include <filesystem>
#include <span>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/page/page_format.h"
#include "render/page/paint.h"
#include "render/text/words/units.h"
#include "sim/insight/fill_of_scene.h"

namespace sidehill::page {

// One for each filling. The letters of the steps are as large as the page allows, 9.5 pt at least.
std::vector<PdfPage> filling_pages(std::span<const AxleFilling> fillings, Units units = Units::si,
                                   PaperSize size = PaperSize::a4);

// As PDF, written to a temporary name, then renamed; same fillings, same bytes. Throws InputError if it cannot be
// written.
void write_filling_sheet(const std::filesystem::path& path, std::span<const AxleFilling> fillings,
                         Units units = Units::si, PaperSize size = PaperSize::a4);

}  // namespace sidehill::page

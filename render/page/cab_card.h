// The card that hangs in the cab: on one page at which slope the machine gives way, for every height and load of its
// loader, what that holds for, and what to do on a slope. It says where the machine gives way and never what is
// allowed. Knows no physics.
#pragma once
#include <filesystem>
#include <vector>

#include "render/namespaces.h"
#include "render/page/page_format.h"
#include "render/page/paint.h"
#include "render/text/words/units.h"
#include "sim/insight/cab_card.h"
#include "sim/model/model.h"

namespace sidehill::page {

// Always one page: what stands below the table is set as large as there is room for. `model` is build(scene).
std::vector<PdfPage> card_pages(const CabCard& card, const Scene& scene, const Model& model, Units units = Units::si,
                                PaperSize size = PaperSize::a4);

// As PDF; the same card gives the same bytes. Throws InputError if it cannot be written.
void write_card(const std::filesystem::path& path, const CabCard& card, const Scene& scene, const Model& model,
                Units units = Units::si, PaperSize size = PaperSize::a4);

}  // namespace sidehill::page

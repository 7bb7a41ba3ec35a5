// The sizes of paper that pages are laid out for. Knows nothing else.
#pragma once
#include <array>

#include "render/namespaces.h"
#include "sim/base/enum_table.h"

namespace sidehill::page {

enum class PaperSize { a4, letter };
inline constexpr std::array kPaperSizes{KeyOf<PaperSize>{PaperSize::a4, "a4"},
                                        KeyOf<PaperSize>{PaperSize::letter, "letter"}};
static_assert(is_whole(kPaperSizes, &KeyOf<PaperSize>::value));

struct PageFormat {
  double width = 0, height = 0;  // upright [pt]
};
// Source: ISO 216; ANSI/ASME Y14.1 size A.
constexpr PageFormat format_of(PaperSize size) {
  return size == PaperSize::letter ? PageFormat{612, 792} : PageFormat{595, 842};
}

}  // namespace sidehill::page

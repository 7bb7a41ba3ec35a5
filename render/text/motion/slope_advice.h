// What guidance on safety asks a card about slopes to say: short rules for a driver, for cards and lessons. Knows no
// machine, no file.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"

namespace sidehill::text {

struct SlopeAdvice {
  std::string title;  // "Load low"
  std::string words;  // one or two short sentences
};

// In the order in which a driver meets them. Sources: HSE farm vehicles; WorkSafe Victoria 2024; CCOHS; makers' manuals
// of tractors; Regulation (EU) 2015/208 Annex XXX 2.2.6.1.4 for the tyres. In SI; pass it through read_in.
std::vector<SlopeAdvice> slope_advice();

}  // namespace sidehill::text

// The words of a filling that text and JSON share. Knows no window, no file.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "sim/insight/fill_sheet.h"

namespace sidehill::text {

// What a person must know before the hose is turned on, gravest first: frost, too full, what the liquid does, overload,
// handling.
std::vector<std::string> fill_cautions(const FillSheet& sheet);

// "12:00", "8:20".
std::string clock_words(double hour);

// "liquid", "slushy", "solid", "not_known": as in JSON.
const char* frost_key(Frost frost);

}  // namespace sidehill::text

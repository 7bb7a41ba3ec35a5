// Options of the verbs that ask of fillings: prices, and a medium of a data sheet. Prints nothing.
#pragma once
#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "vehicles/own_medium.h"

namespace sidehill {

// As typed.
struct OwnOptions {
  std::string name, rust, poison;
  std::optional<double> density, density_at_c, first_ice_c, solid_c;
  bool any() const;  // one of them was given
};
void take_own_medium(CLI::App& sub, OwnOptions& options);

// The medium they describe; nothing checked. Throws InputError, beginning with `verb`, for any of them without a
// density, and for a text with control characters or of more than 200 letters.
OwnMedium own_medium_of(const OwnOptions& options, const std::string& verb);

// The whole text as a number; nothing otherwise.
std::optional<double> typed_number(std::string_view text);
// What may be repeated in a message of one line: 40 letters, none that controls a terminal.
std::string shown_typed(const std::string& typed);

// "0.2:0.6", "0.2..0.6" or "0.4" as EUR per litre; nothing for anything else.
std::optional<PriceRange> typed_price(std::string_view typed);

}  // namespace sidehill

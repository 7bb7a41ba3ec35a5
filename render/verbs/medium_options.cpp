#include "render/verbs/medium_options.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <string_view>

#include "sim/base/errors.h"

namespace sidehill {

std::optional<double> typed_number(std::string_view text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

std::string shown_typed(const std::string& typed) {
  std::string text = typed.substr(0, 40);
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 32 || c == 127) c = '?';
  return text;
}

std::optional<PriceRange> typed_price(std::string_view typed) {
  std::size_t at = typed.find(':'), length = 1;
  if (at == typed.npos) at = typed.find(".."), length = 2;
  const auto low = typed_number(typed.substr(0, at));
  const auto high = at == typed.npos ? low : typed_number(typed.substr(at + length));
  if (!low || !high) return std::nullopt;
  return PriceRange{*low, *high};
}

bool OwnOptions::any() const {
  return !name.empty() || !rust.empty() || !poison.empty() || density || density_at_c || first_ice_c || solid_c;
}

void take_own_medium(CLI::App& sub, OwnOptions& options) {
  sub.add_option("--own-name", options.name, "what a medium of your own is called (medium own)");
  sub.add_option("--own-density-kg-per-m3", options.density, "its density, as on its data sheet");
  sub.add_option("--own-density-at-c", options.density_at_c, "temperature for which the sheet gives it; default 20");
  sub.add_option("--own-first-ice-c", options.first_ice_c, "ice forms in it below this; default: not known");
  sub.add_option("--own-solid-c", options.solid_c, "it is frozen hard below this; default: not known");
  sub.add_option("--own-rust", options.rust, "what it does to rims, as a sentence; default: not known");
  sub.add_option("--own-poison", options.poison, "what it does to people and animals; default: not known");
}

OwnMedium own_medium_of(const OwnOptions& options, const std::string& verb) {
  OwnMedium own;
  for (const auto& [flag, text] :
       {std::pair{"--own-name", &options.name}, {"--own-rust", &options.rust}, {"--own-poison", &options.poison}}) {
    bool printable = text->size() <= 200;
    for (const char c : *text) printable = printable && static_cast<unsigned char>(c) >= 32 && c != 127;
    if (!printable)
      throw InputError(
          fmt::format("{}: {} \"{}\": allowed up to 200 letters on one line", verb, flag, shown_typed(*text)));
  }
  if (!options.any()) return own;
  if (!options.density)
    throw InputError(
        fmt::format("{}: --own-density-kg-per-m3 is not given: allowed {:g} to {:g} kg/m3, as on the data "
                    "sheet",
                    verb, kLeastOwnDensity, kMostOwnDensity));
  own.name = options.name;
  own.rust = options.rust;
  own.poison = options.poison;
  // 0 is "not given" to those below; as typed it is a slip like any other density that cannot be.
  own.density = *options.density == 0 ? std::nan("") : *options.density;
  if (options.density_at_c) own.density_temperature = *options.density_at_c + kZeroCelsius;
  if (options.first_ice_c) own.first_ice = *options.first_ice_c + kZeroCelsius;
  if (options.solid_c) own.solid = *options.solid_c + kZeroCelsius;
  return own;
}

}  // namespace sidehill

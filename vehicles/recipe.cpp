// Recipes by conservation of mass (see recipe.h).
#include "vehicles/recipe.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

// Small letters, no commas, no degree's sign, one space between words: "calcium chloride to -24 c".
std::string plain(std::string_view name) {
  std::string out;
  for (const char c : name) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == ',' || byte == 0xC2 || byte == 0xB0) continue;  // the degree's sign is two bytes
    if (c == ' ' && (out.empty() || out.back() == ' ')) continue;
    out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

// Purities are typical of the trade (our estimate); densities of neat liquids at 20 deg C as in the CRC Handbook.
constexpr std::array<Product, 6> kSalts{{
    {Medium::calcium_chloride, "flake_77", "calcium chloride flake, 77 %", 0.77, 0},
    {Medium::calcium_chloride, "pellet_94", "calcium chloride pellets, 94 %", 0.94, 0},
    {Medium::calcium_chloride, "water_free", "calcium chloride, water-free", 1.0, 0},
    {Medium::sodium_chloride, "salt", "common salt", 0.99, 0},
    {Medium::magnesium_chloride, "flake_47", "magnesium chloride flake, 47 %", 0.47, 0},
    {Medium::magnesium_chloride, "water_free", "magnesium chloride, water-free", 1.0, 0},
}};
constexpr std::array<Product, 3> kLiquids{{
    {Medium::ethylene_glycol, "neat", "ethylene glycol, neat", 1.0, 1113.5},
    {Medium::propylene_glycol, "neat", "propylene glycol, neat", 1.0, 1036.1},
    {Medium::methanol, "neat", "methanol, neat", 1.0, 791.4},
}};

std::string_view order_of(const MediumInfo& medium) {
  if (!medium.solute) return {};
  switch (*medium.solute) {
    case Solute::calcium_chloride:
      return "Stir the product into the water little by little, never water onto the product: it boils and spits. Let "
             "it "
             "cool before pumping.";
    case Solute::magnesium_chloride:
    case Solute::sodium_chloride:
      return "Stir the product into the water until nothing is left on the bottom, then pump.";
    case Solute::methanol:
      return "Pour the methanol into the water in the open air, away from flame and spark.";
    default:
      return "Mix both outside the tyre, then pump; they do not mix by themselves inside.";
  }
}

}  // namespace

std::span<const Product> products(Medium medium) {
  const auto run = [](std::span<const Product> all, Medium of) {
    const auto first = std::ranges::find(all, of, &Product::medium);
    const auto last = std::find_if(first, all.end(), [&](const Product& p) { return p.medium != of; });
    return std::span<const Product>(first, last);
  };
  if (info(medium).solute == Solute::calcium_chloride) return run(kSalts, Medium::calcium_chloride);
  const auto salts = run(kSalts, medium);
  return salts.empty() ? run(kLiquids, medium) : salts;
}

Recipe recipe_for_volume(Medium medium, double concentration, double volume, double temperature,
                         const Product* product) {
  return recipe_for_volume(Mix{medium, concentration, nullptr}, volume, temperature, product);
}

Recipe recipe_for_volume(const Mix& mix, double volume, double temperature, const Product* product) {
  const Medium medium = mix.medium;
  const MediumInfo& what = info(medium);
  Recipe recipe;
  recipe.temperature = temperature;
  recipe.volume = volume > 0 ? volume : 0.0;
  recipe.mass_fraction = strength(medium, mix.concentration);
  recipe.mass = recipe.volume * density(mix, temperature);
  const FreezingPoints points = freezing_points(mix);
  recipe.slush_free = points.slush_free;
  recipe.solid = points.solid;
  recipe.order = order_of(what);
  const auto bought = products(medium);
  if (!product && !bought.empty()) product = &bought.front();
  if (what.solute && product) {
    recipe.product_mass = recipe.mass_fraction * recipe.mass / product->purity;
    if (product->density > 0) recipe.product_volume = recipe.product_mass / product->density;
    recipe.water_mass = std::max(recipe.mass - recipe.product_mass, 0.0);
  } else {
    (medium == Medium::water ? recipe.water_mass : recipe.product_mass) = recipe.mass;
    if (medium != Medium::water) recipe.product_volume = recipe.volume;
  }
  recipe.water_volume = recipe.water_mass / water_density(temperature);
  recipe.swelling = recipe.volume - recipe.water_volume - recipe.product_volume;
  return recipe;
}

std::optional<double> concentration_for_cold(Medium medium, double coldest, double reserve) {
  const double wanted = coldest - std::max(reserve, 0.0);
  const StrengthRange range = strength_range(medium);
  if (range.max > 0) {
    const auto x = mass_fraction_for(*info(medium).solute, wanted);
    if (!x) return std::nullopt;
    return std::max(*x, range.min);
  }
  const FreezingPoints points = freezing_points(medium, 0);
  const auto first_ice = points.slush_free;
  if (!points.known) return std::nullopt;
  if (first_ice && !(*first_ice <= wanted)) return std::nullopt;
  return 0.0;
}

NameAndFrost without_frost(const std::string& typed) {
  const std::size_t at = typed.rfind(" to ");
  if (at == typed.npos) return {typed, {}};
  double value = 0;
  const char* from = typed.data() + at + 4;
  const auto [end, error] = std::from_chars(from, typed.data() + typed.size(), value);
  const std::string unit(end, typed.data() + typed.size());
  if (error != std::errc() || !std::isfinite(value)) return {typed, {}};
  if (unit != "" && unit != " C" && unit != " °C" && unit != "C" && unit != "°C") return {typed, {}};
  std::string name = typed.substr(0, at);
  if (name.ends_with(',')) name.pop_back();
  return {name, value};
}

std::optional<NamedMix> mix_named(const std::string& name) {
  // A named mix by its whole name alone: of the frost in it there is a strength that holds it exactly.
  for (const MediumInfo& medium : media_choices())
    if (plain(name) == plain(medium_name({medium.medium, 0, nullptr}, true))) return NamedMix{medium.medium, 0, 0};
  const NameAndFrost asked = without_frost(name);
  if (!asked.celsius) return std::nullopt;
  for (const MediumInfo& medium : media()) {
    if (!medium.solute || medium.named_mix) continue;
    const std::string what = plain(asked.name);
    if (what != medium.key && what != plain(medium.name) && what != plain(info(*medium.solute).name)) continue;
    return NamedMix{medium.medium, concentration_for_cold(medium.medium, kZeroCelsius + *asked.celsius),
                    slush_free(medium.medium, strength_range(medium.medium).max)};
  }
  return std::nullopt;
}

}  // namespace sidehill

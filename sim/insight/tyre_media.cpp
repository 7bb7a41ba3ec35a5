#include "sim/insight/tyre_media.h"

#include <string_view>

#include "sim/base/errors.h"

namespace sidehill {
namespace {

// The options are named as `fill` names them; the message must begin with the verb that was typed.
FillSheet sheet_of(const FillRequest& request) {
  try {
    return fill_sheet(request);
  } catch (const InputError& error) {
    const std::string_view said = error.what(), other = "fill:";
    throw InputError("list:" + std::string(said.starts_with(other) ? said.substr(other.size()) : said));
  }
}

}  // namespace

std::vector<FillSheet> media_in_tyre(const MediaRequest& request) {
  const bool own = request.own.density != 0;
  if (own) check_own(request.own, "list");
  std::map<Medium, PriceRange> prices;
  for (const auto& [key, price] : request.prices) {
    const Medium medium = medium_of(key, "list: --price");
    if (medium == Medium::own && !own)
      throw InputError("list: --price own: the own medium is not described, give --own-density-kg-per-m3");
    prices[medium] = price;
  }
  std::vector<FillSheet> sheets;
  for (const MediumInfo& medium : media_choices()) {
    if (medium.medium == Medium::own && !own) continue;
    FillRequest asked;
    asked.tyre = request.tyre;
    asked.medium = medium.key;
    asked.own = request.own;
    if (!medium.turns_with_wheel) asked.fill = request.fill;
    asked.temperature_c = request.temperature_c;
    asked.coldest_c = request.coldest_c;
    asked.cavity_l = request.cavity_l;
    if (const auto price = prices.find(medium.medium); price != prices.end()) asked.eur_per_l = price->second;
    sheets.push_back(sheet_of(asked));
  }
  return sheets;
}

}  // namespace sidehill

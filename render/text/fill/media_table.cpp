#include "render/text/fill/media_table.h"

#include <fmt/format.h>

#include <cmath>

#include "render/text/fill/fill_words.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/tyre_damage.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

std::string_view key_of(const FillSheet& s) { return info(s.medium).key; }

std::string temperature(const std::optional<double>& kelvin, const char* instead, Units units) {
  return kelvin ? measured(Quantity::temperature, *kelvin, 1, units) : std::string(instead);
}
Json celsius_json(const std::optional<double>& kelvin) { return kelvin ? Json(*kelvin - kZeroCelsius) : Json(); }

std::string first_ice(const FillSheet& s, Units units) {
  return temperature(s.freezing.slush_free, s.freezing.known ? "never" : "not known", units);
}
std::string solid(const FillSheet& s, Units units) {
  return temperature(s.freezing.solid, info(s.medium).turns_with_wheel ? "never" : "not known", units);
}

std::string frost_word(const FillSheet& s) {
  if (!s.winter) return "-";
  switch (s.winter->frost) {
    case Frost::liquid:
      return s.winter->doubtful ? "liquid, barely" : info(s.medium).turns_with_wheel ? "cured" : "liquid";
    case Frost::slushy:
      return s.winter->may_be_solid ? "slush, perhaps solid" : "slush";
    case Frost::solid:
      return "solid";
    case Frost::not_known:
      return "not known";
  }
  return "not known";
}

std::string price_words(const FillSheet& s) {
  if (!s.cost) return "-";
  const int digits = s.cost->high < 20 ? 2 : 0;
  return fmt::format("{:.{}f} to {:.{}f} EUR", s.cost->low, digits, s.cost->high, digits);
}

// The keys of those that meet the coldest night so; empty where none does.
std::string keys_at(std::span<const FillSheet> sheets, Frost frost) {
  std::string keys;
  for (const FillSheet& s : sheets)
    if (s.winter && s.winter->frost == frost) keys += (keys.empty() ? "" : ", ") + std::string(key_of(s));
  return keys;
}

std::string worst(std::span<const FillSheet> sheets) {
  const auto& coldest = sheets.front().request.coldest_c;
  if (!coldest) return "";
  const std::string hard = keys_at(sheets, Frost::solid), open = keys_at(sheets, Frost::not_known),
                    slush = keys_at(sheets, Frost::slushy);
  std::string text = paragraph(
      "", hard.empty() ? fmt::format("None of them is known to freeze solid at {:g} °C.", *coldest)
                       : fmt::format("FREEZE SOLID AT {:g} °C, do not drive on them then: {}.", *coldest, hard));
  if (!open.empty()) text += paragraph("", fmt::format("NOT KNOWN whether it freezes then: {}.", open));
  if (!slush.empty()) text += paragraph("", fmt::format("Turn to slush then: {}.", slush));
  std::string near;
  for (const FillSheet& s : sheets)
    if (s.winter->frost == Frost::liquid && s.winter->doubtful)
      near += (near.empty() ? "" : ", ") + std::string(key_of(s));
  if (!near.empty()) text += paragraph("", fmt::format("May freeze then, too near to be sure: {}.", near));
  return text;
}

// Mixes of one salt share their words.
bool same_words(const FillSheet& a, const FillSheet& b) {
  return a.medium != Medium::own && b.medium != Medium::own && info(a.medium).spill == info(b.medium).spill &&
         info(a.medium).corrosion == info(b.medium).corrosion;
}

std::string words_of(const FillSheet& s, Units units) {
  const Mix mix = mix_of(s);
  const auto line = [units](const char* mark, std::string_view words) {
    return paragraph(mark, read_in(std::string(words), units));
  };
  return line("    rust    ", corrosion_of(mix)) + line("    poison  ", toxicity_of(mix)) +
         line("    spill   ", info(s.medium).spill) + line("    repair  ", repair_work(s.medium));
}

Json keys_json(std::span<const FillSheet> sheets, Frost frost) {
  if (!sheets.front().request.coldest_c) return nullptr;
  Json keys = Json::array();
  for (const FillSheet& s : sheets)
    if (s.winter->frost == frost) keys.push_back(key_of(s));
  return keys;
}

}  // namespace

std::string tyre_media_table(std::span<const FillSheet> sheets, Units units) {
  units = on_scales(units);
  const FillSheet& first = sheets.front();
  std::string text = read_in(worst(sheets), units);
  text += paragraph(
      "", fmt::format("{} filled to {} of its room ({} of liquid; foam fills it whole), at {}. +- is two standard "
                      "deviations.",
                      first.size.designation, percent(first.fill_fraction),
                      measured(Quantity::volume, first.jacked.volume, 0, units),
                      read_in(fmt::format("{:g} °C", first.request.temperature_c), units)));
  const ShownUnit mass = shown_unit(Quantity::mass, units);
  const auto& coldest = first.request.coldest_c;
  text += fmt::format("\n{:22}{:>16}{:>12}{:>12}{:>22}{:>20}  {}\n", "name", "adds", "first ice", "solid",
                      coldest ? read_in(fmt::format("at {:g} °C", *coldest), units) : "in winter", "price", "what");
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const FillSheet& s = sheets[i];
    text += fmt::format("{:22}{:>16}{:>12}{:>12}{:>22}{:>20}  {}\n", key_of(s),
                        fmt::format("{} +-{:.0f} {}", number_in(mass_of(s) * mass.factor, 0, units),
                                    std::ceil(2 * mass_of(s) * mass.factor * s.mass_uncertainty), mass.name),
                        first_ice(s, units), solid(s, units), frost_word(s), price_words(s),
                        read_in(medium_name(mix_of(s), true), units));
    if (i + 1 == sheets.size() || !same_words(s, sheets[i + 1])) text += words_of(s, units);
  }
  text += "\n";
  if (!coldest) text += paragraph("", "--coldest-c N says what each of them does on the coldest night.");
  return text + paragraph("",
                          "Each of them at its usual strength. First ice and the last liquid are uncertain too: "
                          "`sidehill list media`. How to fill, how to mix and what to look out for: `sidehill fill`.");
}

Json tyre_media_json(std::span<const FillSheet> sheets) {
  const FillSheet& first = sheets.front();
  Json json = {{"tyre", first.size.designation},
               {"fill_fraction", first.fill_fraction},
               {"volume_l", first.jacked.volume * 1e3},
               {"temperature_c", first.request.temperature_c},
               {"coldest_c", first.request.coldest_c ? Json(*first.request.coldest_c) : Json()},
               {"solid_at_coldest", keys_json(sheets, Frost::solid)},
               {"slushy_at_coldest", keys_json(sheets, Frost::slushy)},
               {"not_known_at_coldest", keys_json(sheets, Frost::not_known)},
               {"media", Json::array()}};
  for (const FillSheet& s : sheets) {
    const Mix mix = mix_of(s);
    Json row = {{"name", key_of(s)},
                {"what", medium_name(mix, true)},
                {"concentration", s.mass_fraction},
                {"mass_kg", mass_of(s)},
                {"mass_uncertainty_kg", mass_of(s) * s.mass_uncertainty},
                {"slush_free_c", celsius_json(s.freezing.slush_free)},
                {"solid_c", celsius_json(s.freezing.solid)},
                {"freezing_note", s.freezing.note},
                {"frost", s.winter ? Json(frost_key(s.winter->frost)) : Json()},
                {"doubtful", s.winter ? Json(s.winter->doubtful) : Json()},
                {"may_be_solid", s.winter ? Json(s.winter->may_be_solid) : Json()},
                {"corrosion", corrosion_of(mix)},
                {"toxicity", toxicity_of(mix)},
                {"spill", info(s.medium).spill},
                {"repair", repair_work(s.medium)}};
    if (s.cost) {
      row["price_low_eur"] = s.cost->low;
      row["price_high_eur"] = s.cost->high;
    }
    json["media"].push_back(row);
  }
  return json;
}

}  // namespace sidehill::text

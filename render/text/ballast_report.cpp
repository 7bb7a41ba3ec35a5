#include "render/text/ballast_report.h"

#include <fmt/format.h>

#include "render/text/words.h"
#include "sim/mass_sums.h"

namespace sidehill {
namespace {

const char* kind_words(RuleKind kind) {
  constexpr const char* kWords[] = {"law", "standard", "practice"};
  return kWords[static_cast<int>(kind)];
}

constexpr const char* kWhat =
    "On level hard ground, rigid, everything as the scene has it. A rule that is met makes no slope safe, and this is "
    "no "
    "statement of conformity: the maker's limits and the local rules decide.";

}  // namespace

nlohmann::ordered_json ballast_json(const Scene& scene, const Model& model) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const RuleAnswer& a : ballast_rules(scene, model))
    list.push_back({{"rule", a.rule},
                    {"asked", a.asked},
                    {"there", a.there},
                    {"met", a.met},
                    {"kind", kind_words(a.kind)},
                    {"source", a.source}});
  const AxleShare axles = axle_share(model);
  return {{"program", "sidehill " SIDEHILL_VERSION},
          {"title", scene.title},
          {"vehicle", scene.vehicle.name},
          {"total_mass_kg", total_mass(model)},
          {"on_axles_level_kg", {axles.front, axles.rear}},
          {"rules", list},
          {"cautions", {kWhat, kCautionLine}}};
}

std::string ballast_table(const Scene& scene, const Model& model) {
  const AxleShare axles = axle_share(model);
  std::string text = scene.title.empty() ? "" : scene.title + "\n";
  text += fmt::format("{}: {}, {} on the front axle, {} on the rear\n\n", scene.vehicle.name,
                      kilograms(total_mass(model)), kilograms(axles.front), kilograms(axles.rear));
  for (const RuleAnswer& a : ballast_rules(scene, model))
    text += fmt::format("  {:8} {}\n           asked {}, there {}  ({}: {})\n", a.met ? "met" : "NOT MET", a.rule,
                        a.asked, a.there, kind_words(a.kind), a.source);
  return text + "\n" + paragraph("  ! ", kWhat) + paragraph("  ! ", kCautionLine);
}

}  // namespace sidehill

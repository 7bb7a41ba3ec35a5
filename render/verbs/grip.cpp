// `sidehill grip`: what one driven wheel can pull on soil. Flags into a question; the answer is made in
// render/text/job.
#include <fmt/format.h>

#include <array>
#include <optional>
#include <string>

#include "render/text/job/grip_report.h"
#include "render/verbs/arguments.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"

namespace sidehill {
namespace {

struct GripCommand {
  bool json = false;
  Units units = Units::si;
  std::optional<double> mobility, width_m, diameter_m, section_height_m, deflection_m, cone_index_kpa, load_kn;
  double slip = 0.1;
  std::string tyre = "bias";
};

constexpr const char* kGripExamples = R"(
Examples
  sidehill grip --mobility 40 --slip 0.1 --tyre radial
  sidehill grip --width-m 0.467 --diameter-m 1.755 --section-height-m 0.395 --deflection-m 0.079
                --cone-index-kpa 900 --load-kn 20

Either the mobility number, or all six values it is made of. Cone index of soil (from memory, check against the
print): hard 1800, firm 1200, tilled 900, soft 450 kPa; where a wheel sinks into mud it is not known.)";

// One of the six values the mobility number is made of.
struct GripPart {
  const char* option;
  std::optional<double> GripCommand::*value;
  double low, high;
  const char* unit;
  const char* help;
};
constexpr std::array kGripParts = {
    GripPart{"--width-m", &GripCommand::width_m, 0.05, 2, "m", "width of the tyre, unloaded"},
    GripPart{"--diameter-m", &GripCommand::diameter_m, 0.2, 4, "m", "outer diameter of the tyre, unloaded"},
    GripPart{"--section-height-m", &GripCommand::section_height_m, 0.02, 1, "m", "from the rim to the tread"},
    GripPart{"--deflection-m", &GripCommand::deflection_m, 0, 1, "m", "how far the load presses the tyre in"},
    GripPart{"--cone-index-kpa", &GripCommand::cone_index_kpa, 10, 20000, "kPa", "strength of the soil by a cone"},
    GripPart{"--load-kn", &GripCommand::load_kn, 0.1, 500, "kN", "load of this one wheel"},
};

// Every one of the six, in range and fitting each other.
void check_grip_parts(const GripCommand& c) {
  for (const GripPart& part : kGripParts) {
    if (!(c.*part.value))
      throw InputError(
          fmt::format("grip: {} is missing: allowed are --mobility alone, or all six: --width-m, "
                      "--diameter-m, --section-height-m, --deflection-m, --cone-index-kpa, --load-kn",
                      part.option));
    check_in_range("grip", part.option, *(c.*part.value), part.low, part.high, part.unit);
  }
  if (*c.section_height_m * 2 >= *c.diameter_m)
    throw InputError(fmt::format("grip: --section-height-m {:g}: allowed less than half the diameter, {:g} m",
                                 *c.section_height_m, *c.diameter_m / 2));
  if (*c.deflection_m > *c.section_height_m)
    throw InputError(fmt::format("grip: --deflection-m {:g}: allowed 0 to the section height, {:g} m", *c.deflection_m,
                                 *c.section_height_m));
}

GripQuestion grip_question(const GripCommand& c) {
  check_in_range("grip", "--slip", c.slip, 0, 0.999, "");
  if (c.tyre != "bias" && c.tyre != "radial") refuse_word("grip", "--tyre", c.tyre, "bias or radial");
  GripQuestion q;
  q.set = c.tyre == "bias" ? TyreSet::bias : TyreSet::radial;
  q.slip = c.slip;
  bool any = false;
  for (const GripPart& part : kGripParts) any = any || (c.*part.value).has_value();
  if (c.mobility && any)
    throw InputError(
        "grip: --mobility: allowed alone, or in its place --width-m, --diameter-m, --section-height-m, --deflection-m, "
        "--cone-index-kpa and --load-kn, not both");
  if (c.mobility) {
    check_in_range("grip", "--mobility", *c.mobility, 0.1, 10000, "");
    q.mobility = *c.mobility;
    return q;
  }
  if (!any)
    throw InputError(
        "grip: --mobility is missing: allowed are --mobility alone, or all six: --width-m, --diameter-m, "
        "--section-height-m, --deflection-m, --cone-index-kpa, --load-kn");
  check_grip_parts(c);
  q.tyre = TyreShape{.width = *c.width_m,
                     .diameter = *c.diameter_m,
                     .section_height = *c.section_height_m,
                     .deflection = *c.deflection_m};
  q.load = *c.load_kn * 1e3;
  q.mobility = mobility_number(*q.tyre, *q.load, *c.cone_index_kpa * 1e3);
  return q;
}

}  // namespace

VerbAction prepare_grip(CLI::App& sub) {
  const auto asked = std::make_shared<GripCommand>();
  sub.footer(kGripExamples);
  sub.add_option("--mobility", asked->mobility, "mobility number of wheel, load and soil");
  for (const GripPart& part : kGripParts) sub.add_option(part.option, (*asked).*part.value, part.help);
  sub.add_option("--slip", asked->slip, "share of its way that the wheel loses, 0 to 0.999; default 0.1");
  sub.add_option("--tyre", asked->tyre, "bias or radial: which equations; default bias, which grips less");
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] {
    const GripQuestion question = grip_question(*asked);
    asked->json ? print(grip_json(question)) : fmt::print("{}", grip_table(question, asked->units));
    return kAnswered;
  };
}

}  // namespace sidehill

// `sidehill soil`: what one wheel does to the soil below it. Flags into a question; the answer is made in
// render/text/job.
#include <fmt/format.h>

#include <optional>

#include "render/text/job/soil_report.h"
#include "render/verbs/arguments.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"

namespace sidehill {
namespace {

struct SoilCommand {
  bool json = false;
  Units units = Units::si;
  double width_m = 0, diameter_m = 0, pressure_kpa = 0, load_kn = 0, concentration = 5;
  std::optional<double> recommended_kpa, depth_m;
};

constexpr const char* kSoilExamples = R"(
Examples
  sidehill soil --width-m 0.467 --diameter-m 1.755 --pressure-kpa 100 --recommended-kpa 100 --load-kn 26
  sidehill soil --width-m 0.65 --diameter-m 1.81 --pressure-kpa 70 --load-kn 32 --concentration 6 --depth-m 0.3

Without --depth-m the answer is for 15, 30 and 50 cm. In the JSON stress_kpa is then a list beside depths_m; with
--depth-m it is one number. null is "not known": the model is outside its range, and says so first.)";

SoilQuestion soil_question(const SoilCommand& c) {
  check_in_range("soil", "--width-m", c.width_m, 0.1, 1.5, "m");
  check_in_range("soil", "--diameter-m", c.diameter_m, 0.3, 3, "m");
  check_in_range("soil", "--pressure-kpa", c.pressure_kpa, 20, 1000, "kPa");
  if (c.recommended_kpa) check_in_range("soil", "--recommended-kpa", *c.recommended_kpa, 20, 1000, "kPa");
  check_in_range("soil", "--load-kn", c.load_kn, 0.1, 200, "kN");
  check_in_range("soil", "--concentration", c.concentration, 3, 6, "");
  if (c.depth_m) check_in_range("soil", "--depth-m", *c.depth_m, 0, 3, "m");
  SoilQuestion q;
  q.wheel = {.width = c.width_m,
             .diameter = c.diameter_m,
             .pressure = c.pressure_kpa * 1e3,
             .recommended = c.recommended_kpa.value_or(c.pressure_kpa) * 1e3,
             .load = c.load_kn * 1e3};
  q.recommended_given = c.recommended_kpa.has_value();
  q.concentration = c.concentration;
  q.depth = c.depth_m;
  return q;
}

}  // namespace

VerbAction prepare_soil(CLI::App& sub) {
  const auto asked = std::make_shared<SoilCommand>();
  sub.footer(kSoilExamples);
  sub.add_option("--width-m", asked->width_m, "width of the tyre")->required();
  sub.add_option("--diameter-m", asked->diameter_m, "outer diameter of the tyre")->required();
  sub.add_option("--pressure-kpa", asked->pressure_kpa, "air pressure, gauge")->required();
  sub.add_option("--recommended-kpa", asked->recommended_kpa,
                 "air pressure that the tyre maker recommends for this load; default: as --pressure-kpa");
  sub.add_option("--load-kn", asked->load_kn, "load of this one wheel")->required();
  sub.add_option("--concentration", asked->concentration,
                 "concentration factor: 3 elastic, 4 hard and dry, 5 normal, 6 soft and wet; default 5");
  sub.add_option("--depth-m", asked->depth_m, "depth below the surface; default: 0.15, 0.30 and 0.50");
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] {
    const SoilQuestion question = soil_question(*asked);
    asked->json ? print(soil_json(question)) : fmt::print("{}", soil_table(question, asked->units));
    return kAnswered;
  };
}

}  // namespace sidehill

#include "render/text/warnings.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/text/words.h"

namespace sidehill {
namespace {

std::string manoeuvre_words(const ManoeuvreAnswer& m, const Manoeuvre& asked) {
  if (m.kind == ManoeuvreKind::braking) return fmt::format("Braking with {:.1f} m/s2", m.felt);
  return fmt::format("Turning {} at {:.0f} km/h in a bend of {:.0f} m",
                     m.kind == ManoeuvreKind::turning_left ? "left" : "right", asked.speed * 3.6, asked.turn_radius);
}

}  // namespace

std::vector<std::string> overload_warnings(const LoadCheck& loads) {
  std::vector<std::string> out;
  for (int w = 0; w < kWheels; ++w) {
    const TyreCheck& tyre = loads.tyres[static_cast<std::size_t>(w)];
    if (tyre.service && tyre.margin.capacity > 0 && tyre.margin.used > 1)
      out.push_back(fmt::format("{} tyre: {} of what it may carry ({}). Take load off.", capital(wheel_name(w)),
                                percent(tyre.margin.used), kilograms(tyre.margin.load)));
  }
  for (std::size_t axle = 0; axle < 2; ++axle) {
    const LoadMargin& margin = loads.axles[axle];
    if (margin.capacity > 0 && margin.used > 1)
      out.push_back(fmt::format("{} axle: {} of what it may carry ({}). Take load off.", axle == 0 ? "Front" : "Rear",
                                percent(margin.used), kilograms(margin.load)));
  }
  return out;
}

bool lifts_under_way(const ManoeuvreAnswer& m) { return m.felt_at_limit && m.felt >= *m.felt_at_limit; }

std::vector<std::string> warnings(const Answer& answer) {
  std::vector<std::string> out;
  for (const ManoeuvreAnswer& m : answer.manoeuvres) {
    const std::string what = manoeuvre_words(m, answer.scene.manoeuvre);
    if (lifts_under_way(m))
      out.push_back(what + " lifts a wheel on this slope: it may go over.");
    else if (m.slide && *m.slide < answer.scene.terrain.slope)
      out.push_back(what + " slides on this slope.");
  }
  if (answer.loads)
    for (std::string& line : overload_warnings(*answer.loads)) out.push_back(std::move(line));
  if (std::ranges::any_of(answer.model.wheels, &WheelModel::ice))
    out.push_back(fmt::format(
        "All angles take the ice in the tyres where it harms most, for it turns with the wheel: the first wheel lifts "
        "at "
        "{}. While the ice lies at the bottom, as it froze, that is {}.",
        degrees(answer.statics.first_lift_off), degrees(first_lift_off(with_ice_at_the_bottom(answer.model)).slope)));
  return out;
}

}  // namespace sidehill

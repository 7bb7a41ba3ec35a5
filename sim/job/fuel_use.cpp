#include "sim/job/fuel_use.h"

#include <array>
#include <cmath>
#include <limits>

#include "sim/base/constants.h"

namespace sidehill {
namespace {

constexpr double kNoFuel = std::numeric_limits<double>::quiet_NaN();

constexpr std::array kPublishedFuel = {
    PublishedFigure{"extra fuel for each tonne carried", 1, {}, "L/h", "Landwirt (trade paper)", FigureKind::advice},
    PublishedFigure{"extra fuel for each tonne of counterweight", 1.5, 2, "L/h", "agri-ecodrive.ch, on ballast",
                    FigureKind::advice},
    PublishedFigure{"yearly mean of diesel for each kWh of rated PTO power",
                    kYearlyMeanFuel,
                    {},
                    "L/kWh",
                    "ASAE EP496.3 6.3.2.1 as quoted by Grisso, Predicting Tractor Diesel Fuel Consumption",
                    FigureKind::study},
    PublishedFigure{"fall of the mean specific use over about 20 years to 2004",
                    4.8,
                    {},
                    "%",
                    "Grisso, Kocher and Vaughan 2004, doi 10.13031/2013.17455",
                    FigureKind::study},
    PublishedFigure{"rolling resistance over load, tractor tyre on the road, lowest",
                    0.015,
                    {},
                    "-",
                    "wiki.fahrschule-eling.de (a driving school)",
                    FigureKind::advice},
    PublishedFigure{"rolling resistance over load, field or track, lowest",
                    0.05,
                    {},
                    "-",
                    "wiki.fahrschule-eling.de (a driving school)",
                    FigureKind::advice},
};

}  // namespace

double fuel_per_energy_full_throttle(double share) {
  if (!(share > 0 && share <= 1)) return kNoFuel;
  return 2.64 * share + 3.91 - 0.203 * std::sqrt(738 * share + 173);
}

double fuel_rate_per_rated_power(double share, double speed_cut_percent) {
  if (!(share >= 0 && share <= 1 && speed_cut_percent >= 0 && speed_cut_percent <= 100)) return kNoFuel;
  return (0.22 * share + 0.096) * (1 - (-0.0045 * share * speed_cut_percent + 0.00877 * speed_cut_percent));
}

double fuel_per_energy(double share, double speed_cut_percent) {
  return share > 0 ? fuel_rate_per_rated_power(share, speed_cut_percent) / share : kNoFuel;
}

RollingCost rolling_cost(double mass, double rolling, double speed) {
  RollingCost cost;
  cost.power = rolling * mass * kStandardGravity * speed;
  cost.litres_per_hour = cost.power * 1e-3 / kDriveEfficiency * kMarginalFuel;
  return cost;
}

std::span<const PublishedFigure> published_fuel() { return kPublishedFuel; }

}  // namespace sidehill

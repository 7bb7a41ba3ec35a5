#include "sim/job/soil_strength.h"

#include <array>
#include <cmath>

#include "sim/job/soil_stress.h"

namespace sidehill {
namespace {

constexpr std::array kStrengthClasses = {
    SoilStrengthClass{0.20, 129.0, 0.15}, SoilStrengthClass{0.31, 123.3, 0.13}, SoilStrengthClass{0.37, 85.0, 0.17},
    SoilStrengthClass{0.52, 70.1, 0.16},  SoilStrengthClass{1.00, 62.7, 0.15},
};

constexpr std::array kCompactionRules = {
    PublishedFigure{
        "stress at 50 cm, no more than", kRuleStress * 1e-3, {}, "kPa", "Schjonning et al.", FigureKind::memory},
    PublishedFigure{"mean pressure on the ground, threshold",
                    kRuleMean * 1e-3,
                    {},
                    "kPa",
                    "Vermeulen and Perdok 1994, by way of a survey of 82 tractors (pure.unipa.it)",
                    FigureKind::study},
    PublishedFigure{"contact pressure, too high for fields above",
                    207,
                    {},
                    "kPa",
                    "Pennsylvania State University Extension, quick worksheet (30 psi)",
                    FigureKind::advice},
    PublishedFigure{"axle load, keep below",
                    9.07,
                    {},
                    "t",
                    "Pennsylvania State University Extension, quick worksheet (10 US tons)",
                    FigureKind::advice},
    PublishedFigure{"load of a vehicle that can compact to 50 cm",
                    10,
                    {},
                    "t",
                    "agric.wa.gov.au (Ashworth et al. 2010)",
                    FigureKind::advice},
    PublishedFigure{
        "contact pressure over air pressure, a rule of thumb", 1.25, {}, "-", "milchpur.de 2020", FigureKind::advice},
    PublishedFigure{"loss of yield ten years later, lowest",
                    3,
                    {},
                    "%",
                    "Pennsylvania State University Extension, Avoiding Soil Compaction",
                    FigureKind::advice},
    PublishedFigure{"until the effect is gone: topsoil, upper subsoil", 5, 10, "years",
                    "Pennsylvania State University Extension, Avoiding Soil Compaction", FigureKind::advice},
    PublishedFigure{"stress over precompression stress: green up to, red above", kGreenUpTo, kRedAbove, "-",
                    "Stettler et al. 2014, as quoted in the manual of soilphysics", FigureKind::study},
    PublishedFigure{"how far a model of this kind was off, 43 and 85 kN", kStressOffLow * 1e-3, kStressOffHigh * 1e-3,
                    "kPa", "Lamande et al. 2007, Soil and Tillage Research 97:91-106", FigureKind::study},
};

}  // namespace

std::span<const SoilStrengthClass> soil_strength_classes() { return kStrengthClasses; }

std::optional<double> precompression_stress(double clay, double suction) {
  if (!(clay >= 0 && clay <= 1 && suction > 0)) return std::nullopt;
  for (const SoilStrengthClass& c : kStrengthClasses)
    if (clay <= c.most_clay) return 1e3 * c.k * std::pow(suction * 1e-3, c.e);
  return std::nullopt;
}

StressVerdict stress_verdict(double stress, double precompression) {
  if (stress > kRedAbove * precompression) return StressVerdict::red;
  return stress > kGreenUpTo * precompression ? StressVerdict::between : StressVerdict::green;
}

std::span<const PublishedFigure> compaction_rules() { return kCompactionRules; }

}  // namespace sidehill

// How much stress soil withstands, and the published rules for axle, wheel and contact pressure. Knows no scene and no
// model.
#pragma once
#include <optional>
#include <span>

#include "sim/job/published.h"

namespace sidehill {

// Stands with every precompression stress of these classes.
inline constexpr const char* kStrengthCaution =
    "Precompression stress by clay and suction was measured on Latosols in Brazil. It is no default for soils in "
    "Europe.";

// One class of soil by its clay: precompression stress k suction^e, suction in kPa.
struct SoilStrengthClass {
  double most_clay = 0;  // the class reaches up to this share of clay [-]
  double k = 0;          // [kPa]
  double e = 0;          // [-]
};
// By clay, the lightest first. Source: Severiano et al. 2013, Soil Research 51:193-202, as carried by the package
// soilphysics 5.1 for R (read as code).
std::span<const SoilStrengthClass> soil_strength_classes();

// Precompression stress [Pa]. `clay` share of the mass 0 to 1, `suction` of the water [Pa], more than 0. Nothing
// outside.
std::optional<double> precompression_stress(double clay, double suction);

// What a stress means for a soil of that precompression stress. Source: Stettler et al. 2014, as quoted in the manual
// of soilphysics: green up to 0.5, red above 1.1 times it.
enum class StressVerdict { green, between, red };
StressVerdict stress_verdict(double stress, double precompression);
inline constexpr double kGreenUpTo = 0.5, kRedAbove = 1.1;  // times the precompression stress [-]

// Rules for axle load, contact pressure and depth, with who says so. They differ, and none is a law.
std::span<const PublishedFigure> compaction_rules();

// At 50 cm no more than 50 kPa. Source: Schjonning et al., from memory: check against the print.
inline constexpr double kRuleDepth = 0.50;   // [m]
inline constexpr double kRuleStress = 50e3;  // [Pa]
// Mean pressure on the ground that a survey took as the threshold. Source: Vermeulen and Perdok 1994, at second hand.
inline constexpr double kRuleMean = 100e3;  // [Pa]

}  // namespace sidehill

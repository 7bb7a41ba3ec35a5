// A scene with everything that is computed of it at rest, and the same as JSON: what `solve` gives to other programs.
// Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>

#include "sim/insight/breakdown.h"
#include "sim/insight/uncertainty.h"
#include "sim/insight/verdict.h"
#include "sim/rest/load_check.h"
#include "sim/rest/load_limits.h"
#include "sim/rest/manoeuvre.h"
#include "sim/rest/mass_sums.h"
#include "sim/rest/statics.h"

namespace sidehill {

struct Answer {
  Scene scene;
  Model model;
  StaticSolution statics;
  std::vector<EnvelopePoint> by_heading;    // equally spaced from -180 deg
  std::optional<EnvelopePoint> worst;       // where the first wheel lifts soonest; none if none lifts at any heading
  std::vector<MassCase> mass_cases;         // driver and tank as they may be
  std::optional<LoadCheck> loads;           // against what tyres and axles may carry; of the level if it does not rest
                                            // here, none if it has no balance there either
  std::optional<double> stiffening_doubt;   // of first lift-off, +- [rad]; none = never lifts, or not worked out
  LoadLimits limits;                        // slopes at which steering goes and a tyre is overloaded
  std::vector<ManoeuvreAnswer> manoeuvres;  // bend and braking, where the scene asks for them
  std::optional<Uncertainty> uncertainty;   // only where asked for: see with_uncertainty
  std::optional<Breakdown> breakdown;       // why: only where asked for: see with_reasons
};

// build, solve_statics, the envelope of `headings` headings and the checks. Throws InputError for an impossible
// machine.
Answer answer(const Scene& scene, int headings = 72);

// The same with an interval on every angle and load: some hundred answers more.
Answer with_uncertainty(Answer answer);

// The same with the causes of the first lift-off: up to 256 lift-offs more.
Answer with_reasons(Answer answer);

// Of everything: ballast, load, driver, liquid where it lies at the scene's slope; x ahead of the rear axle, y left, z
// above level ground on undeflected tyres [m]. Of level ground if the machine finds no rest there.
Vec3 centre_of_gravity_m(const Model& model, const StaticSolution& statics);
Vec3 centre_of_gravity_m(const Answer& answer);

// What it comes down to, with what is known so far.
StandVerdict verdict_on(const Answer& answer);

// Keys with a human's unit as suffix; "never" and "not there" are null. `with_envelope` adds the margin by heading.
nlohmann::ordered_json to_json(const Answer& answer, bool with_envelope = false);

// Columns heading_deg, first_lift_off_deg, tip_over_deg, margin_deg, wheel; empty where no wheel lifts.
std::string envelope_csv(const Answer& answer);

const char* wheel_key(int wheel);          // "rear_left"; "none" for -1
const char* to_string(RestStatus status);  // "stands"

// A finite number, or null.
nlohmann::ordered_json number_or_null(std::optional<double> value, double unit = 1);
nlohmann::ordered_json place(const Vec3& p);  // [x, y, z]

}  // namespace sidehill

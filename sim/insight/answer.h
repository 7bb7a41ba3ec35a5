// A scene with everything that is computed of it at rest, and in which order: once for text, page and window alike. An
// Answer is filled stage by stage, by who needs it at once (`answer`) and by who shows what has come so far
// (`compute`). Knows no words, no file, no thread.
#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <stop_token>
#include <vector>

#include "sim/base/enum_table.h"
#include "sim/insight/breakdown.h"
#include "sim/insight/uncertainty.h"
#include "sim/insight/verdict.h"
#include "sim/job/rules.h"
#include "sim/rest/load_check.h"
#include "sim/rest/load_limits.h"
#include "sim/rest/manoeuvre.h"
#include "sim/rest/mass_sums.h"
#include "sim/rest/statics.h"

namespace sidehill {

inline constexpr int kUsualHeadings = 72;  // looked at, 5 deg apart

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
  std::vector<RuleAnswer> rules;            // only where asked for: Stage::rules
  std::optional<Uncertainty> uncertainty;   // only where asked for: see with_uncertainty
  std::optional<Breakdown> breakdown;       // why: only where asked for: see with_reasons
};

// Each fills one member of an Answer.
enum class Stage {
  rest,        // statics
  loads,       // needs rest
  manoeuvres,  //
  limits,      // needs rest
  rules,       //
  causes,      // breakdown: up to 512 lift-offs
  masses,      // mass_cases
  headings,    // by_heading
  worst,       // needs headings
  stiffening,  // stiffening_doubt; not worked out on uneven ground, where each lift-off takes long
  intervals,   // uncertainty; needs rest
};
inline constexpr std::size_t kStages = count_of<Stage>();

// All stages in the order in which they are computed: first what holds at the scene's heading and what belongs to its
// verdict, then why, then the other headings and how far off it may be. The intervals take longest on even ground and
// stand last there; over uneven ground all headings take longer still.
std::array<Stage, kStages> in_order(const Model& model);

// With nothing computed yet. `model`: what build(scene) gives. The first throws InputError for an impossible machine.
Answer unanswered(const Scene& scene);
Answer unanswered(const Scene& scene, const Model& model);

// Adds what a stage computes; what it needs must be there. The headings are the usual ones, with tip-over. Once `stop`
// is requested it comes back within milliseconds, gives false and leaves the Answer as it was.
bool compute(Stage stage, Answer& answer, const std::stop_token& stop = {});

// The same for several stages, in the order above, whatever their order here. False as soon as one of them is stopped.
bool compute(std::span<const Stage> stages, Answer& answer, const std::stop_token& stop = {});

// Stage::headings for who shows each heading as it comes: point `i` of `headings`, without tip-over. The first makes
// room for all of them, `failed` until they are there; after it the room stays where it is.
bool compute_heading(Answer& answer, int i, int headings, const std::stop_token& stop = {});

// At once, all but rules, causes and intervals; `headings` of them. Throws InputError for an impossible machine.
Answer answer(const Scene& scene, int headings = kUsualHeadings);

// The same with an interval on every angle and load: some hundred answers more.
Answer with_uncertainty(Answer answer);

// The same with the causes of the first lift-off: up to 512 lift-offs more.
Answer with_reasons(Answer answer);

// What it comes down to, with what is known so far.
StandVerdict verdict_on(const Answer& answer);

// Of everything: ballast, load, driver, liquid where it lies at the scene's slope; x ahead of the rear axle, y left, z
// above level ground on undeflected tyres [m]. Of level ground if the machine finds no rest there.
Vec3 centre_of_gravity_at_rest(const Model& model, const StaticSolution& statics);

}  // namespace sidehill

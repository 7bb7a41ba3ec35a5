// Charts of what was answered at rest: margin by heading, what gives way at which slope, why, and what each liquid
// does. Know the answer; no drawing library, no screen.
#pragma once
#include <optional>
#include <span>

#include "render/namespaces.h"
#include "render/page/chart.h"
#include "sim/insight/answer.h"

namespace sidehill::page {

// Slope that lifts the first wheel, by heading, against the ground's slope. `polar`: around the machine seen from
// above; else along an axis.
Chart heading_chart(const Answer& answer, bool polar = true);

// Of the polar one only what its dial shows (dial_of), without any words, and what comes first alone, of the headings
// there are: `by_heading` may be empty, and `failed` where nothing is known yet. Slope and heading [rad] of the ground
// and of the machine.
Chart heading_dial(double slope, double heading, std::span<const EnvelopePoint> by_heading);

// What gives way as the whole ground is tilted at this heading, in order; intervals where they were worked out.
Chart slopes_chart(const Answer& answer);

// What each cause adds to the slope of first lift-off or takes from it. Nothing where there is no breakdown (a machine
// no wheel of which ever lifts, or not asked for).
std::optional<Chart> why_chart(const Answer& answer);

// Of that only the rows (bar_rows), without any words around them. `on_even_slope`: also what the slope [rad] takes and
// what is left.
Chart why_rows(const Breakdown& breakdown, double slope, bool on_even_slope);

// First lift-off against the fill of both rear tyres, a line for each liquid. Twelve liquids, up to eleven fills each:
// takes seconds. Throws InputError for an impossible machine.
Chart fills_chart(const Scene& scene);

}  // namespace sidehill::page

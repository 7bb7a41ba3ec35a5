// Charts of the answer. The slope that gives way by heading is the page's dial and what gives way first the page's rows
// of bars, both painted; the wheel loads are drawn here. Know Dear ImGui's draw list, the page's charts and sim's
// values; change nothing themselves.
#pragma once
#include <optional>
#include <span>

#include "render/namespaces.h"
#include "render/page/chart.h"
#include "render/screen/desk/session.h"
#include "render/screen/desk/verdict.h"
#include "render/screen/kit/ui.h"

namespace sidehill::screen {

Colour fill_of(Tone tone);
Colour ink_on(Tone tone);  // of text on fill_of(tone)
// What says the tone without colour: a tick, an exclamation mark, a wheel off the ground, skid marks, a question mark.
void draw_symbol(ImDrawList& list, Tone tone, ImVec2 centre, float size, Colour ink);
// Slanted lines (lifted) or dots (slide) over a rectangle; nothing for other tones.
void draw_pattern(ImDrawList& list, Tone tone, Rect rect, Colour ink, float spacing);

// A row per threshold: name, angle, a bar on a common scale with a line at `slope` [rad] through all of them, and
// where the angle lies nineteen times in twenty: below the bar, or in rows lower than kThresholdRow before the angle,
// in place of what is left. Items: each name, and "<name> interval".
constexpr double kThresholdRow = 37, kLowThresholdRow = 22;  // height of one [px]
void thresholds_chart(Ui& ui, Rect rect, std::span<const Threshold> thresholds, double slope);

// The page's rows of bars, painted: names that do not fit are shortened, the letters are the panel's. `indent` [pt]:
// kept free for a sign before each name. Where the rows are is the caller's to remember.
void paint_rows(Ui& ui, Rect rect, page::Chart chart, page::BarRowsLook look, double indent = 0);

// Where a heading and a slope [rad] are on the chart: heading 0 up, positive to the left; rim = kPolarRim.
constexpr double kPolarRim = 1.0471975511965976;  // 60 deg, the steepest ground there is here [rad]
ImVec2 polar_place(Rect rect, double heading, double slope);
// The page's dial of what gives way at every heading (heading_dial), with a spot here, a diamond at the worst heading
// and an arrow. Over 60 deg stands at the rim.
// Returns the heading a person clicks or drags to.
std::optional<double> polar_chart(Ui& ui, Rect rect, const Session& session);

// Loads of the four wheels as bars to the left and right of the machine's middle, front above rear.
void load_chart(Ui& ui, Rect rect, const State& state, double weight);

// Help for a place that is no item, once the mouse has rested there.
void hover_help(Ui& ui, std::string_view label, Rect rect, std::string_view help);

}  // namespace sidehill::screen

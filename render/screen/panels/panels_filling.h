// Over the whole window: the tyres of both axles cut open side by side, with all that is known of their filling, live.
// The surface is dragged with the mouse; liquid, strength and fill are chosen below it; curves say what gives way over
// the filling. Know Dear ImGui, the desk and the filling's words and rows; the curves come from desk/fill_curves.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "render/screen/background/fill_curves.h"
#include "render/screen/panels/panels.h"
#include "render/text/fill/axle_filling_rows.h"
#include "render/text/fill/axle_filling_words.h"

namespace sidehill::screen {

// What is known of the fillings of one set-up, kept until its scene is another.
struct KnownFilling {
  std::size_t stamp = 0;  // of the scene as it is written out: set-ups are swapped and laid down anew
  bool over_front = false, job_known = false, us = false;
  std::string refusal;                              // why the machine cannot exist; empty = it can
  std::array<std::optional<AxleFilling>, 2> axles;  // front, rear; none: it cannot be pumped in
  std::array<std::string, 2> refused;               // why not
  std::vector<FillingFact> facts;                   // of both axles, the worst first
  std::array<std::vector<FillingRow>, 2> rows;
  FillPoint point;  // of the set-up as it is, on the axle the curves are of
};

// What the page keeps from frame to frame.
struct FillingPage {
  bool over_front = false;  // the curves are over the front tyres' filling
  FillCurves curves;
  std::array<KnownFilling, 2> known;  // of A and of B
};

void draw_filling(Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout);
// Once a turn, while the page is open: takes over what has come of the curves. Returns true if there is news.
bool attend_filling(const ViewChoices& choices);
bool filling_works(const ViewChoices& choices);  // the curves are still being worked out

// --- pieces, each in a file of its own ---

// The set-up the page changes, and what is known of it.
struct FillingSide {
  Session& session;
  const KnownFilling& known;
};
// Sees that `known` is of the session as it is.
void look_at(KnownFilling& known, const Session& session, bool over_front, Units units);
// One axle's wheel with its controls, `width` x as high as it gets [px]; edits go to the session. Items "Rear surface",
// "Rear liquid in it", "Rear strength", "Rear fill", and the buttons "Rear less", "Rear more", "Rear empty", "Rear 40
// %", "Rear 75 %".
void draw_filling_wheel(Ui& ui, const FillingSide& side, bool front, float width, float wheel_height);
// Its rows; items "Rear: litres" ... by FillingRow::key.
void draw_filling_rows(Ui& ui, const FillingSide& side, bool front, float width);
// Both plots with their head. Items "Over rear", "Over front", "Stop curves" or "Curves again", "Curves: slope",
// "Curves: load", "Curve 1 end" ..., "Curve point A".
void draw_filling_curves(Ui& ui, const Desk& desk, FillingPage& page, Rect rect);
float controls_height(const Ui& ui, const Session& session);  // of what stands below a wheel [px]

}  // namespace sidehill::screen

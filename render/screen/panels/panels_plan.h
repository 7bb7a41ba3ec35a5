// The fourth start, Plan: job and question on the left, the trade-off as a chart below the two machines, on the right
// what to choose, why, its rules, and its pages. Know Dear ImGui, the desk and the plan's words; work nothing out.
#pragma once
#include "render/screen/panels/panels.h"

namespace sidehill::screen {

// Left: the job's form, what is on hand, what decides, and the search. Items "Best by", "Degrees to keep", "Limit the
// slip", "Slip at most", "Plan it", "Stop", "Search" (its progress).
void draw_plan_ask(Ui& ui, Desk& desk, ViewChoices& choices);
// Right: the worst first, the set-ups (items "Set-up 1" ...), why the chosen one, what is asked of it, its rules, and
// at the foot its pages ("Filling sheet", "Rim labels", "Cab card", "Report", "Use it", "Save plan file").
void draw_plan_found(Ui& ui, Desk& desk, ViewChoices& choices);
void draw_plan_pages(Ui& ui, Desk& desk, ViewChoices& choices);
// Below the picture: all plans of the front as points, the set-ups as numbered marks. Pointing shows the numbers, a
// click chooses. Items "Chart up", "Chart across", "Mark 1" ..., "Point 0" ....
void draw_plan_chart(Ui& ui, Desk& desk, ViewChoices& choices);

// The number of a set-up in a disc, of today's machine in a square.
void draw_plan_mark(const Ui& ui, ImDrawList& list, ImVec2 centre, std::size_t place, const ChosenPlan& one,
                    bool chosen);

// What today's machine and the set-up beside it are called: "Today", "Set-up 2".
std::pair<std::string, std::string> names_of_two(const Desk& desk);
// Why pages and numbers of the plan may not be handed on; empty = they may.
std::string plan_hindrance(const Desk& desk);

}  // namespace sidehill::screen

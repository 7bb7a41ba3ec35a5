// Over the picture: the job as a form of eight lines, the rules as a checklist with the worst on top, grip and fuel as
// bars, of both set-ups where there are two. Knows Dear ImGui, the desk and sim's values.
#pragma once
#include "render/screen/panels/panels.h"

namespace sidehill::screen {

// The job of that file becomes the scene's.
void take_job(Session& session, const std::filesystem::path& file);
// The eight lines alone. With `steps` the lines are broken where the column is narrow, and every number has buttons
// beside it (items "<key> less", "<key> more"), so that nobody needs a keyboard.
void draw_job_form(Ui& ui, Session& session, bool steps = false);
// Every rule's worst row in the order given, with its sign; all its rows are in its help. Items "Rule<letter>: <key>".
void draw_rule_checklist(Ui& ui, const std::vector<RuleAnswer>& rules, const Scene& scene, const std::string& letter);

void draw_job(Ui& ui, Desk& desk, ViewChoices& choices, Rect view);

}  // namespace sidehill::screen

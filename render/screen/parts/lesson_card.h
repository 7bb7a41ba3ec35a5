// The card of a lesson, in large type: the list, the question with its answers, then the truth, its caution and what to
// take home. Knows Dear ImGui and LessonPlay; no Session, no OpenGL.
#pragma once
#include "render/namespaces.h"
#include "render/screen/desk/lesson_play.h"
#include "render/screen/kit/ui.h"

namespace sidehill::screen {

// Fills what room the current ImGui window has left, scrolling if it must; made for 400 px and wider, 600 px and higher
// at scale 1. Ticks the play. Keys, unless something is being typed: 1 to 4 guess, Enter goes on, Backspace goes back
// to the list, Up and Down choose a row there.
// The foot of a lesson whose answer is shown, its caution first, is always whole in view; what is above it scrolls.
// Items to click: "Lesson <title>" in the list; "Answer 1" ... "Answer 4", "Show me" (before a guess: "Show without a
// guess"), "Tell me", "Show again", "Next lesson" (after the last: "To the list"), "All
// lessons". Items to look at: "Question", "Truth", "Lesson caution",
// "Take home".
void draw_lesson(Ui& ui, LessonPlay& play);

// A lesson's sentence in the units the person reads.
std::string lesson_words_shown(const Ui& ui, const std::string& sentence);

}  // namespace sidehill::screen

// What a lesson asks, as it stands at the moment of the run that is shown, and over the time of the run: large figures
// for the picture, a curve and marks for the time strip. Knows no ImGui.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/desk/session.h"
#include "render/text/words/units.h"
#include "sim/insight/lesson_course.h"

namespace sidehill::screen {

// "Leans sideways", "24.3°", "most so far 26.1°".
struct AskedNow {
  std::string name, value, note;
  bool happened = false;  // what is asked about has happened by then
};
// `truth`: what the lesson's own run came to, once it is known, for a count-down; nullptr = not known. The session must
// have started. Later events than the moment shown are left out.
AskedNow asked_now(const Lesson& lesson, const Session& session, const Found* truth, Units units);
// The same of a moment of a recording; `ended`: the recording is whole.
AskedNow asked_now(const Lesson& lesson, const Recording& recording, const State& at, bool ended, const Found* truth,
                   Units units);

// For the time strip.
struct AskedMark {
  double time = 0;    // [s]
  std::string words;  // "rear left lifts"
};
struct AskedCurve {
  std::string name;                         // "Leans sideways [°]"
  double high = 40, step = 20;              // end of the scale, which begins at 0, and where it has lines
  std::vector<std::optional<double>> a, b;  // of each stored state; `b` empty without a second run
  std::vector<AskedMark> marks_a, marks_b;
};
AskedCurve asked_curve(const Lesson& lesson, const Session& a, const Session* b, Units units);

}  // namespace sidehill::screen

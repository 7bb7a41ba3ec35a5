// The panels of the window over a Session: set-up on the left, answer on the right, what it does now above the picture,
// controls and time below it, cautions at the foot. Know Dear ImGui and the Session; no OpenGL, no window, so that they
// can be tested without either.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "render/screen/camera.h"
#include "render/screen/session.h"
#include "render/screen/ui.h"

namespace sidehill {

// What a person chose to see; nothing of it belongs to the scene.
struct ViewChoices {
  Overlays overlays;
  bool follow = true;                                               // camera travels with the machine
  std::optional<CameraPreset> go_to = CameraPreset::three_quarter;  // to be carried out by the window, then emptied
  int preset = 0;                                                   // last one gone to
  bool notes = false;                                               // every caution and limit is being read
};

// Where things stand in a window of that size [px].
struct Layout {
  Rect left, right, banner, view, hand, bar, caution;  // `hand` has no height unless driving by hand
};
Layout layout_of(double width, double height, double scale, bool by_hand = false);

// Builds one frame of all panels; edits reach the session at once. Call between ImGui::NewFrame and ImGui::Render.
void draw_panels(Ui& ui, Session& session, ViewChoices& choices, const Layout& layout);

// What a key does when pressed, by the letter it types; the buttons' tooltips say the same.
struct Command {
  char32_t letter;
  const char* name;  // of its button
  const char* help;
};
const std::vector<Command>& commands();
// Carries out the command of a letter (either case). Returns false if no command has it.
bool carry_out(char32_t letter, Session& session, ViewChoices& choices);
// Hands the session the keys held down for driving by hand; none while something is being typed.
void hold_keys(const Ui& ui, Session& session);

// A slider of the set-up panel. Its track covers what is usual for this machine; its key's range is what is allowed.
struct Dial {
  const char* section;
  const char* label;
  std::string key;        // of a field or alias
  double min, max, step;  // of the track, in the file's unit
  int digits = 0;
  double shown_factor = 1;
  const char* unit = "";
  std::string medium_key;  // of the liquid chosen in the same row; may be empty
};
std::vector<Dial> dials_of(const Scene& scene);

// Pieces, each in a file of its own.
void draw_set_up(Ui& ui, Session& session);
void draw_answer(Ui& ui, Session& session, ViewChoices& choices);
void draw_bar(Ui& ui, Session& session, ViewChoices& choices);
void draw_view_tools(Ui& ui, const Session& session, ViewChoices& choices, Rect view);

}  // namespace sidehill

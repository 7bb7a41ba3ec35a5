// Ground and machine by hand: what the mouse (or the keyboard) is doing to a scene. Events go in, an edited scene comes
// out; nothing else is changed. Knows no session, no GL; only use_placing() knows Dear ImGui, and it only reads.
//
// A tool puts a thing where the button goes down, and it can be dragged on until the button is let go. Tool::move takes
// hold of what stands there: things, their knobs, the machine, the ring round it. Places snap to 5 cm, heights to 1 cm,
// angles to 5 degrees unless Shift is held. Escape in a drag puts everything back.
#pragma once
#include <glm/vec2.hpp>
#include <optional>

#include "render/namespaces.h"
#include "render/screen/placing/placing_tools.h"
#include "render/screen/scene3d/camera.h"
#include "render/screen/scene3d/labels.h"
#include "sim/motion/state.h"

namespace sidehill::screen {

struct Rect;
struct Ui;

// What the mouse has hold of.
enum class Grip { none, feature, length, width, height, turn, machine, heading };

// What is chosen: an entry of the features, or one of these.
constexpr int kNothing = -1, kMachine = -2;

inline constexpr double kSmallestExtent = 0.1;  // that a drag or a key can give a thing [m]

struct Placing {
  Tool tool = Tool::look;
  int selected = kNothing;
  Grip hot = Grip::none;    // what a press would take hold of now
  int hot_item = kNothing;  // of that: feature or machine
  Grip grip = Grip::none;   // held now
  // Ground under the mouse, in G [m]; empty where there is none, or a panel or the machine is in front.
  std::optional<glm::dvec2> over_G;
  std::optional<Feature> next;     // what the tool would put; empty without such a tool
  std::optional<glm::dvec2> menu;  // a menu for `selected` is wanted here [px]; the panel empties it
  glm::dvec2 menu_G{0.0};          // the ground there [m]
  double ahead = 2;                // of "before a wheel", from the front wheels to the thing's near edge [m]
  unsigned stroke = 0;             // counts up with each new edit: scenes of one stroke are one step of an undo

  // Of the drag in hand.
  Scene before;             // as it was
  glm::dvec2 from_px{0.0};  // where it was taken hold of
  glm::dvec2 from_G{0.0};   // the ground there
  double lift = 0;          // of the place touched, over the even slope [m]
  bool dragging = false;    // moved far enough to be meant
};

struct MouseNow {
  glm::dvec2 at{0.0};          // [px], as the view's rectangle
  bool inside = false;         // over the view, and no panel wants it
  bool pressed = false;        // the left button went down
  bool held = false;           // and is down
  bool right_clicked = false;  // pressed and let go without moving
  double wheel = 0;            // clicks, away from the hand positive
  bool shift = false;          // no snapping; the wheel changes the size
  bool control = false;        // the wheel changes the height
  double scale = 1;            // of the desktop
};

struct KeysNow {
  bool escape = false, remove = false, next = false, previous = false, put = false;
  int right = 0, up = 0;  // of the arrows: along the contour, up the slope; 10 cm each (1 cm with Shift)
  int turn = 0;           // 5 degrees each, to the left positive
  int bigger = 0;         // of the selected thing, 10 % each
  bool shift = false;
};

// True while a press or a drag belongs to the scene and not to the camera.
bool takes_mouse(const Placing& placing);
// True if the wheel would change a size and not the camera's distance.
bool takes_wheel(const Placing& placing, const MouseNow& mouse);

// Chooses a tool; drops what is held. The same tool again goes back to Tool::move.
void choose(Placing& placing, Tool tool, const Scene& scene);

// One look at the mouse. `shown` is what the picture shows: it says where machine and slope are. Returns the edited
// scene if anything changed; all of its numbers lie inside the file's ranges.
std::optional<Scene> on_mouse(Placing& placing, const MouseNow& mouse, const Camera& camera, const Scene& scene,
                              const State& shown, const ViewRect& view);

// One look at the keys: Escape cancels or lets go, Tab walks through machine and things, arrows move what is chosen,
// Page keys turn it, + and - change its size, Delete takes it away, Enter puts the tool's thing before the machine.
std::optional<Scene> on_keys(Placing& placing, const KeysNow& keys, const Scene& scene);

// Both, from ImGui's mouse and keys; call between NewFrame and the camera's own use of the mouse. Nothing while
// somebody types, and no keys while the machine is driven by hand (`ui.arrows_taken`).
std::optional<Scene> use_placing(Placing& placing, const Ui& ui, const Camera& camera, const Scene& scene,
                                 const State& shown, const Rect& view);

}  // namespace sidehill::screen

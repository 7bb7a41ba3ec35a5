// The 3-D view between the panels: what it last drew, when it must be drawn anew, and what the mouse does in it. Needs
// a current OpenGL context and ImGui frame; knows no window, so that a benchmark can run it without one.
#pragma once
#include <optional>
#include <span>

#include "render/namespaces.h"
#include "render/screen/desk/session.h"
#include "render/screen/gl/renderer.h"
#include "render/screen/panels/panels.h"
#include "render/screen/scene3d/camera.h"
#include "render/screen/scene3d/drawing.h"

namespace sidehill::screen {

struct Scenery {
  explicit Scenery(Renderer with = Renderer()) : renderer(std::move(with)) {}
  Renderer renderer;
  Camera camera;
  std::optional<Camera> shared;  // what the other picture's camera gave it last (share_camera)
  Drawing drawing;
  std::optional<Drawing> ghost;  // of the second set-up
  unsigned drawn_version = 0;    // of the session
  unsigned ghost_version = 0;    // of the second set-up, 0 = none was drawn
  int drawn_overlays = -1;
  bool moved = true;          // must be drawn
  bool fine = false;          // was drawn finely since it last moved
  double moved_at = 0;        // [s] of the clock handed in
  int width = 0, height = 0;  // of the view [px]
  double detail = 1;          // pixels drawn per pixel of the view while it moves, each way; steps down by itself
  double frame_time = 0;      // smoothed time from one moving picture to the next [s]
  double drawn_at = 0;        // [s]
};

// Orbit, pan and zoom from ImGui's mouse, where no panel wants it. `two`: the view holds two pictures side by side.
void use_mouse(Scenery& scenery, const Rect& view, ViewChoices& choices, bool two = false);

// Two pictures have one camera, `a`'s: the second is seen from the same side and as near, over its own machine's ground
// where the camera follows, else over the same place.
void share_camera(const Scenery& a, Scenery& b, bool follows);

// Draws what changed into the renderer's own framebuffer, and the labels behind the panels. `time` [s] from any steady
// clock. A view that has not moved for a quarter of a second is drawn once more, finely. The session must have a model.
// Words keep off the rectangles of `taken`; those under the mouse are said in full.
// `other` is a second set-up at the same moment, drawn as a ghost; `hides_margin` leaves the degrees left unsaid.
// Of the overlays a person chose, those that are true of the scene as it is: at rest nothing that speaks of loads,
// balance or degrees left while the answer is another scene's. `hides_margin`: nor the degrees left, whatever is known.
Overlays true_overlays(const Session& session, Overlays chosen, bool hides_margin);

void show_scenery(Scenery& scenery, const Session& session, ViewChoices& choices, const Rect& view, double scale,
                  double time, bool hides_margin = false, const Session* other = nullptr,
                  std::span<const Rect> taken = {});

// Copies the picture to its place in the framebuffer now bound for drawing, `window_height` [px] high.
void place_scenery(const Scenery& scenery, const Rect& view, int window_height);

}  // namespace sidehill::screen

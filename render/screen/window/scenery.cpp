#include "render/screen/window/scenery.h"

#include <epoxy/gl.h>
#include <imgui.h>

#include <algorithm>
#include <cstdint>

#include "render/screen/desk/verdict.h"
#include "render/screen/scene3d/ghost.h"
#include "render/screen/scene3d/labels.h"
#include "sim/motion/under_way.h"

namespace sidehill::screen {
namespace {

constexpr double kRestAfter = 0.25;  // a view that has not moved for so long is drawn finely [s]

// The overlay choices as one number, to see whether any has changed.
int bits_of(const Overlays& o) {
  int bits = 0;
  for (bool on : {o.see_through_tyres, o.wheel_loads, o.centre_of_gravity, o.support, o.slope_wedge, o.ground_lines,
                  o.driver, o.labels, o.few_labels, o.units == Units::us, o.units == Units::kn})
    bits = 2 * bits + (on ? 1 : 0);
  return bits;
}

// Pixels are the last thing that is given up: a moving view has all of them as long as it comes to 20 pictures a
// second. Then fewer, down to half each way, below which too much is lost to the eye; more again once there is time to
// spare. The time step of a run is never touched.
void pace(Scenery& scenery, double time) {
  constexpr double kSlow = 1.0 / 20, kQuick = 1.0 / 26, kPause = 0.2, kLeast = 0.5;
  const double passed = time - scenery.drawn_at;
  scenery.drawn_at = time;
  if (passed > kPause) {  // it stood still in between: says nothing
    scenery.frame_time = 0;
    return;
  }
  scenery.frame_time = scenery.frame_time == 0 ? passed : scenery.frame_time + 0.15 * (passed - scenery.frame_time);
  if (scenery.frame_time > kSlow && scenery.detail > kLeast) {
    scenery.detail = std::max(kLeast, scenery.detail * 0.85);
    scenery.frame_time = 0;
  } else if (scenery.frame_time > 0 && scenery.frame_time < kQuick && scenery.detail < 1) {
    scenery.detail = std::min(1.0, scenery.detail * 1.1);
    scenery.frame_time = 0;
  }
}

}  // namespace

void use_mouse(Scenery& scenery, const Rect& view, ViewChoices& choices, bool two) {
  const ImGuiIO& io = ImGui::GetIO();
  if (io.WantCaptureMouse) return;
  const bool inside = io.MousePos.x >= view.x && io.MousePos.x < view.x + view.width && io.MousePos.y >= view.y &&
                      io.MousePos.y < view.y + view.height;
  if (!inside) return;
  const bool places = choices.drawer == Drawer::ground;
  MouseNow now;
  now.shift = io.KeyShift, now.control = io.KeyCtrl, now.inside = true;
  const double per = 1.0 / std::max(1.f, view.height);
  // Held since an earlier frame: the way to where it was pressed is no dragging.
  const auto held = [&](int button) { return io.MouseDown[button] && io.MouseDownDuration[button] > 0; };
  if (!(places && takes_mouse(choices.placing)) && (io.MouseDelta.x != 0 || io.MouseDelta.y != 0) &&
      (held(0) || held(1) || held(2))) {
    if (held(0) && !io.KeyShift) {
      orbit(scenery.camera, io.MouseDelta.x * per, io.MouseDelta.y * per);
    } else {
      pan(scenery.camera, io.MouseDelta.x * per, io.MouseDelta.y * per);
    }
    scenery.moved = true;
  }
  if (io.MouseWheel != 0 && !(places && takes_wheel(choices.placing, now))) {
    const Rect at = !two ? view : io.MousePos.x < halves(view).second.x ? halves(view).first : halves(view).second;
    const double x = 2 * (io.MousePos.x - at.x) / std::max(1.f, at.width) - 1,
                 y = 1 - 2 * (io.MousePos.y - at.y) / std::max(1.f, at.height);
    zoom(scenery.camera, io.MouseWheel, {x, y}, at.width / std::max(1.f, at.height));
    scenery.moved = true;
  }
}

void share_camera(const Scenery& a, Scenery& b, bool follows) {
  Camera wanted = a.camera;
  if (follows) wanted.target = b.drawing.stand + a.camera.shift;
  // Compared with what it was given last: each keeps itself above the ground afterwards.
  const auto same = [&](const Camera& now) {
    return wanted.target == now.target && wanted.yaw == now.yaw && wanted.pitch == now.pitch &&
           wanted.distance == now.distance;
  };
  if (b.shared && same(*b.shared)) return;
  b.shared = wanted;
  b.camera = wanted;
  b.moved = true;
}

Overlays true_overlays(const Session& session, Overlays chosen, bool hides_margin) {
  const bool runs = session.showing() == Showing::run;
  chosen.margin.reset();
  chosen.stands.clear();
  chosen.stands_short.clear();
  if (!runs && !session.answer_is_of_scene()) {
    chosen.wheel_loads = chosen.centre_of_gravity = chosen.support = false;
    return chosen;
  }
  if (!runs) chosen = known_overlays(chosen, session.statics());
  if (!session.model() || hides_margin) return chosen;
  if (runs) {
    chosen.margin = angle_left(*session.model(), session.shown());
  } else {
    chosen.stands = stand_words(session.verdict());
    chosen.stands_short = short_stand_words(session.verdict());
  }
  return chosen;
}

void show_scenery(Scenery& scenery, const Session& session, ViewChoices& choices, const Rect& view, double scale,
                  double time, bool hides_margin, const Session* other, std::span<const Rect> taken) {
  const int overlays = 2 * bits_of(choices.overlays) + (hides_margin ? 1 : 0);
  if (other && !other->model()) other = nullptr;
  const unsigned second = other ? other->version() : 0;
  if (scenery.ghost_version != second || scenery.drawn_version != session.version() ||
      scenery.drawn_overlays != overlays) {
    const Overlays wanted = true_overlays(session, choices.overlays, hides_margin);
    scenery.drawing = draw(session.scene(), *session.model(), session.shown(), wanted);
    scenery.ghost.reset();
    if (other) {
      const Overlays bare = true_overlays(*other, choices.overlays, true);
      scenery.ghost = as_ghost(draw(other->scene(), *other->model(), other->shown(), bare), "B", &scenery.drawing);
      tag_labels(scenery.drawing, "A");
      widen_to(scenery.drawing, *scenery.ghost);
    }
    scenery.ghost_version = second;
    scenery.drawn_version = session.version();
    scenery.drawn_overlays = overlays;
    scenery.moved = true;
  }
  if (choices.go_to) {
    scenery.camera = camera_at(*choices.go_to, scenery.drawing, view.width / std::max(1.f, view.height));
    choices.go_to.reset();
    scenery.moved = true;
  }
  const int width = std::max(1, static_cast<int>(view.width)), height = std::max(1, static_cast<int>(view.height));
  if (width != scenery.width || height != scenery.height) scenery.moved = true;
  const Drawing* ghost = scenery.ghost ? &*scenery.ghost : nullptr;
  if (scenery.moved) {
    // Not while the machine hangs on the mouse: the ground would run away under it.
    const bool dragged = choices.drawer == Drawer::ground && takes_mouse(choices.placing);
    if (choices.follow && !dragged) follow(scenery.camera, scenery.drawing);
    keep_above_ground(scenery.camera, scenery.drawing);
    pace(scenery, time);
    const auto drawn = [&](int size) { return std::max(1, static_cast<int>(size * scenery.detail)); };
    scenery.renderer.render(scenery.drawing, scenery.camera, drawn(width), drawn(height), Quality::moving, ghost);
    scenery.width = width, scenery.height = height;
    scenery.moved = scenery.fine = false;
    scenery.moved_at = time;
  } else if (!scenery.fine && time - scenery.moved_at > kRestAfter) {
    scenery.renderer.render(scenery.drawing, scenery.camera, width, height, Quality::still, ghost);
    scenery.fine = true;
  }
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  if (choices.overlays.labels) {
    list.PushClipRect(view.low(), view.high());
    std::vector<ViewRect> kept;
    for (const Rect& r : taken) kept.push_back({r.x, r.y, r.width, r.height});
    const ImGuiIO& io = ImGui::GetIO();
    const bool pointed = !io.WantCaptureMouse && !ImGui::IsAnyMouseDown();
    const Label* under =
        draw_labels(list, scenery.drawing, scenery.camera, {view.x, view.y, view.width, view.height}, scale, ghost,
                    kept, pointed ? std::optional(glm::dvec2(io.MousePos.x, io.MousePos.y)) : std::nullopt);
    list.PopClipRect();
    if (under && !under->words.empty()) ImGui::SetTooltip("%s", under->words.c_str());
  }
}

void place_scenery(const Scenery& scenery, const Rect& view, int window_height) {
  const int left = static_cast<int>(view.x), bottom = window_height - static_cast<int>(view.y + view.height);
  const int right = left + static_cast<int>(view.width), top = bottom + static_cast<int>(view.height);
  const bool same = scenery.renderer.width() == right - left && scenery.renderer.height() == top - bottom;
  glBindFramebuffer(GL_READ_FRAMEBUFFER, scenery.renderer.framebuffer());
  glBlitFramebuffer(0, 0, scenery.renderer.width(), scenery.renderer.height(), left, bottom, right, top,
                    GL_COLOR_BUFFER_BIT, same ? GL_NEAREST : GL_LINEAR);
  glBindFramebuffer(GL_READ_FRAMEBUFFER, 0);
}

}  // namespace sidehill::screen

// Draws a Drawing with OpenGL 3.3 into a framebuffer of its own, which knows nothing of any window. Keeps meshes by
// their shape. Knows no simulation, no panel. Needs a current OpenGL context for its whole life (GLFW's, or
// render/screen/offscreen).
#pragma once
#include <memory>

#include "render/screen/camera.h"
#include "render/screen/drawing.h"

namespace sidehill {

enum class Quality {
  moving,  // one sample a pixel: for a view that changes
  still,   // four samples a pixel: for pictures, and for a view that has come to rest
};

struct RenderStats {
  int triangles = 0;  // of the last picture, all passes
  bool shadow_drawn = false;
  int meshes_made = 0;  // by the last call
};

class Renderer {
 public:
  Renderer();  // throws std::runtime_error if the context cannot do OpenGL 3.3
  ~Renderer();
  Renderer(const Renderer&) = delete;
  Renderer& operator=(const Renderer&) = delete;

  // Draws into texture(), width x height pixels (each 1 to 8192; others are clamped). Leaves the framebuffer, viewport
  // and blending state as it found them. Labels are not drawn here: see render/screen/labels.
  void render(const Drawing& drawing, const Camera& camera, int width, int height, Quality quality = Quality::moving);

  unsigned texture() const;      // RGBA8, bottom row first (as OpenGL has it: flip v when shown with ImGui::Image)
  unsigned framebuffer() const;  // for blitting
  int width() const;
  int height() const;
  RenderStats stats() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill

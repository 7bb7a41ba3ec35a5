// Draws a Drawing with OpenGL 3.3 into a framebuffer of its own, which knows nothing of any window. Keeps meshes by
// their shape. Knows no simulation, no panel. Needs a current OpenGL context for its whole life (GLFW's, or
// render/screen/gl/offscreen).
#pragma once
#include <memory>

#include "render/namespaces.h"
#include "render/screen/scene3d/camera.h"
#include "render/screen/scene3d/drawing.h"

namespace sidehill::screen {

enum class Quality {
  moving,  // one sample a pixel, coarse meshes: for a view that changes
  plain,   // one sample a pixel, full meshes
  still,   // four samples a pixel, full meshes: for pictures, and for a view that has come to rest
};

// Programs, and meshes by their shape and detail: what several renderers of one context share.
struct MeshStore;

struct RenderStats {
  int triangles = 0;  // of the last picture, all passes
  bool shadow_drawn = false;
  int meshes_made = 0;  // by the last call
};

class Renderer {
 public:
  Renderer();  // throws std::runtime_error if the context cannot do OpenGL 3.3
  // A second view in the same context: has its own picture, ground and shadow, shares programs and meshes with `other`,
  // which may go away first.
  static Renderer beside(const Renderer& other);
  ~Renderer();
  Renderer(Renderer&&) noexcept;
  Renderer& operator=(Renderer&&) noexcept;

  // Draws into texture(), width x height pixels (each 1 to 8192; others are clamped). Leaves the framebuffer, viewport
  // and blending state as it found them. Labels are not drawn here: see render/screen/labels.
  // `ghost` (render/screen/scene3d/ghost) is a second machine: seen through, hatched, outlined, dashed where something
  // hides it; it casts no shadow.
  void render(const Drawing& drawing, const Camera& camera, int width, int height, Quality quality = Quality::moving,
              const Drawing* ghost = nullptr);

  unsigned texture() const;      // RGBA8, bottom row first (as OpenGL has it: flip v when shown with ImGui::Image)
  unsigned framebuffer() const;  // for blitting
  int width() const;
  int height() const;
  RenderStats stats() const;

 private:
  struct Impl;
  explicit Renderer(std::shared_ptr<MeshStore> store);
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill::screen

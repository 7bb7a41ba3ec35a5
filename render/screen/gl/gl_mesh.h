// Meshes and framebuffers in the graphics memory. Owns OpenGL names; needs the context they were made in to be current.
#pragma once
#include "render/namespaces.h"
#include "render/screen/scene3d/mesh.h"

namespace sidehill::screen {

class GlMesh {
 public:
  GlMesh();
  ~GlMesh();
  GlMesh(const GlMesh&) = delete;
  GlMesh& operator=(const GlMesh&) = delete;

  void set(const Mesh& mesh, bool changes_often = false);
  void draw() const;
  int triangles() const { return count_ / 3; }

 private:
  unsigned array_ = 0, vertices_ = 0, indices_ = 0;
  int count_ = 0;
};

// A colour picture, with its depth as a second texture if wanted.
class GlTarget {
 public:
  GlTarget();
  ~GlTarget();
  GlTarget(const GlTarget&) = delete;
  GlTarget& operator=(const GlTarget&) = delete;

  void resize(int width, int height, bool depth);  // keeps what it has if the size is the same
  unsigned framebuffer() const { return framebuffer_; }
  unsigned colour_framebuffer() const { return colour_; }  // the same picture without its depth, which may then be read
  unsigned texture() const { return texture_; }
  unsigned depth_texture() const { return depth_; }
  int width() const { return width_; }
  int height() const { return height_; }

 private:
  unsigned framebuffer_ = 0, colour_ = 0, texture_ = 0, depth_ = 0;
  int width_ = 0, height_ = 0;
};

}  // namespace sidehill::screen

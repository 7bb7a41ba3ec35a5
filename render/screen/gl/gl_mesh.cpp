#include "render/screen/gl/gl_mesh.h"

#include <epoxy/gl.h>

#include <cstddef>

namespace sidehill::screen {

GlMesh::GlMesh() {
  glGenVertexArrays(1, &array_);
  glGenBuffers(1, &vertices_);
  glGenBuffers(1, &indices_);
  glBindVertexArray(array_);
  glBindBuffer(GL_ARRAY_BUFFER, vertices_);
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_);
  const auto attribute = [](unsigned place, int size, unsigned type, unsigned char normalised, std::size_t offset) {
    glEnableVertexAttribArray(place);
    // OpenGL takes an offset where it once took a pointer.
    // NOLINTNEXTLINE(performance-no-int-to-ptr)
    glVertexAttribPointer(place, size, type, normalised, sizeof(Vertex), reinterpret_cast<const void*>(offset));
  };
  attribute(0, 3, GL_FLOAT, GL_FALSE, offsetof(Vertex, place));
  attribute(1, 3, GL_FLOAT, GL_FALSE, offsetof(Vertex, normal));
  attribute(2, 4, GL_UNSIGNED_BYTE, GL_TRUE, offsetof(Vertex, paint));
  attribute(3, 1, GL_FLOAT, GL_FALSE, offsetof(Vertex, light));
  glBindVertexArray(0);
}

GlMesh::~GlMesh() {
  glDeleteVertexArrays(1, &array_);
  glDeleteBuffers(1, &vertices_);
  glDeleteBuffers(1, &indices_);
}

void GlMesh::set(const Mesh& mesh, bool changes_often) {
  const unsigned use = changes_often ? GL_STREAM_DRAW : GL_STATIC_DRAW;
  glBindVertexArray(array_);
  glBindBuffer(GL_ARRAY_BUFFER, vertices_);
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(mesh.vertices.size() * sizeof(Vertex)), mesh.vertices.data(),
               use);
  glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(mesh.indices.size() * sizeof(std::uint32_t)),
               mesh.indices.data(), use);
  glBindVertexArray(0);
  count_ = static_cast<int>(mesh.indices.size());
}

void GlMesh::draw() const {
  if (count_ == 0) return;
  glBindVertexArray(array_);
  glDrawElements(GL_TRIANGLES, count_, GL_UNSIGNED_INT, nullptr);
}

GlTarget::GlTarget() {
  glGenFramebuffers(1, &framebuffer_);
  glGenTextures(1, &texture_);
  glGenFramebuffers(1, &colour_);
  glGenTextures(1, &depth_);
}

GlTarget::~GlTarget() {
  glDeleteFramebuffers(1, &framebuffer_);
  glDeleteTextures(1, &texture_);
  glDeleteFramebuffers(1, &colour_);
  glDeleteTextures(1, &depth_);
}

void GlTarget::resize(int width, int height, bool depth) {
  if (width == width_ && height == height_) return;
  width_ = width;
  height_ = height;
  glBindTexture(GL_TEXTURE_2D, texture_);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture_, 0);
  if (depth) {
    glBindTexture(GL_TEXTURE_2D, depth_);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_DEPTH_COMPONENT24, width, height, 0, GL_DEPTH_COMPONENT, GL_UNSIGNED_INT,
                 nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, depth_, 0);
    glBindFramebuffer(GL_FRAMEBUFFER, colour_);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture_, 0);
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
  }
}

}  // namespace sidehill::screen

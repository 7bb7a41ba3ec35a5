// A linked shader program and its uniforms by name. Owns an OpenGL name; needs the context it was made in to be
// current.
#pragma once
#include <epoxy/gl.h>

#include <glm/gtc/type_ptr.hpp>
#include <string>
#include <utility>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/gl/shaders.h"

namespace sidehill::screen {

class Program {
 public:
  Program(const std::string& vertex, const std::string& fragment) : id_(shaders::program(vertex, fragment)) {}
  ~Program() { glDeleteProgram(id_); }
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;
  void use() const { glUseProgram(id_); }
  void set(const char* name, const glm::mat4& m) const { glUniformMatrix4fv(at(name), 1, GL_FALSE, glm::value_ptr(m)); }
  void set(const char* name, glm::vec2 v) const { glUniform2f(at(name), v.x, v.y); }
  void set(const char* name, glm::vec3 v) const { glUniform3f(at(name), v.x, v.y, v.z); }
  void set(const char* name, glm::vec4 v) const { glUniform4f(at(name), v.x, v.y, v.z, v.w); }
  void set(const char* name, float v) const { glUniform1f(at(name), v); }
  void set(const char* name, const std::vector<glm::vec4>& v) const {
    glUniform4fv(at(name), static_cast<int>(v.size()), glm::value_ptr(v[0]));
  }
  void set_unit(const char* name, int unit) const { glUniform1i(at(name), unit); }

 private:
  // Asking the driver by name costs more than setting the value; names are literals, so their address distinguishes
  // them (the same text at two addresses is only asked for twice). -1 where unused: OpenGL ignores it.
  int at(const char* name) const {
    for (const auto& [known, place] : places_)
      if (known == name) return place;
    return places_.emplace_back(name, glGetUniformLocation(id_, name)).second;
  }
  unsigned id_;
  mutable std::vector<std::pair<const char*, int>> places_;
};

}  // namespace sidehill::screen

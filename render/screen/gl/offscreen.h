// An OpenGL 3.3 context without a window or display, through EGL's surfaceless platform. Knows nothing of what is
// drawn.
#pragma once
#include <memory>

#include "render/namespaces.h"

namespace sidehill::screen {

class OffscreenContext {
 public:
  OffscreenContext();  // made current on this thread; throws std::runtime_error with one clear line if there is no EGL
  ~OffscreenContext();
  OffscreenContext(const OffscreenContext&) = delete;
  OffscreenContext& operator=(const OffscreenContext&) = delete;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill::screen

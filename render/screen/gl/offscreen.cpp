#include "render/screen/gl/offscreen.h"

#include <epoxy/egl.h>
#include <epoxy/gl.h>

#include <array>
#include <stdexcept>

namespace sidehill::screen {

struct OffscreenContext::Impl {
  EGLDisplay display = EGL_NO_DISPLAY;
  EGLContext context = EGL_NO_CONTEXT;
  ~Impl() {
    if (display == EGL_NO_DISPLAY) return;
    eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    if (context != EGL_NO_CONTEXT) eglDestroyContext(display, context);
    eglTerminate(display);
  }
};

OffscreenContext::OffscreenContext() : impl_(std::make_unique<Impl>()) {
  const auto fail = [](const char* what) {
    throw std::runtime_error(std::string("no picture can be drawn here: ") + what);
  };
  if (!epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_MESA_platform_surfaceless"))
    fail("EGL has no surfaceless platform (install libegl1 and libgl1-mesa-dri)");
  impl_->display = eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
  if (impl_->display == EGL_NO_DISPLAY) fail("EGL gives no surfaceless display");
  EGLint major = 0, minor = 0;
  if (!eglInitialize(impl_->display, &major, &minor)) {
    impl_->display = EGL_NO_DISPLAY;
    fail("EGL does not start (install libgl1-mesa-dri)");
  }
  if (!eglBindAPI(EGL_OPENGL_API)) fail("EGL knows no desktop OpenGL");
  constexpr std::array<EGLint, 7> kWanted = {
      EGL_CONTEXT_MAJOR_VERSION,           3,       EGL_CONTEXT_MINOR_VERSION, 3, EGL_CONTEXT_OPENGL_PROFILE_MASK,
      EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE};
  impl_->context = eglCreateContext(impl_->display, EGL_NO_CONFIG_KHR, EGL_NO_CONTEXT, kWanted.data());
  if (impl_->context == EGL_NO_CONTEXT) fail("no OpenGL 3.3");
  if (!eglMakeCurrent(impl_->display, EGL_NO_SURFACE, EGL_NO_SURFACE, impl_->context))
    fail("the OpenGL context cannot be used");
}

OffscreenContext::~OffscreenContext() = default;

}  // namespace sidehill::screen

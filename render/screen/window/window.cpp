#include "render/screen/window/window.h"

#include <epoxy/gl.h>
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <imgui.h>
#include <imgui/backends/imgui_impl_glfw.h>
#include <imgui/backends/imgui_impl_opengl3.h>

#include <algorithm>
#include <utility>

#include "render/screen/kit/key_queue.h"
#include "sim/base/errors.h"
#include "sim/scene/scene.h"

namespace sidehill::screen {

struct Window::Impl {
  GLFWwindow* window = nullptr;
  std::u32string typed;
  std::vector<std::string> dropped;
  KeyQueue keys;             // as they came in
  bool drawn = true;         // a frame has been drawn since keys were handed on
  std::vector<int> pressed;  // keys that went down since the last frame
  bool woken = true;

  void hand_on(const KeyEvent& event);
};

namespace {

// GLFW reports what went wrong through a callback without a place to keep it but this.
std::string& last_error() {
  static std::string text;
  return text;
}

template <typename Impl>
Impl& of(GLFWwindow* window) {
  return *static_cast<Impl*>(glfwGetWindowUserPointer(window));
}

}  // namespace

// To ImGui, and to the letters of commands where nothing is being typed.
void Window::Impl::hand_on(const KeyEvent& event) {
  const bool types = ImGui::GetIO().WantTextInput;
  if (event.letter) {
    ImGui_ImplGlfw_CharCallback(window, event.key);
    if (!types) typed.push_back(static_cast<char32_t>(event.key));
    return;
  }
  const int key = static_cast<int>(event.key);
  const int action = event.action == KeyEvent::up     ? GLFW_RELEASE
                     : event.action == KeyEvent::down ? GLFW_PRESS
                                                      : GLFW_REPEAT;
  ImGui_ImplGlfw_KeyCallback(window, key, event.scancode, action, event.mods);
  if (action == GLFW_PRESS) pressed.push_back(key);
  if (action == GLFW_RELEASE || types) return;
  if (key == GLFW_KEY_UP) typed.push_back(U'\u2191');
  if (key == GLFW_KEY_DOWN) typed.push_back(U'\u2193');
  // With Ctrl no letter is typed: by the letter's own number, as a terminal does it. Ctrl+Shift+Z is Ctrl+Y.
  const char* name = (event.mods & GLFW_MOD_CONTROL) != 0 ? glfwGetKeyName(key, 0) : nullptr;
  if (name && name[0] >= 'a' && name[0] <= 'z' && name[1] == 0) {
    const char letter = name[0] == 'z' && (event.mods & GLFW_MOD_SHIFT) != 0 ? 'y' : name[0];
    typed.push_back(static_cast<char32_t>(letter - 'a' + 1));
  }
}

Window::Window(const char* title) : impl_(std::make_unique<Impl>()) {
  glfwSetErrorCallback([](int, const char* text) { last_error() = text; });
  if (!glfwInit())
    throw InputError(
        fmt::format("view: no display to open a window on ({}); `solve` and `picture` need none", last_error()));
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  // Four fifths of the screen, and no less than everything needs.
  int width = 1280, height = 720;
  if (GLFWmonitor* monitor = glfwGetPrimaryMonitor()) {
    if (const GLFWvidmode* mode = glfwGetVideoMode(monitor))
      width = std::max(width, mode->width * 4 / 5), height = std::max(height, mode->height * 4 / 5);
  }
  impl_->window = glfwCreateWindow(width, height, title, nullptr, nullptr);
  if (!impl_->window) {
    const std::string why = last_error();
    glfwTerminate();
    throw InputError(
        fmt::format("view: this display gives no window with OpenGL 3.3 ({}); `solve` and `picture` need none", why));
  }
  glfwSetWindowSizeLimits(impl_->window, 960, 600, GLFW_DONT_CARE, GLFW_DONT_CARE);
  glfwMakeContextCurrent(impl_->window);
  glfwSwapInterval(1);
  glfwSetWindowUserPointer(impl_->window, impl_.get());
  // ImGui's backend is installed after these and calls them in turn; keys it is handed by hand_on() alone.
  GLFWwindow* w = impl_->window;
  glfwSetCursorPosCallback(w, [](GLFWwindow* at, double, double) { of<Impl>(at).woken = true; });
  glfwSetMouseButtonCallback(w, [](GLFWwindow* at, int, int, int) { of<Impl>(at).woken = true; });
  glfwSetScrollCallback(w, [](GLFWwindow* at, double, double) { of<Impl>(at).woken = true; });
  glfwSetDropCallback(w, [](GLFWwindow* at, int count, const char** paths) {
    of<Impl>(at).woken = true;
    of<Impl>(at).dropped.assign(paths, paths + count);
  });
  glfwSetKeyCallback(w, [](GLFWwindow* at, int key, int scancode, int action, int mods) {
    KeyEvent event{false, static_cast<unsigned>(key), scancode, mods};
    event.action = action == GLFW_RELEASE ? KeyEvent::up : action == GLFW_PRESS ? KeyEvent::down : KeyEvent::again;
    event.leads = key == GLFW_KEY_TAB || key == GLFW_KEY_ENTER || key == GLFW_KEY_KP_ENTER || key == GLFW_KEY_ESCAPE;
    if (key >= 0) of<Impl>(at).keys.add(event);
  });
  glfwSetFramebufferSizeCallback(w, [](GLFWwindow* at, int, int) { of<Impl>(at).woken = true; });
  glfwSetWindowRefreshCallback(w, [](GLFWwindow* at) { of<Impl>(at).woken = true; });
  glfwSetCharCallback(w, [](GLFWwindow* at, unsigned letter) { of<Impl>(at).keys.add({true, letter}); });
  IMGUI_CHECKVERSION();
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  const GLFWkeyfun keys = glfwSetKeyCallback(w, nullptr);
  const GLFWcharfun letters = glfwSetCharCallback(w, nullptr);
  ImGui_ImplGlfw_InitForOpenGL(w, true);
  glfwSetKeyCallback(w, keys);
  glfwSetCharCallback(w, letters);
  ImGui_ImplOpenGL3_Init("#version 330");
}

Window::~Window() {
  ImGui_ImplOpenGL3_Shutdown();
  ImGui_ImplGlfw_Shutdown();
  ImGui::DestroyContext();
  glfwDestroyWindow(impl_->window);
  glfwTerminate();
}

bool Window::wait(double seconds) {
  if (seconds > 0)
    glfwWaitEventsTimeout(seconds);
  else
    glfwPollEvents();
  if (!impl_->keys.empty()) {
    impl_->woken = true;
    if (std::exchange(impl_->drawn, false))
      for (const KeyEvent& event : impl_->keys.next_frame()) impl_->hand_on(event);
  }
  return !glfwWindowShouldClose(impl_->window);
}

void Window::stay_open() { glfwSetWindowShouldClose(impl_->window, GLFW_FALSE); }

bool Window::keys_wait() const { return !impl_->keys.empty(); }

bool Window::woken() const { return impl_->woken; }

std::u32string Window::take_typed() { return std::exchange(impl_->typed, {}); }

std::vector<std::string> Window::take_dropped() { return std::exchange(impl_->dropped, {}); }

void Window::set_title(const char* title) { glfwSetWindowTitle(impl_->window, title); }

void Window::begin_frame() {
  impl_->woken = !impl_->keys.empty();
  impl_->drawn = true;
  ImGui_ImplOpenGL3_NewFrame();
  ImGui_ImplGlfw_NewFrame();
  // ImGui looks at the keys once a frame: one that was pressed and let go in between must not be lost.
  std::vector<int> let_go;
  bool* down = ImGui::GetIO().KeysDown;
  for (const int key : std::exchange(impl_->pressed, {})) {
    if (key >= IM_ARRAYSIZE(ImGui::GetIO().KeysDown) || down[key]) continue;
    down[key] = true;
    let_go.push_back(key);
  }
  ImGui::NewFrame();
  for (const int key : let_go) down[key] = false;
}

void Window::begin_paint(Colour c) {
  ImGui::Render();
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  glViewport(0, 0, width(), height());
  glDisable(GL_SCISSOR_TEST);
  glClearColor(static_cast<float>(c.r) / 255, static_cast<float>(c.g) / 255, static_cast<float>(c.b) / 255, 1);
  glClear(GL_COLOR_BUFFER_BIT);
}

void Window::end_frame(ImDrawData* over) {
  ImGui_ImplOpenGL3_RenderDrawData(over);
  glfwSwapBuffers(impl_->window);
}

void Window::refresh_fonts() {
  ImGui_ImplOpenGL3_DestroyFontsTexture();
  ImGui_ImplOpenGL3_CreateFontsTexture();  // the backend makes it by itself only once
}

int Window::width() const {
  int w = 0, h = 0;
  glfwGetFramebufferSize(impl_->window, &w, &h);
  return std::max(1, w);
}

int Window::height() const {
  int w = 0, h = 0;
  glfwGetFramebufferSize(impl_->window, &w, &h);
  return std::max(1, h);
}

double Window::scale() const {
  float x = 1, y = 1;
  glfwGetWindowContentScale(impl_->window, &x, &y);
  return std::clamp(static_cast<double>(std::max(x, y)), 1.0, 3.0);
}

}  // namespace sidehill::screen

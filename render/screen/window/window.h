// A window of the desktop with OpenGL 3.3 and Dear ImGui in it: opens, waits for what a person does, shows. Knows GLFW
// and ImGui's backends; no scene, no panel.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/kit/theme.h"

struct GLFWwindow;
struct ImDrawData;

namespace sidehill::screen {

class Window {
 public:
  // Throws InputError with one clear line where there is no display or no OpenGL 3.3.
  explicit Window(const char* title);
  ~Window();
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;

  // Takes in what a person has done. Waits up to `seconds` for it, 0 = not at all. Returns false once the window is to
  // close.
  bool wait(double seconds);
  void stay_open();        // it was to close, and will not
  bool keys_wait() const;  // for the next frame: letters typed faster than frames are drawn
  bool woken() const;      // something happened since the last call of begin_frame
  // Letters typed since the last call, as long as no text field wanted them; the keys up and down as their arrows.
  // Ctrl with a letter types its number, as in a terminal: Ctrl+A is 1.
  std::u32string take_typed();
  std::vector<std::string> take_dropped();  // paths of files dropped on the window since the last call
  void set_title(const char* title);

  void begin_frame();  // starts an ImGui frame
  void begin_paint(
      Colour background);            // after the frame is built: clears the window and makes it the target of drawing
  void end_frame(ImDrawData* over);  // draws these lists of the frame over what has been painted, and shows it
  void refresh_fonts();              // after load_fonts

  int width() const;  // [px] of the framebuffer
  int height() const;
  double scale() const;  // of the desktop, 1 = ordinary screen

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill::screen

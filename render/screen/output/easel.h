// Paints whole pictures - machine, labels, a strip of read-outs, the caution line - into pixels, one after the other:
// films, and whoever shows a moment that is not on the screen. Knows no simulation.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/gl/renderer.h"
#include "render/screen/output/picture.h"
#include "render/screen/scene3d/camera.h"

namespace sidehill::screen {

// Whose OpenGL is drawn with.
enum class GlHost {
  own,      // a context of its own, without a display; for commands and tests
  current,  // the one that is current on this thread: within the window, which has one
};

struct StripEntry {
  std::string name, value;
  bool warn = false;
  double room = 100;  // [px] at scale 1, always the same, so that nothing jumps from frame to frame
};

// A sheet of words laid over the picture.
struct PictureCard {
  std::string heading;
  std::vector<std::string> lines;  // a paragraph each
};

// What stands below the picture.
struct PictureStrip {
  std::string title;
  std::vector<StripEntry> entries;
  bool readouts = true;                  // false: the caution line alone
  std::vector<std::string> verdict;      // below the entries, a sentence each: what holds at rest, the headline first
  bool grave = false;                    // the headline stands out
  std::optional<PictureCard> card = {};  // over the picture, as large as it needs
};

class Easel {
 public:
  // Throws std::runtime_error with one clear line if nothing can be drawn here.
  Easel(int width, int height, GlHost host);  // 64 to 8192 [px]
  ~Easel();
  Easel(const Easel&) = delete;
  Easel& operator=(const Easel&) = delete;

  // The caution line stands at the foot, on as many lines as it needs. Leaves the caller's ImGui context and
  // framebuffer as they were.
  Pixels paint(const Drawing& drawing, const Camera& camera, const PictureStrip& strip, Quality quality);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill::screen

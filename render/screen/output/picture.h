// A scene as a picture file, without a window or display: `sidehill picture`. Same scene, same pixels.
#pragma once
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/gl/renderer.h"
#include "render/screen/scene3d/camera.h"
#include "sim/insight/verdict.h"
#include "sim/scene/scene.h"

namespace sidehill::screen {

struct PictureOptions {
  int width = 1600;  // [px], 64 to 8192
  int height = 900;  // [px], 64 to 8192
  CameraPreset camera = CameraPreset::scene;
  Overlays overlays;
  bool readouts = true;  // strip: title, slope, what gives way first, mass, the verdict, the caution
  // still: 2x2 supersampled, twice the size each way, means of the shown (gamma) values.
  Quality quality = Quality::still;
  std::optional<Scene> ghost = {};  // a second set-up, drawn as a ghost where it would stand; labels say A and B
};

struct Pixels {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgba;  // top row first
};

// The read-out "Gives way first": "slides at 30.5° = 59 %"; "nothing", "no answer".
std::string first_way_words(const StandVerdict& verdict);

// Answers the scene (solve_statics; if it does not rest, a moment of its run: on the way over, else the end; without
// an answer as it is set down, with no loads) and draws it. `drawn`: receives what the foot says of that moment; empty
// where it rests. Throws InputError for an impossible scene, std::runtime_error with one clear line if nothing can be
// drawn here (no EGL).
Pixels picture(const Scene& scene, const PictureOptions& options = {}, std::string* drawn = nullptr);

// As PNG, written as sim/saving.h says. Throws InputError if it cannot be written.
void write_png(const std::filesystem::path& path, const Pixels& pixels);

inline void write_picture(const Scene& scene, const std::filesystem::path& path, const PictureOptions& options = {}) {
  write_png(path, picture(scene, options));
}

}  // namespace sidehill::screen

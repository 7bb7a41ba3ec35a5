// A film of a recorded run: frames painted one by one and handed to ffmpeg. Advanced a frame at a time, so that a
// window stays alive while it is made. Between two stored frames (20 ms) poses are passed over smoothly; nothing else
// is made up (render/screen/desk/between). The caution line is in every frame.
#pragma once
#include <atomic>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/output/easel.h"
#include "render/screen/scene3d/camera.h"
#include "sim/insight/lesson.h"
#include "sim/motion/recording.h"

namespace sidehill::screen {

struct FilmOptions {
  int width = 1280, height = 720;    // [px], 64 to 4096; even for mp4 and webm
  double frames_a_second = 25;       // 1 to 60
  double slow = 1;                   // so many times slower than it happened, 0.1 to 100
  std::optional<double> start, end;  // of the run [s]; empty = its own
  CameraPreset preset = CameraPreset::scene;
  std::optional<Camera> camera;  // in place of a preset
  bool follow = true;            // it travels with the machine
  Overlays overlays;
  bool readouts = true;  // time, slope, degrees left; the caution stands there anyway
  bool fine = true;      // 2x2 supersampled frames
  GlHost host = GlHost::own;
  // The first moment without a card, then a card over it before anything moves; and one over the last moment after it,
  // each so long [s of film].
  std::optional<PictureCard> opening, closing;
  double before_seconds = 3, opening_seconds = 10, closing_seconds = 12;
  // What it asks stands first in the strip; the answer of the machine at rest does not stand there, which would give
  // the lesson's away.
  std::optional<Lesson> lesson;
};

// One run after the other, each under its own title.
struct FilmPart {
  Recording recording;
  std::string title;  // empty = its scene's
};

// Read from any thread; `cancel` may be set from any.
struct FilmProgress {
  std::atomic<int> done = 0, total = 0;  // frames
  std::atomic<bool> cancel = false;
};

enum class FilmState { running, finished, cancelled };

class Film {
 public:
  // Throws InputError with one line: a bad name, options out of range, a recording without frames, no ffmpeg;
  // std::runtime_error if nothing can be drawn here.
  Film(Recording recording, const std::filesystem::path& path, const FilmOptions& options = {});
  // `start` and `end` are of each part.
  Film(std::vector<FilmPart> parts, const std::filesystem::path& path, const FilmOptions& options = {});
  ~Film();  // unless finished, nothing is left of it
  Film(const Film&) = delete;
  Film& operator=(const Film&) = delete;

  // Makes one frame; the one after the last ends the film and gives it its name. Once it is not `running` any more
  // nothing happens. With GlHost::current, call it on the thread that draws. Throws InputError if ffmpeg gives up.
  FilmState step();
  FilmState state() const;
  FilmProgress& progress();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill::screen

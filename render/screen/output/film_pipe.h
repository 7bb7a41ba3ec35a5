// Raw frames into ffmpeg, another program, through a pipe; the film appears whole under its name or not at all. Knows
// no OpenGL, no simulation.
#pragma once
#include <filesystem>
#include <memory>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/output/picture.h"

namespace sidehill::screen {

class FilmPipe {
 public:
  // The format goes by the name: .mp4, .webm or .gif. Throws InputError with one line: another name, odd sizes for mp4
  // and webm, a place that cannot be written, ffmpeg not installed (and how to install it).
  FilmPipe(std::filesystem::path path, int width, int height, double frames_a_second);
  ~FilmPipe();  // unless finished: ends ffmpeg and removes what it had written
  FilmPipe(const FilmPipe&) = delete;
  FilmPipe& operator=(const FilmPipe&) = delete;

  // One frame, top row first. Both throw InputError with ffmpeg's own last line if it has given up.
  void write(const Pixels& frame);
  void finish();  // waits for ffmpeg, then renames the film to its name

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

// What goes by the name; throws InputError for any other ending.
void check_film_name(const std::filesystem::path& path);

}  // namespace sidehill::screen

// `sidehill film`: a film of a scene's run or of a recording. What it shows comes from render/screen/film.
#pragma once
#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

namespace sidehill {

struct FilmCommand {
  std::string file;  // where the film goes: .mp4, .webm or .gif
  std::string from = "three_quarter";
  int width = 1280, height = 720;
  double frames_a_second = 25, slow = 1;
  std::optional<double> start, end;  // [s]
  bool bare = false;                 // no labels, no read-outs
  bool force = false;                // replace the file
};

void add_film_flags(CLI::App& sub, FilmCommand& options);

// Returns the exit code; 3 if the simulation diverged (the film then ends there). `source`: a scene file or a recording
// (.run). Progress on standard error where that is a terminal. Throws InputError for bad input.
int film_command(const FilmCommand& options, const std::string& source, const std::vector<std::string>& changes);

}  // namespace sidehill

// `sidehill film`: a film of a scene's run or of a recording. What it shows comes from render/screen/film.
#include <fmt/format.h>

#include <optional>
#include <string>
#include <vector>

#include "render/verbs/arguments.h"
#include "render/verbs/film_steps.h"
#include "render/verbs/outputs.h"
#include "render/verbs/recording_of.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene.h"
#ifdef SIDEHILL_SCREEN
#include "render/screen/output/film.h"
#include "render/screen/output/film_pipe.h"
#endif

namespace sidehill {
namespace {

struct FilmCommand {
  SceneArguments in;
  std::string file;  // where the film goes: .mp4, .webm or .gif
  std::string from = "scene";
  int width = 1280, height = 720;
  double frames_a_second = 25, slow = 1;
  std::optional<double> start, end;  // [s]
  bool bare = false;                 // no labels, no read-outs
  bool force = false;                // replace the file
  Units units = Units::si;
};

void add_film_flags(CLI::App& sub, FilmCommand& options) {
  sub.add_option("file", options.file, "where the film goes (.mp4, .webm or .gif)")->required();
  sub.add_option("--camera,--from-camera", options.from,
                 "scene (as its [view] asks), three_quarter, front, rear, left, right, downhill or top");
  sub.add_option("--width", options.width, "in pixels")->check(whole_number(64, 4096));
  sub.add_option("--height", options.height, "in pixels")->check(whole_number(64, 4096));
  sub.add_option("--fps", options.frames_a_second, "frames per second")->check(CLI::Range(1.0, 60.0));
  sub.add_option("--slow", options.slow, "how many times slower than real time")->check(CLI::Range(0.1, 100.0));
  sub.add_option("--start-s", options.start, "begin at this moment of the run [s]");
  sub.add_option("--end-s", options.end, "end at this moment [s]");
  sub.add_flag("--bare", options.bare, "show only machine, ground and caution");
  add_force_flag(sub, options.force);
}

#ifdef SIDEHILL_SCREEN

int film_verb(const FilmCommand& command, const std::string& source, const std::vector<std::string>& changes) {
  check_film_name(command.file);  // before a long run
  FilmOptions options;
  options.width = command.width;
  options.height = command.height;
  options.frames_a_second = command.frames_a_second;
  options.slow = command.slow;
  options.start = command.start;
  options.end = command.end;
  options.readouts = options.overlays.labels = !command.bare;
  const auto preset = camera_preset_of(command.from);
  if (!preset)
    throw InputError("film: --camera " + command.from + ": not a place to look from (`sidehill film --help`)");
  options.preset = *preset;
  options.overlays.units = command.units;
  if (command.bare) {
    Overlays& o = options.overlays;
    o.wheel_loads = o.centre_of_gravity = o.support = o.slope_wedge = o.ground_lines = false;
  }
  check_plain_file(source);
  check_output(command.file, command.force);
  Recording recording = recording_of("film", source, changes);
  const bool diverged = recording.outcome == Outcome::diverged;
  const std::string divergence = recording.divergence;
  Film film(std::move(recording), command.file, options);
  finish_film(film, command.file);
  if (!diverged) return kAnswered;
  fmt::print(stderr, "{}: the simulation diverged: {}\n", source, divergence);
  return kDiverged;
}

#else

int film_verb(const FilmCommand&, const std::string&, const std::vector<std::string>&) {
  throw InputError("film: this build has no screen part (it was built with -DSIDEHILL_SCREEN=OFF)");
}

#endif

}  // namespace

VerbAction prepare_film(CLI::App& sub) {
  const auto asked = std::make_shared<FilmCommand>();
  take_scene(sub, asked->in);
  add_film_flags(sub, *asked);
  take_units(sub, asked->units);
  return [asked] { return film_verb(*asked, asked->in.scene, asked->in.changes); };
}

}  // namespace sidehill

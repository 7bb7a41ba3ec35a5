// `sidehill picture`: the scene as a PNG file.
#include <fmt/format.h>

#include "render/verbs/arguments.h"
#include "render/verbs/outputs.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/scene/scene_file.h"
#ifdef SIDEHILL_SCREEN
#include "render/screen/output/picture.h"
#endif

namespace sidehill {
namespace {

struct PictureCommand {
  SceneArguments in;
  std::string output, from = "scene";
  int width = 1600, height = 900;
  bool force = false;
  Units units = Units::si;
};

int picture_verb([[maybe_unused]] const PictureCommand& options) {
#ifdef SIDEHILL_SCREEN
  if (!options.output.ends_with(".png"))
    throw InputError("picture: " + options.output + ": a picture is written as PNG, give it a name in .png");
  PictureOptions picture_options;
  picture_options.width = options.width;
  picture_options.height = options.height;
  const auto preset = camera_preset_of(options.from);
  if (!preset)
    throw InputError("picture: --camera " + options.from + ": not a place to look from (`sidehill picture --help`)");
  picture_options.camera = *preset;
  picture_options.overlays.units = options.units;
  const Scene scene = load_scene(options.in.scene, options.in.changes);
  check_output(options.output, options.force);
  write_picture(scene, options.output, picture_options);
  fmt::print("{}\n", options.output);
  return kAnswered;
#else
  throw InputError("picture: this build has no screen part (it was built with -DSIDEHILL_SCREEN=OFF)");
#endif
}

}  // namespace

VerbAction prepare_picture(CLI::App& sub) {
  const auto asked = std::make_shared<PictureCommand>();
  take_scene(sub, asked->in);
  sub.add_option("file", asked->output, "where the picture goes (.png)")->required();
  sub.add_option("--camera,--from", asked->from,
                 "scene (as its [view] asks), three_quarter, front, rear, left, right, downhill or top");
  sub.add_option("--width", asked->width, "in pixels")->check(whole_number(64, 8192));
  sub.add_option("--height", asked->height, "in pixels")->check(whole_number(64, 8192));
  add_force_flag(sub, asked->force);
  take_units(sub, asked->units);
  return [asked] { return picture_verb(*asked); };
}

}  // namespace sidehill

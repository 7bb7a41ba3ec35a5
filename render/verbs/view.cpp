// `sidehill view`: the window.
#include "render/verbs/verb.h"
#include "sim/scene/data_files.h"
#ifdef SIDEHILL_SCREEN
#include "render/screen/window/view.h"
#endif

namespace sidehill {
namespace {

struct ViewCommand {
  SceneArguments in;
};

// The scene opened when none is named.
std::string default_scene_path() {
  for (const auto& path : scene_files())
    if (path.filename() == "first_slope.toml") return path.string();
  return "scenes/first_slope.toml";
}

int view_verb([[maybe_unused]] const ViewCommand& options) {
#ifdef SIDEHILL_SCREEN
  return view(options.in.scene, options.in.changes);
#else
  throw InputError("view: this build has no screen part (it was built with -DSIDEHILL_SCREEN=OFF)");
#endif
}

}  // namespace

VerbAction prepare_view(CLI::App& sub) {
  const auto asked = std::make_shared<ViewCommand>();
  asked->in.scene = default_scene_path();
  take_scene(sub, asked->in, false);
  return [asked] { return view_verb(*asked); };
}

}  // namespace sidehill

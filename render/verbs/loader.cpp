// `sidehill loader`: bucket height by load.
#include <fmt/format.h>

#include "render/text/rest/loader_report.h"
#include "render/verbs/arguments.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct LoaderCommand {
  SceneArguments in;
  int steps = 5;  // of height and of load
  bool json = false;
  Units units = Units::si;
};

int loader_verb(const LoaderCommand& options) {
  const Scene scene = load_scene(options.in.scene, options.in.changes);
  if (!scene.vehicle.loader.fitted)
    throw InputError(options.in.scene + ": vehicle.loader.fitted: this machine has no loader, allowed true");
  const auto cells = of_scene(options.in.scene, [&] { return loader_grid(scene, options.steps); });
  if (options.json)
    print(loader_json(scene, cells));
  else
    fmt::print("{}", loader_table(scene, cells, options.units));
  return kAnswered;
}

}  // namespace

VerbAction prepare_loader(CLI::App& sub) {
  const auto asked = std::make_shared<LoaderCommand>();
  take_scene(sub, asked->in);
  sub.add_option("--steps", asked->steps, "number of steps for height and for load")->check(whole_number(2, 20));
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] { return loader_verb(*asked); };
}

}  // namespace sidehill

// `sidehill ballast`: the rules for ballast, and whether they are met.
#include <fmt/format.h>

#include "render/text/rest/ballast_report.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct BallastCommand {
  SceneArguments in;
  bool json = false;
};

int ballast_verb(const BallastCommand& options) {
  const Scene scene = load_scene(options.in.scene, options.in.changes);
  const Model model = of_scene(options.in.scene, [&] { return build(scene); });
  if (options.json)
    print(ballast_json(scene, model));
  else
    fmt::print("{}", ballast_table(scene, model));
  return kAnswered;
}

}  // namespace

VerbAction prepare_ballast(CLI::App& sub) {
  const auto asked = std::make_shared<BallastCommand>();
  take_scene(sub, asked->in);
  take_json(sub, asked->json);
  return [asked] { return ballast_verb(*asked); };
}

}  // namespace sidehill

// `sidehill ballast`: what the rules ask of a set-up in its job, and whether it is there.
#include <fmt/format.h>

#include "render/text/job/rules_report.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct BallastCommand {
  SceneArguments in;
  bool json = false, strict = false;
  Units units = Units::si;
};

int ballast_verb(const BallastCommand& options) {
  const Scene scene = load_scene(options.in.scene, options.in.changes);
  const Model model = of_scene(options.in.scene, [&] { return build(scene); });
  if (options.json)
    print(ballast_json(scene, model));
  else
    fmt::print("{}", ballast_table(scene, model, options.units));
  return options.strict && breaks_limit(rules_on(scene, model)) ? kLimitBroken : kAnswered;
}

}  // namespace

VerbAction prepare_ballast(CLI::App& sub) {
  const auto asked = std::make_shared<BallastCommand>();
  take_scene(sub, asked->in);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  take_strict(sub, asked->strict);
  return [asked] { return ballast_verb(*asked); };
}

}  // namespace sidehill

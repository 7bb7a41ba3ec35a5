// `sidehill solve`: the answer at rest.
#include <fmt/format.h>

#include "render/text/rest/answer_json.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/sensitivity_report.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct SolveCommand {
  SceneArguments in;
  bool json = false, by_heading = false, csv = false, sensitivity = false, strict = false;
  Units units = Units::si;
};

int solve_verb(const SolveCommand& options) {
  if (options.csv && options.json) throw InputError("solve: --csv and --json: allowed one of them");
  if (options.csv && options.sensitivity)
    throw InputError("solve: --csv is the margin by heading, without --sensitivity");
  const Scene scene = load_scene(options.in.scene, options.in.changes);
  const Answer at_rest = of_scene(options.in.scene, [&] { return with_reasons(with_uncertainty(answer(scene))); });
  std::vector<Sensitivity> moved;
  if (options.sensitivity) moved = of_scene(options.in.scene, [&] { return sensitivities(scene); });
  if (options.csv) {
    fmt::print("{}", envelope_csv(at_rest));
  } else if (options.json) {
    auto json = to_json(at_rest, options.by_heading);
    if (options.sensitivity) json["sensitivity"] = sensitivity_json(moved);
    print(json);
  } else {
    fmt::print("{}{}{}", answer_table(at_rest, options.units), options.by_heading ? envelope_table(at_rest) : "",
               options.sensitivity ? sensitivity_table(moved, options.units) : "");
  }
  if (at_rest.statics.status != RestStatus::unsolved)
    return options.strict && breaks_limit(rules_on(scene, at_rest.model)) ? kLimitBroken : kAnswered;
  fmt::print(stderr, "{}: no balance was found on this ground\n", options.in.scene);
  return kDiverged;
}

}  // namespace

VerbAction prepare_solve(CLI::App& sub) {
  const auto asked = std::make_shared<SolveCommand>();
  take_scene(sub, asked->in);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  sub.add_flag("--envelope", asked->by_heading, "also the margin by heading, every 5 degrees");
  sub.add_flag("--sensitivity", asked->sensitivity, "also how one unit more of each value changes the first lift-off");
  take_strict(sub, asked->strict);
  sub.add_flag("--csv", asked->csv, "only the margin by heading, as CSV");
  return [asked] { return solve_verb(*asked); };
}

}  // namespace sidehill

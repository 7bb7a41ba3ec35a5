// `sidehill weigh`: the centre of gravity from a weighbridge (ISO 789-6).
#include <fmt/format.h>

#include "render/text/machine/weighing_report.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"

namespace sidehill {
namespace {

struct WeighCommand {
  std::string file;
  bool plan = false, json = false;
  Units units = Units::si;
};

int weigh_verb(const WeighCommand& options) {
  if (options.file.empty() && !options.plan)
    throw InputError("weigh: a weighing file is needed, or --plan for how to weigh");
  if (options.plan && options.json) throw InputError("weigh: --plan is words only, without --json");
  std::optional<WeighingSheet> sheet;
  if (!options.file.empty()) sheet = load_weighing(options.file);
  if (options.plan)
    fmt::print("{}", weighing_plan(sheet ? &*sheet : nullptr, options.units));
  else if (options.json)
    print(weighing_json(*sheet));
  else
    fmt::print("{}", weighing_table(*sheet, options.units));
  return kAnswered;
}

}  // namespace

VerbAction prepare_weigh(CLI::App& sub) {
  const auto asked = std::make_shared<WeighCommand>();
  sub.add_option("file", asked->file, "a weighing file (.toml), such as scenes/weighing/utility_tractor.toml");
  sub.add_flag("--plan", asked->plan, "explain how to weigh safely and how far to raise the machine");
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] { return weigh_verb(*asked); };
}

}  // namespace sidehill

// `sidehill rolling-test`: the published calculation of continuous rolling.
#include <fmt/format.h>

#include "render/text/machine/rolling_report.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/codes/rolling_file.h"

namespace sidehill {
namespace {

struct RollingCommand {
  std::string file;
  bool json = false;
  Units units = Units::si;
};

int rolling_verb(const RollingCommand& options) {
  const RollingReport report = rolling_report(options.file, load_rolling_tractor(options.file));
  options.json ? print(to_json(report)) : fmt::print("{}", rolling_table(report, options.units));
  return kAnswered;
}

}  // namespace

VerbAction prepare_rolling_test(CLI::App& sub) {
  const auto asked = std::make_shared<RollingCommand>();
  sub.add_option("file", asked->file, "file with the tractor's values under the published symbols (.toml)")->required();
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] { return rolling_verb(*asked); };
}

}  // namespace sidehill

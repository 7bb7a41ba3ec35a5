// `sidehill report`: the engineer's page of a scene as PDF. What stands on it comes from render/page/report; where
// there is a screen part, it gives the picture of the machine.
#include "render/page/report.h"

#include <fmt/format.h>

#include <string>
#include <vector>

#include "render/text/words/units.h"
#include "render/verbs/outputs.h"
#include "render/verbs/pages/page_picture.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct ReportCommand {
  SceneArguments in;
  std::string file;         // where the report goes, .pdf
  bool no_picture = false;  // words and charts only
  bool force = false;       // replace the file
  bool strict = false;
  Units units = Units::si;
  PaperSize paper = PaperSize::a4;
};

void add_report_flags(CLI::App& sub, ReportCommand& options) {
  sub.add_option("file", options.file, "where the report goes (.pdf)")->required();
  sub.add_flag("--no-picture", options.no_picture, "only text and charts");
  add_force_flag(sub, options.force);
  take_strict(sub, options.strict);
  take_units(sub, options.units);
  take_paper(sub, options.paper);
}

int report_verb(const ReportCommand& options, const std::string& file, const std::vector<std::string>& changes) {
  if (!options.file.ends_with(".pdf"))
    throw InputError("report: " + options.file + ": a report is written as PDF, give it a name in .pdf");
  Scene scene = load_scene(file, changes);
  if (!changes.empty()) {  // the file's note is about what it says, not about this
    scene.note = "Changed from its file:";
    for (const std::string& change : changes)
      scene.note += (&change == &changes.front() ? " " : ", ") + change_words(change);
    scene.note += ".";
  }
  check_output(options.file, options.force);
  Answer found;
  try {
    found = with_reasons(with_uncertainty(answer(scene)));
  } catch (const InputError& error) {
    throw InputError(file + ": " + error.what());
  }
  write_report(options.file, found, options.no_picture ? ReportPicture{} : page_picture(scene, options.units, "report"),
               options.units, options.paper);
  fmt::print("{}\n", options.file);
  if (found.statics.status != RestStatus::unsolved)
    return options.strict && breaks_limit(rules_on(scene, found.model)) ? kLimitBroken : kAnswered;
  fmt::print(stderr, "{}: no balance was found on this ground\n", file);
  return kDiverged;
}

}  // namespace

VerbAction prepare_report(CLI::App& sub) {
  const auto asked = std::make_shared<ReportCommand>();
  take_scene(sub, asked->in);
  add_report_flags(sub, *asked);
  return [asked] { return report_verb(*asked, asked->in.scene, asked->in.changes); };
}

}  // namespace sidehill

// `sidehill report`: the engineer's page of a scene as PDF. What stands on it comes from render/page/report; where
// there is a screen part, it gives the picture of the machine.
#include "render/page/report.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "render/text/job/report_words.h"
#include "render/text/words/units.h"
#include "render/verbs/outputs.h"
#include "render/verbs/pages/page_picture.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct ReportCommand {
  SceneArguments in;
  std::string file;  // where the report goes, .pdf
  bool json = false;
  bool no_picture = false;  // words and charts only
  PageRecord record;        // what was typed; the rest is the scene's
  bool force = false;       // replace the file
  bool strict = false;
  Units units = Units::si;
  PaperSize paper = PaperSize::a4;
};

void add_report_flags(CLI::App& sub, ReportCommand& options) {
  sub.add_option("file", options.file, "where the report goes (.pdf); may be left out with --json");
  const auto take = [&](const char* option, std::string& value, const char* help) {
    sub.add_option(option, value, help)->type_name("TEXT");
  };
  take("--machine-number", options.record.machine_number,
       "number of the machine's plate; default record.machine_number");
  take("--owner", options.record.owner, "whose machine it is; default record.owner");
  take("--place", options.record.place, "where it stands or works; default record.place");
  take("--asked-by", options.record.asked_by, "who asks for the report; default record.asked_by");
  sub.add_option("--date", options.record.date, "date of the report, such as 2026-11-28; default record.date")
      ->type_name("DATE");
  take_json(sub, options.json);
  sub.add_flag("--no-picture", options.no_picture, "only text and charts");
  add_force_flag(sub, options.force);
  take_strict(sub, options.strict);
  take_units(sub, options.units);
  take_paper(sub, options.paper);
}

// What was typed goes over what the scene says, by the rules of the scene's own keys.
void take_record(Scene& scene, const PageRecord& typed) {
  for (const auto& [key, value] : {std::pair{"machine_number", &typed.machine_number},
                                   {"owner", &typed.owner},
                                   {"place", &typed.place},
                                   {"asked_by", &typed.asked_by},
                                   {"date", &typed.date}}) {
    if (value->empty()) continue;
    std::string option = std::string("report: --") + key;
    std::ranges::replace(option, '_', '-');
    apply_override(scene, std::string("record.") + key + "=" + in_quotes(*value), option);
  }
}

int report_verb(const ReportCommand& options, const std::string& file, const std::vector<std::string>& changes) {
  if (options.file.empty() && !options.json)
    throw InputError("report: say where the report goes, a name in .pdf; --json alone needs none");
  if (!options.file.empty() && !options.file.ends_with(".pdf"))
    throw InputError("report: " + options.file + ": a report is written as PDF, give it a name in .pdf");
  Scene scene = load_scene(file, changes);
  take_record(scene, options.record);
  if (!changes.empty()) {  // the file's note is about what it says, not about this
    scene.note = "Changed from its file:";
    for (const std::string& change : changes)
      scene.note += (&change == &changes.front() ? " " : ", ") + change_words(change);
    scene.note += ".";
  }
  if (!options.file.empty()) check_output(options.file, options.force);
  const Answer found = of_scene(file, [&] { return with_reasons(with_uncertainty(answer(scene))); });
  const ReportFacts facts = of_scene(file, [&] { return report_facts(found, true); });
  if (!options.file.empty())
    write_report(options.file, found,
                 options.no_picture ? ReportPicture{} : page_picture(scene, options.units, "report"), options.units,
                 options.paper, &facts);
  options.json ? print(report_json(found, facts)) : fmt::print("{}\n", options.file);
  if (!facts.bars.empty()) fmt::print(stderr, "{}: {}\n", file, bars_line(found, facts, options.units));
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

// `sidehill handout`: a lesson on paper as PDF, the answer on the back; its numbers as JSON. What is right is worked
// out as `lesson` does it.
#include "render/page/handout.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "render/verbs/lesson_named.h"
#include "render/verbs/outputs.h"
#include "render/verbs/pages/filling_options.h"
#include "render/verbs/pages/page_picture.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"

namespace sidehill {
namespace {

struct HandoutCommand {
  std::string lesson, file;
  std::vector<std::string> changes;
  bool no_picture = false, json = false, force = false;
  Units units = Units::si;
  PaperSize paper = PaperSize::a4;
};

int handout_verb(const HandoutCommand& asked) {
  if (asked.file.empty() && !asked.json)
    throw InputError("handout: say where the hand-out goes, a name in .pdf; --json alone needs none");
  if (!asked.file.empty()) check_pdf_name("handout", asked.file, "a hand-out");
  Handout handout;
  handout.lesson = lesson_named(asked.lesson);
  handout.lesson.change.insert(handout.lesson.change.end(), asked.changes.begin(), asked.changes.end());
  handout.changes = asked.changes;
  if (!asked.file.empty()) check_output(asked.file, asked.force);
  handout.scene = scene_of(handout.lesson, handout.lesson.of == Of::b ? SetUp::b : SetUp::a);
  handout.truth = judge(handout.lesson);
  if (!asked.file.empty()) {
    if (!asked.no_picture) handout.picture = page_picture(handout.scene, asked.units, "handout");
    write_handout(asked.file, handout, asked.units, asked.paper);
  }
  asked.json ? print(handout_json(handout)) : fmt::print("{}\n", asked.file);
  return kAnswered;
}

}  // namespace

VerbAction prepare_handout(CLI::App& sub) {
  const auto asked = std::make_shared<HandoutCommand>();
  sub.add_option("lesson", asked->lesson, "a lesson's name, number or file")->required();
  sub.add_option("file", asked->file, "where the hand-out goes (.pdf); may be left out with --json");
  sub.add_option("--set", asked->changes, "KEY=VALUE changes one value of the lesson's scene; may be repeated")
      ->type_name("KEY=VALUE")
      ->expected(1)
      ->allow_extra_args(false)
      ->take_all();
  sub.add_flag("--no-picture", asked->no_picture, "a blank frame to draw in, in place of the picture");
  take_json(sub, asked->json);
  add_force_flag(sub, asked->force);
  take_units(sub, asked->units);
  take_paper(sub, asked->paper);
  return [asked] { return handout_verb(*asked); };
}

}  // namespace sidehill

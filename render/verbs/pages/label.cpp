// `sidehill label`: rim labels of a scene's filled wheels as PDF; their numbers as JSON.
#include <fmt/format.h>

#include <string>

#include "render/page/label_page.h"
#include "render/text/fill/axle_filling_json.h"
#include "render/verbs/outputs.h"
#include "render/verbs/pages/filling_options.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct LabelCommand {
  SceneArguments in;
  std::string file, axle;
  bool json = false, force = false;
  Units units = Units::si;
  PaperSize paper = PaperSize::a4;
};

int label_verb(const LabelCommand& asked) {
  if (asked.file.empty() && !asked.json)
    throw InputError("label: say where the labels go, a name in .pdf; --json alone needs none");
  if (!asked.file.empty()) check_pdf_name("label", asked.file, "a sheet of rim labels");
  const Scene scene = load_scene(asked.in.scene, asked.in.changes);
  if (!asked.file.empty()) check_output(asked.file, asked.force);
  const std::vector<AxleFilling> fillings = fillings_asked("label", asked.in.scene, scene, asked.axle);
  if (!asked.file.empty()) write_labels(asked.file, fillings, asked.units, asked.paper);
  asked.json ? print(axle_fillings_json(fillings)) : fmt::print("{}\n", asked.file);
  return kAnswered;
}

}  // namespace

VerbAction prepare_label(CLI::App& sub) {
  const auto asked = std::make_shared<LabelCommand>();
  take_scene(sub, asked->in);
  sub.add_option("file", asked->file, "where the labels go (.pdf); may be left out with --json");
  take_axle(sub, asked->axle);
  take_json(sub, asked->json);
  add_force_flag(sub, asked->force);
  take_units(sub, asked->units);
  take_paper(sub, asked->paper);
  return [asked] { return label_verb(*asked); };
}

}  // namespace sidehill

// `sidehill sheet`: the filling sheet of a scene's axles as PDF, or its numbers as JSON.
#include <fmt/format.h>

#include <string>

#include "render/page/filling_page.h"
#include "render/text/fill/axle_filling_json.h"
#include "render/verbs/outputs.h"
#include "render/verbs/pages/filling_options.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct SheetCommand {
  SceneArguments in;
  std::string file, axle;
  bool json = false, force = false;
  Units units = Units::si;
  PaperSize paper = PaperSize::a4;
};

int sheet_verb(const SheetCommand& asked) {
  if (asked.file.empty() && !asked.json)
    throw InputError("sheet: say where the filling sheet goes, a name in .pdf; --json alone needs none");
  if (!asked.file.empty()) check_pdf_name("sheet", asked.file, "a filling sheet");
  const Scene scene = load_scene(asked.in.scene, asked.in.changes);
  if (!asked.file.empty()) check_output(asked.file, asked.force);
  const std::vector<AxleFilling> fillings = fillings_asked("sheet", asked.in.scene, scene, asked.axle);
  if (!asked.file.empty()) write_filling_sheet(asked.file, fillings, asked.units, asked.paper);
  asked.json ? print(axle_fillings_json(fillings)) : fmt::print("{}\n", asked.file);
  return kAnswered;
}

}  // namespace

VerbAction prepare_sheet(CLI::App& sub) {
  const auto asked = std::make_shared<SheetCommand>();
  take_scene(sub, asked->in);
  sub.add_option("file", asked->file, "where the filling sheet goes (.pdf); may be left out with --json");
  take_axle(sub, asked->axle);
  take_json(sub, asked->json);
  add_force_flag(sub, asked->force);
  take_units(sub, asked->units);
  take_paper(sub, asked->paper);
  return [asked] { return sheet_verb(*asked); };
}

}  // namespace sidehill

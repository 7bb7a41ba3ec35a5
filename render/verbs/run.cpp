// `sidehill run`: runs a scene, and keeps the run where asked.
#include "sim/motion/run.h"

#include <fmt/format.h>

#include "render/text/motion/rescue_report.h"
#include "render/text/motion/run_report.h"
#include "render/text/motion/signals.h"
#include "render/text/rest/answer_json.h"
#include "render/verbs/outputs.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/motion/recording_file.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct RunCommand {
  SceneArguments in;
  std::string record;  // the file to keep the run in; empty = none
  std::vector<std::string> signals;
  bool json = false, csv = false, force = false;
  Units units = Units::si;
};

int run_verb(const RunCommand& options) {
  const bool stores = !options.record.empty();
  if (stores && !options.record.ends_with(".run"))
    throw InputError("run: --record " + options.record + ": a recording has a name in .run");
  if (options.csv && options.json) throw InputError("run: --csv and --json: allowed one of them");
  if (!options.signals.empty() && !options.csv) throw InputError("run: --signals: needs --csv");
  const Scene scene = load_scene(options.in.scene, options.in.changes);
  if (stores) check_output(options.record, options.force);
  const Recording recording = of_scene(options.in.scene, [&] { return run(scene); });
  StoredRun stored{options.record, 0, recording.moments.size()};
  if (stores) stored.bytes = write_recording(recording, options.record);
  return of_scene(options.in.scene, [&] {
    if (options.csv) {
      fmt::print("{}", signals_csv(recording, options.signals));
      return recording.outcome == Outcome::diverged ? kDiverged : kAnswered;
    }
    const Answer at_rest = with_uncertainty(answer(scene));  // its verdict is that of solve
    const Rescues saved = rescues(scene);
    if (options.json) {
      auto json = to_json(at_rest, recording);
      json["rescue"] = rescue_json(saved);
      if (stores) json["recording"] = to_json(stored);
      print(json);
    } else {
      fmt::print("{}{}", run_table(at_rest, recording, rescue_table(saved), options.units),
                 stores ? stored_line(stored) : "");
    }
    if (recording.outcome != Outcome::diverged) return kAnswered;
    fmt::print(stderr, "{}: the simulation diverged: {}\n", options.in.scene, recording.divergence);
    return kDiverged;
  });
}

}  // namespace

VerbAction prepare_run(CLI::App& sub) {
  const auto asked = std::make_shared<RunCommand>();
  take_scene(sub, asked->in);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  sub.add_flag("--csv", asked->csv, "print every signal over time instead, fifty lines a second");
  sub.add_option("--signals", asked->signals, "with --csv: only these, such as roll_deg,load_rear_left_n")
      ->delimiter(',');
  sub.add_option("--record", asked->record, "also keep the whole run in this file (.run), for replay");
  add_force_flag(sub, asked->force);
  return [asked] { return run_verb(*asked); };
}

}  // namespace sidehill

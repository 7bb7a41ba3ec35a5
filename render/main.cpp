// The one program: reads the command line, asks the layers below, prints. Holds no physics and no drawing.
// Exit codes: 0 answered, 2 bad input, 3 the simulation diverged, or a recording run again came out differently.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "render/arguments.h"
#include "render/chart_command.h"
#include "render/fill_command.h"
#include "render/film_command.h"
#include "render/lesson_command.h"
#include "render/machine_command.h"
#include "render/outputs.h"
#include "render/replay_command.h"
#include "render/report_command.h"
#include "render/slope_command.h"
#include "render/terminal.h"
#include "render/text/fill/fill_json.h"
#include "render/text/fill/fill_table.h"
#include "render/text/machine/lists.h"
#include "render/text/machine/rolling_report.h"
#include "render/text/machine/weighing_report.h"
#include "render/text/motion/expectations.h"
#include "render/text/motion/rescue_report.h"
#include "render/text/motion/run_report.h"
#include "render/text/motion/signals.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/ballast_report.h"
#include "render/text/rest/loader_report.h"
#include "render/text/rest/sensitivity_report.h"
#include "render/text/words/words.h"
#include "render/trial_command.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/codes/rolling_file.h"
#include "sim/motion/recording_file.h"
#include "sim/motion/run.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_file.h"
#ifdef SIDEHILL_SCREEN
#include "render/screen/output/picture.h"
#include "render/screen/window/view.h"
#endif

namespace sidehill {
namespace {

constexpr const char* kAbout =
    "Sidehill shows whether a tractor with its ballast, its loader and its ground stays on its wheels, before you "
    "pump\n"
    "in a litre or bolt on a weight.";

constexpr const char* kMore = R"(
Examples
  sidehill solve scenes/first_slope.toml
  sidehill solve scenes/first_slope.toml --set ballast.rear.fill_fraction=0 --set terrain.slope_deg=20
  sidehill solve scenes/first_slope.toml --set vehicle_file=compact_26kw --json
  sidehill run scenes/over_a_stump.toml --set programme.speed_kmh=6
  sidehill run scenes/over_a_stump.toml --record stump.run                keep the run in a file
  sidehill replay stump.run --at 4.2                                      every value at that moment; --again: is it the same?
  sidehill picture scenes/first_slope.toml first_slope.png
  sidehill chart scenes/first_slope.toml heading.svg --of heading         also time, loads, why, slopes, fills
  sidehill film scenes/over_a_stump.toml stump.mp4 --slow 4 --start-s 4
  sidehill report scenes/first_slope.toml first_slope.pdf                 the page to sign
  sidehill fill 18.4-38 --medium calcium_chloride_3_5 --coldest-c -20     litres, kilograms, level, frost, recipe
  sidehill loader scenes/bucket_up.toml                                   bucket height by load
  sidehill slope-limit scenes/raised_while_driving.toml                   the steepest slope for a programme
  sidehill lesson stump --guess 2                                         a lesson: you guess, then see the answer
  sidehill weigh --plan                                                   how to weigh to find the centre of gravity
  sidehill machine --class utility_75kw --rear-axle-kg 2740 mine.toml    your own machine; the rest is estimated
  sidehill list keys            every key with its unit, range and meaning

--set KEY=VALUE changes one value, in the file's unit; you may repeat it. += adds to a list:
  --set 'ballast.point_mass+={on="chassis", mass_kg=300, x_m=2.9, z_m=0.6}'

The program replaces an existing file only if you say yes, or with --force.

Cautions
  No slope is safe. Frame up and belt on, load low, slow; the maker's limits and local rules come first.
  An answer at rest does not include holes, soft ground, turns or the driver's actions.

Exit codes: 0 answered, 2 bad input (one line says which file, line and key), 3 no answer: no balance was
found, the simulation diverged, or a recorded run gave other values when run again.)";

struct Options {
  std::string scene, output, record, what, from = "three_quarter";
  std::vector<std::string> files, changes, signals;
  bool force = false, json = false, by_heading = false, csv = false, markdown = false, plan = false,
       sensitivity = false;
  int width = 1600, height = 900, steps = 5;
  ChartCommand chart;
  FillCommand fill;
  FilmCommand film;
  SlopeCommand slope;
  TrialCommand trial;
  ReplayCommand replay;
  ReportCommand report;
  MachineCommand machine;
  LessonCommand lesson;
};

// An impossible machine is refused by its key; the scene's name goes in front.
template <class Ask>
auto of_scene(const std::string& path, Ask ask) {
  try {
    return ask();
  } catch (const InputError& error) {
    throw InputError(path + ": " + error.what());
  }
}

int solve(const Options& options) {
  if (options.csv && options.json) throw InputError("solve: --csv and --json: allowed one of them");
  if (options.csv && options.sensitivity)
    throw InputError("solve: --csv is the margin by heading, without --sensitivity");
  const Scene scene = load_scene(options.scene, options.changes);
  const Answer at_rest = of_scene(options.scene, [&] { return with_reasons(with_uncertainty(answer(scene))); });
  std::vector<Sensitivity> moved;
  if (options.sensitivity) moved = of_scene(options.scene, [&] { return sensitivities(scene); });
  if (options.csv) {
    fmt::print("{}", envelope_csv(at_rest));
  } else if (options.json) {
    auto json = to_json(at_rest, options.by_heading);
    if (options.sensitivity) json["sensitivity"] = sensitivity_json(moved);
    print(json);
  } else {
    fmt::print("{}{}{}", answer_table(at_rest), options.by_heading ? envelope_table(at_rest) : "",
               options.sensitivity ? sensitivity_table(moved) : "");
  }
  if (at_rest.statics.status != RestStatus::unsolved) return kAnswered;
  fmt::print(stderr, "{}: no balance was found on this ground\n", options.scene);
  return kDiverged;
}

int ballast(const Options& options) {
  const Scene scene = load_scene(options.scene, options.changes);
  const Model model = of_scene(options.scene, [&] { return build(scene); });
  if (options.json)
    print(ballast_json(scene, model));
  else
    fmt::print("{}", ballast_table(scene, model));
  return kAnswered;
}

int loader(const Options& options) {
  const Scene scene = load_scene(options.scene, options.changes);
  if (!scene.vehicle.loader.fitted)
    throw InputError(options.scene + ": vehicle.loader.fitted: this machine has no loader, allowed true");
  const auto cells = of_scene(options.scene, [&] { return loader_grid(scene, options.steps); });
  if (options.json)
    print(loader_json(scene, cells));
  else
    fmt::print("{}", loader_table(scene, cells));
  return kAnswered;
}

int limit_slope(const Options& options) {
  return limit_slope_command(options.slope, options.scene, options.changes, options.json);
}

int merge(const Options& options) { return merge_command(options.slope, options.json); }

int try_many(const Options& options) { return trial_command(options.trial, options.json); }

int lesson(const Options& options) { return lesson_command(options.lesson, options.json); }

int weigh(const Options& options) {
  if (options.what.empty() && !options.plan)
    throw InputError("weigh: a weighing file is needed, or --plan for how to weigh");
  if (options.plan && options.json) throw InputError("weigh: --plan is words only, without --json");
  std::optional<WeighingSheet> sheet;
  if (!options.what.empty()) sheet = load_weighing(options.what);
  if (options.plan)
    fmt::print("{}", weighing_plan(sheet ? &*sheet : nullptr));
  else if (options.json)
    print(weighing_json(*sheet));
  else
    fmt::print("{}", weighing_table(*sheet));
  return kAnswered;
}

int run_scene(const Options& options) {
  const bool stores = !options.record.empty();
  if (stores && !options.record.ends_with(".run"))
    throw InputError("run: --record " + options.record + ": a recording has a name in .run");
  if (options.csv && options.json) throw InputError("run: --csv and --json: allowed one of them");
  if (!options.signals.empty() && !options.csv) throw InputError("run: --signals: needs --csv");
  const Scene scene = load_scene(options.scene, options.changes);
  if (stores) check_output(options.record, options.force);
  const Recording recording = of_scene(options.scene, [&] { return run(scene); });
  StoredRun stored{options.record, 0, recording.moments.size()};
  if (stores) stored.bytes = write_recording(recording, options.record);
  return of_scene(options.scene, [&] {
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
      fmt::print("{}{}", run_table(at_rest, recording, rescue_table(saved)), stores ? stored_line(stored) : "");
    }
    if (recording.outcome != Outcome::diverged) return kAnswered;
    fmt::print(stderr, "{}: the simulation diverged: {}\n", options.scene, recording.divergence);
    return kDiverged;
  });
}

int replay(const Options& options) { return replay_command(options.replay, options.json); }

int rolling(const Options& options) {
  const RollingReport report = rolling_report(options.scene, load_rolling_tractor(options.scene));
  options.json ? print(to_json(report)) : fmt::print("{}", rolling_table(report));
  return kAnswered;
}

int picture_of_scene([[maybe_unused]] const Options& options) {
#ifdef SIDEHILL_SCREEN
  if (!options.output.ends_with(".png"))
    throw InputError("picture: " + options.output + ": a picture is written as PNG, give it a name in .png");
  PictureOptions picture_options;
  picture_options.width = options.width;
  picture_options.height = options.height;
  const auto preset = camera_preset_of(options.from);
  if (!preset)
    throw InputError("picture: --from " + options.from + ": not a place to look from (`sidehill picture --help`)");
  picture_options.camera = *preset;
  const Scene scene = load_scene(options.scene, options.changes);
  check_output(options.output, options.force);
  write_picture(scene, options.output, picture_options);
  fmt::print("{}\n", options.output);
  return kAnswered;
#else
  throw InputError("picture: this build has no screen part (it was built with -DSIDEHILL_SCREEN=OFF)");
#endif
}

int chart(const Options& options) { return chart_command(options.chart, options.scene, options.changes); }

int report(const Options& options) { return report_command(options.report, options.scene, options.changes); }

int film(const Options& options) { return film_command(options.film, options.scene, options.changes); }

int view_scene([[maybe_unused]] const Options& options) {
#ifdef SIDEHILL_SCREEN
  return view(options.scene, options.changes);
#else
  throw InputError("view: this build has no screen part (it was built with -DSIDEHILL_SCREEN=OFF)");
#endif
}

int fill(const Options& options) {
  const FillSheet sheet = fill_sheet(request_of(options.fill));
  options.json ? print(to_json(sheet)) : fmt::print("{}", fill_table(sheet));
  return kAnswered;
}

int machine(const Options& options) { return machine_command(options.machine, options.json); }

int list(const Options& options) {
  const bool from_files = options.what == "machines" || options.what == "scenes";
  if (from_files && vehicle_files().empty()) throw InputError("list: no " + options.what + ": " + data_sought());
  if (options.markdown && options.what != "keys") throw InputError("list: --markdown is for keys only");
  if (options.what == "machines")
    options.json ? print(machines_json()) : fmt::print("{}", machines_table());
  else if (options.what == "scenes")
    options.json ? print(scenes_json()) : fmt::print("{}", scenes_table());
  else if (options.what == "media")
    options.json ? print(media_json()) : fmt::print("{}", media_table());
  else if (options.what == "tyres")
    options.json ? print(tyres_json()) : fmt::print("{}", tyres_table());
  else
    options.json ? print(keys_json()) : fmt::print("{}", options.markdown ? keys_markdown() : keys_table());
  return kAnswered;
}

// A file in a folder called vehicles is a machine, any other a scene.
Scene read_for_check(const std::filesystem::path& path) {
  std::error_code error;
  if (std::filesystem::absolute(path, error).parent_path().filename() != "vehicles") return load_scene(path);
  read_text(path);  // a missing file or a folder is named as such
  Scene scene;
  MachineFile machine = load_machine(path.filename().string(), path.parent_path());
  scene.vehicle = std::move(machine.vehicle), scene.tolerances = std::move(machine.tolerances);
  return scene;
}

int check(const Options& options) {
  nlohmann::ordered_json report = nlohmann::ordered_json::array();
  int code = kAnswered;
  for (const std::string& file : options.files) {
    nlohmann::ordered_json entry = {{"file", file}, {"ok", true}, {"answers", nlohmann::ordered_json::array()}};
    std::string lines = file + ": ok\n";
    try {
      const Scene scene = read_for_check(file);
      of_scene(file, [&] {
        answer(scene, 1);
        std::size_t count = 0;
        for (const Held& held : held_against(scene)) {
          ++count;
          const Expect& e = held.expect;
          const std::string wanted = e.value ? fmt::format("{} +- {}", *e.value, e.tolerance) : "never";
          entry["answers"].push_back(
              {{"quantity", e.quantity}, {"ok", held.holds}, {"found", held.found}, {"wanted", wanted}});
          if (held.holds) continue;
          if (entry["ok"]) lines.clear();
          entry["ok"] = false;
          lines +=
              fmt::format("{}: expect: {} is {}, must be {} ({})\n", file, e.quantity, held.found, wanted, e.source);
        }
        if (entry["ok"] && count > 0)
          lines = fmt::format("{}: ok, {} {}\n", file, count, count == 1 ? "answer holds" : "answers hold");
        return 0;
      });
    } catch (const InputError& error) {
      entry["ok"] = false;
      entry["error"] = error.what();
      lines = std::string(error.what()) + "\n";
    }
    if (!entry["ok"]) code = kBadInput;
    report.push_back(entry);
    if (!options.json) fmt::print(entry["ok"] ? stdout : stderr, "{}", lines);
  }
  if (options.json) print(report);
  return code;
}

// The scene opened when none is named.
std::string default_scene_path() {
  for (const auto& path : scene_files())
    if (path.filename() == "first_slope.toml") return path.string();
  return "scenes/first_slope.toml";
}

int parse_and_answer(int argc, char** argv) {
  CLI::App app{kAbout, "sidehill"};
  app.footer(kMore);
  app.require_subcommand(1);
  app.set_version_flag("--version", "sidehill " SIDEHILL_VERSION);
  Options options;
  options.scene = default_scene_path();
  int (*command)(const Options&) = nullptr;

  const auto add = [&](const char* name, const char* help, int (*what)(const Options&)) {
    CLI::App* sub = app.add_subcommand(name, help);
    sub->callback([&command, what] { command = what; });
    return sub;
  };
  const auto takes_scene = [&](CLI::App* sub, bool required) {
    sub->add_option("scene", options.scene, "scene file (.toml)")->required(required);
    sub->add_option("--set", options.changes, "KEY=VALUE changes one value; may be repeated")
        ->type_name("KEY=VALUE")
        ->expected(1)
        ->allow_extra_args(false)  // the word after KEY=VALUE is none of its own
        ->take_all();
  };
  const auto takes_json = [&](CLI::App* sub) { sub->add_flag("--json", options.json, "print the answer as JSON"); };

  CLI::App* sub = add("view", "open the window with sliders, 3-D picture and run (needs a display)", view_scene);
  takes_scene(sub, false);
  sub = add("solve", "the answer at rest: wheel loads, margin, what gives way at which slope", solve);
  takes_scene(sub, true);
  takes_json(sub);
  sub->add_flag("--envelope", options.by_heading, "also the margin by heading, every 5 degrees");
  sub->add_flag("--sensitivity", options.sensitivity,
                "also how one unit more of each value changes the first lift-off");
  sub->add_flag("--csv", options.csv, "only the margin by heading, as CSV");
  sub = add("run", "run the scene, from rest or dropped, and give events and outcome", run_scene);
  takes_scene(sub, true);
  takes_json(sub);
  sub->add_flag("--csv", options.csv, "print every signal over time instead, fifty lines a second");
  sub->add_option("--signals", options.signals, "with --csv: only these, such as roll_deg,load_rear_left_n")
      ->delimiter(',');
  sub->add_option("--record", options.record, "also keep the whole run in this file (.run), for replay");
  add_force_flag(*sub, options.force);
  sub =
      add("replay", "a recorded run: what happened, one moment, its scene, or whether it gives the same again", replay);
  add_replay_flags(*sub, options.replay);
  takes_json(sub);
  sub = add("slope-limit", "the steepest slope for a programme, found by running it; a table over one or two keys",
            limit_slope);
  takes_scene(sub, true);
  add_slope_flags(*sub, options.slope);
  takes_json(sub);
  sub = add("merge", "put the parts of a table together", merge);
  add_merge_flags(*sub, options.slope);
  takes_json(sub);
  sub = add("trial", "run thousands of random scenes to check the calculation", try_many);
  add_trial_flags(*sub, options.trial);
  takes_json(sub);
  sub =
      add("ballast", "what regulations, standards and practice ask of the weights, and whether they are met", ballast);
  takes_scene(sub, true);
  takes_json(sub);
  sub = add("loader", "a table of bucket height by load: lift-off, worst heading, front tyres, rear axle", loader);
  takes_scene(sub, true);
  sub->add_option("--steps", options.steps, "number of steps for height and for load")->check(whole_number(2, 20));
  takes_json(sub);
  sub = add("weigh", "centre of gravity from axle loads, level and with one axle raised (after ISO 789-6)", weigh);
  sub->add_option("file", options.what, "a weighing file (.toml), such as scenes/weighing/utility_tractor.toml");
  sub->add_flag("--plan", options.plan, "explain how to weigh safely and how far to raise the machine");
  takes_json(sub);
  sub =
      add("lesson", "a prepared lesson: you guess, then it shows the answer, the caution and what to remember", lesson);
  add_lesson_flags(*sub, options.lesson);
  takes_json(sub);
  sub = add("picture", "draw the scene into a PNG file; needs no display", picture_of_scene);
  takes_scene(sub, true);
  sub->add_option("file", options.output, "where the picture goes (.png)")->required();
  sub->add_option("--from", options.from, "three_quarter, front, rear, left, right, downhill or top");
  sub->add_option("--width", options.width, "in pixels")->check(whole_number(64, 8192));
  sub->add_option("--height", options.height, "in pixels")->check(whole_number(64, 8192));
  add_force_flag(*sub, options.force);
  sub = add("film", "make a film of a run or a recording (.run) with ffmpeg; needs no display", film);
  takes_scene(sub, true);
  add_film_flags(*sub, options.film);
  sub = add("chart", "draw a chart as SVG or PNG: margin by heading, over time, by cause, by liquid", chart);
  takes_scene(sub, true);
  add_chart_flags(*sub, options.chart);
  sub = add("report", "write the engineer's page as PDF: loads, limits, intervals, causes, cautions, a line to sign",
            report);
  takes_scene(sub, true);
  add_report_flags(*sub, options.report);
  sub = add("rolling-test", "the published calculation of continuous rolling for narrow tractors", rolling);
  sub->add_option("file", options.scene, "file with the tractor's values under the published symbols (.toml)")
      ->required();
  takes_json(sub);
  sub = add("fill", "what to pump into a tyre: litres, kilograms, level, frost, recipe, cautions", fill);
  add_fill_flags(*sub, options.fill);
  takes_json(sub);
  sub = add("machine", "make a file for your own tractor, from its plate, a weighbridge and a tape measure", machine);
  add_machine_flags(*sub, options.machine);
  takes_json(sub);
  sub = add("list", "list machines, scenes, tyres, media or keys", list);
  sub->add_option("what", options.what, "machines, scenes, tyres, media or keys")
      ->required()
      ->check(CLI::IsMember({"machines", "scenes", "tyres", "media", "keys"}));
  takes_json(sub);
  sub->add_flag("--markdown", options.markdown, "print the keys as a Markdown table");
  sub = add("check", "read and build scene and machine files; compare answers with what the files expect", check);
  sub->add_option("files", options.files, "scene files, or machine files in a folder called vehicles")->required();
  takes_json(sub);

  check_command_word(app, argc, argv);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& wanted) {  // --help, --version
    return app.exit(wanted);
  } catch (const CLI::ParseError& error) {
    std::string line = error.what();
    for (char& c : line)
      if (static_cast<unsigned char>(c) < 0x20) c = ' ';
    throw InputError("sidehill: " + line + " (`sidehill --help` says more)");
  }
  return command(options);
}

}  // namespace
}  // namespace sidehill

int main(int argc, char** argv) {
  int code = sidehill::kBadInput;
  try {
    code = sidehill::parse_and_answer(argc, argv);
  } catch (const sidehill::Diverged& error) {
    fmt::print(stderr, "the simulation diverged: {}\n", error.what());
    return sidehill::kDiverged;
  } catch (const std::exception& error) {
    fmt::print(stderr, "{}\n", error.what());
    return sidehill::kBadInput;
  }
  if (std::fflush(stdout) != 0 || std::ferror(stdout)) {
    std::fputs("sidehill: the answer could not be written\n", stderr);
    return sidehill::kBadInput;
  }
  return code;
}

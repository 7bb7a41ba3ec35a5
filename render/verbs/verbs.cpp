// All verbs of the program. A new one: its name in both lists.
#include "render/verbs/verb.h"

namespace sidehill {

using Prepares = VerbAction(CLI::App&);
Prepares prepare_view, prepare_solve, prepare_run, prepare_replay, prepare_slope_limit, prepare_merge, prepare_trial,
    prepare_ballast, prepare_plan, prepare_compare, prepare_loader, prepare_weigh, prepare_lesson, prepare_picture,
    prepare_film, prepare_chart, prepare_report, prepare_rolling_test, prepare_fill, prepare_grip, prepare_soil,
    prepare_machine, prepare_list, prepare_check, prepare_sheet, prepare_label, prepare_handout, prepare_card,
    prepare_log;

const std::vector<Verb>& verbs() {
  static const std::vector<Verb> kVerbs = {
      {"view", "open the window with sliders, 3-D picture and run (needs a display)", prepare_view},
      {"solve",
       "the answer at rest: wheel loads, margin, what gives way at which slope",
       prepare_solve,
       {{"sidehill solve scenes/first_slope.toml"},
        {"sidehill solve scenes/first_slope.toml --set ballast.rear.fill_fraction=0 --set terrain.slope_deg=20"},
        {"sidehill solve scenes/first_slope.toml --set vehicle_file=compact_26kw --json"}}},
      {"run",
       "run the scene, from rest or dropped, and give events and outcome",
       prepare_run,
       {{"sidehill run scenes/over_a_stump.toml --set programme.speed_kmh=6"},
        {"sidehill run scenes/over_a_stump.toml --record stump.run", "keep the run in a file"}}},
      {"replay",
       "a recorded run: what happened, one moment, its scene, or whether it gives the same again",
       prepare_replay,
       {{"sidehill replay stump.run --at 4.2", "every value at that moment; --again: is it the same?"}}},
      {"slope-limit",
       "the steepest slope for a programme, found by running it; a table over one or two keys",
       prepare_slope_limit,
       {{"sidehill slope-limit scenes/raised_while_driving.toml", "the steepest slope for a programme"}}},
      {"merge", "put the parts of a table together", prepare_merge},
      {"trial", "run thousands of random scenes to check the calculation", prepare_trial},
      {"ballast", "what regulations, standards and practice ask of the weights, and whether they are met",
       prepare_ballast},
      {"plan",
       "search all ways to ballast a machine for its job; the few worth choosing, and why",
       prepare_plan,
       {{"sidehill plan scenes/bale_on_spike.toml --set job_file=hill_bale", "what to fill in or hang on"},
        {"sidehill plan scenes/bale_on_spike.toml --set job_file=hill_bale --best lightest --left-deg 2"}}},
      {"log",
       "what has been done of a plan file, what is left, next checks; the machine as it is now",
       prepare_log,
       {{"sidehill log plan.toml --add --who Ana --tyre rear-left --litres 180 --next-check 2027-05-01",
         "write down what was done"}}},
      {"compare",
       "set-ups of one scene side by side: mass, slide, lift-off, rules, slip, fuel, soil, frost",
       prepare_compare,
       {{"sidehill compare scenes/first_slope.toml --with nothing --with weights"}}},
      {"loader",
       "a table of bucket height by load: lift-off, worst heading, front tyres, rear axle",
       prepare_loader,
       {{"sidehill loader scenes/bucket_up.toml", "bucket height by load"}}},
      {"weigh",
       "centre of gravity from axle loads, level and with one axle raised (after ISO 789-6)",
       prepare_weigh,
       {{"sidehill weigh --plan", "how to weigh to find the centre of gravity"}}},
      {"lesson",
       "a prepared lesson: you guess, then it shows the answer, the caution and what to remember",
       prepare_lesson,
       {{"sidehill lesson stump --guess 2", "a lesson: you guess, then see the answer"}}},
      {"handout",
       "a lesson on paper as PDF: the question in front, the answer on the back",
       prepare_handout,
       {{"sidehill handout stump stump.pdf", "one sheet for each learner"}}},
      {"picture",
       "draw the scene into a PNG file; needs no display",
       prepare_picture,
       {{"sidehill picture scenes/first_slope.toml first_slope.png"}}},
      {"film",
       "make a film of a run or a recording (.run) with ffmpeg; needs no display",
       prepare_film,
       {{"sidehill film scenes/over_a_stump.toml stump.mp4 --slow 4 --start-s 4"}}},
      {"chart",
       "draw a chart as SVG or PNG: margin by heading, over time, by cause, by liquid",
       prepare_chart,
       {{"sidehill chart scenes/first_slope.toml heading.svg --of heading", "also time, loads, why, slopes, fills"}}},
      {"report",
       "write the report to sign as PDF: verdict, rules, loads, intervals, inputs; or why not to sign it",
       prepare_report,
       {{"sidehill report scenes/first_slope.toml first_slope.pdf", "the page to sign"}}},
      {"card",
       "write the card for the cab as PDF: at which slope it gives way, by bucket height and load",
       prepare_card,
       {{"sidehill card scenes/bucket_up.toml bucket_up.pdf", "one page for the driver"}}},
      {"rolling-test", "the published calculation of continuous rolling for narrow tractors", prepare_rolling_test},
      {"fill",
       "what to pump into a tyre: litres, kilograms, level, frost, recipe, cautions",
       prepare_fill,
       {{"sidehill fill 18.4-38 --medium calcium_chloride_3_5 --coldest-c -20",
         "litres, kilograms, level, frost, recipe"}}},
      {"sheet",
       "write the filling sheet as PDF: for each axle with liquid, what to do step by step",
       prepare_sheet,
       {{"sidehill sheet scenes/first_slope.toml filling.pdf", "a page for whoever fills the tyres"}}},
      {"label",
       "write rim labels as PDF: a card for each filled wheel, to be cut out",
       prepare_label,
       {{"sidehill label scenes/first_slope.toml labels.pdf", "what is inside, for the next one at the wheel"}}},
      {"grip",
       "what one driven wheel pulls on soil at a slip, and its best slip (published equations)",
       prepare_grip,
       {{"sidehill grip --mobility 40 --slip 0.1 --tyre radial", "what one driven wheel pulls"}}},
      {"soil",
       "what one wheel does to the soil: contact area, stress at depth (published equations)",
       prepare_soil,
       {{"sidehill soil --width-m 0.467 --diameter-m 1.755 --pressure-kpa 100 --load-kn 26", "stress at depth"}}},
      {"machine",
       "make a file for your own tractor, from its plate, a weighbridge and a tape measure",
       prepare_machine,
       {{"sidehill machine --class utility_75kw --rear-axle-kg 2740 mine.toml",
         "your own machine; the rest is estimated"}}},
      {"list",
       "list machines, scenes, jobs, tyres, media or keys",
       prepare_list,
       {{"sidehill list keys", "every key with its unit, range and meaning"}}},
      {"check", "read and build scene and machine files; compare answers with what the files expect", prepare_check},
  };
  return kVerbs;
}

void take_scene(CLI::App& sub, SceneArguments& arguments, bool required) {
  sub.add_option("scene", arguments.scene, "scene file (.toml)")->required(required);
  sub.add_option("--set", arguments.changes, "KEY=VALUE changes one value; may be repeated")
      ->type_name("KEY=VALUE")
      ->expected(1)
      ->allow_extra_args(false)  // the word after KEY=VALUE is none of its own
      ->take_all();
}

void take_units(CLI::App& sub, Units& units) {
  sub.add_option_function<std::string>(
         "--units",
         [&units](const std::string& word) { units = word == "us"   ? Units::us
                                                     : word == "kn" ? Units::kn
                                                                    : Units::si; },
         "si (weights in kg), kn (weights in kN) or us (pounds, inches, psi), for what people read; JSON and CSV stay "
         "SI")
      ->check(CLI::IsMember({"si", "kn", "us"}).description(""))
      ->type_name("WORD");
}

void take_paper(CLI::App& sub, PaperSize& size) {
  sub.add_option_function<std::string>(
         "--paper", [&size](const std::string& word) { size = word == "letter" ? PaperSize::letter : PaperSize::a4; },
         "size of the paper: a4 or letter; default a4")
      ->check(CLI::IsMember({"a4", "letter"}).description(""))
      ->type_name("WORD");
}

void take_strict(CLI::App& sub, bool& strict) {
  sub.add_flag("--strict", strict, "exit code 4 if a limit is not met (a target of practice is no limit)");
}

void take_json(CLI::App& sub, bool& json) { sub.add_flag("--json", json, "print the answer as JSON"); }

}  // namespace sidehill

// `sidehill compare`: several set-ups of one scene side by side.
#include <fmt/format.h>

#include <span>

#include "render/page/set_ups_chart.h"
#include "render/text/job/set_ups_report.h"
#include "render/text/rest/warnings.h"
#include "render/verbs/outputs.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/scene/scene_checks.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

constexpr std::size_t kMostSetUps = 12;

struct NamedSetUp {
  std::string name;
  std::vector<std::string> changes;
};

struct CompareCommand {
  SceneArguments in;
  std::vector<std::string> names;
  std::vector<NamedSetUp> set_ups;  // the scene itself first, as typed
  bool json = false, csv = false, strict = false, force = false;
  std::string chart;  // file of the chart, .svg or .png; empty = none
  Units units = Units::si;
};

// Each --set belongs to the --with before it; those before the first --with change the scene for all.
void share_out(const CLI::App& sub, CompareCommand& asked) {
  asked.set_ups = {{"as it is", {}}};
  std::size_t name = 0, change = 0;
  for (const CLI::Option* option : sub.parse_order()) {
    if (option->check_name("--with")) asked.set_ups.push_back({asked.names.at(name++), {}});
    if (option->check_name("--set")) asked.set_ups.back().changes.push_back(asked.in.changes.at(change++));
  }
}

Scene scene_of(const Scene& base, const NamedSetUp& set_up) {
  Scene scene = base;
  if (set_up.name == "nothing") scene = without_ballast(scene);
  if (set_up.name == "weights") scene = with_weights_for_liquid(scene);
  const std::string option = "--with " + set_up.name;
  for (const std::string& change : set_up.changes) apply_override(scene, change, option);
  if (const auto conflict = find_conflict(scene))
    throw InputError(option + ": " + conflict->key + ": " + conflict->message);
  return scene;
}

int compare_verb(const CompareCommand& asked) {
  if (asked.json && asked.csv) throw InputError("compare: --csv and --json: allowed one of them");
  if (asked.set_ups.size() < 2)
    throw InputError(
        "compare: nothing to compare with, allowed --with nothing, --with weights, or --with NAME --set "
        "KEY=VALUE ...");
  if (asked.set_ups.size() > kMostSetUps)
    throw InputError(
        fmt::format("compare: {} set-ups, allowed 2 to {} with the scene itself", asked.set_ups.size(), kMostSetUps));
  for (std::size_t i = 1; i < asked.set_ups.size(); ++i) {
    const NamedSetUp& one = asked.set_ups[i];
    if (one.name.empty() || one.name.size() > 40)
      throw InputError("compare: --with: a name of 1 to 40 letters belongs here");
    for (std::size_t k = 0; k < i; ++k)
      if (asked.set_ups[k].name == one.name)
        throw InputError("compare: --with " + one.name + ": said twice, allowed once");
    if (one.changes.empty() && one.name != "nothing" && one.name != "weights")
      throw InputError("compare: --with " + one.name +
                       ": nothing is changed, allowed --set KEY=VALUE after it (or the words nothing, weights)");
  }
  const bool svg = asked.chart.ends_with(".svg");
  if (!asked.chart.empty()) {
    if (!svg && !asked.chart.ends_with(".png"))
      throw InputError("compare: --chart " + asked.chart +
                       ": a chart is written as SVG or PNG, give it a name in .svg or .png");
    check_output(asked.chart, asked.force);
  }
  const Scene base = load_scene(asked.in.scene, asked.set_ups.front().changes);
  std::vector<NamedScene> set_ups{{"as it is", base}};
  for (std::size_t i = 1; i < asked.set_ups.size(); ++i)
    set_ups.push_back({asked.set_ups[i].name, scene_of(base, asked.set_ups[i])});
  const SetUpComparison all = of_scene(asked.in.scene, [&] { return compare_set_ups(set_ups); });
  if (asked.json)
    print(set_ups_json(all));
  else
    fmt::print("{}", asked.csv ? set_ups_csv(all) : set_ups_table(all, asked.units));
  if (!asked.chart.empty()) {
    const Chart chart = read_in(set_ups_chart(all), asked.units);
    svg ? write_svg(asked.chart, chart) : write_png(asked.chart, chart);
  }
  for (const NamedScene& one : std::span(set_ups).subspan(1))
    if (write_scene(one.scene) == write_scene(base))
      fmt::print(stderr, "compare: --with {}: {}it is the same machine as it is\n", one.name,
                 one.name == "weights"   ? "the scene has no liquid to replace: "
                 : one.name == "nothing" ? "the scene has no ballast to take off: "
                                         : "");
  if (const std::string other = other_machine_caution(base); !other.empty())
    fmt::print(stderr, "{}: {}\n", asked.in.scene, other);
  for (const SetUpAnswer& s : all.set_ups)
    if (asked.strict && breaks_limit(s.rules)) return kLimitBroken;
  return kAnswered;
}

}  // namespace

VerbAction prepare_compare(CLI::App& sub) {
  const auto asked = std::make_shared<CompareCommand>();
  take_scene(sub, asked->in);
  sub.get_option("--set")->expected(1)->allow_extra_args(false)->take_all()->description(
      "KEY=VALUE changes one value of the set-up named before it; before the first --with, of all");
  sub.add_option("--with", asked->names,
                 "NAME begins another set-up; `nothing` takes all ballast off, `weights` puts cast weights in place of "
                 "the liquid")
      ->type_name("NAME")
      ->expected(1)
      ->allow_extra_args(false)
      ->take_all();
  take_json(sub, asked->json);
  sub.add_flag("--csv", asked->csv, "the table as CSV");
  sub.add_option("--chart", asked->chart, "also draw what gives way at which slope, into a .svg or .png file");
  add_force_flag(sub, asked->force);
  take_units(sub, asked->units);
  take_strict(sub, asked->strict);
  return [asked, &sub] {
    share_out(sub, *asked);
    return compare_verb(*asked);
  };
}

}  // namespace sidehill

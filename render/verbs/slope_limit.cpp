// The verbs "slope-limit" and "merge": flags, files, and what is printed.
#include <fmt/format.h>
#include <tbb/global_control.h>

#include <optional>
#include <string>
#include <vector>

#include "render/text/motion/slope_limit_report.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "render/verbs/arguments.h"
#include "render/verbs/outputs.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct SlopeCommand {
  SceneArguments in;
  bool json = false;
  bool no_roll = false;
  std::vector<std::string> over, parts;
  std::string shard, output;
  std::size_t cores = 0;  // 0 = all
  bool force = false;     // replace the file of --output
  Units units = Units::si;
};

void print_or_save(const SlopeCommand& options, bool json, const nlohmann::ordered_json& table) {
  const std::string text = table.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
  if (!options.output.empty()) save_text(options.output, text);
  fmt::print("{}", json ? text : slope_limit_table(table, options.units));
}

void add_slope_flags(CLI::App& sub, SlopeCommand& options) {
  sub.add_flag("--no-roll", options.no_roll,
               "accept every slope on which the machine does not go over; without it, on which no wheel lifts");
  sub.add_option("--over", options.over, "KEY=FROM:TO:STEPS, rows or columns of a table; once or twice")
      ->type_name("KEY=FROM:TO:STEPS")
      ->expected(1)
      ->allow_extra_args(false)
      ->take_all();
  sub.add_option("--shard", options.shard, "K/N: calculate only part K of N of the table, into --output");
  sub.add_option("--output", options.output, "also write JSON into this file");
  add_force_flag(sub, options.force);
  sub.add_option("--cores", options.cores, "use at most so many cores; default: all")->check(whole_number(1, 1024));
}

void add_merge_flags(CLI::App& sub, SlopeCommand& options) {
  sub.add_option("files", options.parts, "the files that slope-limit --shard wrote, every part once")->required();
  sub.add_option("--output", options.output, "also write JSON into this file");
  add_force_flag(sub, options.force);
}

int limit_slope_verb(const SlopeCommand& options, const std::string& scene, const std::vector<std::string>& changes,
                     bool json) {
  SlopeLimitRequest request;
  request.scene = load_scene(scene, changes);
  request.ask.bearable = options.no_roll ? Bearable::no_roll : Bearable::no_lift;
  if (options.over.size() > 2) throw InputError("--over: allowed once or twice");
  for (const std::string& text : options.over) request.keys.push_back(swept_key(text));
  if (!options.shard.empty()) request.shard = shard_of(options.shard);
  if (!options.shard.empty() && options.output.empty())
    throw InputError("--shard: needs --output, the file for this part");
  if (!options.output.empty()) check_output(options.output, options.force);  // before what may take hours
  std::optional<tbb::global_control> cores;
  if (options.cores > 0) cores.emplace(tbb::global_control::max_allowed_parallelism, options.cores);
  try {
    if (!json) {
      std::vector<std::string> first = set_up_warnings(request.scene);
      const bool hung_on = std::ranges::any_of(request.keys, [](const SweptKey& swept) {
        return swept.key.starts_with("ballast.implement") || swept.key.starts_with("ballast.trailer");
      });
      if (!hung_on) first.push_back(without_implement(request.scene));
      for (const std::string& words : first)
        if (!words.empty()) fmt::print("{}", paragraph("  ! ", read_in(words, options.units)));
    }
    print_or_save(options, json,
                  slope_limit_json(request, sweep(request.scene, request.keys, request.ask, request.shard)));
  } catch (const InputError& error) {
    throw InputError(scene + ": " + error.what());
  }
  return 0;
}

int merge_verb(const SlopeCommand& options, bool json) {
  std::vector<std::pair<std::string, nlohmann::ordered_json>> parts;
  for (const std::string& file : options.parts) {
    parts.emplace_back(file, part_of(read_text(file), file));
  }
  const nlohmann::ordered_json whole = merged(parts);
  if (!options.output.empty()) check_output(options.output, options.force);
  print_or_save(options, json, whole);
  return 0;
}

}  // namespace

VerbAction prepare_slope_limit(CLI::App& sub) {
  const auto asked = std::make_shared<SlopeCommand>();
  take_scene(sub, asked->in);
  add_slope_flags(sub, *asked);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] { return limit_slope_verb(*asked, asked->in.scene, asked->in.changes, asked->json); };
}

VerbAction prepare_merge(CLI::App& sub) {
  const auto asked = std::make_shared<SlopeCommand>();
  add_merge_flags(sub, *asked);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] { return merge_verb(*asked, asked->json); };
}

}  // namespace sidehill

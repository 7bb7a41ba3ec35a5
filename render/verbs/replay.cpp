// `sidehill replay`: what a recording says, one moment of it, its scene, or whether running that scene again gives the
// same. What it prints comes from render/text/.
#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "render/text/motion/rescue_report.h"
#include "render/text/motion/run_report.h"
#include "render/text/motion/signals.h"
#include "render/text/rest/answer_json.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/motion/recording_file.h"
#include "sim/motion/run.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct ReplayCommand {
  bool json = false;
  std::string file;
  std::vector<std::string> signals;
  std::optional<double> at;  // [s]
  bool again = false, scene = false, csv = false;
  Units units = Units::si;
};

int print_moment(const ReplayCommand& options, bool json) {
  RecordingFile file(options.file);
  const double begin = file.state_at(0).time, end = file.state_at(file.frames() - 1).time;
  if (!(*options.at >= begin && *options.at <= end))
    throw InputError(
        fmt::format("--at {}: {} has nothing there, allowed {} to {} s", *options.at, options.file, begin, end));
  const std::size_t frame = file.frame_near(*options.at);
  const State state = file.state_at(frame);
  const auto values = signals_of(build(parse_scene(file.about().scene_text, options.file)), state, options.signals);
  if (json) {
    nlohmann::ordered_json signals;
    for (const auto& [name, value] : values) signals[name] = number_or_null(value);
    print({{"file", options.file},
           {"frame", frame},
           {"signals", signals},
           {"state_hash", fmt::format("{:016x}", hash(state))}});
  } else {
    fmt::print("Frame {} of {}\n", frame, file.frames());
    for (const auto& [name, value] : values) fmt::print("{}", signal_row(name, value, options.units));
  }
  return kAnswered;
}

// In what two runs of one scene are not the same; empty if in nothing.
struct Difference {
  std::string words;
  std::optional<std::size_t> frame;
  std::optional<double> time;  // of it [s]
};

std::optional<Difference> difference(const Recording& was, const Recording& is) {
  const std::size_t common = std::min(was.moments.size(), is.moments.size());
  for (std::size_t i = 0; i < common; ++i)
    if (!same_bits(was.moments[i], is.moments[i]))
      return Difference{
          fmt::format("frame {} ({:.3f} s) is the first that comes out differently", i, is.states[i].time), i,
          is.states[i].time};
  if (was.moments.size() != is.moments.size())
    return Difference{
        fmt::format("{} frames are stored, {} come out", was.moments.size(), is.moments.size()), common, {}};
  const bool same_events = std::equal(
      was.events.begin(), was.events.end(), is.events.begin(), is.events.end(), [](const Event& a, const Event& b) {
        return a.kind == b.kind && a.time == b.time && a.wheel == b.wheel && a.slope == b.slope;
      });
  if (!same_events || was.outcome != is.outcome || was.divergence != is.divergence)
    return Difference{"all frames are the same, events or outcome are not", {}, {}};
  return {};
}

int run_again(const ReplayCommand& options, bool json) {
  RecordingFile file(options.file);
  Recording was = file.about();
  for (std::size_t i = 0; i < file.frames(); ++i) was.moments.push_back(file.moment_at(i));
  const auto other = difference(was, run(parse_scene(was.scene_text, options.file), was.orders));
  if (json) {
    nlohmann::ordered_json answer = {{"file", options.file}, {"frames", file.frames()}, {"same", !other}};
    answer["first_other_frame"] =
        other && other->frame ? nlohmann::ordered_json(*other->frame) : nlohmann::ordered_json(nullptr);
    answer["time_s"] = other && other->time ? number_or_null(*other->time) : nlohmann::ordered_json(nullptr);
    answer["recorded_by"] = was.program_version;
    print(answer);
  } else if (other) {
    fmt::print("{}: run again, {} (recorded by Sidehill {})\n", options.file, other->words, was.program_version);
  } else {
    fmt::print("{}: run again, all {} frames come out the same, bit for bit\n", options.file, file.frames());
  }
  return other ? kDiverged : kAnswered;
}

int print_run(const ReplayCommand& options, bool json) {
  const Recording recording = load_recording(options.file);
  const int code = recording.outcome == Outcome::diverged ? kDiverged : kAnswered;
  if (options.csv) {
    fmt::print("{}", signals_csv(recording, options.signals));
    return code;
  }
  const Scene scene = parse_scene(recording.scene_text, options.file);
  const Answer at_rest = with_uncertainty(answer(scene));
  const Rescues saved = recording.orders.empty() ? rescues(scene) : Rescues{};  // of the programme, not of hands
  const StoredRun stored{options.file, RecordingFile(options.file).bytes(), recording.moments.size()};
  if (json) {
    auto table = to_json(at_rest, recording);
    table["rescue"] = rescue_json(saved);
    table["recording"] = to_json(stored);
    print(table);
  } else {
    fmt::print("{}{}", run_table(at_rest, recording, rescue_table(saved), options.units), stored_line(stored));
  }
  if (code == kDiverged) fmt::print(stderr, "{}: the simulation diverged: {}\n", options.file, recording.divergence);
  return code;
}

void add_replay_flags(CLI::App& sub, ReplayCommand& options) {
  sub.add_option("file", options.file, "the file that run --record wrote (.run)")->required();
  CLI::Option* csv = sub.add_flag("--csv", options.csv, "print every signal over time instead");
  sub.add_option("--signals", options.signals, "with --csv or --at: only these, such as roll_deg,load_rear_left_n")
      ->delimiter(',');
  CLI::Option* at = sub.add_option("--at", options.at, "SECONDS: every signal at this one moment");
  CLI::Option* again =
      sub.add_flag("--again", options.again, "run its scene again and compare every frame, bit for bit");
  CLI::Option* scene =
      sub.add_flag("--scene", options.scene, "print its scene as text, so that you can save and change it");
  at->excludes(csv)->excludes(again)->excludes(scene);
  again->excludes(csv)->excludes(scene);
  scene->excludes(csv);
}

int replay_verb(const ReplayCommand& options, bool json) {
  if (options.scene && json) throw InputError("replay: --scene is text only, without --json");
  if (options.csv && json) throw InputError("replay: --csv and --json: allowed one of them");
  if (!options.signals.empty() && !options.csv && !options.at)
    throw InputError("replay: --signals: needs --csv or --at");
  if (options.scene) {
    fmt::print("{}", scene_of_recording(options.file));
    return kAnswered;
  }
  if (options.at) return print_moment(options, json);
  if (options.again) return run_again(options, json);
  return print_run(options, json);
}

}  // namespace

VerbAction prepare_replay(CLI::App& sub) {
  const auto asked = std::make_shared<ReplayCommand>();
  add_replay_flags(sub, *asked);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] { return replay_verb(*asked, asked->json); };
}

}  // namespace sidehill

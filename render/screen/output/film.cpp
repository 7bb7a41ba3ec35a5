#include "render/screen/output/film.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screen/desk/between.h"
#include "render/screen/desk/verdict.h"
#include "render/screen/output/film_pipe.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/base/errors.h"
#include "sim/model/model.h"
#include "sim/motion/under_way.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

void check_range(const char* what, double value, double low, double high, const char* unit) {
  if (!(value >= low && value <= high))
    throw InputError(fmt::format("film: {} {:g}{}: allowed {:g} to {:g}{}", what, value, unit, low, high, unit));
}

std::string rate_words(double slow) {
  if (slow == 1) return "as it happened";
  return slow > 1 ? fmt::format("{:g} times slower", slow) : fmt::format("{:g} times faster", 1 / slow);
}

}  // namespace

struct Film::Impl {
  Recording recording;
  Scene scene;
  Model model;
  FilmOptions options;
  double from = 0;  // of the run [s]
  int frames = 0, next = 0;
  std::size_t at = 0;  // stored frame before the one to be painted
  Camera camera;
  std::vector<std::string> verdict;  // on the machine at rest, as every picture says it
  bool grave = false;
  std::optional<FilmPipe> pipe;
  std::optional<Easel> easel;
  FilmProgress progress;
  FilmState state = FilmState::running;

  State moment(double time) {
    const auto& states = recording.states;
    while (at + 1 < states.size() && states[at + 1].time <= time) ++at;
    if (at + 1 >= states.size()) return states.back();
    const double step = states[at + 1].time - states[at].time;
    return between(states[at], states[at + 1], step > 0 ? (time - states[at].time) / step : 0);
  }

  PictureStrip strip_of(const State& shown, const std::optional<double>& left) const {
    PictureStrip strip;
    strip.title = scene.title.empty() ? scene.vehicle.name : text::read_in(scene.title, options.overlays.units);
    strip.readouts = options.readouts;
    strip.verdict = verdict;
    strip.grave = grave;
    if (std::string now = now_words(scene, shown); !now.empty()) {
      strip.verdict.insert(strip.verdict.begin(), std::move(now));
      strip.grave = true;
    }
    const double speed = glm::dot(shown.v_G, shown.X_GV.R[0]);
    const Event* last = nullptr;
    for (const Event& event : recording.events)
      if (event.time <= shown.time) last = &event;
    strip.entries = {{"Time", fmt::format("{:.2f} s", shown.time), false, 86},
                     {"Force angle", left && std::isfinite(*left) ? degrees(left) : "-", left && *left < 0, 112},
                     {"Slope", degrees_and_percent(shown.slope), false, 104},
                     {"Speed",
                      std::isfinite(speed) ? text::shown(Quantity::speed, std::abs(speed) < 0.05 / 3.6 ? 0.0 : speed,
                                                         options.overlays.units)
                                           : "-",
                      false, 98},
                     {"Shown", rate_words(options.slow), false, 150},
                     {"Last", last ? event_words(*last) : "-", false, 300}};
    return strip;
  }

  void make_frame() {
    const State shown = moment(from + next / options.frames_a_second / options.slow);
    Overlays overlays = options.overlays;
    std::optional<double> left = angle_left(model, shown);
    if (left && !std::isfinite(*left)) left.reset();
    overlays.margin = left;
    const Drawing drawing = draw(scene, model, shown, overlays);
    if (next == 0)
      camera =
          options.camera ? *options.camera : camera_at(options.preset, drawing, 1.2 * options.width / options.height);
    else if (options.follow)
      follow(camera, drawing);
    keep_above_ground(camera, drawing);
    pipe->write(easel->paint(drawing, camera, strip_of(shown, left), options.fine ? Quality::still : Quality::plain));
  }
};

Film::Film(Recording recording, const std::filesystem::path& path, const FilmOptions& options)
    : impl_(std::make_unique<Impl>()) {
  Impl& f = *impl_;
  check_film_name(path);
  check_range("width", options.width, 64, 4096, " px");
  check_range("height", options.height, 64, 4096, " px");
  check_range("frames a second", options.frames_a_second, 1, 60, "");
  check_range("slow motion", options.slow, 0.1, 100, "");
  if (recording.states.empty()) throw InputError("film: the recording holds no frames");
  const double first = recording.states.front().time, last = recording.states.back().time;
  f.from = options.start.value_or(first);
  const double end = options.end.value_or(last);
  check_range("start", f.from, first, last, " s");
  check_range("end", end, f.from, last, " s");
  f.options = options;
  f.recording = std::move(recording);
  f.scene = parse_scene(f.recording.scene_text, "recording");
  f.model = build(f.scene);
  // A hair's breadth more, so that 0.2 s at 25 a second is 5 frames and not 4.
  const double count = std::floor((end - f.from) * options.slow * options.frames_a_second + 1e-6);
  constexpr double kMost = 200000;  // more than two hours at 25 a second
  if (count > kMost)
    throw InputError(fmt::format("film: {:.0f} frames: allowed up to {:.0f}; ask for a shorter stretch", count, kMost));
  f.frames = std::max(1, static_cast<int>(count));
  f.progress.total = f.frames;
  if (options.readouts) {
    const Standing at_rest = standing_of(f.scene, f.model);
    f.verdict = verdict_sentences(at_rest.verdict, f.scene, at_rest.statics);
    for (std::string& words : f.verdict) words = text::read_in(words, f.options.overlays.units);
    f.verdict.front().insert(0, "At rest: ");
    f.grave = is_grave(at_rest.verdict.headline);
  }
  f.pipe.emplace(path, options.width, options.height, options.frames_a_second);
  f.easel.emplace(options.width, options.height, options.host);
}

Film::~Film() = default;

FilmState Film::step() {
  Impl& f = *impl_;
  if (f.state != FilmState::running) return f.state;
  if (f.progress.cancel) {
    f.pipe.reset();  // ends ffmpeg and removes what there was
    f.easel.reset();
    return f.state = FilmState::cancelled;
  }
  if (f.next < f.frames) {
    f.make_frame();
    f.progress.done = ++f.next;
    return f.state;
  }
  f.pipe->finish();
  f.easel.reset();
  return f.state = FilmState::finished;
}

FilmState Film::state() const { return impl_->state; }
FilmProgress& Film::progress() { return impl_->progress; }

}  // namespace sidehill::screen

#include "render/screen/output/film.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screen/desk/asked_now.h"
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

// One run on its way through the film.
struct Reel {
  Recording recording;
  std::string title;
  Scene scene;
  Model model;
  double from = 0;  // of the run [s]
  int frames = 0;
  std::size_t at = 0;                // stored frame before the one to be painted
  std::vector<std::string> verdict;  // on the machine at rest, as every picture says it
  bool grave = false;

  State moment(double time) {
    const auto& states = recording.states;
    while (at + 1 < states.size() && states[at + 1].time <= time) ++at;
    if (at + 1 >= states.size()) return states.back();
    const double step = states[at + 1].time - states[at].time;
    return between(states[at], states[at + 1], step > 0 ? (time - states[at].time) / step : 0);
  }
};

namespace {

Reel reel_of(FilmPart given, const FilmOptions& options) {
  Reel part;
  if (given.recording.states.empty()) throw InputError("film: the recording holds no frames");
  const double first = given.recording.states.front().time, last = given.recording.states.back().time;
  part.from = options.start.value_or(first);
  const double end = options.end.value_or(last);
  check_range("start", part.from, first, last, " s");
  check_range("end", end, part.from, last, " s");
  part.recording = std::move(given.recording);
  part.scene = parse_scene(part.recording.scene_text, "recording");
  part.model = build(part.scene);
  part.title = !given.title.empty()       ? given.title
               : part.scene.title.empty() ? part.scene.vehicle.name
                                          : text::read_in(part.scene.title, options.overlays.units);
  // A hair's breadth more, so that 0.2 s at 25 a second is 5 frames and not 4.
  const double count = std::floor((end - part.from) * options.slow * options.frames_a_second + 1e-6);
  constexpr double kMost = 200000;  // more than two hours at 25 a second
  if (count > kMost)
    throw InputError(fmt::format("film: {:.0f} frames: allowed up to {:.0f}; ask for a shorter stretch", count, kMost));
  part.frames = std::max(1, static_cast<int>(count));
  if (options.readouts && !options.lesson) {
    const Standing at_rest = standing_of(part.scene, part.model);
    part.verdict = verdict_sentences(at_rest.verdict, part.scene, at_rest.statics);
    for (std::string& words : part.verdict) words = text::read_in(words, options.overlays.units);
    part.verdict.front().insert(0, "At rest: ");
    part.grave = is_grave(at_rest.verdict.headline);
  }
  return part;
}

int frames_of(const std::optional<PictureCard>& card, double seconds, double frames_a_second) {
  return card ? std::max(1, static_cast<int>(std::lround(seconds * frames_a_second))) : 0;
}

}  // namespace

struct Film::Impl {
  std::vector<Reel> parts;
  FilmOptions options;
  int before = 0;                // frames of the first moment without a card: what it is about is seen first
  int opening = 0, closing = 0;  // frames with a card
  int next = 0;
  Camera camera;
  Pixels painted;  // last
  const PictureCard* painted_card = nullptr;
  std::optional<FilmPipe> pipe;
  std::optional<Easel> easel;
  FilmProgress progress;
  FilmState state = FilmState::running;

  PictureStrip strip_of(const Reel& part, const State& shown, const std::optional<double>& left) const {
    PictureStrip strip;
    strip.title = part.title;
    strip.readouts = options.readouts;
    strip.verdict = part.verdict;
    strip.grave = part.grave;
    if (std::string now = now_words(part.scene, shown); !now.empty()) {
      strip.verdict.insert(strip.verdict.begin(), std::move(now));
      strip.grave = true;
    }
    const double speed = glm::dot(shown.v_G, shown.X_GV.R[0]);
    const Event* last = nullptr;
    for (const Event& event : part.recording.events)
      if (event.time <= shown.time) last = &event;
    if (options.lesson) {
      const AskedNow now = asked_now(*options.lesson, part.recording, shown, true, nullptr, options.overlays.units);
      strip.entries.push_back({now.name, now.value, now.happened, 230});
      strip.entries.push_back({"Then", now.note.empty() ? "-" : now.note, now.happened, 280});
    }
    strip.entries.push_back({"Time", fmt::format("{:.2f} s", shown.time), false, 86});
    if (!options.lesson)
      strip.entries.push_back(
          {"Force angle", left && std::isfinite(*left) ? degrees(left) : "-", left && *left < 0, 112});
    strip.entries.push_back({"Slope", degrees_and_percent(shown.slope), false, 104});
    strip.entries.push_back(
        {"Speed",
         std::isfinite(speed)
             ? text::shown(Quantity::speed, std::abs(speed) < 0.05 / 3.6 ? 0.0 : speed, options.overlays.units)
             : "-",
         false, 98});
    if (!options.lesson) {  // there the title says which of two set-ups it is
      strip.entries.push_back({"Shown", rate_words(options.slow), false, 150});
      strip.entries.push_back({"Last", last ? event_words(*last) : "-", false, 300});
    }
    return strip;
  }

  // The part and its frame that are shown in this frame of the film, and the card over them.
  struct Turn {
    std::size_t part = 0;
    int frame = 0;
    const PictureCard* card = nullptr;
  };
  Turn turn() const {
    if (next < before) return {0, 0, nullptr};
    if (next < before + opening) return {0, 0, &*options.opening};
    int left = next - before - opening;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      if (left < parts[i].frames) return {i, left, nullptr};
      left -= parts[i].frames;
    }
    return {parts.size() - 1, parts.back().frames - 1, &*options.closing};
  }

  void make_frame() {
    const Turn now = turn();
    if (now.card && now.card == painted_card) return pipe->write(painted);  // nothing moves below it
    Reel& part = parts[now.part];
    const State shown = part.moment(part.from + now.frame / options.frames_a_second / options.slow);
    Overlays overlays = options.overlays;
    std::optional<double> left = angle_left(part.model, shown);
    if (left && !std::isfinite(*left)) left.reset();
    overlays.margin = left;
    if (options.lesson) overlays.margin.reset();  // it would say what is asked
    const Drawing drawing = draw(part.scene, part.model, shown, overlays);
    if (next == 0 || (now.frame == 0 && next >= before + opening))
      camera =
          options.camera ? *options.camera : camera_at(options.preset, drawing, 1.2 * options.width / options.height);
    else if (options.follow)
      follow(camera, drawing);
    keep_above_ground(camera, drawing);
    PictureStrip strip = strip_of(part, shown, left);
    if (now.card) strip.card = *now.card;
    painted = easel->paint(drawing, camera, strip, options.fine ? Quality::still : Quality::plain);
    painted_card = now.card;
    pipe->write(painted);
  }
};

namespace {

std::vector<FilmPart> one_part(Recording recording) {
  std::vector<FilmPart> parts;
  parts.push_back({std::move(recording), ""});
  return parts;
}

}  // namespace

Film::Film(Recording recording, const std::filesystem::path& path, const FilmOptions& options)
    : Film(one_part(std::move(recording)), path, options) {}

Film::Film(std::vector<FilmPart> parts, const std::filesystem::path& path, const FilmOptions& options)
    : impl_(std::make_unique<Impl>()) {
  Impl& f = *impl_;
  check_film_name(path);
  check_range("width", options.width, 64, 4096, " px");
  check_range("height", options.height, 64, 4096, " px");
  check_range("frames a second", options.frames_a_second, 1, 60, "");
  check_range("slow motion", options.slow, 0.1, 100, "");
  check_range("opening", options.opening_seconds, 0, 600, " s");
  check_range("closing", options.closing_seconds, 0, 600, " s");
  if (parts.empty()) throw InputError("film: there is nothing to show");
  f.options = options;
  for (FilmPart& part : parts) f.parts.push_back(reel_of(std::move(part), options));
  f.opening = frames_of(options.opening, options.opening_seconds, options.frames_a_second);
  f.closing = frames_of(options.closing, options.closing_seconds, options.frames_a_second);
  f.before = frames_of(options.opening, options.before_seconds, options.frames_a_second);
  int frames = f.before + f.opening + f.closing;
  for (const Reel& part : f.parts) frames += part.frames;
  f.progress.total = frames;
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
  if (f.next < f.progress.total) {
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

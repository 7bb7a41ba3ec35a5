#include "render/screen/window/exporting.h"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <utility>

#include "render/page/cab_card.h"
#include "render/page/filling_page.h"
#include "render/page/handout.h"
#include "render/page/label_page.h"
#include "render/page/make_chart.h"
#include "render/page/report.h"
#include "render/screen/desk/verdict.h"
#include "render/screen/window/scenery.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/units.h"
#include "render/text/words/words.h"
#include "sim/base/errors.h"
#include "sim/base/today.h"
#include "sim/insight/fill_of_scene.h"
#include "sim/motion/recording_file.h"
#include "sim/motion/rest_state.h"
#include "sim/motion/under_way.h"
#include "sim/plan/plan_filling.h"

namespace sidehill::screen {
namespace {

Pixels painted(const Session& session, const Camera& camera, Overlays overlays, int width, int height,
               bool hides_numbers) {
  const bool runs = session.showing() == Showing::run;
  const std::optional<double> margin = runs ? angle_left(*session.model(), session.shown()) : session.statics().margin;
  overlays = true_overlays(session, overlays, hides_numbers);
  const Drawing drawing = draw(session.scene(), *session.model(), session.shown(), overlays);
  const PictureStrip below = strip_of(session, margin, hides_numbers, overlays.units);
  Easel easel(width, height, GlHost::current);
  return easel.paint(drawing, camera, below, Quality::still);
}

// For the report: at rest, as all its numbers are, whatever moment of a run the window shows.
ReportPicture paint_for_report(const Session& session, Overlays overlays) {
  constexpr int kWidth = 1000, kHeight = 620;  // [px]
  overlays.labels = false;                     // the page says them
  const Drawing drawing = drawing_for_report(session, overlays);
  PictureStrip below;
  below.readouts = false;
  Easel easel(kWidth, kHeight, GlHost::current);
  Pixels pixels = easel.paint(drawing, camera_at(CameraPreset::scene, drawing), below, Quality::still);
  return {pixels.width, pixels.height, std::move(pixels.rgba), drawn_words(session.statics())};
}

std::vector<AxleFilling> fillings_of(const Scene& scene) {
  std::vector<AxleFilling> all = fillings_to_do(scene, "This plan", today());
  if (all.empty()) throw InputError("No tyre of this set-up holds liquid: there is nothing to fill");
  return all;
}

void write_the_card(const ExportRequest& request, const Scene& scene, Units units, CardProgress& progress,
                    const std::stop_token& stop) {
  const CabCard card = cab_card(scene, &progress, stop);
  if (stop.stop_requested()) throw InputError("Cancelled; nothing is left of it");
  if (cells_with(card, CardAnswer::not_known) == 3 * card.rows.size())
    throw InputError("No balance was found: no card is written");
  write_card(request.file, card, scene, build(scene), units, request.paper);
}

// As the verb makes it: the lesson's own scene, not what is shown just now.
ReportPicture paint_for_handout(const Scene& scene, Overlays overlays) {
  Session session(scene);
  session.settle();
  return paint_for_report(session, std::move(overlays));
}

void write(const Chart& chart, const std::string& file) {
  file.ends_with(".svg") ? write_svg(file, chart) : write_png(file, chart);
}

// Why nothing may leave the program now; empty = it may. Numbers and picture of another set-up than the one on the
// left would otherwise be handed on.
std::string hindrance(const ExportRequest& request, const Session& session, bool hides_numbers) {
  if (!session.refusal().empty()) return "This machine cannot exist: " + session.refusal();
  if (!session.model()) return "There is no answer yet: try again in a moment";
  const bool of_run = (request.kind == ExportKind::film && !request.lesson) || request.kind == ExportKind::run ||
                      (request.kind == ExportKind::chart && is_chart_of_run(request.chart_of));
  if (of_run && !session.recording()) return "There is no run yet: press Play or Drive first";
  if (request.kind == ExportKind::run) return {};
  if (session.working()) return "Still being worked out: try again in a moment";
  // For the trainer, as they are handed out.
  if (request.kind == ExportKind::handout || (request.kind == ExportKind::film && request.lesson)) return {};
  if (hides_numbers && request.kind != ExportKind::picture)
    return "The lesson still asks: this would give the answer away. Guess first";
  return {};
}

}  // namespace

PictureStrip strip_of(const Session& session, std::optional<double> margin, bool hides_numbers, Units units) {
  PictureStrip strip;
  strip.title =
      session.scene().title.empty() ? session.scene().vehicle.name : text::read_in(session.scene().title, units);
  strip.entries.push_back({"Slope", degrees_and_percent(session.shown().slope), false, 104});
  if (!hides_numbers) {
    strip.entries.push_back({"Gives way first", first_way_words(session.verdict()), false, 140});
    const bool runs = session.showing() == Showing::run;
    const std::optional<double> left = runs ? margin : left_at_rest(session.verdict());
    if (runs)
      strip.entries.push_back(
          {"Force angle", left && std::isfinite(*left) ? degrees(left) : "-", left && *left < 0, 120});
    else
      strip.entries.push_back({"Degrees left", left_words(left), left && *left < 0, 120});
    for (std::string& words : verdict_sentences(session.verdict(), session.scene(), session.statics()))
      strip.verdict.push_back(read_in(words, units));
    strip.grave = is_grave(session.verdict().headline);
    if (session.showing() == Showing::placed)
      if (const std::string drawn = drawn_words(session.statics()); !drawn.empty())
        strip.verdict.front() += " " + drawn;
    if (runs) {
      strip.verdict.front().insert(0, "At rest: ");
      if (std::string now = now_words(session.scene_of_run(), session.shown()); !now.empty()) {
        strip.verdict.insert(strip.verdict.begin(), std::move(now));
        strip.grave = true;
      }
    }
  }
  strip.entries.push_back({"Total mass", shown(Quantity::mass, total_mass(*session.model()), units), false, 110});
  if (session.showing() == Showing::run)
    strip.entries.push_back({"Time", fmt::format("{:.2f} s", session.looked_at()), false, 90});
  return strip;
}

Drawing drawing_for_report(const Session& session, Overlays overlays) {
  const StaticSolution& statics = session.statics();
  overlays = known_overlays(overlays, statics);
  overlays.margin.reset();
  overlays.stands = stand_words(session.verdict());
  overlays.stands_short = short_stand_words(session.verdict());
  const Model& model = *session.model();
  return draw(session.scene(), model, statics.rest ? rest_state(model, *statics.rest) : placed_state(model), overlays);
}

Exporting::~Exporting() {
  stop_.request_stop();
  if (paper_.valid()) paper_.wait();
  if (lesson_.valid()) lesson_.wait();
}

void Exporting::fail(const std::exception& error) {
  said_ = error.what();
  film_.reset();
}

void Exporting::start(const ExportRequest& request, const Session& session, const Camera& camera,
                      const Overlays& overlays, bool hides_numbers) {
  if (busy()) return;
  file_ = request.file;
  said_ = hindrance(request, session, hides_numbers);
  if (!said_.empty()) return;
  try {
    switch (request.kind) {
      case ExportKind::picture:
        write_png(request.file, painted(session, camera, overlays, request.width, request.height, hides_numbers));
        said_ = request.file + " is written";
        break;
      case ExportKind::film: {
        FilmOptions options;
        options.width = request.width, options.height = request.height;
        options.slow = request.slow;
        options.camera = camera;
        options.overlays = overlays;
        options.overlays.labels = options.readouts = request.labels;
        options.host = GlHost::current;
        if (request.lesson) {
          options.camera.reset();  // as each of its scenes asks
          options.overlays.labels = options.readouts = true;
          leave_lesson_ = false;
          lesson_ = std::async(std::launch::async,
                               [lesson = *request.lesson, options] { return lesson_film(lesson, options); });
          break;
        }
        film_ = std::make_unique<Film>(*session.recording(), request.file, options);
        break;
      }
      // Everything a thread needs is its own: the session goes on while it works.
      case ExportKind::chart:
        if (is_chart_of_run(request.chart_of))
          paper_ =
              std::async(std::launch::async, [of = request.chart_of, file = request.file, units = overlays.units,
                                              run = *session.recording()] { write(make_chart(of, run, units), file); });
        else
          paper_ = std::async(std::launch::async,
                              [of = request.chart_of, file = request.file, units = overlays.units,
                               scene = session.scene()] { write(make_chart(of, scene, false, units), file); });
        break;
      case ExportKind::report:
        paper_ = std::async(std::launch::async, [scene = session.scene(), file = request.file, units = overlays.units,
                                                 paper = request.paper, picture = paint_for_report(session, overlays)] {
          const Answer found = with_reasons(with_uncertainty(answer(scene)));
          const ReportFacts facts = report_facts(found, true);
          write_report(file, found, picture, units, paper, &facts);
        });
        break;
      case ExportKind::sheet:
        paper_ = std::async(std::launch::async, [scene = session.scene(), request, units = overlays.units] {
          write_filling_sheet(request.file, fillings_of(scene), units, request.paper);
        });
        break;
      case ExportKind::labels:
        paper_ = std::async(std::launch::async, [scene = session.scene(), request, units = overlays.units] {
          write_labels(request.file, fillings_of(scene), units, request.paper);
        });
        break;
      case ExportKind::card:
        card_ = std::make_shared<CardProgress>();
        stop_ = std::stop_source();
        paper_ = std::async(std::launch::async,
                            [scene = session.scene(), request, units = overlays.units, progress = card_,
                             stop = stop_.get_token()] { write_the_card(request, scene, units, *progress, stop); });
        break;
      case ExportKind::handout: {
        if (!request.lesson) throw InputError("No lesson is open: press Teach, then a lesson");
        Handout handout;
        handout.lesson = *request.lesson;
        handout.scene = scene_of(handout.lesson, handout.lesson.of == Of::b ? SetUp::b : SetUp::a);
        handout.picture = paint_for_handout(handout.scene, overlays);
        paper_ =
            std::async(std::launch::async, [handout = std::move(handout), request, units = overlays.units]() mutable {
              handout.truth = judge(handout.lesson);
              write_handout(request.file, handout, units, request.paper);
            });
        break;
      }
      case ExportKind::run:
        paper_ = std::async(std::launch::async,
                            [file = request.file, run = *session.recording()] { write_recording(run, file); });
        break;
    }
  } catch (const std::exception& error) {
    fail(error);
  }
}

void Exporting::cancel() {
  if (film_) film_->progress().cancel = true;
  leave_lesson_ = lesson_.valid();
  if (card_) stop_.request_stop();
}

bool Exporting::advance() {
  if (lesson_.valid()) {
    if (lesson_.wait_for(std::chrono::seconds(0)) != std::future_status::ready) return false;
    try {
      LessonFilm made = lesson_.get();
      if (leave_lesson_)
        said_ = "Cancelled; nothing is left of it";
      else
        film_ = std::make_unique<Film>(std::move(made.parts), file_, made.options);
    } catch (const std::exception& error) {
      fail(error);
    }
    return true;
  }
  if (film_) {
    try {
      const FilmState state = film_->step();
      if (state != FilmState::running) {
        said_ = state == FilmState::finished ? file_ + " is written" : "Cancelled; nothing is left of it";
        film_.reset();
      }
    } catch (const std::exception& error) {
      fail(error);
    }
    return true;
  }
  if (!paper_.valid() || paper_.wait_for(std::chrono::seconds(0)) != std::future_status::ready) return false;
  card_.reset();
  try {
    paper_.get();
    said_ = file_ + " is written";
  } catch (const std::exception& error) {
    fail(error);
  }
  return true;
}

int Exporting::done() const { return film_ ? film_->progress().done.load() : card_ ? card_->done.load() : 0; }
int Exporting::total() const { return film_ ? film_->progress().total.load() : card_ ? card_->all.load() : 0; }

}  // namespace sidehill::screen

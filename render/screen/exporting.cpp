#include "render/screen/exporting.h"

#include <fmt/format.h>

#include <chrono>
#include <utility>

#include "render/page/answer_charts.h"
#include "render/page/report.h"
#include "render/page/run_charts.h"
#include "render/screen/easel.h"
#include "render/text/words.h"
#include "sim/scene_file.h"
#include "sim/under_way.h"

namespace sidehill {
namespace {

Pixels paint(const Session& session, const Camera& camera, Overlays overlays, int width, int height, bool strip) {
  const bool runs = session.showing() == Showing::run;
  const std::optional<double> margin = runs ? angle_left(*session.model(), session.shown()) : session.statics().margin;
  overlays.margin = margin;
  const Drawing drawing = draw(session.scene(), *session.model(), session.shown(), overlays);
  PictureStrip below;
  below.title = session.scene().title.empty() ? session.scene().vehicle.name : session.scene().title;
  below.readouts = strip;
  below.entries = {{"Slope", degrees(session.shown().slope), false, 70},
                   {"First lift-off", degrees(session.statics().first_lift_off), false, 110},
                   {"Degrees left", degrees(margin), margin && *margin < 0, 110},
                   {"Total mass", kilograms(total_mass(*session.model())), false, 110}};
  if (runs) below.entries.push_back({"Time", fmt::format("{:.2f} s", session.looked_at()), false, 90});
  Easel easel(width, height, GlHost::current);
  return easel.paint(drawing, camera, below, Quality::still);
}

void write(const Chart& chart, const std::string& file) {
  file.ends_with(".svg") ? write_svg(file, chart) : write_png(file, chart);
}

// Everything it needs is its own: the session goes on meanwhile.
void make_chart(const std::string& of, const std::string& file, const Scene& scene, const Recording& recording) {
  if (of == "time") return write(margin_chart(recording), file);
  if (of == "loads") return write(loads_chart(recording), file);
  if (of == "fills") return write(fills_chart(scene), file);
  if (of == "why") {
    const auto chart = why_chart(with_reasons(answer(scene, 1)));
    if (!chart) throw InputError("With some of the causes no wheel of this machine ever lifts: there are no shares");
    return write(*chart, file);
  }
  const Answer found = with_uncertainty(answer(scene));
  write(of == "slopes" ? slopes_chart(found) : heading_chart(found), file);
}

}  // namespace

Exporting::~Exporting() {
  if (paper_.valid()) paper_.wait();
}

void Exporting::fail(const std::exception& error) {
  said_ = error.what();
  film_.reset();
}

void Exporting::start(const ExportRequest& request, const Session& session, const Camera& camera,
                      const Overlays& overlays) {
  if (busy() || !session.model()) return;
  file_ = request.file;
  said_.clear();
  try {
    const Recording* run = session.recording();
    switch (request.kind) {
      case ExportKind::picture:
        write_png(request.file, paint(session, camera, overlays, request.width, request.height, true));
        said_ = request.file + " is written";
        break;
      case ExportKind::film: {
        if (!run) throw InputError("There is no run to be filmed: press Drop or Drive first");
        FilmOptions options;
        options.width = request.width, options.height = request.height;
        options.slow = request.slow;
        options.camera = camera;
        options.overlays = overlays;
        options.overlays.labels = options.readouts = request.labels;
        options.host = GlHost::current;
        film_ = std::make_unique<Film>(*run, request.file, options);
        break;
      }
      case ExportKind::chart: {
        const bool over_time = request.chart_of == "time" || request.chart_of == "loads";
        if (over_time && !run) throw InputError("There is no run to be drawn: press Drop or Drive first");
        paper_ = std::async(std::launch::async, make_chart, request.chart_of, request.file, session.scene(),
                            over_time ? *run : Recording{});
        break;
      }
      case ExportKind::report: {
        Overlays plain = overlays;
        plain.labels = false;
        Pixels pixels = paint(session, camera, plain, 1000, 620, false);
        ReportPicture picture{pixels.width, pixels.height, std::move(pixels.rgba)};
        paper_ = std::async(std::launch::async,
                            [scene = session.scene(), file = request.file, picture = std::move(picture)] {
                              write_report(file, with_reasons(with_uncertainty(answer(scene))), picture);
                            });
        break;
      }
    }
  } catch (const std::exception& error) {
    fail(error);
  }
}

void Exporting::cancel() {
  if (film_) film_->progress().cancel = true;
}

bool Exporting::advance() {
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
  try {
    paper_.get();
    said_ = file_ + " is written";
  } catch (const std::exception& error) {
    fail(error);
  }
  return true;
}

int Exporting::done() const { return film_ ? film_->progress().done.load() : 0; }
int Exporting::total() const { return film_ ? film_->progress().total.load() : 0; }

}  // namespace sidehill

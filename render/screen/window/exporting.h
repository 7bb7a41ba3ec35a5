// Pictures, films, charts, reports and recordings made while the window stays alive: a film a frame at a time, what is
// on paper on a thread of its own. Needs the OpenGL context of the window; knows no panel.
#pragma once
#include <filesystem>
#include <future>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>

#include "render/namespaces.h"
#include "render/screen/desk/session.h"
#include "render/screen/output/easel.h"
#include "render/screen/output/film.h"
#include "render/screen/output/lesson_film.h"
#include "render/screen/parts/export_form.h"
#include "render/screen/scene3d/camera.h"
#include "render/screen/scene3d/drawing.h"
#include "sim/insight/cab_card.h"

namespace sidehill::screen {

class Exporting {
 public:
  ~Exporting();  // waits for what is on paper; of an unfinished film nothing is left

  // Begins. `camera` and `overlays` as the window shows them. With `hides_numbers` (a lesson is asking) a picture
  // carries neither first lift-off nor degrees left, and what would give them away is refused. So is all that would
  // carry numbers of an earlier set-up: while the answer is being worked out, and for a machine that cannot exist.
  // What goes wrong is said, as all else, in said().
  void start(const ExportRequest& request, const Session& session, const Camera& camera, const Overlays& overlays,
             bool hides_numbers = false);
  void cancel();
  // Once a turn of the window: a film's next frame, or a look at the thread. Returns true if there is news.
  bool advance();
  bool busy() const { return film_ != nullptr || lesson_.valid() || paper_.valid(); }
  int done() const;  // frames of the film, parts of the card's work
  int total() const;
  const std::string& said() const { return said_; }

 private:
  void fail(const std::exception& error);

  std::unique_ptr<Film> film_;
  std::future<LessonFilm> lesson_;  // run on a thread of its own before it is filmed here
  bool leave_lesson_ = false;       // it was cancelled before that
  std::future<void> paper_;
  std::shared_ptr<CardProgress> card_;  // while a card is being made
  std::stop_source stop_;               // of it
  std::string file_, said_;
};

// What stands below a picture of what the session shows; `margin` = degrees left in it [rad]. It must have a model.
PictureStrip strip_of(const Session& session, std::optional<double> margin, bool hides_numbers,
                      Units units = Units::si);
// The machine as the report shows it: at rest on its ground, set down square if it cannot rest there. It must have a
// model.
Drawing drawing_for_report(const Session& session, Overlays overlays);

}  // namespace sidehill::screen

// Pictures, films, charts and reports made while the window stays alive: a film a frame at a time, what is on paper on
// a thread of its own. Needs the OpenGL context of the window; knows no panel.
#pragma once
#include <filesystem>
#include <future>
#include <memory>
#include <string>

#include "render/screen/camera.h"
#include "render/screen/film.h"
#include "render/screen/panels_export.h"
#include "render/screen/session.h"

namespace sidehill {

class Exporting {
 public:
  ~Exporting();  // waits for what is on paper; of an unfinished film nothing is left

  // Begins. `camera` and `overlays` as the window shows them. What goes wrong is said, as all else, in said().
  void start(const ExportRequest& request, const Session& session, const Camera& camera, const Overlays& overlays);
  void cancel();
  // Once a turn of the window: a film's next frame, or a look at the thread. Returns true if there is news.
  bool advance();
  bool busy() const { return film_ != nullptr || paper_.valid(); }
  int done() const;  // frames of the film
  int total() const;
  const std::string& said() const { return said_; }

 private:
  void fail(const std::exception& error);

  std::unique_ptr<Film> film_;
  std::future<void> paper_;
  std::string file_, said_;
};

}  // namespace sidehill

#include "render/verbs/film_steps.h"
#ifdef SIDEHILL_SCREEN
#include <fmt/format.h>
#include <signal.h>
#include <unistd.h>

#include "sim/base/errors.h"

namespace sidehill {
namespace {

volatile sig_atomic_t interrupted = 0;  // a signal has nowhere else to say so
void interrupt(int) { interrupted = 1; }

}  // namespace

void finish_film(screen::Film& film, const std::string& file) {
  struct sigaction ours = {}, before = {};
  ours.sa_handler = interrupt;
  sigaction(SIGINT, &ours, &before);
  const bool shows_progress = isatty(STDERR_FILENO) != 0;
  while (film.step() == screen::FilmState::running) {
    if (interrupted) film.progress().cancel = true;
    if (shows_progress)
      fmt::print(stderr, "\rframe {} of {} ", film.progress().done.load(), film.progress().total.load());
  }
  sigaction(SIGINT, &before, nullptr);
  if (shows_progress) fmt::print(stderr, "\n");
  if (film.state() == screen::FilmState::cancelled) throw InputError("film: stopped, no file is written");
  fmt::print("{}\n", file);
}

}  // namespace sidehill
#endif

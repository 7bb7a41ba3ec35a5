// A lesson as a film: the question with its answers over the machine at rest, time to guess, the run (of two set-ups
// one after the other), then the right answer with its number, its reason and its caution. Knows no window.
#pragma once
#include <vector>

#include "render/namespaces.h"
#include "render/screen/output/film.h"

namespace sidehill::screen {

struct LessonFilm {
  std::vector<FilmPart> parts;
  FilmOptions options;
};

// `options` of the film it becomes; size, units and where to look from are kept. Runs the lesson and works its truth
// out: 0.2 to 4 s. Throws InputError as judge() does.
LessonFilm lesson_film(const Lesson& lesson, FilmOptions options);

}  // namespace sidehill::screen

#include "render/screen/output/lesson_film.h"

#include <fmt/format.h>

#include "render/text/motion/lesson_report.h"
#include "render/text/words/words.h"
#include "sim/base/errors.h"
#include "sim/motion/run.h"

namespace sidehill::screen {
namespace {

FilmPart part_of(const Lesson& lesson, SetUp which) {
  FilmPart part{run(scene_to_show(lesson, which)), ""};
  if (part.recording.outcome == Outcome::diverged)
    throw InputError(lesson.file.string() + ": the simulation diverged, nothing of it is shown");
  const std::string& name = which == SetUp::a ? lesson.name_a : lesson.name_b;
  part.title = lesson.title;
  if (!lesson.second.empty()) part.title = fmt::format("{}: {}", which == SetUp::a ? "A" : "B", name);
  return part;
}

}  // namespace

LessonFilm lesson_film(const Lesson& lesson, FilmOptions options) {
  const Units units = options.overlays.units;
  LessonFilm film;
  const LessonTruth truth = judge(lesson);
  film.parts.push_back(part_of(lesson, SetUp::a));
  if (!lesson.second.empty()) film.parts.push_back(part_of(lesson, SetUp::b));
  for (FilmPart& part : film.parts) part.title = read_in(part.title, units);

  PictureCard opening{lesson.question, {lesson.story, ""}};
  for (std::size_t i = 0; i < lesson.answers.size(); ++i)
    opening.lines.push_back(fmt::format("{}.  {}", i + 1, lesson.answers[i].text));
  opening.lines.insert(opening.lines.end(), {"", "Pause the film here. What do you think?"});

  PictureCard closing;
  const std::string number = truth_number(lesson, truth);
  closing.heading = fmt::format("{}.  {}", truth.right + 1, lesson.answers[truth.right].text);
  if (!number.empty()) closing.heading += " (" + number + ")";
  closing.lines = {truth_sentence(lesson, truth),
                   lesson.because,
                   doubt_words(lesson, truth) + " This machine, this ground.",
                   "",
                   "Caution: " + lesson.caution,
                   "",
                   "To take home: " + lesson.take_home};
  if (!lesson.source.empty()) closing.lines.push_back("Source: " + lesson.source);

  for (PictureCard* card : {&opening, &closing}) {
    card->heading = read_in(card->heading, units);
    for (std::string& line : card->lines) line = read_in(line, units);
  }
  options.opening = std::move(opening);
  options.closing = std::move(closing);
  options.lesson = lesson;
  film.options = std::move(options);
  return film;
}

}  // namespace sidehill::screen

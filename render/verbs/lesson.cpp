// `sidehill lesson`: lists the lessons, asks one, says what is right, makes a film of it. Knows no window.
#include <fmt/format.h>

#include <optional>
#include <string>

#include "render/text/motion/lesson_report.h"
#include "render/verbs/arguments.h"
#include "render/verbs/film_steps.h"
#include "render/verbs/lesson_named.h"
#include "render/verbs/outputs.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/scene/data_files.h"
#ifdef SIDEHILL_SCREEN
#include "render/screen/output/film_pipe.h"
#include "render/screen/output/lesson_film.h"
#endif

namespace sidehill {
namespace {

struct LessonCommand {
  bool json = false;
  Units units = Units::si;
  std::string name;  // a lesson's name, number or file; empty = list them
  std::optional<int> guess;
  bool tell = false;
  std::string film;  // file; empty = none
  bool force = false;
};

void add_lesson_flags(CLI::App& sub, LessonCommand& options) {
  sub.add_option("name", options.name, "a lesson's name, number or file; without it, all are listed");
  sub.add_option("--guess", options.guess, "the number of your answer; shows what is right and why")->expected(1);
  sub.add_flag("--tell", options.tell, "show what is right without a guess");
  sub.add_option("--film", options.film,
                 "make a film of it (.mp4, .webm or .gif): question, time to guess, run, answer and caution");
  add_force_flag(sub, options.force);
}

#ifdef SIDEHILL_SCREEN
int film_of(const Lesson& lesson, const LessonCommand& options) {
  check_film_name(options.film);
  check_output(options.film, options.force);
  screen::FilmOptions wanted;
  wanted.overlays.units = options.units;
  screen::LessonFilm made = screen::lesson_film(lesson, wanted);
  screen::Film film(std::move(made.parts), options.film, made.options);
  finish_film(film, options.film);
  return kAnswered;
}
#else
int film_of(const Lesson&, const LessonCommand&) {
  throw InputError("lesson: --film: this build has no screen part (it was built with -DSIDEHILL_SCREEN=OFF)");
}
#endif

int lesson_verb(const LessonCommand& options, bool json) {
  if (options.name.empty()) {
    if (options.guess || options.tell || !options.film.empty())
      throw InputError("lesson: --guess, --tell and --film are about one lesson, name it");
    const std::vector<Lesson> lessons = shipped_lessons();
    if (lessons.empty()) throw InputError("lesson: no lessons: " + data_sought());
    json ? print(lessons_json(lessons)) : fmt::print("{}", lessons_table(lessons));
    return 0;
  }
  const Lesson lesson = lesson_named(options.name);
  if (!options.film.empty()) return film_of(lesson, options);
  if (options.guess && (*options.guess < 1 || *options.guess > static_cast<int>(lesson.answers.size())))
    throw InputError(fmt::format("lesson: --guess {}: allowed 1 to {}", *options.guess, lesson.answers.size()));
  if (!options.guess && !options.tell) {
    json ? print(question_json(lesson))
         : fmt::print("{}\n  sidehill lesson {} --guess N   shows what happens\n",
                      question_table(lesson, options.units), options.name);
    return 0;
  }
  std::optional<std::size_t> guess;
  if (options.guess) guess = static_cast<std::size_t>(*options.guess - 1);
  const LessonTruth truth = judge(lesson);
  json ? print(truth_json(lesson, truth, guess)) : fmt::print("{}", truth_table(lesson, truth, guess, options.units));
  return 0;
}

}  // namespace

VerbAction prepare_lesson(CLI::App& sub) {
  const auto asked = std::make_shared<LessonCommand>();
  add_lesson_flags(sub, *asked);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] { return lesson_verb(*asked, asked->json); };
}

}  // namespace sidehill

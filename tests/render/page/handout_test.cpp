// A lesson on paper: the question in front without its answer, the answer on the back as `lesson` has it.
#include "render/page/handout.h"

#include <algorithm>
#include <regex>

#include "render/page/provenance.h"
#include "render/text/motion/lesson_report.h"
#include "render/text/words/words.h"
#include "sim/base/text_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/page_limits.h"
#include "tests/kit/page_words.h"
#include "tests/kit/slope_words.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;

namespace {

std::string on_one_line(const PdfPage& page) { return std::regex_replace(words_on({page}), std::regex("\\s+"), " "); }

Handout handout_of(const Lesson& lesson) {
  Handout out;
  out.lesson = lesson;
  out.scene = scene_of(lesson, lesson.of == Of::b ? SetUp::b : SetUp::a);
  out.truth = judge(lesson);
  out.picture.width = 1000, out.picture.height = 620;
  out.picture.rgba.assign(std::size_t{4} * 1000 * 620, 200);
  return out;
}

}  // namespace

TEST_CASE("every lesson fits on one sheet, front and back, A4 and Letter, SI and US") {
  const std::vector<Lesson> lessons = list_lessons(SIDEHILL_SOURCE_DIR "/scenes/lessons");
  CHECK(lessons.size() >= 12);
  for (const Lesson& lesson : lessons) {
    CAPTURE(lesson.title);
    Handout handout = handout_of(lesson);
    for (const bool pictured : {true, false}) {
      if (!pictured) handout.picture = {};
      for (const PaperSize size : {PaperSize::a4, PaperSize::letter})
        for (const Units units : {Units::si, Units::us}) {
          const auto pages = handout_pages(handout, units, size);
          REQUIRE(pages.size() == 2);
          CHECK(pages[0].photos.size() == (pictured ? 1 : 0));
          for (const PdfPage& page : pages) {
            check_words_apart(page, 30);
            CHECK(has(on_one_line(page), made_by(handout.scene)));
            CHECK(has(on_one_line(page), std::string(kCautionLine).substr(0, 30)));
          }
          const auto read = [units](const std::string& words) {
            return std::regex_replace(read_in(words, units), std::regex("\\s+"), " ");
          };
          const std::string front = on_one_line(pages[0]), back = on_one_line(pages[1]);
          CHECK(has(front, read(lesson.question)));
          if (units == Units::si && !pictured) CHECK(slope_in_degrees_alone(back) == "");
          for (const LessonAnswer& answer : lesson.answers) CHECK(has(front, read(answer.text)));
          // The front gives nothing away.
          CHECK_FALSE(has(front, read(truth_sentence(lesson, handout.truth))));
          CHECK_FALSE(has(front, read(lesson.because)));
          CHECK_FALSE(has(front, "Right is"));
          for (const std::string& words :
               {read(truth_sentence(lesson, handout.truth)), read(lesson.because), read(lesson.caution),
                read(lesson.take_home), read(doubt_sentence(lesson, handout.truth)),
                "Right is " + std::to_string(handout.truth.right + 1) + ": " +
                    read(lesson.answers[handout.truth.right].text)}) {
            CAPTURE(words);
            CHECK(has(back, words));
          }
        }
    }
  }
}

TEST_CASE("there is room to write on both sides") {
  const Handout handout = handout_of(load_lesson(SIDEHILL_SOURCE_DIR "/scenes/lessons/stump.toml"));
  for (const PdfPage& page : handout_pages(handout, Units::us, PaperSize::letter)) {
    int lines = 0;
    for (const auto& mark : page.sheet.marks)
      if (const auto* path = std::get_if<PagePath>(&mark); path && path->points.size() == 2 &&
                                                           path->points[0].y == path->points[1].y &&
                                                           path->points[1].x - path->points[0].x > 400)
        ++lines;
    CHECK(lines >= 4);  // the foot's rule is one of them
  }
}

TEST_CASE("the same lesson gives the same bytes") {
  const Folder folder;
  const Handout handout = handout_of(load_lesson(SIDEHILL_SOURCE_DIR "/scenes/lessons/side_slope.toml"));
  write_handout(folder / "a.pdf", handout);
  write_handout(folder / "b.pdf", handout);
  CHECK(read_text(folder / "a.pdf").substr(0, 4) == "%PDF");
  CHECK(read_text(folder / "a.pdf") == read_text(folder / "b.pdf"));
}

// What people read of a slope in the files that come with the program has its per cent: lessons and scenes. What the
// verbs and pages say of them is looked at in us_units_test, handout_test and cab_card_page_test.
#include <doctest/doctest.h>

#include <filesystem>
#include <regex>
#include <string>
#include <vector>

#include "render/text/motion/slope_advice.h"
#include "render/text/words/units.h"
#include "sim/insight/lesson.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/program.h"
#include "tests/kit/slope_words.h"

using namespace sidehill;

namespace {

const std::string kSceneFolder = SIDEHILL_SOURCE_DIR "/scenes";

bool has_slope(const std::string& text) { return text.find("°") != text.npos && text.find(" %") != text.npos; }

// Also where the degrees are spelled out.
std::string alone_in(const std::string& text) {
  const std::string said = slope_in_degrees_alone(text);
  return said.empty() && std::regex_search(text, std::regex("[0-9] degrees?\\b")) ? text : said;
}

// Every slope in it has the per cent of its degrees.
void check_percent(const std::string& text) {
  CAPTURE(text);
  static const std::regex both("([0-9]+)(\\.[0-9])?° = ([0-9]+) %");
  for (std::sregex_iterator it(text.begin(), text.end(), both), end; it != end; ++it)
    CHECK(it->str() == text::slope_as_typed((*it)[1].str() + (*it)[2].str()));
}

}  // namespace

TEST_CASE("what is looked for is found") {
  for (const char* alone :
       {"it slides at 30.5°.", "it slides at 30.00°.", "it slides at 12-15°.",
        "slides at 30.5° to 30.8° whatever is filled in", "none up to 45°", "at a slope of 15°, across the slope",
        "a wheel lifts 37.0°  (35.2° to 40.6°)", "slides at 30.5° = 59 %, a wheel lifts at 37.0°"}) {
    CAPTURE(alone);
    CHECK(slope_in_degrees_alone(alone) != "");
  }
  for (const char* fine : {"it slides at 30.5° = 59 %.", "30.5° to 30.8° = 59 to 60 %", "25.3° or more = 47 % or more",
                           "30.5° = 59 % (29.2° to 31.8°), heading -90°", "12.5° of slope left", "-20 °C to 5 °C"}) {
    CAPTURE(fine);
    CHECK(slope_in_degrees_alone(fine) == "");
  }
}

TEST_CASE("lessons and scenes tell a slope in degrees and per cent") {
  std::size_t slopes = 0;
  const auto look_at = [&](const std::string& text) {
    CHECK(alone_in(text) == "");
    check_percent(text);
    slopes += has_slope(text) ? 1 : 0;
  };
  for (const Lesson& lesson : list_lessons(kSceneFolder + "/lessons")) {
    CAPTURE(lesson.title);
    for (const std::string* text : {&lesson.title, &lesson.story, &lesson.question, &lesson.because, &lesson.caution,
                                    &lesson.take_home, &lesson.name_a, &lesson.name_b, &lesson.name_c})
      look_at(*text);
    // The difference of two slopes has no per cent, nor has what a machine leans.
    const bool slope =
        lesson.of != Of::b_minus_a && (lesson.quantity == Asked::first_lift_off || lesson.quantity == Asked::slide);
    for (const LessonAnswer& one : lesson.answers)
      if (slope) look_at(one.text);
  }
  for (const std::string& folder : {kSceneFolder, kSceneFolder + "/validate"})
    for (const auto& file : std::filesystem::directory_iterator(folder)) {
      if (file.path().extension() != ".toml") continue;
      CAPTURE(file.path().string());
      const Scene scene = load_scene(file.path().string());
      look_at(scene.title);
      look_at(scene.note);
    }
  CHECK(slopes > 20);
}

TEST_CASE("where every set-up slides, the range of their slopes has both") {
  const std::string said = program("compare scenes/first_slope.toml --with nothing").out;
  CHECK(std::regex_search(said, std::regex("it slides at [0-9.]+° to [0-9.]+° = [0-9]+ to [0-9]+ % whatever")));
  CHECK(slope_in_degrees_alone(said) == "");
}

TEST_CASE("the advice on the cab card gives every slope in both") {
  for (const text::SlopeAdvice& one : text::slope_advice()) {
    // "20 % = 11.3°" has both as well.
    const std::string said = std::regex_replace(one.words, std::regex("[0-9]+ % (= |\\()[0-9.]+°"), "#");
    CAPTURE(said);
    CHECK(slope_in_degrees_alone(said) == "");
  }
}

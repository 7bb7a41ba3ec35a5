// The lessons: that each that comes with the program has one right answer well inside its range, and what is said of a
// file that is none.
#include "sim/insight/lesson.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>

#include "render/text/motion/lesson_report.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"
#include "tests/kit/program.h"
#include "tests/kit/share.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

namespace fs = std::filesystem;
const fs::path kFolder = SIDEHILL_SOURCE_DIR "/scenes/lessons";

constexpr const char* kGood = R"(number = 1
title = "A slope"
story = "It stands."
scene = "SCENE"
question = "When does it lift?"
quantity = "first_lift_off_deg"
because = "So."
caution = "Care."
take_home = "Home."
source = "a standard"
[[answer]]
text = "early"
to = 20
[[answer]]
text = "late"
from = 20
never = true
)";

struct Place {
  fs::path folder = fs::temp_directory_path() / ("sidehill_lessons_" + std::to_string(getpid()));
  Place() { fs::create_directories(folder); }
  ~Place() {
    std::error_code error;
    fs::remove_all(folder, error);
  }
  // kGood with one piece replaced by another.
  fs::path with(const std::string& piece, const std::string& other, const char* name = "one.toml") {
    std::string text = kGood;
    const auto replace = [&](const std::string& a, const std::string& b) {
      const auto at = text.find(a);
      REQUIRE(at != text.npos);
      text.replace(at, a.size(), b);
    };
    replace("SCENE", SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
    if (!piece.empty()) replace(piece, other);
    std::ofstream(folder / name) << text;
    return folder / name;
  }
};

std::string refusal_of_lesson(const fs::path& file, bool judged = false) {
  try {
    const Lesson lesson = load_lesson(file);
    if (judged) judge(lesson);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

// Slope at the first lift-off of a run, and at the first slide of both rear wheels at once; one light wheel alone slips
// a little long before its axle does [rad].
double lift_slope(const Recording& recording) {
  const auto lift = std::ranges::find(recording.events, EventKind::lift_off, &Event::kind);
  return lift != recording.events.end() ? lift->slope : -1;
}
double both_slide(const Recording& recording) {
  for (const Event& one : recording.events)
    for (const Event& other : recording.events)
      if (one.kind == EventKind::slide && other.kind == EventKind::slide && one.wheel == kRearLeft &&
          other.wheel == kRearRight && std::abs(one.time - other.time) < 0.05)
        return one.slope;
  return -1;
}

// The answer a set-up's changes of the scene would make right.
std::size_t right_with(Lesson lesson, const std::string& change) {
  lesson.change.push_back(change);
  return judge(lesson).right;
}

}  // namespace

TEST_CASE("the lessons asked for are there, in order, each with its words") {
  const std::vector<Lesson> lessons = list_lessons(kFolder);
  CHECK(lessons.size() >= 8);
  std::set<std::string> names;
  double before = 0;
  for (const Lesson& lesson : lessons) {
    CAPTURE(lesson.file);
    CHECK(lesson.number > before);
    before = lesson.number;
    names.insert(lesson.file.stem().string());
    CHECK(lesson.answers.size() >= 2);
    CHECK(lesson.caution.size() > 20);
    CHECK(lesson.take_home.size() > 20);
    CHECK(lesson.question.ends_with("?"));
  }
  for (const char* name : {"side_slope", "uphill_turn", "raised_bucket", "stump", "hole", "high_hitch",
                           "water_or_cast_weights", "wide_or_narrow"})
    CHECK_MESSAGE(names.contains(name), name);
  CHECK(shipped_lessons().size() == lessons.size());
}

TEST_CASE("every lesson has one right answer, well inside its range, and its neighbours the same") {
  std::set<std::size_t> places;
  int number = 0;
  for (const Lesson& lesson : list_lessons(kFolder)) {
    if (number++ % kShare != 0) continue;
    CAPTURE(lesson.file);
    const LessonTruth truth = judge(lesson);
    REQUIRE(truth.right < lesson.answers.size());
    places.insert(truth.right);
    const LessonAnswer& right = lesson.answers[truth.right];
    if (is_of_run(lesson.quantity)) {
      CHECK(truth.tried >= 3);
      CHECK(truth.agreed == truth.tried);
    }
    if (truth.spread) {  // all the neighbours lie inside, not only the run itself
      CHECK((!right.from || truth.spread->first >= *right.from));
      CHECK((!right.to || truth.spread->second < *right.to));
    }
    const auto inside = [&](const Found& found) {  // the whole interval, where one value is asked
      if (!found.interval || lesson.of == Of::b_minus_a || is_outcome(lesson.quantity)) return;
      CHECK((!right.from || found.interval->first >= *right.from));
      CHECK((!right.to || (!found.interval_open && found.interval->second < *right.to)));
    };
    inside(lesson.of == Of::b ? *truth.b : truth.a);
    // A difference of two: a degree and a half is what our own data may move it by (tests of the interval's parts).
    if (lesson.of == Of::b_minus_a) CHECK(truth.to_border.value() > 1.5);
    const std::string answered = truth_sentence(lesson, truth);
    CHECK(answered.ends_with("."));
    CHECK(answered.find("nan") == answered.npos);
    CHECK(guess_sentence(lesson, truth, truth.right) == "Right.");
  }
  CHECK(places.size() >= (kShare > 1 ? 1 : 3));  // no class learns that it is always the last
}

TEST_CASE("the truth is the scene's own: what the scene answers, and other when the scene is changed") {
  const Lesson slope = load_lesson(kFolder / "side_slope.toml");
  const LessonTruth truth = judge(slope);
  const StaticSolution statics = solve_statics(build(scene_of(slope, SetUp::a)));
  CHECK_NEAR(truth.value.value(), *statics.first_lift_off * 57.29577951308232, 1e-9);
  CHECK(truth.a.wheel == kRearLeft);
  CHECK(truth_sentence(slope, truth).find("rear left wheel (uphill)") != std::string::npos);
  CHECK(right_with(slope, "ballast.loader_pin_height_m=3.4") != truth.right);
  const Lesson bend = load_lesson(kFolder / "uphill_turn.toml");
  CHECK(right_with(bend, "ballast.loader_pin_height_m=0.5") != judge(bend).right);
  const Lesson stump = load_lesson(kFolder / "stump.toml");
  CHECK(right_with(stump, "terrain.feature[0].height_m=0.02") != judge(stump).right);
  const Lesson grass = load_lesson(kFolder / "wet_grass.toml");
  CHECK(right_with(grass, "terrain.soil.adhesion=1.5") != judge(grass).right);
}

TEST_CASE("what is shown is what was asked about: the same machine, the show's own changes apart") {
  for (const Lesson& lesson : list_lessons(kFolder)) {
    CAPTURE(lesson.file);
    Scene asked = scene_of(lesson, SetUp::a), shown = scene_to_show(lesson, SetUp::a);
    shown.programme = asked.programme;
    shown.terrain.slope = asked.terrain.slope;
    CHECK(write_scene(shown) == write_scene(asked));
  }
}

TEST_CASE("the class sees what it hears: the run that is shown slides or lifts at the slope that is stated") {
  int seen = 0, number = 0;
  for (const Lesson& lesson : list_lessons(kFolder)) {
    if (lesson.quantity != Asked::first_lift_off || number++ % kShare != 0) continue;
    CAPTURE(lesson.file);
    const LessonTruth truth = judge(lesson);
    const auto see = [&](SetUp which, const Found& found) {
      const Recording shown = run(scene_to_show(lesson, which));
      // Whatever is said to come first: the first wheel, or a slide of both wheels of an axle. It tilts by 2 deg a
      // second.
      const double tilted = (found.slides_before ? both_slide(shown) : lift_slope(shown)) * 57.29577951308232;
      CHECK_NEAR(tilted, found.slides_before.value_or(found.value.value()), found.slides_before ? 1.2 : 0.4);
      ++seen;
    };
    see(SetUp::a, truth.a);
    if (truth.b) see(SetUp::b, *truth.b);
  }
  CHECK(seen >= (kShare > 1 ? 1 : 4));
}

TEST_CASE("a broken lesson is one line with file, line, key and what is allowed") {
  Place place;
  CHECK(refusal_of_lesson(place.with("", ""), true).empty());
  struct Case {
    const char *piece, *other, *words;
  };
  for (const Case& c : {
           Case{"title = \"A slope\"", "titl = \"A slope\"", "one.toml:2: titl: unknown key, did you mean title?"},
           Case{"title = \"A slope\"", "", "one.toml:1: title: missing: a few words"},
           Case{"\"A slope\"", "\"\"", "one.toml:2: title: empty"},
           Case{"\"A slope\"", "7", "one.toml:2: title: words belong here"},
           Case{"\"It stands.\"", "\"It\\nstands.\"", "one.toml:3: story: has a line break"},
           Case{"number = 1", "number = -1", "one.toml:1: number: -1 is out of range, allowed 0 to 10000"},
           Case{"number = 1", "number = \"one\"", "one.toml:1: number: a number belongs here"},
           Case{"number = 1", "number = nan", "one.toml:1: number: the number is not finite"},
           Case{"first_slope.toml", "nowhere.toml", "one.toml:4: scene: there is no scene file"},
           Case{"first_lift_off_deg", "luck", "one.toml:6: quantity: \"luck\" is nothing that can be asked, allowed "},
           Case{"to = 20", "to = \"x\"", "one.toml:13: answer[0].to: a number belongs here"},
           Case{"to = 20", "till = 20", "one.toml:13: answer[0].till: unknown key"},
           Case{"to = 20", "", "answer[0]: first_lift_off_deg is a number, allowed from, to or never"},
           Case{"to = 20", "to = 20\nfrom = 30", "answer[0].to: is not above `from`"},
           Case{"to = 20", "outcomes = [\"stands\"]", "answer[0]: first_lift_off_deg is a number"},
           Case{"never = true", "never = 1", "one.toml:17: answer[1].never: true or false belongs here"},
           Case{"quantity = \"first_lift_off_deg\"", "quantity = \"outcome\"", "answer[0]: outcome is a word"},
           Case{"question =", "of = \"b\"\nquestion =", "one.toml:5: of: there is no set-up B"},
           Case{"question =", "of = \"c\"\nquestion =", "one.toml:5: of: allowed a, b, b_minus_a"},
           Case{"question =", "second = [\"terrain.slope_deg=3\"]\nquestion =", "one.toml:5: second: set-ups A and B"},
           Case{"question =", "third = [\"terrain.slope_deg=3\"]\nquestion =", "one.toml:5: third: set-up C stands"},
           Case{"question =", "change = \"x\"\nquestion =", "one.toml:5: change: a list belongs here"},
           Case{"[[answer]]\ntext = \"late\"\nfrom = 20\nnever = true\n", "", "answer: allowed 2 to 4 answers"},
           Case{"number = 1", "number = = 1", "one.toml:1: not readable as TOML"},
       }) {
    CAPTURE(c.words);
    const std::string said = refusal_of_lesson(place.with(c.piece, c.other));
    CAPTURE(said);
    CHECK(said.find(c.words) != said.npos);
    CHECK(said.find('\n') == said.npos);
  }
}

TEST_CASE("a lesson whose answers leave the truth out, or hold it twice, is refused with the number") {
  Place place;
  const Scene scene = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  const double truth = *first_lift_off(build(scene)).slope * 180 / kPi;
  const std::string outside = refusal_of_lesson(place.with("from = 20", "from = 60"), true);
  const std::size_t at = outside.find("comes to ");
  CAPTURE(outside);
  REQUIRE(at != std::string::npos);
  CHECK(outside.find(", and that is not in exactly one", at) != std::string::npos);
  CHECK_NEAR(std::stod(outside.substr(at + 9)), truth, 0.006);  // four digits
  CHECK(refusal_of_lesson(place.with("to = 20", "to = 50"), true).find("not in exactly one answer") !=
        std::string::npos);
  const std::string said =
      refusal_of_lesson(place.with("question =", "change = [\"terrain.slope_deg=99\"]\nquestion ="), true);
  CAPTURE(said);
  CHECK(said.find("one.toml: --set: terrain.slope_deg") != said.npos);
  place.with("", "", "one.toml");
  place.with("", "", "two.toml");
  CHECK_THROWS_AS(list_lessons(place.folder), InputError);
  CHECK_THROWS_AS(list_lessons(place.folder / "nowhere"), InputError);
}

TEST_CASE("a lesson and its scene are found under their earlier names too") {
  const fs::path lessons = SIDEHILL_SOURCE_DIR "/scenes/lessons", scenes = SIDEHILL_SOURCE_DIR "/scenes";
  CHECK(load_lesson(lessons / "liquid_or_iron.toml").title ==
        load_lesson(lessons / "water_or_cast_weights.toml").title);
  CHECK(program("lesson liquid_or_iron").out.find("Water or cast weights") != std::string::npos);
  CHECK(write_scene(load_scene(scenes / "liquid_or_iron.toml")) ==
        write_scene(load_scene(scenes / "water_or_cast_weights.toml")));
  CHECK(write_scene(load_scene(scenes / "validate/reference_r_front_iron.toml")) ==
        write_scene(load_scene(scenes / "validate/reference_r_front_weights.toml")));
  Place place;  // a lesson of one's own that shows a scene which was renamed
  const std::string scene = (scenes / "liquid_or_iron.toml").string();
  const Lesson own = load_lesson(place.with(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml", scene));
  CHECK(own.scene.filename() == "water_or_cast_weights.toml");
  // No other folder has it: what is missing is named as it was asked for.
  try {
    load_scene(place.folder / "liquid_or_iron.toml");
    FAIL_CHECK("not refused");
  } catch (const InputError& error) {
    CHECK(std::string(error.what()).ends_with("liquid_or_iron.toml: there is no such file"));
  }
}

TEST_CASE("an outcome with wheels in the air says how many") {
  Lesson lesson = load_lesson(kFolder / "high_hitch.toml");
  REQUIRE(lesson.quantity == Asked::outcome);
  LessonTruth truth;
  constexpr const char* kSaid[] = {"A wheel is", "Two wheels are", "Three wheels are", "All four wheels are"};
  for (int up = 1; up <= kWheels; ++up) {
    truth.a.outcome = truth.outcome = to_string(Outcome::wheel_up);
    truth.a.wheels_up = up;
    const std::string said = truth_sentence(lesson, truth);
    CAPTURE(said);
    CHECK(said.starts_with(std::string(kSaid[up - 1]) + " in the air at the end"));
  }
  const LessonTruth judged = judge(lesson);
  CHECK(judged.a.wheels_up == wheels_up_at_end(run(scene_of(lesson, SetUp::a))));
  CHECK(judged.a.wheels_up > 0);
}

TEST_CASE("where the tyres slide first, how sure it is says so of the slide as well") {
  const Lesson lesson = load_lesson(kFolder / "side_slope.toml");
  const LessonTruth truth = judge(lesson);
  const Found& slides = truth.a.slides_before ? truth.a : truth.b.value();
  REQUIRE(slides.slides_before);
  REQUIRE(slides.slide_interval);
  CHECK(slides.slide_interval->first < *slides.slides_before);
  CHECK(slides.slide_interval->second > *slides.slides_before);
  CHECK(doubt_sentence(lesson, truth).find(fmt::format("slides at {:.1f}°", slides.slide_interval->first)) !=
        std::string::npos);
}

TEST_CASE("a lesson without a source shows none") {
  Place place;
  const Lesson lesson = load_lesson(place.with("source = \"a standard\"\n", ""));
  CHECK(lesson.source.empty());
  CHECK(truth_table(lesson, judge(lesson), {}).find("Source") == std::string::npos);
}

TEST_CASE("in the terminal: listed, asked without giving it away, answered") {
  const Said list = program("lesson");
  CHECK(list.code == 0);
  CHECK(list.out.find("wide_or_narrow") != list.out.npos);
  const Said asked = program("lesson hole");
  CHECK(asked.code == 0);
  CHECK(asked.out.find('?') != asked.out.npos);
  CHECK(asked.out.find("Caution") == asked.out.npos);
  const Said answered = program("lesson 3 --guess 1");
  CHECK(answered.code == 0);
  CHECK(answered.out.find("Not this time. It is: More than 13 degrees") != answered.out.npos);
  CHECK(answered.out.find("To take home") != answered.out.npos);
  CHECK(answered.out.find("Frame up and belt on") != answered.out.npos);
  const Said json = program("lesson raised_bucket --guess 4 --json");
  const auto answer = nlohmann::json::parse(json.out);
  CHECK(answer.at("guessed_right") == true);
  CHECK(answer.at("value").get<double>() < -13);
  CHECK(nlohmann::json::parse(program("lesson raised_bucket --json").out).contains("right") == false);
  for (const char* bad : {"lesson nothing", "lesson hole --guess 9", "lesson --guess 1", "lesson /nowhere.toml"}) {
    CAPTURE(bad);
    const Said said = program(std::string(bad) + " 2>&1 >/dev/null");
    CHECK(said.code == 2);
    CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
  }
}

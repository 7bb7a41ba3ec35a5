#include "sim/insight/lesson.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <system_error>

#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/data_files.h"
#include "sim/scene/number_file.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace fs = std::filesystem;
namespace {

struct QuantityName {
  Asked quantity;
  const char* key;
  bool outcome, of_run;
};
constexpr QuantityName kQuantities[] = {
    {Asked::first_lift_off, "first_lift_off_deg", false, false},
    {Asked::margin, "margin_deg", false, false},
    {Asked::slide, "slide_deg", false, false},
    {Asked::gives_way_first, "gives_way_first", true, false},
    {Asked::outcome, "outcome", true, true},
    {Asked::lift_off_time, "first_lift_off_s", false, true},
    {Asked::time_to_balance, "lift_off_to_no_return_s", false, true},
    {Asked::greatest_lean, "greatest_lean_deg", false, true},
    {Asked::speed_at_end, "speed_at_end_kmh", false, true},
};
const QuantityName& name_of(Asked quantity) { return kQuantities[static_cast<int>(quantity)]; }

constexpr const char* kOf[] = {"a", "b", "b_minus_a"};  // order of enum Of
constexpr const char* kGivesWayWords[] = {"slides", "lifts", "neither"};

constexpr double kAny = 1e6;
constexpr std::size_t kMostAnswers = 4, kLongText = 400;

// The order of `enum`s below.
constexpr std::array<EntryKey, 5> kAnswerKeys = {{
    {"text", EntryKind::text, "what the class may say", true, 0, 0, 120, {}},
    {"from", EntryKind::number, "the least that counts as this answer", false, -kAny, kAny, 0, {}},
    {"to", EntryKind::number, "counts as this answer if below", false, -kAny, kAny, 0, {}},
    {"never", EntryKind::flag, "also right if it never happens", false, 0, 0, 0, {}},
    {"outcomes", EntryKind::texts, "outcomes that count as this answer", false, 0, 0, 40, {}},
}};
enum AnswerKey { kText, kFrom, kTo, kNever, kOutcomes };

constexpr std::array<EntryKey, 19> kKeys = {{
    {"number", EntryKind::number, "lessons stand in this order", true, 0, 10000, 0, {}},
    {"title", EntryKind::text, "a few words", true, 0, 0, 60, {}},
    {"story", EntryKind::text, "two or three short sentences", true, 0, 0, kLongText, {}},
    {"scene", EntryKind::text, "a scene file, as seen from this one", true, 0, 0, 300, {}},
    {"change", EntryKind::texts, "changes to the scene: set-up A", false, 0, 0, 300, {}},
    {"second", EntryKind::texts, "more changes: set-up B", false, 0, 0, 300, {}},
    {"third", EntryKind::texts, "more changes: set-up C, to compare with", false, 0, 0, 300, {}},
    {"show", EntryKind::texts, "more changes for the run that is shown", false, 0, 0, 300, {}},
    {"name_a", EntryKind::text, "what set-up A is called", false, 0, 0, 40, {}},
    {"name_b", EntryKind::text, "what set-up B is called", false, 0, 0, 40, {}},
    {"name_c", EntryKind::text, "what set-up C is called", false, 0, 0, 40, {}},
    {"question", EntryKind::text, "what the class is asked", true, 0, 0, 200, {}},
    {"quantity", EntryKind::text, "what is asked about", true, 0, 0, 40, {}},
    {"of", EntryKind::text, "of which set-up", false, 0, 0, 40, {}},
    {"answer", EntryKind::tables, "answers to choose from", true, 0, 0, 0, kAnswerKeys},
    {"because", EntryKind::text, "why it is so", true, 0, 0, kLongText, {}},
    {"caution", EntryKind::text, "the caution that belongs to it", true, 0, 0, kLongText, {}},
    {"take_home", EntryKind::text, "one sentence to take home", true, 0, 0, 200, {}},
    {"source",
     EntryKind::text,
     "a public body, a standard or a paper; leave it out where there is none",
     false,
     0,
     0,
     200,
     {}},
}};
enum Key {
  kNumber,
  kTitle,
  kStory,
  kScene,
  kChange,
  kSecond,
  kThird,
  kShow,
  kNameA,
  kNameB,
  kNameC,
  kQuestion,
  kQuantity,
  kOfWhich,
  kAnswer,
  kBecause,
  kCaution,
  kTakeHome,
  kSource
};

template <class Names>
std::string listed(const Names& names) {
  std::string all;
  for (const char* name : names) all += (all.empty() ? "" : ", ") + std::string(name);
  return all;
}

std::vector<const char*> outcomes_of(Asked quantity) {
  if (quantity == Asked::gives_way_first) return {std::begin(kGivesWayWords), std::end(kGivesWayWords)};
  std::vector<const char*> names;
  for (int i = 0; i < static_cast<int>(Outcome::diverged); ++i) names.push_back(to_string(static_cast<Outcome>(i)));
  return names;
}

LessonAnswer answer_of(const std::vector<EntryValue>& entry, const std::string& name, Asked quantity,
                       const std::string& key) {
  LessonAnswer answer;
  answer.text = entry[kText].text;
  if (entry[kFrom].given) answer.from = entry[kFrom].number;
  if (entry[kTo].given) answer.to = entry[kTo].number;
  answer.never = entry[kNever].flag;
  answer.outcomes = entry[kOutcomes].texts;
  const unsigned line = entry[kText].line;
  const bool ranged = answer.from || answer.to || answer.never;
  if (is_outcome(quantity)) {
    if (ranged || answer.outcomes.empty())
      refuse_number(name, line, key, std::string(key_of(quantity)) + " is a word, allowed outcomes = [...] alone");
    const std::vector<const char*> known = outcomes_of(quantity);
    for (const std::string& outcome : answer.outcomes)
      if (std::ranges::find(known, std::string_view(outcome)) == known.end())
        refuse_number(name, entry[kOutcomes].line, key + ".outcomes",
                      "\"" + outcome + "\" is no outcome, allowed " + listed(known));
  } else {
    if (!ranged || !answer.outcomes.empty())
      refuse_number(name, line, key, std::string(key_of(quantity)) + " is a number, allowed from, to or never = true");
    if (answer.from && answer.to && *answer.from >= *answer.to)
      refuse_number(name, entry[kTo].line, key + ".to", "is not above `from`, allowed more than that");
  }
  return answer;
}

}  // namespace

bool is_outcome(Asked quantity) { return name_of(quantity).outcome; }
bool is_of_run(Asked quantity) { return name_of(quantity).of_run; }
const char* key_of(Asked quantity) { return name_of(quantity).key; }

Lesson load_lesson(const fs::path& path) {
  const fs::path file = present_name(path);
  const std::string name = file.string();
  const std::vector<EntryValue> entry = read_entries(read_text(file), name, kKeys);
  const auto refuse = [&](Key key, const std::string& message) {
    refuse_number(name, entry[key].line, kKeys[key].key, message);
  };
  Lesson lesson;
  lesson.file = file;
  lesson.number = entry[kNumber].number;
  lesson.title = entry[kTitle].text;
  lesson.story = entry[kStory].text;
  lesson.scene = present_name((file.parent_path() / fs::path(entry[kScene].text)).lexically_normal());
  std::error_code error;
  if (!fs::is_regular_file(lesson.scene, error))
    refuse(kScene, "there is no scene file " + lesson.scene.string() + ", allowed a path as seen from this file");
  lesson.change = entry[kChange].texts;
  lesson.second = entry[kSecond].texts;
  lesson.third = entry[kThird].texts;
  lesson.show = entry[kShow].texts;
  lesson.name_a = entry[kNameA].text;
  lesson.name_b = entry[kNameB].text;
  lesson.name_c = entry[kNameC].text;
  lesson.question = entry[kQuestion].text;
  const auto quantity =
      std::ranges::find_if(kQuantities, [&](const QuantityName& known) { return entry[kQuantity].text == known.key; });
  if (quantity == std::end(kQuantities)) {
    std::vector<const char*> known;
    for (const QuantityName& one : kQuantities) known.push_back(one.key);
    refuse(kQuantity, "\"" + entry[kQuantity].text + "\" is nothing that can be asked, allowed " + listed(known));
  }
  lesson.quantity = quantity->quantity;
  if (entry[kOfWhich].given) {
    const auto of = std::ranges::find(kOf, entry[kOfWhich].text);
    if (of == std::end(kOf)) refuse(kOfWhich, "allowed " + listed(kOf));
    lesson.of = static_cast<Of>(of - std::begin(kOf));
  }
  if (lesson.of != Of::a && lesson.second.empty()) refuse(kOfWhich, "there is no set-up B, allowed with `second` only");
  if (lesson.of == Of::b_minus_a && is_outcome(lesson.quantity))
    refuse(kOfWhich, "words have no difference, allowed a or b");
  if (!lesson.second.empty() && (lesson.name_a.empty() || lesson.name_b.empty()))
    refuse(kSecond, "set-ups A and B need a name each, allowed with name_a and name_b");
  if (!lesson.third.empty() && (lesson.second.empty() || lesson.name_c.empty()))
    refuse(kThird, "set-up C stands beside A and B, allowed with `second` and name_c");
  const auto& answers = entry[kAnswer].tables;
  if (answers.size() < 2 || answers.size() > kMostAnswers)
    refuse(kAnswer, "allowed 2 to " + std::to_string(kMostAnswers) + " answers");
  for (std::size_t i = 0; i < answers.size(); ++i)
    lesson.answers.push_back(answer_of(answers[i], name, lesson.quantity, "answer[" + std::to_string(i) + "]"));
  lesson.because = entry[kBecause].text;
  lesson.caution = entry[kCaution].text;
  lesson.take_home = entry[kTakeHome].text;
  lesson.source = entry[kSource].text;
  return lesson;
}

namespace {

std::vector<Lesson> loaded(const std::vector<fs::path>& files) {
  std::vector<Lesson> lessons;
  for (const fs::path& file : files) lessons.push_back(load_lesson(file));
  std::ranges::stable_sort(lessons, {}, &Lesson::number);
  for (std::size_t i = 1; i < lessons.size(); ++i)
    if (lessons[i].number == lessons[i - 1].number)
      throw InputError(lessons[i].file.string() + ": number: " + lessons[i - 1].file.filename().string() +
                       " has the same, allowed one of its own");
  return lessons;
}

Scene changed_scene(const Lesson& lesson, SetUp which, bool to_show) {
  std::vector<std::string> changes = lesson.change;
  if (which == SetUp::b) changes.insert(changes.end(), lesson.second.begin(), lesson.second.end());
  if (which == SetUp::c) changes.insert(changes.end(), lesson.third.begin(), lesson.third.end());
  if (to_show) changes.insert(changes.end(), lesson.show.begin(), lesson.show.end());
  try {
    return load_scene(lesson.scene, changes);
  } catch (const InputError& error) {
    throw InputError(lesson.file.string() + ": " + error.what());
  }
}

}  // namespace

std::vector<Lesson> list_lessons(const fs::path& folder) {
  std::error_code error;
  if (!fs::is_directory(folder, error))
    throw InputError(folder.string() + ": there is no such folder, allowed one with lessons (.toml) in it");
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder, error))
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  std::ranges::sort(files);
  return loaded(files);
}

std::vector<Lesson> shipped_lessons() { return loaded(lesson_files()); }

Scene scene_of(const Lesson& lesson, SetUp which) { return changed_scene(lesson, which, false); }
Scene scene_to_show(const Lesson& lesson, SetUp which) { return changed_scene(lesson, which, true); }

}  // namespace sidehill

#include "render/screen/desk/lesson_play.h"

#include <atomic>
#include <exception>
#include <thread>
#include <utility>

#include "sim/base/errors.h"
#include "sim/scene/scene.h"

namespace sidehill::screen {

class LessonWork {
 public:
  explicit LessonWork(Lesson lesson) : lesson_(std::move(lesson)), thread_([this] { work(); }) {}
  bool done() const { return done_; }
  void wait() const { done_.wait(false); }
  // Once done: the truth, or why there is none.
  const std::optional<LessonTruth>& truth() const { return truth_; }
  const std::string& trouble() const { return trouble_; }

 private:
  void work() {
    try {
      truth_ = judge(lesson_);
    } catch (const std::exception& error) {
      trouble_ = error.what();
    }
    done_ = true;
    done_.notify_all();
  }
  const Lesson lesson_;
  std::optional<LessonTruth> truth_;
  std::string trouble_;
  std::atomic<bool> done_ = false;
  std::jthread thread_;  // last: everything it uses exists before it begins
};

namespace {

template <class Load>
LessonPlay play_of(Load load) {
  LessonPlay play;
  try {
    play.lessons = load();
    if (play.lessons.empty()) play.trouble = "No lessons were found in scenes/lessons.";
  } catch (const std::exception& error) {
    play.trouble = error.what();
  }
  play.record.resize(play.lessons.size());
  return play;
}

// The work on a lesson that is left cannot be broken off; it is kept until it has ended, so that no picture waits.
void leave(LessonPlay& play) {
  if (play.work) play.leaving.push_back(std::move(play.work));
  play.work.reset();
  play.guess.reset();
  play.truth.reset();
  play.trouble.clear();
  play.made.clear();
}

void wish_scenes(LessonPlay& play) {
  const Lesson& lesson = play.lessons[play.open];
  play.wanted = {};
  try {
    play.wanted.load = scene_to_show(lesson, SetUp::a);
    if (lesson.second.empty())
      play.wanted.only_one = true;
    else
      play.wanted.load_second = scene_to_show(lesson, SetUp::b);
  } catch (const InputError& error) {
    play.wanted = {};
    play.trouble = error.what();
  }
}

}  // namespace

LessonPlay::LessonPlay() = default;
LessonPlay::~LessonPlay() = default;

LessonPlay lesson_play() {
  return play_of([] { return shipped_lessons(); });
}
LessonPlay lesson_play(const std::filesystem::path& folder) {
  return play_of([&] { return list_lessons(folder); });
}

const Lesson* open_lesson_of(const LessonPlay& play) {
  return play.stage != LessonStage::list && play.open < play.lessons.size() ? &play.lessons[play.open] : nullptr;
}

void open_lesson(LessonPlay& play, std::size_t index) {
  if (index >= play.lessons.size()) return;
  leave(play);
  play.open = play.row = index;
  play.stage = LessonStage::asking;
  wish_scenes(play);
  // Begun now, so that it is known by the time the class has made up its mind.
  play.work = std::make_shared<LessonWork>(play.lessons[index]);
}

void make_guess(LessonPlay& play, std::size_t answer) {
  const Lesson* lesson = open_lesson_of(play);
  if (lesson && play.stage == LessonStage::asking && answer < lesson->answers.size()) play.guess = answer;
}

void show_lesson(LessonPlay& play) {
  if (play.stage != LessonStage::asking) return;
  play.stage = LessonStage::showing;
  // Anew, whatever has been done to the scene while the class thought.
  wish_scenes(play);
  play.wanted.play = play.wanted.load.has_value();
  if (!play.wanted.play) tell_lesson(play);
}

void run_ended(LessonPlay& play) {
  if (play.stage == LessonStage::showing) tell_lesson(play);
}

void tell_lesson(LessonPlay& play) {
  if (play.stage == LessonStage::list) return;
  play.stage = LessonStage::answered;
  if (play.truth && play.guess) play.record[play.open] = *play.guess == play.truth->right;
}

void show_again(LessonPlay& play) {
  if (play.stage != LessonStage::answered) return;
  wish_scenes(play);
  play.wanted.play = play.wanted.load.has_value();
}

void next_lesson(LessonPlay& play) {
  if (play.stage == LessonStage::list) return;
  play.open + 1 < play.lessons.size() ? open_lesson(play, play.open + 1) : close_lesson(play);
}

void close_lesson(LessonPlay& play) {
  leave(play);
  play.stage = LessonStage::list;
  play.wanted = {};
}

bool tick(LessonPlay& play) {
  std::erase_if(play.leaving, [](const auto& work) { return work->done(); });
  if (!play.work || !play.work->done()) return false;
  play.truth = play.work->truth();
  if (!play.truth) play.trouble = play.work->trouble();
  play.work.reset();
  if (play.stage == LessonStage::answered) tell_lesson(play);  // was asked for before it was known
  return true;
}

bool working(const LessonPlay& play) { return play.work != nullptr; }

bool hides_answer(const LessonPlay& play) {
  return play.stage == LessonStage::asking || play.stage == LessonStage::showing;
}

void settle(LessonPlay& play) {
  if (play.work) play.work->wait();
  tick(play);
}

}  // namespace sidehill::screen

// A short stretch of the study of uneven ground; `check.sh --long` has two thousand scenes.
#include "tests/kit/uneven_study.h"

#include <doctest/doctest.h>

#include "sim/insight/trial.h"
#include "sim/scene/scene_file.h"

using namespace sidehill;

TEST_CASE("random scenes on uneven ground: the mirrored, the turned and the moving machine say the same") {
#ifdef SIDEHILL_CHECKED
  constexpr std::size_t kScenes = 15;
#else
  constexpr std::size_t kScenes = 60;
#endif
  const std::vector<UnevenAnswer> answers = study_uneven(0, kScenes, Features::as_drawn, true);
  REQUIRE(answers.size() == kScenes);
  int unsolved = 0;  // said so where no answer is found
  for (const UnevenAnswer& a : answers) {
    INFO("scene ", a.number, ": ", a.mirror_words, a.heading_words, " loads ", a.load_difference);
    CHECK_FALSE(a.mirror_differs);
    CHECK_FALSE(a.heading_differs);
    CHECK_FALSE(a.tips_before_lifting);
    unsolved += a.unsolved;
    CHECK_FALSE(a.wrongly_tipped);
    CHECK_FALSE(a.loads_differ);
  }
  CHECK(unsolved <= 2);
  // It looked at something.
  const UnevenCounts counts = count_uneven(answers);
  CHECK(counts.feature_near > 0);
  CHECK(counts.compared > 0);
  CHECK(counts.loads_agree == counts.compared);
}

TEST_CASE("mirrored twice it is the scene itself, and once another") {
  for (std::uint64_t number = 0; number < 20; ++number) {
    const Scene scene = random_scene(number);
    CHECK(write_scene(mirrored(mirrored(scene))) == write_scene(scene));
    CHECK(write_scene(mirrored(scene)) != write_scene(scene));
  }
}

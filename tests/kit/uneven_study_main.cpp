// sidehill_uneven [FIRST [COUNT]]: counts what random uneven scenes say (tests/kit/uneven_study.h), scene by scene
// where two answers differ: COUNT of them (2000) as drawn, and a quarter as many with the features under the wheels,
// which are counted only. Exit code 1 where more of those as drawn differ than may: one in 200 mirrored, one in 500
// turned by 0.001 deg, one in 50 in the loads; none tipped that stands, none over before a wheel lifts.
#include <fmt/format.h>

#include <cstdlib>

#include "tests/kit/uneven_study.h"

using namespace sidehill;

namespace {

UnevenCounts study(std::uint64_t first, std::size_t scenes, Features where) {
  const auto answers = study_uneven(first, scenes, where, true);
  for (const UnevenAnswer& a : answers) {
    if (a.mirror_differs) fmt::print("scene {}: mirrored it says otherwise: {}\n", a.number, a.mirror_words);
    if (a.heading_differs)
      fmt::print("scene {}: turned by 0.001 deg it says otherwise: {}\n", a.number, a.heading_words);
    if (a.tips_before_lifting) fmt::print("scene {}: over before a wheel lifts\n", a.number);
    if (a.unsolved) fmt::print("scene {}: unsolved\n", a.number);
    if (a.wrongly_tipped) fmt::print("scene {}: tipped, and the run stands\n", a.number);
    if (a.loads_differ)
      fmt::print("scene {}: loads of rest and run differ by {:.2f} % of the weight\n", a.number,
                 100 * a.load_difference);
  }
  const UnevenCounts c = count_uneven(answers);
  fmt::print(
      "{} scenes, {}, {} with one near a wheel: mirrored the same {}, turned by 0.001 deg the same {}, unsolved {}, "
      "tipped {} "
      "(wrongly {}), over before a wheel lifts {}, loads of rest and run within 1 % of the weight {} of {}\n",
      c.scenes, where == Features::as_drawn ? "features as drawn" : "features under the wheels", c.feature_near,
      c.mirror_agrees, c.heading_agrees, c.unsolved, c.tipped, c.wrongly_tipped, c.tips_before_lifting, c.loads_agree,
      c.compared);
  std::fflush(stdout);
  return c;
}

}  // namespace

int main(int count, char** words) {
  const std::uint64_t first = count > 1 ? std::strtoull(words[1], nullptr, 10) : 0;
  const std::size_t scenes = count > 2 ? std::strtoull(words[2], nullptr, 10) : 2000;
  const UnevenCounts drawn = study(first, scenes, Features::as_drawn);
  study(first, scenes / 4, Features::under_the_wheels);
  const bool enough = drawn.scenes > 0 && 200 * (drawn.scenes - drawn.mirror_agrees) <= drawn.scenes &&
                      500 * (drawn.scenes - drawn.heading_agrees) <= drawn.scenes && drawn.compared > 0 &&
                      50 * drawn.loads_differ <= drawn.compared && drawn.wrongly_tipped == 0 &&
                      drawn.tips_before_lifting == 0;
  if (!enough) fmt::print("More differ than may.\n");
  return enough ? 0 : 1;
}

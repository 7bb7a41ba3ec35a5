// sidehill_uneven [FIRST [COUNT]]: counts what random uneven scenes say (tests/uneven_study.h), scene by scene where
// two answers differ. Exit code 1 where more differ than may. Bounds: one scene in 200 mirrored, one in 50 in the
// loads; nothing tipped that stands, nothing over before a wheel lifts.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "tests/uneven_study.h"

int main(int count, char** words) {
  using namespace sidehill;
  const std::uint64_t first = count > 1 ? std::strtoull(words[1], nullptr, 10) : 0;
  const std::size_t scenes = count > 2 ? std::strtoull(words[2], nullptr, 10) : 2000;
  const auto answers = study_uneven(first, scenes, true);
  for (const UnevenAnswer& a : answers) {
    if (a.mirror_differs) fmt::print("scene {}: mirrored, it says otherwise: {}\n", a.number, a.mirror_words);
    if (a.heading_differs) fmt::print("scene {}: turned by 0.001 deg, it says otherwise\n", a.number);
    if (a.tips_before_lifting) fmt::print("scene {}: over before a wheel lifts\n", a.number);
    if (a.unsolved) fmt::print("scene {}: unsolved\n", a.number);
    if (a.wrongly_tipped) fmt::print("scene {}: tipped, and the run stands\n", a.number);
    if (a.loads_differ)
      fmt::print("scene {}: loads of rest and run differ by {:.2f} % of the weight\n", a.number,
                 100 * a.load_difference);
  }
  const UnevenCounts c = count_uneven(answers);
  fmt::print(
      "Of {} uneven scenes ({} with a feature under a wheel): mirrored the same {}, turned by 0.001 deg the same {}, "
      "unsolved {}, tipped {} (wrongly {}), over before a wheel lifts {}; loads of rest and run within 1 % of the "
      "weight in {} of {}.\n",
      c.scenes, c.feature_near, c.mirror_agrees, c.heading_agrees, c.unsolved, c.tipped, c.wrongly_tipped,
      c.tips_before_lifting, c.loads_agree, c.compared);
  const bool enough = 200 * (c.scenes - c.mirror_agrees) <= c.scenes && 50 * c.loads_differ <= c.scenes &&
                      2 * c.compared >= c.scenes && c.wrongly_tipped == 0 && c.tips_before_lifting == 0;
  if (!enough) fmt::print("That is more than may differ.\n");
  return enough ? 0 : 1;
}

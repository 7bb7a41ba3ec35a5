// Which word somebody meant: near ones only.
#include "sim/scene/spelling.h"

#include <doctest/doctest.h>

#include <vector>

using namespace sidehill;

TEST_CASE("mistakes are letters to insert, drop or replace") {
  CHECK(mistakes("kitten", "sitting") == 3);  // k->s, e->i, +g
  CHECK(mistakes("", "abc") == 3);
  CHECK(mistakes("abc", "abc") == 0);
  CHECK(mistakes("solve", "slove") == 2);
}

TEST_CASE("only a word that is near is taken for the one meant") {
  const std::vector<std::string> known = {"solve", "run", "replay", "slope-limit", "water", "note"};
  CHECK(nearest_word("solv", known) == "solve");
  CHECK(nearest_word("slove", known) == "solve");
  CHECK(nearest_word("rum", known) == "run");
  CHECK(nearest_word("slope_limit", known) == "slope-limit");
  CHECK(nearest_word("watr", known) == "water");
  for (const char* far : {"beer", "slope", "dance", "x", ""}) {
    CAPTURE(far);
    CHECK(nearest_word(far, known).empty());
  }
  CHECK(nearest_word(std::string(1000, 's'), known).empty());
}

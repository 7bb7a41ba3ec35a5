// Where lines break, for table, page and window alike.
#include "render/text/words/line_breaks.h"

#include <doctest/doctest.h>

#include "tests/kit/has.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

double letters_of(const std::string& line) { return static_cast<double>(line.size()); }

}  // namespace

TEST_CASE("a line holds whole pieces, as many as there is room for, and none is lost") {
  const std::string words = "the rear left wheel carries 1 851 kg of 1 800 kg, so it is over its limit";
  for (double room = 1; room < 90; ++room) {
    CAPTURE(room);
    const auto lines = lines_of(words, room, letters_of);
    std::string all;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      CHECK((letters_of(lines[i]) <= room || piece_end(lines[i]) == lines[i].size()));  // wider only if it is one piece
      if (i > 0) {  // the first piece had no room on the line before
        const std::string first = lines[i].substr(0, piece_end(lines[i]));
        CHECK(letters_of(lines[i - 1] + " " + first) > room);
      }
      all += (i > 0 ? " " : "") + lines[i];
    }
    CHECK(all == words);
  }
  CHECK(lines_of(words, 90, letters_of) == std::vector<std::string>{words});
}

TEST_CASE("a line end in the words stays one, and no words are one empty line") {
  CHECK(lines_of("one two\nthree", 99, letters_of) == std::vector<std::string>{"one two", "three"});
  CHECK(lines_of("one\n\ntwo", 99, letters_of) == std::vector<std::string>{"one", "", "two"});
  CHECK(lines_of("", 99, letters_of) == std::vector<std::string>{""});
}

TEST_CASE("the width is what the measure says, not the number of letters") {
  const auto wide = [](const std::string& line) { return 10 * letters_of(line); };
  CHECK(lines_of("ab cd", 50, wide).size() == 1);
  CHECK(lines_of("ab cd", 49, wide).size() == 2);
}

TEST_CASE("a paragraph has its mark once, the rest under its first letter") {
  const std::string text = paragraph("  ! ", std::string(60, 'x') + " " + std::string(60, 'y') + "\nzz");
  CHECK(text == "  ! " + std::string(60, 'x') + "\n    " + std::string(60, 'y') + "\n    zz\n");
  CHECK(paragraph("  ", "") == "  \n");
}

TEST_CASE("a line never breaks inside a number, nor between it and its unit") {
  for (std::size_t before = 60; before < 115; ++before) {
    const std::string text = paragraph("  ", std::string(before, 'x') + " tyre 1 851 kg of 1 800 kg over");
    CAPTURE(text);
    CHECK(has(text, "1 851 kg"));
    CHECK(has(text, "1 800 kg"));
  }
  CHECK(has(paragraph("  ", std::string(107, 'x') + " 5 wheels"), "\n"));  // other words break as before
}

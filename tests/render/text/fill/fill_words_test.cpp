#include "render/text/fill/fill_words.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "render/text/words/words.h"
#include "tests/kit/fills.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

bool cautions_say(const FillRequest& request, const std::string& words) {
  const std::vector<std::string> all = fill_cautions(fill_sheet(request));
  return std::ranges::any_of(all, [&](const std::string& caution) { return caution.find(words) != caution.npos; });
}

}  // namespace

TEST_CASE("a filling above the valve, a full one and an overloaded tyre are said, the worst first") {
  FillRequest request = request_of("18.4-38");
  request.fill = 0.95;
  request.load_kg = 3500;  // load index 146 carries 3000 kg
  CHECK(cautions_say(request, "too little air is left"));
  CHECK(cautions_say(request, "overloaded"));
  CHECK_FALSE(cautions_say(request, "to the brim"));
  request.fill = 1;
  CHECK(fill_cautions(fill_sheet(request)).front().starts_with("Filled to the brim"));
  request.fill = 0.5;
  request.load_kg = 2000;
  CHECK_FALSE(cautions_say(request, "overloaded"));
  CHECK(cautions_say(request, "Never fill up"));
}

TEST_CASE("foam is warned of as what stays in, and every list ends with the caution of all answers") {
  CHECK(cautions_say(request_of("18.4-38", "polyurethane"), "cannot be pumped out again"));
  CHECK_FALSE(cautions_say(request_of("18.4-38", "polyurethane"), "Let the air out"));
  for (const char* medium : {"polyurethane", "water"})
    CHECK(fill_cautions(fill_sheet(request_of("18.4-38", medium))).back() == kCautionLine);
}

TEST_CASE("clocks read as clocks") {
  CHECK(clock_words(12) == "12:00");
  CHECK(clock_words(0) == "12:00");
  CHECK(clock_words(9.5) == "9:30");
  CHECK(clock_words(11.9999) == "12:00");
  CHECK(clock_words(0.5) == "12:30");
}

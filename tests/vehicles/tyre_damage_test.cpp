// Which paragraphs on damage bear on which filling.
#include "vehicles/tyre_damage.h"

#include <cmath>
#include <limits>
#include <string>

#include "tests/kit/has.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

std::string all_words_of(Medium medium, double fill) {
  std::string text;
  for (const std::string_view note : damage_notes(medium, fill)) text += std::string(note) + "\n";
  return text;
}
}  // namespace

TEST_CASE("a tyre on air has nothing of it") {
  for (const MediumInfo& medium : media())
    for (const double none : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN()})
      CHECK(damage_notes(medium.medium, none).empty());
}

TEST_CASE("every liquid has its puncture and its tube, foam has neither") {
  for (const MediumInfo& medium : media()) {
    CAPTURE(medium.key);
    const std::string text = all_words_of(medium.medium, medium.typical_fill);
    CHECK(has(text, "Foam fill:") == medium.turns_with_wheel);
    CHECK(has(text, "Puncture:") != medium.turns_with_wheel);
    CHECK(has(text, "Inner tube:") != medium.turns_with_wheel);
    for (const std::string_view note : damage_notes(medium.medium, 0.1)) {
      CHECK(note.find('\n') == note.npos);
      CHECK(note.back() == '.');
      CHECK(note.size() < 600);
    }
  }
}

TEST_CASE("salt is caught and rinsed off, and is where a tube is advised") {
  for (const MediumInfo& medium : media()) {
    CAPTURE(medium.key);
    const std::string text = all_words_of(medium.medium, 0.75);
    const bool salt = std::string(medium.key).find("chloride") != std::string::npos;
    CHECK(has(text, "brine") == salt);
    CHECK(has(text, "usual thing for salt fillings") == salt);
    // The damage paragraph and the medium's own advice must not contradict each other.
    CHECK(has(std::string(medium.tube), "Use an inner tube") == salt);
  }
  CHECK(has(all_words_of(Medium::methanol, 0.5), "flame nobody sees"));
  CHECK(has(all_words_of(Medium::ethylene_glycol, 0.5), "kills them"));
}

TEST_CASE("the work after a puncture is one line for every medium") {
  for (const MediumInfo& medium : media_choices()) {
    CAPTURE(medium.key);
    const std::string work(repair_work(medium.medium));
    CHECK(work.size() > 10);
    CHECK(work.back() == '.');
    CHECK(has(work, "brine") == (std::string(medium.key).find("chloride") != std::string::npos));
    CHECK(has(work, "patch") != medium.turns_with_wheel);
  }
  CHECK(has(repair_work(Medium::methanol).data(), "No flame"));
  CHECK(has(all_words_of(Medium::own, 0.5), "not in the library"));
  CHECK_FALSE(has(all_words_of(Medium::own, 0.5), "not needed"));  // of a tube nothing is known
}

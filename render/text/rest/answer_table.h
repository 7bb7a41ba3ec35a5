// The answer as a page of text for a person at a terminal. Angles with one decimal: more would promise too much.
#pragma once
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/answer.h"

namespace sidehill::text {

// In sentences: the headline, then everything else that holds, worst first.
std::string verdict_words(const Answer& answer, Units units = Units::si);

// Verdict first of all, wheel loads, what gives way at which slope, masses, cautions, limits of validity.
std::string answer_table(const Answer& answer, Units units = Units::si);

// Least slope that lifts a wheel and what is left of it, by heading.
std::string envelope_table(const Answer& answer);

}  // namespace sidehill::text

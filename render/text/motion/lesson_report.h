// A lesson in words: the question with its answers, and the truth with its number, for terminal and screen alike.
// Knows no window, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/lesson.h"

namespace sidehill::text {

// One value of the quantity with its unit: "38.5°", "0.9 s", "never"; an outcome in plain words.
std::string asked_words(Asked quantity, std::optional<double> value, const std::string& outcome);
// What was asked, short enough for large figures: "38.5°", "18.3° less"; empty for what
// happened in a run.
std::string truth_number(const Lesson& lesson, const LessonTruth& truth);
// One plain sentence with the numbers: "It lifts at 38.5°: the rear left wheel, uphill."
std::string truth_sentence(const Lesson& lesson, const LessonTruth& truth);
// How sure that is: the interval, or what the neighbouring runs gave; one sentence.
std::string doubt_words(const Lesson& lesson, const LessonTruth& truth);
// And what is left out.
std::string doubt_sentence(const Lesson& lesson, const LessonTruth& truth);
// "Right." or "Not this time: ..." with the right answer's words.
std::string guess_sentence(const Lesson& lesson, const LessonTruth& truth, std::size_t guess);

std::string lessons_table(const std::vector<Lesson>& lessons);
std::string question_table(const Lesson& lesson, Units units = Units::si);
std::string truth_table(const Lesson& lesson, const LessonTruth& truth, std::optional<std::size_t> guess,
                        Units units = Units::si);

nlohmann::ordered_json lessons_json(const std::vector<Lesson>& lessons);
nlohmann::ordered_json question_json(const Lesson& lesson);  // without what is right
nlohmann::ordered_json truth_json(const Lesson& lesson, const LessonTruth& truth, std::optional<std::size_t> guess);

}  // namespace sidehill::text

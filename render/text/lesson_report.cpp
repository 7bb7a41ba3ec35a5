#include "render/text/lesson_report.h"

#include <fmt/format.h>

#include <cmath>

#include "render/text/answer.h"
#include "render/text/words.h"
#include "vehicles/units.h"
#include "vehicles/vehicle.h"

namespace sidehill {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kUnits[] = {"°", "°", "°", "", "", " s", " s", "°", " km/h"};  // order of enum Asked
constexpr double kRest = 0.5;  // slower than this is told as standing: a braked tyre creeps a little [km/h]

std::string outcome_words(const std::string& outcome) {
  if (outcome == "stands") return "all four wheels stay on the ground";
  if (outcome == "slides") return "the tyres slide";
  if (outcome == "wheel_up") return "a wheel is in the air at the end";
  if (outcome == "lifts_and_returns") return "a wheel lifts and comes back";
  if (outcome == "on_frame") return "it goes over on its side";
  if (outcome == "rolls_on") return "it goes over and rolls on";
  if (outcome == "overturned_rear") return "it goes over backwards";
  if (outcome == "lifts") return "a wheel lifts";
  if (outcome == "neither") return "neither happens";
  return outcome;
}

// "the rear left wheel (uphill)"; on level ground or between the sides without the second half.
std::string wheel_words(const Found& found) {
  if (found.wheel < 0) return "a wheel";
  std::string text = fmt::format("the {} wheel", wheel_name(found.wheel));
  if (found.slope < 0.5 * kDegree) return text;
  const std::string_view side = side_on_slope(found.wheel, found.heading);
  if (!side.empty()) text += fmt::format(" ({})", side);
  return text;
}

// "; the rear left wheel (uphill) leaves the ground at 6.2 s, nothing can stop it after 7.6 s".
std::string course_words(const Found& found) {
  std::string text;
  if (found.lift_off_time)
    text += fmt::format("; {} leaves the ground at {:.1f} s", wheel_words(found), *found.lift_off_time);
  if (found.balance_time) text += fmt::format(", nothing can stop it after {:.1f} s", *found.balance_time);
  return text;
}

// What one set-up came to, as a clause without a subject of its own.
std::string clause(Asked quantity, const Found& found) {
  const std::string number = asked_words(quantity, found.value, found.outcome);
  switch (quantity) {
    case Asked::first_lift_off:
      return found.value ? fmt::format("{} lifts at {}", wheel_words(found), number) : "no wheel ever lifts";
    case Asked::margin:
      return found.value ? fmt::format("{} are left until {} lifts", number, wheel_words(found))
                         : "no wheel ever lifts";
    case Asked::slide:
      return found.value ? fmt::format("the tyres slide at {}", number) : "the tyres never slide";
    case Asked::gives_way_first:
      if (found.outcome == "lifts")
        return fmt::format("{} lifts first, at {}", wheel_words(found), asked_words(Asked::slide, found.value, ""));
      if (found.outcome == "slides")
        return fmt::format("the tyres slide first, at {}", asked_words(Asked::slide, found.value, ""));
      return "neither happens, at any slope";
    case Asked::outcome:
      return outcome_words(found.outcome) + course_words(found);
    case Asked::lift_off_time:
      return found.value ? fmt::format("{} leaves the ground after {}", wheel_words(found), number)
                         : "no wheel leaves the ground";
    case Asked::time_to_balance:
      return found.value ? fmt::format("{} from the moment {} leaves the ground until nothing can stop it", number,
                                       wheel_words(found))
                         : "it does not go over";
    case Asked::greatest_lean:
      return fmt::format("it leans {} at the most, on a slope of {}", number, degrees(found.slope));
    case Asked::speed_at_end:
      return found.value.value_or(0) < kRest ? std::string("it stands") : fmt::format("it goes {}", number);
  }
  return "-";
}

std::string difference_words(Asked quantity, double difference) {
  return fmt::format("{} {}", asked_words(quantity, std::abs(difference), ""), difference < 0 ? "less" : "more");
}

std::string interval_words(const Found& found) {
  if (!found.interval) return {};
  if (found.interval_open) return fmt::format("{:.1f}° or more", found.interval->first);
  return fmt::format("{:.1f}° to {:.1f}°", found.interval->first, found.interval->second);
}

Json found_json(const Found& found) {
  Json interval = nullptr;
  if (found.interval)
    interval = {number_or_null(found.interval->first),
                found.interval_open ? Json(nullptr) : number_or_null(found.interval->second)};
  return {{"value", number_or_null(found.value)},
          {"outcome", found.outcome.empty() ? Json(nullptr) : Json(found.outcome)},
          {"wheel", found.wheel >= 0 ? Json(wheel_key(found.wheel)) : Json(nullptr)},
          {"first_lift_off_s", number_or_null(found.lift_off_time)},
          {"point_of_no_return_s", number_or_null(found.balance_time)},
          {"interval_deg", interval}};
}

}  // namespace

std::string asked_words(Asked quantity, std::optional<double> value, const std::string& outcome) {
  if (is_outcome(quantity)) return outcome_words(outcome);
  if (!value) return "never";
  if (!std::isfinite(*value)) return "-";
  std::string text = fmt::format("{:.1f}", *value);
  if (text == "-0.0") text = "0.0";
  return text + kUnits[static_cast<int>(quantity)];
}

std::string truth_number(const Lesson& lesson, const LessonTruth& truth) {
  if (lesson.quantity == Asked::gives_way_first) return truth.value ? degrees(*truth.value * kDegree) : "";
  if (is_outcome(lesson.quantity)) return {};
  if (lesson.of == Of::b_minus_a && truth.value)  // less than what is said below it
    return capital(lesson.name_b) + ": " + difference_words(lesson.quantity, *truth.value);
  return asked_words(lesson.quantity, truth.value, "");
}

std::string truth_sentence(const Lesson& lesson, const LessonTruth& truth) {
  if (!truth.b) return capital(clause(lesson.quantity, truth.a)) + ".";
  const std::string a = capital(lesson.name_a), b = capital(lesson.name_b);
  if (lesson.quantity == Asked::first_lift_off && lesson.of == Of::b_minus_a && truth.value)
    return fmt::format(
        "{}: a wheel lifts at {}. {}: at {}, that is {}.", a, asked_words(lesson.quantity, truth.a.value, ""), b,
        asked_words(lesson.quantity, truth.b->value, ""), difference_words(lesson.quantity, *truth.value));
  std::string text =
      fmt::format("{}: {}. {}: {}", a, clause(lesson.quantity, truth.a), b, clause(lesson.quantity, *truth.b));
  if (lesson.of == Of::b_minus_a && truth.value)
    text += fmt::format(", that is {}", difference_words(lesson.quantity, *truth.value));
  return text + ".";
}

std::string doubt_words(const Lesson& lesson, const LessonTruth& truth) {
  std::string text;
  const std::string a = interval_words(truth.a), b = truth.b ? interval_words(*truth.b) : "";
  if (!a.empty() && !b.empty())
    text = fmt::format("Nineteen times in twenty: {} {}, {} {}. ", lesson.name_a, a, lesson.name_b, b);
  else if (!a.empty())
    text = fmt::format("Nineteen times in twenty: {}. ", a);
  if (truth.tried > 0) {
    text += fmt::format("Run again on {:g}° more{} slope", kNeighbourSlope / kDegree,
                        truth.tried_less_slope ? " and less" : "");
    if (truth.tried_speeds) text += fmt::format(", and {:g} % faster and slower", kNeighbourSpeed * 100);
    text += fmt::format(": the same answer in {} of {} runs", truth.agreed, truth.tried);
    if (truth.spread) {
      const std::string low = asked_words(lesson.quantity, truth.spread->first, "");
      const std::string high = asked_words(lesson.quantity, truth.spread->second, "");
      text += low == high ? ", each time " + low : ", from " + low + " to " + high;
    }
    text += ". ";
  }
  while (text.ends_with(' ')) text.pop_back();
  return text;
}

std::string doubt_sentence(const Lesson& lesson, const LessonTruth& truth) {
  return doubt_words(lesson, truth) +
         " This machine as described, on firm ground; yours, your ground and your hands differ.";
}

std::string guess_sentence(const Lesson& lesson, const LessonTruth& truth, std::size_t guess) {
  if (guess == truth.right) return "Right.";
  return "Not this time. It is: " + lesson.answers[truth.right].text + ".";
}

std::string lessons_table(const std::vector<Lesson>& lessons) {
  std::string text = "Lessons\n";
  for (const Lesson& lesson : lessons)
    text += fmt::format("  {:>3g}  {:20} {}\n", lesson.number, lesson.file.stem().string(), lesson.title);
  return text + "\n  sidehill lesson NAME            asks\n  sidehill lesson NAME --guess N  tells\n\n  ! " +
         kCautionLine + "\n";
}

std::string question_table(const Lesson& lesson) {
  std::string text = fmt::format("{:g}  {}\n\n", lesson.number, lesson.title);
  text += paragraph("  ", lesson.story) + "\n" + paragraph("  ? ", lesson.question) + "\n";
  for (std::size_t i = 0; i < lesson.answers.size(); ++i)
    text += fmt::format("    {}  {}\n", i + 1, lesson.answers[i].text);
  return text;
}

std::string truth_table(const Lesson& lesson, const LessonTruth& truth, std::optional<std::size_t> guess) {
  std::string text = question_table(lesson) + "\n";
  if (guess)
    text += fmt::format("  Your guess: {}. {}\n\n", lesson.answers[*guess].text, guess_sentence(lesson, truth, *guess));
  text += paragraph("  = ", truth_sentence(lesson, truth)) + paragraph("    ", lesson.because) + "\n";
  text += "How sure\n" + paragraph("  ", doubt_sentence(lesson, truth)) + "\n";
  text += "Caution\n" + paragraph("  ! ", lesson.caution) + paragraph("  ! ", kCautionLine) + "\n";
  return text + "To take home\n" + paragraph("  ", lesson.take_home) + fmt::format("\n  ({})\n", lesson.source);
}

Json lessons_json(const std::vector<Lesson>& lessons) {
  Json list = Json::array();
  for (const Lesson& lesson : lessons)
    list.push_back({{"number", lesson.number},
                    {"name", lesson.file.stem().string()},
                    {"title", lesson.title},
                    {"question", lesson.question}});
  return {{"lessons", list}, {"cautions", {kCautionLine}}};
}

Json question_json(const Lesson& lesson) {
  Json answers = Json::array();
  for (const LessonAnswer& answer : lesson.answers) answers.push_back(answer.text);
  return {{"number", lesson.number},        {"name", lesson.file.stem().string()},
          {"title", lesson.title},          {"story", lesson.story},
          {"question", lesson.question},    {"answers", answers},
          {"scene", lesson.scene.string()}, {"change", lesson.change},
          {"second", lesson.second}};
}

Json truth_json(const Lesson& lesson, const LessonTruth& truth, std::optional<std::size_t> guess) {
  Json json = question_json(lesson);
  json["quantity"] = key_of(lesson.quantity);
  json["guess"] = guess ? Json(*guess + 1) : Json(nullptr);
  json["right"] = truth.right + 1;
  json["guessed_right"] = guess ? Json(*guess == truth.right) : Json(nullptr);
  json["value"] = number_or_null(truth.value);
  json["outcome"] = truth.outcome.empty() ? Json(nullptr) : Json(truth.outcome);
  json["truth"] = truth_sentence(lesson, truth);
  json["a"] = found_json(truth.a);
  json["b"] = truth.b ? found_json(*truth.b) : Json(nullptr);
  json["to_border"] = number_or_null(truth.to_border);
  json["neighbours_run"] = truth.tried;
  json["neighbours_same_answer"] = truth.agreed;
  json["because"] = lesson.because;
  json["cautions"] = {lesson.caution, kCautionLine};
  json["take_home"] = lesson.take_home;
  json["source"] = lesson.source;
  json["uncertainty"] = doubt_sentence(lesson, truth);
  return json;
}

}  // namespace sidehill

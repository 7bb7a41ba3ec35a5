#include "render/text/motion/lesson_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "render/text/rest/answer_json.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/vehicle.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kUnits[] = {"°", "°", "°", "", "", " s", " s", "°", " km/h"};  // order of enum Asked
constexpr double kRest = 0.5;  // slower than this counts as standing: a braked tyre creeps a little [km/h]

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

// The wheel that lifts i-th lifts together with the next one, the other of its axle.
bool lifted_together(const Found& found, std::size_t i) {
  constexpr double kTogether = 0.05;  // [s]
  return i + 1 < found.lifted.size() && is_front(found.lifted[i + 1].first) == is_front(found.lifted[i].first) &&
         found.lifted[i + 1].second - found.lifted[i].second < kTogether;
}

// "both front wheels", "the rear left wheel (uphill)".
std::string lifted_name(const Found& found, std::size_t i) {
  if (i >= found.lifted.size()) return wheel_words(found);
  const int wheel = found.lifted[i].first;
  if (lifted_together(found, i)) return fmt::format("both {} wheels", is_front(wheel) ? "front" : "rear");
  Found one;
  one.wheel = wheel;
  one.slope = found.slope;
  one.heading = found.heading;
  return wheel_words(one);
}

// "both front wheels leave".
std::string leaves_words(const Found& found, std::size_t i) {
  return lifted_name(found, i) + (lifted_together(found, i) ? " leave" : " leaves");
}

// Every wheel that leaves the ground, in order, with when: "the front left wheel (uphill) leaves the ground at 4.6 s,
// then the rear left wheel (uphill) at 5.3 s"; both of an axle at once are one entry.
std::string lifted_words(const Found& found) {
  std::string text;
  for (std::size_t i = 0; i < found.lifted.size(); ++i) {
    const double time = found.lifted[i].second;
    if (text.empty())
      text = fmt::format("{} the ground at {:.1f} s", leaves_words(found, i), time);
    else
      text += fmt::format(", then {} at {:.1f} s", lifted_name(found, i), time);
    if (lifted_together(found, i)) ++i;
  }
  return text;
}

// "; the rear left wheel (uphill) leaves the ground at 6.2 s, nothing can stop it after 7.6 s".
std::string course_words(const Found& found) {
  std::string text;
  if (!found.lifted.empty()) text += "; " + lifted_words(found);
  if (found.balance_time) text += fmt::format(", nothing can stop it after {:.1f} s", *found.balance_time);
  return text;
}

// Of a value in degrees, as a lesson keeps it.
std::string slope_found(std::optional<double> value) {
  return value ? degrees_and_percent(*value * kDegree) : std::string();
}

// A slope that was asked for, "37.0° = 75 %"; any other quantity as asked_words has it.
std::string value_found(Asked quantity, std::optional<double> value) {
  const bool slope = quantity == Asked::first_lift_off || quantity == Asked::slide;
  return slope && value ? slope_found(value) : asked_words(quantity, value, "");
}

// "the rear left wheel (uphill) lifts at 37.0° = 75 %"; with the slide first where it comes first: "the tyres slide
// first, at 30.5° = 59 %, before the rear left wheel (uphill) lifts at 37.0° = 75 %".
std::string lift_clause(const Found& found) {
  const std::string lifts = fmt::format("{} lifts at {}", wheel_words(found), slope_found(found.value));
  if (!found.slides_before) return found.value ? lifts : "no wheel ever lifts";
  const std::string slide = slope_found(found.slides_before);
  return found.value ? fmt::format("the tyres slide first, at {}, before {}", slide, lifts)
                     : fmt::format("the tyres slide at {}; no wheel ever lifts", slide);
}

// How many wheels it were, where the outcome alone says only that one did.
std::string run_words(const Found& found) {
  constexpr const char* kCounts[] = {"", "a wheel lifts and comes back", "two wheels lift and come back",
                                     "three wheels lift and come back", "all four wheels lift and come back"};
  if (found.outcome == to_string(Outcome::lifts_and_returns) && found.lifted.size() < std::size(kCounts) &&
      !found.lifted.empty())
    return kCounts[found.lifted.size()];
  constexpr const char* kUp[] = {"", "a wheel is in the air at the end", "two wheels are in the air at the end",
                                 "three wheels are in the air at the end", "all four wheels are in the air at the end"};
  if (found.outcome == to_string(Outcome::wheel_up) && found.wheels_up > 0 && found.wheels_up <= kWheels)
    return kUp[found.wheels_up];
  return outcome_words(found.outcome);
}

// What one set-up came to, as a clause without a subject of its own.
std::string clause(Asked quantity, const Found& found) {
  const std::string number = asked_words(quantity, found.value, found.outcome);
  switch (quantity) {
    case Asked::first_lift_off:
      return lift_clause(found);
    case Asked::margin:
      return found.value ? fmt::format("{} are left until {} lifts", number, wheel_words(found))
                         : "no wheel ever lifts";
    case Asked::slide:
      return found.value ? fmt::format("the tyres slide at {}", slope_found(found.value)) : "the tyres never slide";
    case Asked::gives_way_first:
      if (found.outcome == "lifts")
        return fmt::format("{} lifts first, at {}", wheel_words(found), slope_found(found.value));
      if (found.outcome == "slides") return fmt::format("the tyres slide first, at {}", slope_found(found.value));
      return "neither happens, at any slope";
    case Asked::outcome:
      return run_words(found) + course_words(found);
    case Asked::lift_off_time:
      return found.value ? fmt::format("{} the ground after {}", leaves_words(found, 0), number)
                         : "no wheel leaves the ground";
    case Asked::time_to_balance:
      return found.value ? fmt::format("{} from the moment {} the ground until nothing can stop it", number,
                                       leaves_words(found, 0))
                         : "it does not go over";
    case Asked::greatest_lean:
      return fmt::format("it leans {} at the most, on a slope of {}", number, degrees_and_percent(found.slope));
    case Asked::speed_at_end:
      return found.value.value_or(0) < kRest ? std::string("it stands") : fmt::format("it goes {}", number);
  }
  return "-";
}

// How far the second lies from the first, as the two are shown.
std::string difference_words(Asked quantity, double first, double second) {
  return fmt::format("{} {}", asked_words(quantity, std::abs(difference_as_shown(first, second)), ""),
                     second < first ? "less" : "more");
}

std::string b_less_a_words(const Lesson& lesson, const LessonTruth& truth) {
  return difference_words(lesson.quantity, *truth.a.value, *truth.b->value);
}

// " No ballast at all: at 34.7°, that is 3.3° less than water."; empty without a set-up C.
std::string third_words(const Lesson& lesson, const LessonTruth& truth) {
  if (!truth.c) return {};
  const std::string name = capital(lesson.name_c);
  if (is_outcome(lesson.quantity) || !truth.c->value || !truth.a.value || truth.c->slides_before)
    return fmt::format(" {}: {}.", name, clause(lesson.quantity, *truth.c));
  return fmt::format(" {}: {}, that is {} than {}.", name, value_found(lesson.quantity, truth.c->value),
                     difference_words(lesson.quantity, *truth.a.value, *truth.c->value), lesson.name_a);
}

// Of what was asked: a slope has its per cent, degrees that are left have none.
std::string found_interval_words(Asked quantity, const Found& found) {
  if (!found.interval) return {};
  const auto slopes = [](const std::pair<double, double>& range, bool open) {
    return range_in_degrees_and_percent(range.first * kDegree,
                                        open ? std::nullopt : std::optional(range.second * kDegree));
  };
  if (found.slide_interval) {  // what comes first has its own
    Found lifts = found;
    lifts.slide_interval.reset();
    return fmt::format("slides at {}, a wheel lifts at {}", slopes(*found.slide_interval, false),
                       found_interval_words(quantity, lifts));
  }
  if (quantity != Asked::margin) return slopes(*found.interval, found.interval_open);
  if (found.interval_open) return fmt::format("{:.1f}° or more", found.interval->first);
  return fmt::format("{:.1f}° to {:.1f}°", found.interval->first, found.interval->second);
}

Json found_json(const Found& found) {
  Json interval = nullptr;
  if (found.interval)
    interval = {number_or_null(found.interval->first),
                found.interval_open ? Json(nullptr) : number_or_null(found.interval->second)};
  Json lifted = Json::array();
  for (const auto& [wheel, time] : found.lifted)
    lifted.push_back({{"wheel", wheel_key(wheel)}, {"first_at_s", number_or_null(time)}});
  return {{"value", number_or_null(found.value)},
          {"outcome", found.outcome.empty() ? Json(nullptr) : Json(found.outcome)},
          {"wheel", found.wheel >= 0 ? Json(wheel_key(found.wheel)) : Json(nullptr)},
          {"slides_before_deg", number_or_null(found.slides_before)},
          {"lifted", lifted},
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
  if (lesson.quantity == Asked::gives_way_first) return slope_found(truth.value);
  if (is_outcome(lesson.quantity)) return {};
  if (lesson.of == Of::b_minus_a && truth.value)  // less than what is said below it
    return capital(lesson.name_b) + ": " + b_less_a_words(lesson, truth);
  return value_found(lesson.quantity, truth.value);
}

std::string truth_sentence(const Lesson& lesson, const LessonTruth& truth) {
  if (!truth.b) return capital(clause(lesson.quantity, truth.a)) + ".";
  const std::string a = capital(lesson.name_a), b = capital(lesson.name_b);
  const bool slides = truth.a.slides_before || truth.b->slides_before || (truth.c && truth.c->slides_before);
  if (lesson.quantity == Asked::first_lift_off && lesson.of == Of::b_minus_a && truth.value && !slides)
    return fmt::format("{}: a wheel lifts at {}. {}: at {}, that is {}.{}", a, slope_found(truth.a.value), b,
                       slope_found(truth.b->value), b_less_a_words(lesson, truth), third_words(lesson, truth));
  // The set-up that is asked about comes first, the other one after it, to compare.
  if (lesson.of == Of::a)
    return fmt::format("{}: {}. To compare, {}: {}.{}", a, clause(lesson.quantity, truth.a), lesson.name_b,
                       clause(lesson.quantity, *truth.b), third_words(lesson, truth));
  if (lesson.of == Of::b)
    return fmt::format("{}: {}. To compare, {}: {}.{}", b, clause(lesson.quantity, *truth.b), lesson.name_a,
                       clause(lesson.quantity, truth.a), third_words(lesson, truth));
  std::string text =
      fmt::format("{}: {}. {}: {}", a, clause(lesson.quantity, truth.a), b, clause(lesson.quantity, *truth.b));
  if (truth.value)
    text += slides ? fmt::format("; the second lifts {}", b_less_a_words(lesson, truth))
                   : fmt::format(", that is {}", b_less_a_words(lesson, truth));
  return text + "." + third_words(lesson, truth);
}

std::string doubt_words(const Lesson& lesson, const LessonTruth& truth) {
  std::string text;
  const std::string a = found_interval_words(lesson.quantity, truth.a);
  const std::string b = truth.b ? found_interval_words(lesson.quantity, *truth.b) : "";
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

namespace {

// Where a lesson sets more grip than any ground has: that it does.
std::string grip_sentence(const Lesson& lesson) {
  constexpr double kMoreThanAnyGround = 1.2;  // adhesion; our choice
  constexpr std::string_view kKey = "terrain.soil.adhesion=";
  if (std::ranges::any_of(lesson.second, [&](const std::string& change) { return change.starts_with(kKey); }))
    return {};
  for (const std::string& change : lesson.change)
    if (change.starts_with(kKey) && std::strtod(change.c_str() + kKey.size(), nullptr) > kMoreThanAnyGround)
      return " In this lesson the tyres never slide: the grip is set higher than on any real ground, so that only the "
             "wheel that lifts counts. On real ground the machine may slide first, at a smaller angle.";
  return {};
}

}  // namespace

std::string doubt_sentence(const Lesson& lesson, const LessonTruth& truth) {
  return doubt_words(lesson, truth) +
         " This machine as described, on firm ground; yours, your ground and your hands differ." +
         grip_sentence(lesson);
}

std::string guess_sentence(const Lesson& lesson, const LessonTruth& truth, std::size_t guess) {
  if (guess == truth.right) return "Right.";
  return "Not this time. It is: " + lesson.answers[truth.right].text + ".";
}

std::string lessons_table(const std::vector<Lesson>& lessons) {
  std::string text = "Lessons\n";
  for (const Lesson& lesson : lessons)
    text += fmt::format("  {:>3g}  {:20} {}\n", lesson.number, lesson.file.stem().string(), lesson.title);
  return text + "\n  sidehill lesson NAME            asks\n  sidehill lesson NAME --guess N  answers\n\n  ! " +
         kCautionLine + "\n";
}

std::string question_table(const Lesson& lesson, Units units) {
  std::string text = fmt::format("{:g}  {}\n\n", lesson.number, lesson.title);
  text +=
      paragraph("  ", read_in(lesson.story, units)) + "\n" + paragraph("  ? ", read_in(lesson.question, units)) + "\n";
  for (std::size_t i = 0; i < lesson.answers.size(); ++i)
    text += fmt::format("    {}  {}\n", i + 1, read_in(lesson.answers[i].text, units));
  return text;
}

std::string truth_table(const Lesson& lesson, const LessonTruth& truth, std::optional<std::size_t> guess, Units units) {
  const auto read = [units](const std::string& words) { return read_in(words, units); };
  std::string text = question_table(lesson, units) + "\n";
  if (guess)
    text += fmt::format("  Your guess: {}. {}\n\n", read(lesson.answers[*guess].text),
                        read(guess_sentence(lesson, truth, *guess)));
  text += paragraph("  = ", read(truth_sentence(lesson, truth))) + paragraph("    ", read(lesson.because)) + "\n";
  text += "How sure\n" + paragraph("  ", read(doubt_sentence(lesson, truth))) + "\n";
  text += "Caution\n" + paragraph("  ! ", read(lesson.caution)) + paragraph("  ! ", kCautionLine) + "\n";
  text += "To take home\n" + paragraph("  ", read(lesson.take_home));
  return lesson.source.empty() ? text : text + "\n" + paragraph("  ", "Source: " + lesson.source);
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
          {"second", lesson.second},        {"third", lesson.third}};
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
  json["c"] = truth.c ? found_json(*truth.c) : Json(nullptr);
  json["to_border"] = number_or_null(truth.to_border);
  json["neighbours_run"] = truth.tried;
  json["neighbours_same_answer"] = truth.agreed;
  json["because"] = lesson.because;
  json["cautions"] = {lesson.caution, kCautionLine};
  json["take_home"] = lesson.take_home;
  json["source"] = lesson.source.empty() ? Json(nullptr) : Json(lesson.source);
  json["uncertainty"] = doubt_sentence(lesson, truth);
  return json;
}

}  // namespace sidehill::text

#include "render/text/rest/answer_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/rest/doubt_report.h"
#include "render/text/rest/manoeuvre_report.h"
#include "render/text/rest/masses_report.h"
#include "render/text/rest/measures_report.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/rest/why_report.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"

namespace sidehill::text {
namespace {

std::string wheel_loads(const Answer& answer) {
  if (!answer.statics.rest) return "  none: it does not rest here\n";
  const auto& load = answer.statics.rest->load;
  const double all = load[0] + load[1] + load[2] + load[3];
  std::string text = fmt::format("  {:8}{:>12}{:>12}{:>12}{:>9}\n", "", "left", "right", "axle", "share");
  for (std::size_t axle = 0; axle < 2; ++axle) {
    const double left = load[2 * axle], right = load[2 * axle + 1];
    text += fmt::format("  {:8}{:>12}{:>12}{:>12}{:>9}\n", axle == 0 ? "front" : "rear", kilonewtons(left),
                        kilonewtons(right), kilonewtons(left + right), percent(all > 0 ? (left + right) / all : 0));
  }
  return text;
}

std::string angles(const Answer& answer) {
  const StaticSolution& s = answer.statics;
  const std::string lifts =
      s.first_wheel >= 0 ? fmt::format("first wheel lifts ({})", wheel_name(s.first_wheel)) : "first wheel lifts";
  struct Row {
    std::string name;
    std::optional<double> angle;
    const char* instead = "never";
    std::optional<Interval> interval;
  };
  // The intervals are of the even slope: behind an angle of uneven ground they would say the wrong thing.
  const bool even = answer.scene.terrain.features.empty();
  const Uncertainty u = even ? answer.uncertainty.value_or(Uncertainty{}) : Uncertainty{};
  // With limited grip an empty slide angle only says that a wheel lifts before the tyres let go.
  const char* no_slide = answer.scene.terrain.soil.adhesion_unlimited ? "never" : "not first";
  // A rest on the stop that ends below lift-off is never come to; saying it would only confuse.
  const bool on_stop = s.tip_on_stop && s.first_lift_off && *s.tip_on_stop > *s.first_lift_off;
  std::string text;
  for (const Row& row :
       {Row{"tyres slide", s.slide, no_slide, u.slide}, Row{lifts, s.first_lift_off, "never", u.first_lift_off},
        Row{"truly goes over, slope raised slowly", s.tip_over, "never", u.tip_over},
        Row{"could still rest on the axle stop, set down there", s.tip_on_stop, "never", {}},
        Row{"to compare: rigid tyres, liquid kept in place", s.rigid_lift_off, "never", u.rigid_lift_off}})
    if (on_stop || !row.name.starts_with("could still rest"))
      text += fmt::format("  {:48}{:>8}{}\n", row.name, row.angle ? degrees(row.angle) : row.instead,
                          interval_words(row.interval));
  const LoadLimits& limits = answer.limits;
  const auto add_limit = [&](const std::string& name, double slope) {  // worked out without the features
    text += fmt::format("  {:48}{:>8}{}\n", name, slope > 0 ? degrees(slope) : "on the level",
                        even ? "" : "  (even slope)");
  };
  if (limits.tyre_overload)
    add_limit(fmt::format("{} tyre over {}", wheel_name(limits.overloaded_wheel),
                          limits.overload_stated ? "its rating" : "what is typical of its size"),
              *limits.tyre_overload);
  if (limits.steering_gone) add_limit("steering gone: front axle under 20 % of unladen", *limits.steering_gone);
  return text;
}

}  // namespace

std::string verdict_words(const Answer& answer) {
  const StandVerdict verdict = verdict_on(answer);
  std::string text;
  for (const std::string& sentence : verdict_sentences(verdict, answer.scene, answer.statics))
    text += (text.empty() ? "" : " ") + sentence;
  return text;
}

std::string answer_table(const Answer& answer) {
  const Scene& scene = answer.scene;
  const StandVerdict verdict = verdict_on(answer);
  std::string text = paragraph("", verdict_words(answer));
  for (const std::string& line : {at_rest_only(scene), ways_sentence(verdict), ratings_sentence(verdict)})
    if (!line.empty()) text += paragraph("  ", line);
  if (!scene.title.empty()) text += "\n" + scene.title;
  text += fmt::format("\n{} on {}: slope {}, {} (heading {})\n\n", scene.vehicle.name, scene.terrain.soil.name,
                      degrees(scene.terrain.slope), heading_words(scene.start.heading),
                      signed_degrees(scene.start.heading));
  if (answer.statics.status != RestStatus::unsolved) {
    text += std::string("Wheel loads ") + (scene.terrain.slope == 0 ? "on the level" : "on this slope") +
            ", square to the ground\n" + wheel_loads(answer);
    text += "\nSlope at which, tilting the whole ground at this heading\n" + angles(answer);
  }
  const auto lost = std::count_if(answer.by_heading.begin(), answer.by_heading.end(),
                                  [](const EnvelopePoint& p) { return p.failed; });
  if (const auto& worst = answer.worst)
    text +=
        fmt::format("  {:48}{:>8}  ({} wheel, heading {}: {})\n",
                    lost > 0 ? "first wheel lifts, worst heading solved" : "first wheel lifts, worst heading of all",
                    degrees(worst->first_lift_off), wheel_name(worst->wheel), signed_degrees(worst->heading),
                    heading_words(worst->heading));
  if (lost > 0) text += "  " + no_answer_words(static_cast<std::size_t>(lost), answer.by_heading.size()) + "\n";
  for (const std::string& section :
       {breakdown_table(answer), measures_table(answer), manoeuvres_table(answer), doubts_table(answer),
        loads_table(answer), tyres_table(answer), masses_table(answer), damage_text(answer)})
    if (!section.empty()) text += "\n" + section;
  text += "\nCautions\n";
  for (const std::string& warning : warnings(answer)) text += "  ! " + warning + "\n";
  for (const std::string& caution : answer.model.cautions) text += "  ! " + caution + "\n";
  text += std::string("  ! ") + kCautionLine + "\n\nLimits of this answer\n";
  std::string limits = kLimits;
  for (std::size_t at = 0; (at = limits.find('\n', at)) != std::string::npos; at += 3) limits.replace(at, 1, "\n  ");
  return text + "  " + limits + "\n";
}

std::string envelope_table(const Answer& answer) {
  std::string text = fmt::format("\n{:>9}{:>12}{:>11}{:>9}  {}\n", "Heading", "lift-off", "goes over", "left", "wheel");
  for (const EnvelopePoint& point : answer.by_heading) {
    std::optional<double> left;
    if (point.first_lift_off) left = angle_between_as_shown(answer.scene.terrain.slope, *point.first_lift_off);
    text += fmt::format("{:>10}{:>12}{:>11}{:>9}  {}\n", signed_degrees(point.heading),
                        point.failed ? "not found" : degrees(point.first_lift_off),
                        point.tip_over ? degrees(point.tip_over) : "-", point.failed ? "-" : degrees(left),
                        point.failed ? "-" : wheel_name(point.wheel));
  }
  return text;
}

}  // namespace sidehill::text

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
#include "render/text/words/units.h"
#include "render/text/words/words.h"

namespace sidehill::text {
namespace {

std::string wheel_loads(const Answer& answer, Units units) {
  if (!answer.statics.rest) return "  none: it does not rest here\n";
  const auto& load = answer.statics.rest->load;
  const double all = load[0] + load[1] + load[2] + load[3];
  std::string text = fmt::format("  {:8}{:>12}{:>12}{:>12}{:>9}\n", "", "left", "right", "axle", "share");
  for (std::size_t axle = 0; axle < 2; ++axle) {
    const double left = load[2 * axle], right = load[2 * axle + 1];
    const auto force = [units](double newtons) { return shown(Quantity::load, newtons, units); };
    text += fmt::format("  {:8}{:>12}{:>12}{:>12}{:>9}\n", axle == 0 ? "front" : "rear", force(left), force(right),
                        force(left + right), percent(all > 0 ? (left + right) / all : 0));
  }
  return text;
}

// What gives way, at which slope, and how sure that is.
std::string slope_row(const std::string& name, const std::string& slope, const std::string& within) {
  return fmt::format("  {:48}{:>14}{}\n", name, slope, within);
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
      text +=
          slope_row(row.name, row.angle ? degrees_and_percent(row.angle) : row.instead, interval_words(row.interval));
  const LoadLimits& limits = answer.limits;
  const auto add_limit = [&](const std::string& name, double slope) {  // worked out without the features
    text += slope_row(name, slope > 0 ? degrees_and_percent(slope) : "on the level", even ? "" : "  (even slope)");
  };
  if (limits.tyre_overload)
    add_limit(fmt::format("{} tyre over {}", wheel_name(limits.overloaded_wheel),
                          limits.overload_stated ? "its rating" : "what is typical of its size"),
              *limits.tyre_overload);
  if (limits.steering_gone) add_limit("steering gone: front axle under 20 % of unladen", *limits.steering_gone);
  return text;
}

// The heading at which the tyres slide on the least slope; none where they never do.
const EnvelopePoint* first_to_slide(const std::vector<EnvelopePoint>& by_heading) {
  const EnvelopePoint* first = nullptr;
  for (const EnvelopePoint& point : by_heading)
    if (!point.failed && point.slide && (!first || *point.slide < *first->slide)) first = &point;
  return first;
}

}  // namespace

std::string verdict_words(const Answer& answer, Units units) {
  const StandVerdict verdict = verdict_on(answer);
  std::string text;
  for (const std::string& sentence : verdict_sentences(verdict, answer.scene, answer.statics))
    text += (text.empty() ? "" : " ") + sentence;
  return read_in(text, units);
}

std::string answer_table(const Answer& answer, Units units) {
  const Scene& scene = answer.scene;
  const StandVerdict verdict = verdict_on(answer);
  std::string text = paragraph("", verdict_words(answer, units));
  for (const std::string& line :
       {without_implement(scene), at_rest_only(scene), ways_sentence(verdict),
        turned_sentence(answer.by_heading, answer.statics, scene.terrain.slope), ratings_sentence(verdict)})
    if (!line.empty()) text += paragraph("  ", read_in(line, units));
  if (!scene.title.empty()) text += "\n" + read_in(scene.title, units);
  text += fmt::format("\n{} on {}: slope {}, {} (heading {})\n\n", read_in(scene.vehicle.name, units),
                      scene.terrain.soil.name, degrees_and_percent(scene.terrain.slope),
                      heading_words(scene.start.heading), signed_degrees(scene.start.heading));
  if (answer.statics.status != RestStatus::unsolved) {
    text += std::string("Wheel loads ") + (scene.terrain.slope == 0 ? "on the level" : "on this slope") +
            ", square to the ground\n" + wheel_loads(answer, units);
    text += "\nSlope at which, tilting the whole ground at this heading\n" + angles(answer);
  }
  const auto lost = std::count_if(answer.by_heading.begin(), answer.by_heading.end(),
                                  [](const EnvelopePoint& p) { return p.failed; });
  if (const EnvelopePoint* slides = first_to_slide(answer.by_heading))
    text +=
        slope_row(lost > 0 ? "tyres slide, worst heading solved" : "tyres slide, worst heading of all",
                  degrees_and_percent(slides->slide),
                  fmt::format("  (heading {}: {})", signed_degrees(slides->heading), heading_words(slides->heading)));
  if (const auto& worst = answer.worst)
    text += slope_row(lost > 0 ? "first wheel lifts, worst heading solved" : "first wheel lifts, worst heading of all",
                      degrees_and_percent(worst->first_lift_off),
                      fmt::format("  ({} wheel, heading {}: {})", wheel_name(worst->wheel),
                                  signed_degrees(worst->heading), heading_words(worst->heading)));
  if (lost > 0) text += "  " + no_answer_words(static_cast<std::size_t>(lost), answer.by_heading.size()) + "\n";
  for (const std::string& section :
       {breakdown_table(answer), measures_table(answer, units), manoeuvres_table(answer, units),
        doubts_table(answer, units), loads_table(answer, units), tyres_table(answer, units),
        masses_table(answer, units), damage_text(answer, units)})
    if (!section.empty()) text += "\n" + section;
  text += "\nCautions\n";
  for (const std::string& warning : warnings(answer)) text += "  ! " + read_in(warning, units) + "\n";
  for (const std::string& caution : answer.model.cautions) text += "  ! " + read_in(caution, units) + "\n";
  text += std::string("  ! ") + kCautionLine + "\n\nLimits of this answer\n";
  std::string limits = read_in(answer_limits_words(holds_liquid(scene.ballast)), units);
  for (std::size_t at = 0; (at = limits.find('\n', at)) != std::string::npos; at += 3) limits.replace(at, 1, "\n  ");
  return text + "  " + limits + "\n";
}

std::string envelope_table(const Answer& answer) {
  std::string text = fmt::format("\n{:>9}{:>15}{:>15}{:>9}  {}\n", "Heading", "lift-off", "goes over", "left", "wheel");
  for (const EnvelopePoint& point : answer.by_heading) {
    std::optional<double> left;
    if (point.first_lift_off) left = angle_between_as_shown(answer.scene.terrain.slope, *point.first_lift_off);
    text += fmt::format("{:>9}{:>15}{:>15}{:>9}  {}\n", signed_degrees(point.heading),
                        point.failed ? "not found" : degrees_and_percent(point.first_lift_off),
                        point.tip_over ? degrees_and_percent(point.tip_over) : "-", point.failed ? "-" : degrees(left),
                        point.failed ? "-" : wheel_name(point.wheel));
  }
  return text;
}

}  // namespace sidehill::text

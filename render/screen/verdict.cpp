#include "render/screen/verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/screen/theme.h"
#include "vehicles/units.h"

namespace sidehill {
namespace {

std::string lower(std::string text) {
  if (!text.empty() && text[0] >= 'A' && text[0] <= 'Z') text[0] = static_cast<char>(text[0] - 'A' + 'a');
  return text;
}

// "the rear left wheel, uphill," - which side that is follows from the heading.
std::string wheel_and_side(int wheel, double heading) {
  const std::string_view side = side_on_slope(wheel, heading);
  return fmt::format("{} wheel{}", wheel_name(wheel), side.empty() ? "" : fmt::format(", {},", side));
}

std::string lifted_wheels(const State& state, double weight, int* count) {
  std::string names;
  *count = 0;
  for (int i = 0; i < kWheels; ++i) {
    if (state.wheels[static_cast<std::size_t>(i)].load > 1e-4 * weight) continue;
    names += (names.empty() ? "" : " and ") + std::string(wheel_name(i));
    ++*count;
  }
  return names;
}

}  // namespace

Verdict verdict_of(const Session& session) {
  if (!session.refusal().empty()) return {Tone::unknown, "", "This machine cannot exist", session.refusal()};
  if (!session.model()) return {Tone::unknown, "", "-", "no answer yet"};
  if (!session.answer_is_of_scene()) return {Tone::unknown, "", "Being worked out", "uneven ground takes a moment"};
  const StaticSolution& statics = session.statics();
  const double heading = session.scene().start.heading;
  const bool slides_first = statics.slide && (!statics.first_lift_off || *statics.slide < *statics.first_lift_off);
  Verdict verdict;
  if (!statics.margin) {
    verdict = {Tone::steady, "never", "Stands", "no wheel lifts at this heading, however steep"};
    if (!statics.rest) verdict = {Tone::lifted, "", "Does not stand here", "it finds no place to rest on this ground"};
  } else if (*statics.margin > 0) {
    const bool near = *statics.margin < theme::kNearDeg * kDegree;
    verdict = {near ? Tone::near : Tone::steady, degrees(statics.margin), near ? "Stands, little left" : "Stands",
               fmt::format("left before the {} lifts", wheel_and_side(statics.first_wheel, heading))};
  } else {
    verdict = {Tone::lifted, degrees(-*statics.margin), "A wheel is up",
               fmt::format("past the slope at which the {} lifts", wheel_and_side(statics.first_wheel, heading))};
  }
  switch (statics.status) {
    case RestStatus::stands:
      break;
    case RestStatus::wheel_up:
      verdict.tone = Tone::lifted, verdict.title = "A wheel is up";
      break;
    case RestStatus::on_stop:
      verdict.tone = Tone::lifted, verdict.title = "A wheel is up, axle on its stop";
      break;
    case RestStatus::slides:
      verdict.tone = verdict.tone == Tone::lifted ? Tone::lifted : Tone::slide;
      verdict.title = "Slides away";
      break;
    case RestStatus::tipped:
      verdict.tone = Tone::lifted;
      verdict.title = slides_first ? "Slides, then tips" : "Goes over";
      if (statics.tip_on_stop && *statics.tip_on_stop > session.scene().terrain.slope)
        verdict.detail +=
            "; raised slowly up to here it goes over, set down without speed its axle's stop could hold it";
      break;
    case RestStatus::unsolved:
      return {Tone::unknown, "", "No answer",
              "no balance was found on this ground; press Drop or Drive to see what it does"};
  }
  if (slides_first && statics.status == RestStatus::stands) {
    verdict.detail += fmt::format("; but it slides first, at {}", degrees(statics.slide));
  } else if (slides_first && statics.rest && statics.status != RestStatus::stands) {
    verdict.detail += fmt::format("; its grip ends at {}", degrees(statics.slide));
  } else if (slides_first && verdict.tone == Tone::lifted) {
    verdict.detail += fmt::format("; its grip ends sooner, at {}", degrees(statics.slide));
  }
  if (session.showing() == Showing::run) {  // the card is of the set-up, not of the moment shown
    verdict.tone = Tone::unknown;
    verdict.title = "At rest: " + lower(verdict.title);
  }
  return verdict;
}

Verdict moment_of(const Session& session) {
  if (!session.refusal().empty()) return {Tone::unknown, "", "No such machine: see the right-hand side", ""};
  if (!session.model()) return {Tone::unknown, "", "-", ""};
  if (!session.answer_is_of_scene() && session.showing() != Showing::run)
    return {Tone::unknown, "", "Being worked out", ""};
  const State& state = session.shown();
  const double weight = total_mass(*session.model()) * session.model()->gravity;
  if (session.showing() == Showing::placed) {
    return {Tone::lifted, "", "It cannot rest here", "set down for the picture only; Drop shows what it does"};
  }
  int up = 0;
  const std::string names = lifted_wheels(state, weight, &up);
  bool sliding = false;
  for (const WheelState& wheel : state.wheels) sliding = sliding || wheel.sliding;
  if (session.too_fast() && !session.looks_back())
    return {Tone::unknown, "", "Faster than this can tell", "the run was stopped"};
  if (session.showing() == Showing::run) {
    const Recording& recording = *session.recording();
    if (session.finished() && session.looked_at() >= session.length() - 1e-9) {
      switch (recording.outcome) {
        case Outcome::stands:
          return {Tone::steady, "", "Stands", "the run has ended"};
        case Outcome::slides:
          return {Tone::slide, "", "Has slid", "the run has ended"};
        case Outcome::wheel_up:
          return {Tone::lifted, "", "A wheel is up", "the run has ended"};
        case Outcome::lifts_and_returns:
          return {Tone::near, "", "A wheel lifted and came back", "the run has ended"};
        case Outcome::on_frame:
          return {Tone::lifted, "", "Overturned, lies on its frame", "the run has ended"};
        case Outcome::rolls_on:
          return {Tone::lifted, "", "Overturned, rolls on", "the run has ended"};
        case Outcome::overturned_rear:
          return {Tone::lifted, "", "Overturned backwards", "the run has ended"};
        case Outcome::diverged:
          return {Tone::unknown, "", "The numbers ran away", recording.divergence};
      }
    }
    if (state.frame_touches) return {Tone::lifted, "", "On its protective frame", ""};
    if (state.hull_touches) return {Tone::lifted, "", "Body on the ground", ""};
    if (up == kWheels) return {Tone::near, "", "In the air", ""};
  } else if (session.statics().status == RestStatus::slides) {
    return {Tone::slide, "", "Slides: the tyres cannot hold here",
            up > 0 ? capital(names) + " up too" : "shown as if they held"};
  }
  if (up > 0) {
    return {Tone::lifted, "", capital(names) + (up == 1 ? " wheel is up" : " wheels are up"),
            state.on_stop ? "axle on its stop" : ""};
  }
  if (sliding) return {Tone::slide, "", "Slides", ""};
  if (session.showing() == Showing::rest && session.statics().margin &&
      *session.statics().margin < theme::kNearDeg * kDegree) {
    return {Tone::near, "", "All wheels carry, little left", ""};
  }
  return {Tone::steady, "", "All wheels carry", ""};
}

std::string no_numbers(const Session& session) {
  if (!session.refusal().empty()) return "This machine cannot exist.";
  return session.answer_is_of_scene() ? "" : "Being worked out.";
}

std::vector<std::string> cautions_of(const Session& session, Units units) {
  if (!session.answer_is_of_scene()) return {};
  std::vector<std::string> all = session.warnings();
  if (session.showing() == Showing::run)  // they were found standing still
    for (std::string& warning : all) warning = "At rest: " + warning;
  if (session.model()) all.insert(all.end(), session.model()->cautions.begin(), session.model()->cautions.end());
  if (units == Units::us)
    for (std::string& caution : all) caution = in_us_units(caution);
  return all;
}

std::string hand_words(const Session& session, Units units) {
  const double asked = session.hand().speed;  // goes up and down by whole km/h
  const std::string speed = units == Units::si ? fmt::format("{} km/h", std::abs(std::lround(3.6 * asked)))
                                               : shown(Quantity::speed, std::abs(asked), units);
  std::string words = "Driving by hand: " + (asked < 0 ? "back " + speed : speed);
  const State& state = session.shown();
  const bool joint = session.model() && session.model()->axle_kind == AxleKind::articulated;
  const double steer = (joint ? state.articulation : state.steer) / kDegree;
  const int degrees = std::isfinite(steer) ? static_cast<int>(std::lround(steer)) : 0;
  words += degrees == 0 ? ", straight" : fmt::format(", {} {}°", degrees > 0 ? "left" : "right", std::abs(degrees));
  if (session.hand().brake > 0) words += ", brake";
  const HandKeys& keys = session.keys();
  if (session.model() && session.model()->loader.fitted && keys.raise != keys.lower)
    words += keys.raise ? ", loader up" : ", loader down";
  if (!session.playing()) words += " - paused";
  return words;
}

std::string going_words(const Session& session, Units units) {
  const State& state = session.shown();
  const double speed = glm::dot(state.v_G, state.X_GV.R[0]);
  if (!std::isfinite(speed)) return "";
  return (speed > -0.014 ? "goes " : "goes back ") + shown(Quantity::speed, std::abs(speed), units);
}

std::vector<Threshold> thresholds_of(const StaticSolution& statics, bool adhesion_unlimited) {
  std::vector<Threshold> list = {
      {"Slides", "The grip of an axle is used up on the even slope. Wet grass and loose soil hold less.", statics.slide,
       Tone::slide, adhesion_unlimited ? "never" : "not before a lift"},
      {statics.first_wheel >= 0 ? fmt::format("A wheel lifts ({})", wheel_name(statics.first_wheel)) : "A wheel lifts",
       "The first wheel's load vanishes: the one that counts for a person.", statics.first_lift_off, Tone::lifted},
      {"Goes over",
       "Slope, raised slowly, at which it truly overturns: once a wheel has lifted, the snap on to the axle's "
       "stop arrives with speed.",
       statics.tip_over, Tone::lifted},
      {"Limit on the axle's stop",
       "End of what could still rest on the front axle's stop, if it got there without speed.", statics.tip_on_stop,
       Tone::near},
      {"As if rigid, mid-plane", "First lift-off as other people calculate it: hard tyres that touch in their middle, liquid kept where it "
       "lies on level ground.",
       statics.rigid_lift_off, Tone::unknown},
  };
  // A rest on the stop that ends below lift-off is never come to: it would only confuse.
  if (statics.tip_on_stop && statics.first_lift_off && *statics.tip_on_stop < *statics.first_lift_off)
    std::erase_if(list, [](const Threshold& t) { return t.name == "Limit on the axle's stop"; });
  if (statics.status == RestStatus::unsolved) {
    for (Threshold& t : list) t.instead = "-";
  }
  std::ranges::stable_sort(list, [](const Threshold& a, const Threshold& b) {
    if (a.slope && b.slope) return *a.slope < *b.slope;
    return a.slope.has_value() && !b.slope.has_value();
  });
  return list;
}

}  // namespace sidehill

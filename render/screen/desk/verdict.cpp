#include "render/screen/desk/verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

#include "render/text/motion/outcome_words.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "sim/base/constants.h"
#include "sim/insight/answer.h"
#include "sim/insight/run_verdict.h"
#include "sim/insight/slope_rows.h"
#include "sim/scene/scene_fields.h"

namespace sidehill::screen {
namespace {

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

// What follows the title in a cause's words.
std::string after_title(const std::string& words, const std::string& title) {
  if (!words.starts_with(title)) return words;
  const std::size_t from = words.find_first_not_of(" :;,", title.size());
  return from == words.npos ? "" : words.substr(from);
}

bool asks_for_manoeuvre(const Scene& scene) { return scene.manoeuvre.turn_radius > 0 || scene.manoeuvre.braking > 0; }

// Nor is any left once the bend or braking asked for is too much here.
bool nothing_left(const StandVerdict& verdict) { return has_given_way(verdict.headline) || !verdict.under_way.empty(); }

// "from here until the rear left wheel, uphill, lifts, at 30.3° = 58 %", with its interval.
std::string until_words(const WayGiven& way, double heading) {
  std::string what = way_words(way);
  if (way.what == GivesWay::lift_off && way.wheel >= 0) {
    const std::string_view side = side_on_slope(way.wheel, heading);
    const std::string name = fmt::format("the {} wheel", wheel_name(way.wheel));
    if (!side.empty() && what.starts_with(name)) what.insert(name.size(), fmt::format(", {},", side));
  }
  std::string words = fmt::format("from here until {}, at {}", what, degrees_and_percent(way.slope));
  if (way.interval) words += fmt::format(" ({})", interval_text(*way.interval));
  return words;
}

}  // namespace

Tone tone_of(StandCause headline) {
  switch (headline) {
    case StandCause::tipped:
    case StandCause::on_stop:
    case StandCause::wheel_up:
    case StandCause::tips_under_way:
    case StandCause::lifts_under_way:
      return Tone::lifted;
    case StandCause::slides:
    case StandCause::slides_under_way:
      return Tone::slide;
    case StandCause::unsolved:
      return Tone::unknown;
    case StandCause::frozen:
    case StandCause::over_limit:
      return Tone::limit;
    case StandCause::may_be_over_limit:
    case StandCause::frost_not_known:
    case StandCause::interval_reaches_slope:
    case StandCause::little_left:
      return Tone::near;
    case StandCause::stands:
      break;
  }
  return Tone::steady;
}

std::string left_words(std::optional<double> left) {
  if (!left || !std::isfinite(*left)) return "-";
  return degrees(std::abs(*left)) + (*left < 0 ? " past" : " left");
}

std::string now_words(const Scene& scene, const State& state) {
  std::string over, up;
  if (const Lying lies = lying(scene, state); lies.key != "upright")
    over = state.hull_touches || state.frame_touches ? "overturned, " + lies.words : "going over";
  else if (state.hull_touches || state.frame_touches)
    over = "its body is on the ground";
  for (int w = 0; w < kWheels; ++w)
    if (!(state.wheels[static_cast<std::size_t>(w)].load > 0))
      up += (up.empty() ? "" : ", ") + std::string(wheel_name(w));
  if (!up.empty()) up = "up in the air: " + up;
  if (over.empty() && up.empty()) return {};
  return "NOW: " + over + (over.empty() || up.empty() ? "" : "; ") + up + ".";
}

std::string stand_words(const StandVerdict& verdict) {
  if (nothing_left(verdict) || verdict.headline == StandCause::unsolved) return cause_title(verdict.headline);
  if (verdict.gives_way.empty()) return {};
  const WayGiven& first = verdict.gives_way.front();
  return fmt::format("{}, then {}", left_words(left_as_shown(first)), way_words(first));
}

std::string short_stand_words(const StandVerdict& verdict) {
  if (nothing_left(verdict) || verdict.headline == StandCause::unsolved) return cause_title(verdict.headline);
  if (verdict.gives_way.empty()) return {};
  const WayGiven& first = verdict.gives_way.front();
  const char* what = first.what == GivesWay::slide      ? "slides"
                     : first.what == GivesWay::tip_over ? "goes over"
                                                        : "lifts";
  return fmt::format("{}, then {}", left_words(left_as_shown(first)), what);
}

std::optional<EnvelopePoint> weakest_heading(const Session& session) {
  if (!session.headings_are_of_scene()) return std::nullopt;
  const EnvelopePoint* lifts = session.worst_heading();
  return weakest_heading(session.by_heading(), lifts ? std::optional(*lifts) : std::nullopt);
}

std::string weakest_lies(const Session& session, const EnvelopePoint& weakest) {
  if (!session.scene().terrain.features.empty()) return "no interval on uneven ground";
  for (const TurnedDoubt* doubt : {session.worst_doubt(), session.weakest_doubt()}) {
    if (!doubt || doubt->heading != weakest.heading) continue;
    const bool slides = weakest.gives_way() != weakest.first_lift_off;
    const std::optional<Interval>& interval = slides ? doubt->slide : doubt->first_lift_off;
    return interval ? "at " + interval_text(*interval) : "interval not known";
  }
  return session.answer_complete() ? "interval not known" : "interval not known yet";
}

std::string weakest_words(const EnvelopePoint& weakest, double slope) {
  const std::optional<double> first = weakest.gives_way();
  if (!first) return {};
  const double left = angle_between_as_shown(slope, *first);
  const bool slides = first != weakest.first_lift_off;
  if (left > 0)
    return fmt::format("{} left there, then {}", degrees(left),
                       slides ? "it slides" : fmt::format("the {} wheel lifts", wheel_name(weakest.wheel)));
  return fmt::format("{} past: {}", degrees(-left),
                     slides ? "it slides there" : fmt::format("the {} wheel is up there", wheel_name(weakest.wheel)));
}

std::optional<double> left_at_rest(const StandVerdict& verdict) {
  if (nothing_left(verdict) || verdict.gives_way.empty()) return {};
  return left_as_shown(verdict.gives_way.front());
}

bool has_given_way(StandCause headline) {
  return headline == StandCause::tipped || headline == StandCause::on_stop || headline == StandCause::wheel_up ||
         headline == StandCause::slides;
}

bool is_grave(StandCause headline) {
  const Tone tone = tone_of(headline);
  return tone == Tone::lifted || tone == Tone::slide || tone == Tone::limit;
}

Standing standing_of(const Scene& scene, const Model& model) {
  constexpr Stage kAsked[] = {Stage::rest, Stage::loads, Stage::manoeuvres, Stage::limits};
  Answer answer = unanswered(scene, model);
  compute(kAsked, answer);
  if (scene.terrain.features.empty()) compute(Stage::intervals, answer);
  return {answer.statics, verdict_on(answer)};
}

namespace {

// What is not known or left out, whatever the headline is.
void add_what_is_left_out(Verdict& verdict, const Session& session, bool limits, Units units) {
  if (const std::string unknown = limits_not_known_words(session.verdict()); limits && !unknown.empty())
    verdict.more.push_back(capital(unknown) + ".");
  if (const std::string without = without_implement(session.scene()); !without.empty())
    verdict.more.push_back(read_in(without, units));
}

// The bend comes after the answer standing still, on uneven ground a good while after.
void add_what_is_missing(Verdict& verdict, const Session& session) {
  if (asks_for_manoeuvre(session.scene()) && !session.further())
    verdict.more.emplace_back("Standing still only: what is asked for under way is being worked out.");
}

}  // namespace

Verdict verdict_of(const Session& session, Units units) {
  if (!session.refusal().empty()) return {Tone::unknown, "", "This machine cannot exist", session.refusal(), {}};
  if (!session.model()) return {Tone::unknown, "", "-", "no answer yet", {}};
  if (!session.answer_is_of_scene()) return {Tone::unknown, "", "Being worked out", "uneven ground takes a moment", {}};
  const StaticSolution& statics = session.statics();
  const StandVerdict& stands = session.verdict();
  Verdict verdict;
  verdict.tone = tone_of(stands.headline);
  verdict.title = cause_title(stands.headline);
  if (has_given_way(stands.headline) || stands.headline == StandCause::unsolved) {
    verdict.detail =
        capital(after_title(cause_words(stands.headline, stands, session.scene(), statics), verdict.title));
  } else if (!stands.under_way.empty()) {  // why stands below
    const auto still = std::ranges::find_if(stands.gives_way, [](const WayGiven& way) { return !way.doing; });
    verdict.detail = "No slope is left in what is asked for";
    if (still != stands.gives_way.end())
      verdict.detail += fmt::format("; standing still {} {}", degrees(left_as_shown(*still)),
                                    until_words(*still, session.scene().start.heading));
  } else if (stands.gives_way.empty()) {
    verdict.number = "never";
    verdict.detail = "nothing gives way at this heading, however steep";
  } else {
    const WayGiven& first = stands.gives_way.front();
    verdict.number = degrees(left_as_shown(first));
    verdict.detail = until_words(first, session.scene().start.heading);
  }
  if (!stands.under_way.empty())
    for (const StandCause cause :
         {StandCause::tips_under_way, StandCause::lifts_under_way, StandCause::slides_under_way})
      if (stands.holds(cause))
        verdict.more.push_back(read_in(cause_words(cause, stands, session.scene(), statics), units));
  // Ice and an overload hold whatever the slope does, and where there is no answer they are all that is known.
  for (const StandCause cause :
       {StandCause::frozen, StandCause::over_limit, StandCause::may_be_over_limit, StandCause::frost_not_known})
    if (cause != stands.headline && stands.holds(cause))
      verdict.more.push_back(read_in(cause_words(cause, stands, session.scene(), statics), units));
  add_what_is_left_out(verdict, session, true, units);
  add_what_is_missing(verdict, session);
  if (const std::string ratings = ratings_sentence(stands); !ratings.empty()) verdict.more.push_back(ratings);
  if (session.showing() == Showing::run) {  // the card is of the set-up, not of the moment shown
    verdict.tone = Tone::unknown;
    verdict.title = "At rest: " + verdict.title;
  }
  verdict.detail = read_in(verdict.detail, units);
  return verdict;
}

namespace {

// At rest: every cause that holds, the headline first.
Verdict stand_of(const Session& session, Units units) {
  const StandVerdict& stands = session.verdict();
  std::vector<std::string> said = verdict_sentences(stands, session.scene(), session.statics());
  Verdict verdict;
  verdict.tone = tone_of(stands.headline);
  verdict.title = cause_title(stands.headline);
  verdict.detail = read_in(capital(after_title(said.front(), verdict.title)), units);
  for (std::size_t i = 1; i < said.size(); ++i) verdict.more.push_back(read_in(said[i], units));
  add_what_is_left_out(verdict, session, false, units);  // the sentences have the limits
  add_what_is_missing(verdict, session);
  return verdict;
}

std::string by_count(int wheels, const char* one, const char* several) {
  return wheels > 1 ? fmt::format("{} wheels {}", wheels, several) : fmt::format("A wheel {}", one);
}

// The run has ended: how.
Verdict ended_as(const Session& session) {
  const Recording& recording = *session.recording();
  const bool thrown =
      session.answer_is_of_scene() && drop_throws_it_over(session.scene_of_run(), session.statics(), recording);
  const std::string over = thrown ? "the drop threw it over: set down gently it stands" : "the run has ended";
  if (const CutOff cut = cut_off(*session.model(), recording); cut != CutOff::no)
    return {cut == CutOff::going_over ? Tone::lifted : Tone::unknown,
            "",
            "How it ends is not known",
            cut_off_words(cut, recording),
            {}};
  std::string slid = slid_words(recording);
  slid += slid.empty() ? "the run has ended" : "; the run has ended";
  switch (recording.outcome) {
    case Outcome::stands:
      return {Tone::steady, "", "Stands", slid, {}};
    case Outcome::slides:
      return {Tone::slide, "", slides_at_end(recording) ? "Slides" : "Has slid", slid, {}};
    case Outcome::wheel_up:
      return {Tone::lifted, "", by_count(wheels_up_at_end(recording), "is up", "are up"), slid, {}};
    case Outcome::lifts_and_returns:
      return {
          Tone::near, "", by_count(wheels_lifted(recording), "lifted and came back", "lifted and came back"), slid, {}};
    case Outcome::on_frame:
      return {Tone::lifted, "", "Overturned, lies on its frame", over, {}};
    case Outcome::rolls_on:
      return {Tone::lifted, "", "Overturned, rolls on", over, {}};
    case Outcome::overturned_rear:
      return {Tone::lifted, "", "Overturned backwards", over, {}};
    case Outcome::diverged:
      break;
  }
  return {Tone::unknown, "", "The numbers ran away", recording.divergence, {}};
}

bool at_its_end(const Session& session) { return session.finished() && session.looked_at() >= session.length() - 1e-9; }

// Of a moment of a run.
Verdict run_moment(const Session& session) {
  const State& state = session.shown();
  int up = 0;
  const std::string names = lifted_wheels(state, total_mass(*session.model()) * session.model()->gravity, &up);
  bool sliding = false;
  for (const WheelState& wheel : state.wheels) sliding = sliding || wheel.sliding;
  if (session.too_fast() && !session.looks_back())
    return {Tone::unknown, "", "Faster than this can calculate", "the run was stopped", {}};
  if (at_its_end(session)) return ended_as(session);
  if (state.frame_touches) return {Tone::lifted, "", "On its protective frame", "", {}};
  if (state.hull_touches) return {Tone::lifted, "", "Body on the ground", "", {}};
  if (up == kWheels) return {Tone::near, "", "In the air", "", {}};
  if (up > 0)
    return {Tone::lifted,
            "",
            capital(names) + (up == 1 ? " wheel is up" : " wheels are up"),
            state.on_stop ? "axle on its stop" : "",
            {}};
  if (sliding) return {Tone::slide, "", "Slides", "", {}};
  return {Tone::steady, "", "All wheels carry", "", {}};
}

}  // namespace

namespace {

bool of_set_up(StandCause cause) {
  return cause == StandCause::frozen || cause == StandCause::over_limit || cause == StandCause::may_be_over_limit ||
         cause == StandCause::frost_not_known;
}

// What of the set-up at rest stands beside a moment of a run: ice and an overload do not go away while it runs, and at
// its end everything that holds is said, as in the run's own report.
std::vector<SaidAtRest> said_beside(const Session& session) {
  if (!session.answer_is_of_scene()) return {};
  std::vector<SaidAtRest> all = said_beside_run(session.verdict(), session.scene(), session.statics());
  if (!at_its_end(session)) std::erase_if(all, [](const SaidAtRest& said) { return !of_set_up(said.cause); });
  return all;
}

}  // namespace

Verdict seen_of(const Session& session) {
  if (!session.model() || session.showing() != Showing::run) return {Tone::unknown, "", "-", "", {}};
  return run_moment(session);
}

Verdict moment_of(const Session& session, Units units) {
  if (!session.refusal().empty()) return {Tone::unknown, "", "No such machine", "", {}};
  if (!session.model()) return {Tone::unknown, "", "-", "", {}};
  if (session.showing() != Showing::run)
    return session.answer_is_of_scene() ? stand_of(session, units)
                                        : Verdict{Tone::unknown, "", "Being worked out", "", {}};
  Verdict verdict = run_moment(session);
  const std::vector<SaidAtRest> beside = said_beside(session);
  if (beside.empty()) return verdict;
  // Before its end, only that all is well is less than the set-up's own fault.
  const StandCause ended = at_its_end(session)            ? cause_of(session.recording()->outcome)
                           : verdict.tone == Tone::steady ? StandCause::stands
                                                          : StandCause::tipped;
  const Verdict moment = verdict;
  const auto add_moment = [&] {
    verdict.more.push_back(moment.title + (moment.detail.empty() ? "" : ": " + moment.detail) + ".");
  };
  bool said_moment = beside.front().cause >= ended;  // as the title
  if (!said_moment) {
    verdict.tone = tone_of(beside.front().cause);
    verdict.title = beside.front().title;
    verdict.detail = read_in(capital(after_title(beside.front().words, beside.front().title)), units);
  }
  for (std::size_t i = said_moment ? 0 : 1; i < beside.size(); ++i) {
    if (!said_moment && beside[i].cause >= ended) {
      add_moment();
      said_moment = true;
    }
    verdict.more.push_back(read_in(beside[i].words, units));
  }
  if (!said_moment) add_moment();
  return verdict;
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
  for (std::string& caution : all) caution = read_in(in_plain_names(caution), units);
  return all;
}

std::vector<std::string> further_cautions(const Session& session, Units units) {
  std::vector<std::string> all = cautions_of(session, units);
  if (all.empty()) return all;
  const auto said_by = [&](StandCause cause) {
    std::string words = cause_words(cause, session.verdict(), session.scene(), session.statics());
    if (session.showing() == Showing::run) words = "At rest: " + words;
    return read_in(words, units);
  };
  std::vector<std::string> said;
  if (session.verdict().holds(StandCause::frozen)) said.push_back(said_by(StandCause::frozen));
  if (session.verdict().holds(StandCause::frost_not_known)) said.push_back(said_by(StandCause::frost_not_known));
  if (const LoadCheck* loads = session.loads())
    for (std::string& words : overload_warnings(*loads))
      said.push_back(read_in((session.showing() == Showing::run ? "At rest: " : "") + words, units));
  std::erase_if(all, [&](const std::string& words) { return std::ranges::find(said, words) != said.end(); });
  return all;
}

std::string no_loads(const Session& session) {
  if (session.showing() == Showing::run) return "";
  if (std::string none = no_numbers(session); !none.empty()) return none;
  if (session.statics().status == RestStatus::unsolved)
    return "No balance was found on this ground: no wheel load is known.";
  return session.showing() == Showing::placed ? "It cannot rest here, so no wheel has a load at rest." : "";
}

std::string before_run_words(const Session& session) {
  if (!session.answer_is_of_scene()) return "Before the run.";
  if (session.statics().status == RestStatus::unsolved) return "As it is set down. Whether it rests here is not known.";
  return session.showing() == Showing::placed ? "As it is set down. It cannot rest here." : "At rest.";
}

Overlays known_overlays(Overlays overlays, const StaticSolution& statics) {
  if (!statics.rest) overlays.wheel_loads = overlays.support = false;
  return overlays;
}

std::string drawn_words(const StaticSolution& statics, std::optional<double> run_time) {
  if (statics.rest) return {};
  if (statics.status == RestStatus::unsolved) return "It is drawn as it is set down; no wheel loads are known.";
  if (!run_time) return "It is drawn as it is set down; it cannot rest here, so no wheel has a load at rest.";
  return fmt::format("It is drawn at {:.2f} s of its run, not at rest; the wheel loads are of that moment.", *run_time);
}

}  // namespace sidehill::screen

// Running what lies on the desk: one set-up, or two at the same moment.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screen/desk/desk.h"
#include "sim/motion/slip.h"

namespace sidehill::screen {
namespace {

template <class Do>
void both(Desk& desk, Do what) {
  what(desk.session);
  if (desk.other) what(*desk.other);
}

// Of the first wheel to lift [s].
std::optional<double> lift_time(const Session& session) {
  if (!session.recording()) return {};
  const Event* lift = first_lift_off(session.recording()->events);
  return lift ? std::optional(lift->time) : std::nullopt;
}

// Both loop over one stretch; while it is not known of one of them, neither loops.
void share_loop(Desk& desk) {
  Session &a = desk.session, &b = *desk.other;
  both(desk, [](Session& s) { s.loop_over({}); });
  if (!a.loops()) return;
  const auto span_a = a.loop_span(), span_b = b.loop_span();
  const bool known = span_a && span_b;
  // One that never comes: beyond the end of any run.
  constexpr std::pair<double, double> kNever{1e9, 1e9};
  const std::pair<double, double> span =
      known ? std::pair{std::min(span_a->first, span_b->first), std::max(span_a->second, span_b->second)} : kNever;
  both(desk, [&](Session& s) { s.loop_over(span); });
}

}  // namespace

void play_all(Desk& desk) {
  both(desk, [](Session& s) { s.play(); });
}
void pause(Desk& desk) {
  both(desk, [](Session& s) { s.pause(); });
}
void toggle(Desk& desk) { playing(desk) ? pause(desk) : play_all(desk); }
void reset(Desk& desk) {
  both(desk, [](Session& s) { s.reset(); });
}
void drop(Desk& desk) {
  both(desk, [](Session& s) { s.drop(); });
}
void drive(Desk& desk) {
  both(desk, [](Session& s) { s.drive(); });
}
void take_over(Desk& desk) {
  both(desk, [](Session& s) { s.take_over(); });
  if (desk.other) desk.other->drive(desk.session.hand());  // each would start from its own speed
}
void let_go(Desk& desk) {
  both(desk, [](Session& s) { s.let_go(); });
}
void change_speed(Desk& desk, int steps) {
  both(desk, [&](Session& s) { s.change_speed(steps); });
}
void hold_keys(Desk& desk, const HandKeys& keys) {
  both(desk, [&](Session& s) { s.hold_keys(keys); });
}
void step_once(Desk& desk) {
  both(desk, [](Session& s) { s.step_once(); });
}
void step_back(Desk& desk) {
  both(desk, [](Session& s) { s.step_back(); });
}
void seek(Desk& desk, double time) {
  both(desk, [&](Session& s) { s.seek(time); });
}
void newest(Desk& desk) {
  both(desk, [](Session& s) { s.newest(); });
}
void set_rate(Desk& desk, double rate) {
  both(desk, [&](Session& s) { s.set_rate(rate); });
}

void set_loop(Desk& desk, bool on) {
  if (!desk.other) {
    desk.session.loop_over({});
    desk.session.set_loop(on);
    return;
  }
  both(desk, [](Session& s) { s.loop_over({}); });
  const auto a = desk.session.loop_span(), b = desk.other->loop_span();
  both(desk, [&](Session& s) { s.set_loop(on); });
  share_loop(desk);
  if (on && a && b) {
    const double from = std::min(a->first, b->first);
    both(desk, [&](Session& s) { s.look_at(from), s.play(); });
  }
}

bool playing(const Desk& desk) { return desk.session.playing() || (desk.other && desk.other->playing()); }

bool advance(Desk& desk, double wall, double budget) {
  if (!desk.other) return desk.session.advance(wall, budget);
  Session &a = desk.session, &b = *desk.other;
  share_loop(desk);
  if (a.looks_back() && b.started() && b.length() >= a.looked_at() - 0.03) {  // one clock: A's
    const bool moved = a.advance(wall, budget);
    if (!moved) return false;
    if (a.looks_back()) {
      b.look_at(std::min(a.looked_at(), b.length()));
      if (!a.playing()) b.pause();
    } else {
      b.newest();
    }
    return true;
  }
  const bool together = a.playing() && b.playing() && a.started() && b.started();
  const double ahead = together ? (a.looked_at() - b.looked_at()) / a.rate() : 0;  // of A [s of wall]
  const bool moved_a = a.advance(std::max(0.0, wall - std::max(0.0, ahead)), budget / 2);
  const bool moved_b = b.advance(std::max(0.0, wall - std::max(0.0, -ahead)), budget / 2);
  return moved_a || moved_b;
}

bool answer(Desk& desk, double patience) {
  bool news = false;
  both(desk, [&](Session& s) { news = s.answer(patience) || news; });
  return news;
}

namespace {

// A lone wheel that slides is no machine that does: every loaded wheel of an axle has to.
std::optional<double> slide_time(const Session& session) {
  if (!session.recording()) return {};
  const std::vector<Event>& events = session.recording()->events;
  const double from = counts_from(events);
  const auto lasts = [&](const Event& event) { return event.kind == EventKind::slide && event.time >= from; };
  const auto event = std::ranges::find_if(events, lasts);
  if (event == events.end()) return {};
  const std::vector<State>& states = session.recording()->states;
  const auto state =
      std::ranges::find_if(states, [&](const State& s) { return s.time >= event->time && an_axle_slides(s); });
  return state == states.end() ? std::nullopt : std::optional(state->time);
}

struct GaveWay {
  double time = 0;  // [s]
  bool slides = false;
};

std::optional<GaveWay> gave_way_at(const Session& session) {
  const std::optional<double> lift = lift_time(session), slide = slide_time(session);
  if (slide && (!lift || *slide < *lift)) return GaveWay{*slide, true};
  return lift ? std::optional(GaveWay{*lift, false}) : std::nullopt;
}

}  // namespace

std::optional<FirstToGiveWay> first_to_give_way(const Desk& desk) {
  if (!desk.other || !desk.session.started() || !desk.other->started()) return {};
  const std::optional<GaveWay> a = gave_way_at(desk.session), b = gave_way_at(*desk.other);
  if (!a && !b) return {};
  FirstToGiveWay out;
  out.which = !a || (b && b->time < a->time) ? 1 : 0;
  const std::optional<GaveWay>&first = out.which == 0 ? a : b, &other = out.which == 0 ? b : a;
  out.time = first->time;
  out.slides = first->slides;
  if (other) out.earlier = other->time - first->time, out.other_slides = other->slides;
  return out;
}

std::string first_words(const FirstToGiveWay& first) {
  const char *one = first.which == 0 ? "A" : "B", *two = first.which == 0 ? "B" : "A";
  if (!first.earlier)
    return fmt::format("Only {} has given way: it {} at {:.2f} s", one, first.slides ? "slides" : "lifts a wheel",
                       first.time);
  return fmt::format("{} {} first, {:.2f} s before {} {}", one, first.slides ? "slides" : "lifts a wheel",
                     *first.earlier, two, first.other_slides ? "slides" : "lifts a wheel");
}

}  // namespace sidehill::screen

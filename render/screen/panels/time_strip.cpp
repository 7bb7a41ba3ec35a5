#include "render/screen/panels/time_strip.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screen/desk/asked_now.h"
#include "render/screen/desk/verdict.h"
#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels.h"
#include "render/screen/parts/charts.h"
#include "sim/base/constants.h"
#include "sim/motion/margin_gaps.h"
#include "sim/motion/under_way.h"

namespace sidehill::screen {
namespace {

constexpr double kByHand = 30;  // of a run by hand, which may last long, the last half minute [s]

// What is drawn over time: of one run or two, a value for each stored state; none where nothing is to be said.
struct Curve {
  std::string name, help;
  double low = 0, high = 40, step = 20;  // ends of the scale, and where it has lines
  bool lost_below = false;               // below 0 the machine is past it
  std::vector<std::optional<double>> a, b;
  std::vector<GapStretch> gaps_a, gaps_b;  // where force angle says nothing
  std::vector<AskedMark> marks_a, marks_b;
};

// From time and value to the screen.
struct Plot {
  Rect rect;
  double low = 0, high = 1;
  double from = 0, span = 1;  // [s]
  float x(double time) const {
    return rect.x + static_cast<float>(std::clamp((time - from) / span, 0.0, 1.0)) * rect.width;
  }
  float y(double value) const {
    return rect.y + rect.height * static_cast<float>((high - std::clamp(value, low, high)) / (high - low));
  }
  double time(float at) const { return from + span * std::clamp<double>((at - rect.x) / rect.width, 0, 1); }
};

Plot plot_of(const Desk& desk, Rect rect, const Curve& curve) {
  const Session& session = desk.session;
  Plot plot{rect, curve.low, curve.high, 0, 1};
  double last = session.length();
  if (desk.other) last = std::max(last, desk.other->length());
  const bool by_hand = session.driven_by_hand();
  plot.from = by_hand ? std::max(0.0, last - kByHand) : 0;
  plot.span = by_hand ? kByHand : std::max({session.scene().programme.duration, last, 0.1});
  return plot;
}

bool is_grave(const Event& event) {
  return event.kind != EventKind::touch_down && event.kind != EventKind::lands && event.kind != EventKind::at_rest &&
         event.kind != EventKind::slide && event.kind != EventKind::settled;
}

void draw_ground(Ui& ui, ImDrawList& list, const Plot& plot, const Desk& desk, const Curve& curve) {
  const Rect& r = plot.rect;
  list.AddRectFilled(r.low(), r.high(), colour(theme::kCard));
  if (curve.lost_below) {
    const Rect lost{r.x, plot.y(0), r.width, r.y + r.height - plot.y(0)};
    list.AddRectFilled(lost.low(), lost.high(), colour(rgb(0xF3DDD3)));
    draw_pattern(list, Tone::lifted, lost, with_alpha(theme::kLifted, 0.45), ui.px(8));
  }
  if (desk.session.loops()) {
    if (const auto span = desk.session.loop_span()) {
      list.AddRectFilled({plot.x(span->first), r.y}, {plot.x(span->second), r.y + r.height},
                         colour(with_alpha(theme::kNear, 0.25)));
      for (const double edge : {span->first, span->second})
        list.AddLine({plot.x(edge), r.y}, {plot.x(edge), r.y + r.height}, colour(theme::kInkSoft), ui.px(1.5));
    }
  }
  for (double ring = 0; ring < curve.high + 0.01 * curve.step; ring += curve.step) {
    const float y = plot.y(ring);
    list.AddLine({r.x, y}, {r.x + r.width, y}, colour(ring == 0 ? theme::kInk : theme::kRule), ui.px(1));
    // The scale's ends and, where there is room, what lies between.
    const bool end = ring == 0 || ring + curve.step > curve.high + 0.01 * curve.step;
    if (!end && plot.y(0) - plot.y(curve.step) < ui.fonts.small->FontSize) continue;
    text_at(list, ui.fonts.small, {r.x - ui.px(5), y - ui.fonts.small->FontSize / 2}, theme::kInkSoft,
            fmt::format("{:.0f}", ring), 1);
  }
  if (r.width > ui.px(70))
    text_at(list, ui.fonts.small, {r.x, r.y + r.height}, theme::kInkSoft, fmt::format("{:.0f}", plot.from));
  const double end = plot.from + plot.span;
  text_at(list, ui.fonts.small, {r.x + r.width, r.y + r.height}, theme::kInkSoft,
          plot.from > 0 ? fmt::format("{:.0f} s", end) : fmt::format("{:g} s", std::round(end * 100) / 100), 1);
}

// Where degrees left of A says nothing: hatched grey over the whole height, and no line through it.
void draw_gaps(Ui& ui, ImDrawList& list, const Plot& plot, const std::vector<GapStretch>& gaps, bool two) {
  const Rect& r = plot.rect;
  for (const GapStretch& gap : gaps) {
    if (gap.to < plot.from) continue;
    const Rect part{plot.x(gap.from), r.y, std::max(ui.px(2), plot.x(gap.to) - plot.x(gap.from)), r.height};
    list.AddRectFilled(part.low(), part.high(), colour(theme::kCard));
    if (part.width < ui.px(12)) {  // a run of ten minutes has hundreds of such slivers
      list.AddRectFilled(part.low(), part.high(), colour(with_alpha(theme::kInkSoft, 0.35)));
      continue;
    }
    draw_pattern(list, Tone::lifted, part, with_alpha(theme::kInkSoft, 0.7), ui.px(6));
    const std::string words =
        (two ? "A: " : "") + std::string(gap.why == MarginGap::gone_over ? "gone over" : "in the air");
    const ImVec2 size = size_of(ui.fonts.small, words);
    if (size.x + ui.px(10) > part.width) continue;
    const Rect label{part.middle().x - size.x / 2 - ui.px(3), r.y + ui.px(3), size.x + ui.px(6), size.y + ui.px(2)};
    list.AddRectFilled(label.low(), label.high(), colour(theme::kCard));
    text_at(list, ui.fonts.small, {part.middle().x, label.y + ui.px(1)}, theme::kInkSoft, words, 0.5f);
  }
}

// With its words where there is room for them: what the lesson asks happened then.
void draw_marks(Ui& ui, ImDrawList& list, const Plot& plot, const std::vector<AskedMark>& marks, const char* tag,
                bool below) {
  const Rect& r = plot.rect;
  float row = 0;
  for (const AskedMark& mark : marks) {
    if (mark.time < plot.from) continue;
    const float x = plot.x(mark.time);
    list.AddLine({x, r.y}, {x, r.y + r.height}, colour(theme::kLifted), ui.px(2.5));
    const std::string words = fitted(ui.fonts.small, tag + mark.words, r.width * 0.6f);
    const ImVec2 size = size_of(ui.fonts.small, words);
    const float left = std::clamp(x + ui.px(6), r.x, std::max(r.x, r.x + r.width - size.x - ui.px(8)));
    const float line = (size.y + ui.px(2)) * row++;
    const float y = below ? r.y + r.height - size.y - ui.px(4) - line : r.y + ui.px(2) + line;
    list.AddRectFilled({left - ui.px(3), y}, {left + size.x + ui.px(3), y + size.y + ui.px(2)}, colour(theme::kCard),
                       ui.px(3));
    list.AddRect({left - ui.px(3), y}, {left + size.x + ui.px(3), y + size.y + ui.px(2)}, colour(theme::kLifted),
                 ui.px(3), 0, ui.px(1));
    text_at(list, ui.fonts.small, {left, y}, theme::kInk, words);
    remember_readout(ui, std::string("Asked mark ") + tag + std::to_string(static_cast<int>(row)),
                     {left, y, size.x, size.y});
  }
}

std::vector<GapStretch> gaps_of(const Session& session) {
  const Recording* recording = session.recording();
  if (!recording || !session.model()) return {};
  return margin_gaps(recording->states, recording->events, total_mass(*session.model()) * session.model()->gravity);
}

void draw_events(Ui& ui, ImDrawList& list, const Plot& plot, const Recording& recording, bool below) {
  const Rect& r = plot.rect;
  for (const Event& event : recording.events) {
    if (event.time < plot.from) continue;
    const bool grave = is_grave(event);
    const float x = plot.x(event.time);
    const Colour ink = event.kind == EventKind::slide ? theme::kSlide : grave ? theme::kLifted : theme::kInkSoft;
    if (!below)
      list.AddLine({x, r.y}, {x, r.y + r.height}, colour(with_alpha(ink, grave ? 0.9 : 0.4)), ui.px(grave ? 1.5 : 1));
    if (!grave) continue;
    if (below)  // of B: hollow, from below
      list.AddTriangle({x - ui.px(4), r.y + r.height}, {x + ui.px(4), r.y + r.height}, {x, r.y + r.height - ui.px(7)},
                       colour(ink), ui.px(1.5));
    else
      list.AddTriangleFilled({x - ui.px(4), r.y}, {x + ui.px(4), r.y}, {x, r.y - ui.px(6)}, colour(ink));
  }
}

// Few moments: a line through them; broken where no wheel touches the ground.
void draw_line(Ui& ui, ImDrawList& list, const Plot& plot, const std::vector<State>& states,
               const std::vector<std::optional<double>>& values, std::size_t first, std::size_t end, bool dashed,
               const std::vector<GapStretch>& gaps) {
  std::vector<ImVec2> line;
  const auto flush = [&] {
    if (line.size() > 1) {
      if (dashed) {
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
          if (static_cast<int>(line[i].x / ui.px(6)) % 2 == 0)
            list.AddLine(line[i], line[i + 1], colour(theme::kInk), ui.px(2));
      } else {
        list.AddPolyline(line.data(), static_cast<int>(line.size()), colour(theme::kSteady), 0, ui.px(2));
      }
    }
    line.clear();
  };
  for (std::size_t i = first; i < end; ++i) {
    const std::optional<double>& value = values[i];
    if (value && std::isfinite(*value) && !gap_at(gaps, states[i].time))
      line.push_back({plot.x(states[i].time), plot.y(*value)});
    else
      flush();
  }
  flush();
}

// More moments than columns of pixels, as a long run has: a line through all of them would burst a draw list's sixteen
// bits. Of each column what lies between its lowest and its highest place, joined to the column before.
void draw_columns(Ui& ui, ImDrawList& list, const Plot& plot, const std::vector<State>& states,
                  const std::vector<std::optional<double>>& values, std::size_t first, std::size_t end, bool dashed,
                  const std::vector<GapStretch>& gaps) {
  struct Column {
    float x = 0, high = 0, low = 0;
  };
  std::optional<Column> before, now;
  const float half = ui.px(1);
  const auto put = [&] {
    if (!now) return;
    Column drawn = *now;
    if (before && drawn.x - before->x < 2.5f)  // else nothing was known in between
      drawn.high = std::min(drawn.high, before->low), drawn.low = std::max(drawn.low, before->high);
    if (!dashed || static_cast<int>(drawn.x / ui.px(6)) % 2 == 0)
      list.AddRectFilled({drawn.x, drawn.high - half}, {drawn.x + 1, drawn.low + half},
                         colour(dashed ? theme::kInk : theme::kSteady));
    before = now;
    now.reset();
  };
  for (std::size_t i = first; i < end; ++i) {
    const std::optional<double>& value = values[i];
    if (!value || !std::isfinite(*value) || gap_at(gaps, states[i].time)) continue;
    const float x = std::floor(plot.x(states[i].time)), y = plot.y(*value);
    if (now && now->x != x) put();
    now = now ? Column{x, std::min(now->high, y), std::max(now->low, y)} : Column{x, y, y};
  }
  put();
}

void draw_values(Ui& ui, ImDrawList& list, const Plot& plot, const Session& session,
                 const std::vector<std::optional<double>>& values, bool dashed, const std::vector<GapStretch>& gaps) {
  const std::vector<State>& states = session.recording()->states;
  const std::size_t end = std::min(values.size(), states.size());
  std::size_t first = 0;
  while (first < end && states[first].time < plot.from) ++first;
  const bool many = static_cast<float>(end - first) > plot.rect.width;
  many ? draw_columns(ui, list, plot, states, values, first, end, dashed, gaps)
       : draw_line(ui, list, plot, states, values, first, end, dashed, gaps);
}

std::vector<std::optional<double>> in_degrees(std::vector<std::optional<double>> angles) {
  for (std::optional<double>& angle : angles)
    if (angle) *angle /= kDegree;
  return angles;
}

Curve force_angle(const Desk& desk) {
  const bool two = two_shown(desk) && desk.other->recording();
  Curve curve;
  curve.name = two_shown(desk) ? "Force angle: A line, B dashed" : "Force angle, under way";
  curve.help =
      "How far the pull on the machine could still turn before it points past the nearest line between two wheels: "
      "gravity and acceleration together, so it jumps over bumps. These are not degrees of slope. Hatched grey: it "
      "says nothing there, with two wheels or more in the air, one and the axle on its stop, or after it has gone "
      "over. Triangles: events. Click or drag in the strip to look at any moment.";
  curve.low = -10, curve.lost_below = true;
  curve.a = in_degrees(desk.session.margins());
  curve.gaps_a = gaps_of(desk.session);
  if (two) curve.b = in_degrees(desk.other->margins()), curve.gaps_b = gaps_of(*desk.other);
  return curve;
}

Curve asked(const Lesson& lesson, const Desk& desk, Units units) {
  AskedCurve found = asked_curve(lesson, desk.session, two_shown(desk) ? desk.other.get() : nullptr, units);
  Curve curve;
  curve.name = two_shown(desk) ? found.name + ": A line, B dashed" : found.name;
  curve.help =
      "What the lesson asks, over the time of the run. The marks are the moments that answer it. Click or drag in the "
      "strip to look at any moment.";
  curve.high = found.high, curve.step = found.step;
  curve.a = std::move(found.a), curve.b = std::move(found.b);
  curve.marks_a = std::move(found.marks_a), curve.marks_b = std::move(found.marks_b);
  return curve;
}

// What happened last before the moment shown, newest first; of two set-ups, which gives way first.
void draw_words(Ui& ui, ImDrawList& list, const Desk& desk, const Curve& curve, ImVec2 corner, float width) {
  const Session& session = desk.session;
  const float row = ui.px(17);
  std::string now = fmt::format("{:.2f} s", session.looked_at());
  if (curve.lost_below) {  // else it stands large in the picture
    // Of the very moment shown, as the words in the picture are.
    if (const GapStretch* gap = gap_at(curve.gaps_a, session.looked_at()))
      now += gap->why == MarginGap::gone_over ? "   gone over" : "   wheels in the air";
    else if (const auto left = angle_left(*session.model(), session.shown()))
      now += "   " + force_angle_words(left);
  }
  text_at(list, ui.fonts.text, {corner.x, corner.y - ui.px(5)}, theme::kInk, fitted(ui.fonts.text, now, width));
  float y = corner.y + ui.px(17);
  const auto first = two_shown(desk) ? first_to_give_way(desk) : std::nullopt;
  if (first) {
    const std::string lines = in_lines(ui.fonts.small, first_words(*first), width);
    text_at(list, ui.fonts.small, {corner.x, y}, theme::kInk, lines);
    y += row * static_cast<float>(1 + std::ranges::count(lines, '\n'));
  }
  const auto& events = session.recording()->events;
  int shown = first ? 2 : 0;
  for (auto event = events.rbegin(); event != events.rend() && shown < 3; ++event) {
    if (event->time > session.looked_at() + 1e-9) continue;
    const std::string text =
        fmt::format("{}{:.2f} s  {}", two_shown(desk) ? "A: " : "", event->time, event_words(*event));
    text_at(list, ui.fonts.small, {corner.x, y}, shown == 0 ? theme::kInk : theme::kInkSoft,
            fitted(ui.fonts.small, text, width));
    y += row;
    ++shown;
  }
}

}  // namespace

void time_strip(Ui& ui, Rect rect, Desk& desk, const Lesson* lesson) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const Session& session = desk.session;
  const Recording* recording = session.recording();
  if (!recording || recording->states.empty()) {
    text_at(list, ui.fonts.text, {rect.x, rect.y + ui.px(4)}, theme::kInk, before_run_words(session));
    const char* lines[] = {"Play runs the scene in time from there;",
                           "its force angle and what happens are then drawn here."};
    float y = rect.y + ui.px(26);
    for (const char* line : lines) {
      text_at(list, ui.fonts.small, {rect.x, y}, theme::kInkSoft, fitted(ui.fonts.small, line, rect.width));
      y += ui.px(17);
    }
    return;
  }
  const Curve curve = lesson ? asked(*lesson, desk, ui.units) : force_angle(desk);
  const float words = std::min(ui.px(232), rect.width * 0.42f);
  const Plot plot = plot_of(
      desk,
      {rect.x + ui.px(34), rect.y + ui.px(19), std::max(1.f, rect.width - words - ui.px(44)), rect.height - ui.px(33)},
      curve);
  text_at(list, ui.fonts.small, {rect.x, rect.y - ui.px(6)}, theme::kInkSoft, curve.name);
  draw_ground(ui, list, plot, desk, curve);
  draw_gaps(ui, list, plot, curve.gaps_a, two_shown(desk));
  draw_events(ui, list, plot, *recording, false);
  draw_values(ui, list, plot, session, curve.a, false, curve.gaps_a);
  if (two_shown(desk) && desk.other->recording()) {
    draw_events(ui, list, plot, *desk.other->recording(), true);
    draw_values(ui, list, plot, *desk.other, curve.b, true, curve.gaps_b);
  }
  const bool tagged = two_shown(desk);
  draw_marks(ui, list, plot, curve.marks_a, tagged ? "A " : "", false);
  draw_marks(ui, list, plot, curve.marks_b, "B ", true);
  const Rect& r = plot.rect;
  const float now = plot.x(session.looked_at());
  list.AddLine({now, r.y - ui.px(2)}, {now, r.y + r.height + ui.px(2)}, colour(theme::kInk), ui.px(2));
  list.AddCircleFilled({now, r.y + r.height + ui.px(3)}, ui.px(4.5), colour(theme::kAccent), 16);
  draw_words(ui, list, desk, curve, {r.x + r.width + ui.px(12), rect.y}, words - ui.px(10));
  remember_readout(ui, "Time strip", rect);

  const Rect line{r.x, r.y - ui.px(6), r.width, r.height + ui.px(14)};
  ImGui::SetCursorScreenPos(line.low());
  ImGui::InvisibleButton("##time line", {line.width, line.height});
  remember(ui, "Time line", line);
  if (ImGui::IsItemActive()) {
    pause(desk);
    seek(desk, plot.time(ImGui::GetIO().MousePos.x));
  }
  if (reach(ui, "Time line", line) && ui.nudge != 0) ui.nudge > 0 ? step_once(desk) : step_back(desk);
  // On the heading only: help over a strip that is being watched would be in the way.
  hover_help(ui, lesson ? "Asked, over time" : "Force angle, under way",
             {rect.x, rect.y - ui.px(6), ui.px(170), ui.px(18)}, curve.help);
}

}  // namespace sidehill::screen

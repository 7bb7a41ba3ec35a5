#include "render/screen/parts/charts.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "render/page/answer_charts.h"
#include "render/screen/kit/sheet_painter.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
void hover_help(Ui& ui, std::string_view id, Rect rect, std::string_view help) {
  ImGui::SetCursorScreenPos(rect.low());
  ImGui::PushID(id.data(), id.data() + id.size());
  ImGui::InvisibleButton("##chart", {std::max(1.f, rect.width), std::max(1.f, rect.height)});
  remember_readout(ui, id, rect);
  tooltip(ui, help);
  ImGui::PopID();
}

Colour fill_of(Tone tone) {
  switch (tone) {
    case Tone::steady:
      return theme::kSteady;
    case Tone::near:
      return theme::kNear;
    case Tone::limit:  // its sign and its hatch are others than those of `lifted`
    case Tone::lifted:
      return theme::kLifted;
    case Tone::slide:
      return theme::kSlide;
    case Tone::unknown:
      return theme::kInkSoft;
  }
  return theme::kInkSoft;
}

Colour ink_on(Tone tone) { return tone == Tone::near ? theme::kInk : theme::kOnAccent; }

void draw_symbol(ImDrawList& list, Tone tone, ImVec2 centre, float size, Colour ink) {
  const float r = size / 2, w = std::max(1.5f, size / 9);
  const ImU32 c = colour(ink);
  const auto at = [&](float x, float y) { return ImVec2(centre.x + x * r, centre.y + y * r); };
  switch (tone) {
    case Tone::steady: {
      const ImVec2 tick[] = {at(-0.75f, 0.05f), at(-0.2f, 0.6f), at(0.8f, -0.6f)};
      list.AddPolyline(tick, 3, c, 0, w * 1.4f);
      break;
    }
    case Tone::near:
    case Tone::limit:
      list.AddTriangle(at(0, -0.9f), at(0.95f, 0.8f), at(-0.95f, 0.8f), c, w);
      list.AddLine(at(0, -0.35f), at(0, 0.25f), c, w);
      list.AddCircleFilled(at(0, 0.52f), w * 0.6f, c, 8);
      break;
    case Tone::lifted:
      list.AddCircle(at(-0.25f, -0.35f), r * 0.55f, c, 20, w);
      list.AddLine(at(-0.95f, 0.9f), at(0.95f, 0.9f), c, w);
      list.AddLine(at(0.7f, 0.6f), at(0.7f, -0.4f), c, w);
      list.AddTriangleFilled(at(0.35f, -0.3f), at(1.05f, -0.3f), at(0.7f, -0.95f), c);
      break;
    case Tone::slide:
      for (float y : {-0.6f, 0.f, 0.6f}) list.AddLine(at(-0.9f, y - 0.25f), at(0.3f, y), c, w);
      list.AddTriangleFilled(at(0.25f, -0.6f), at(0.25f, 0.7f), at(1, 0.2f), c);
      break;
    case Tone::unknown:
      list.AddCircle(centre, r * 0.9f, c, 20, w);
      list.AddLine(at(-0.6f, 0.6f), at(0.6f, -0.6f), c, w);
      break;
  }
}

void draw_pattern(ImDrawList& list, Tone tone, Rect rect, Colour ink, float spacing) {
  list.PushClipRect(rect.low(), rect.high(), true);
  if (tone == Tone::limit) {  // crossed
    for (float x = -rect.height; x < rect.width; x += spacing * 1.6f) {
      list.AddLine({rect.x + x, rect.y + rect.height}, {rect.x + x + rect.height, rect.y}, colour(ink), spacing * 0.1f);
      list.AddLine({rect.x + x, rect.y}, {rect.x + x + rect.height, rect.y + rect.height}, colour(ink), spacing * 0.1f);
    }
  } else if (tone == Tone::lifted) {
    for (float x = -rect.height; x < rect.width; x += spacing) {
      list.AddLine({rect.x + x, rect.y + rect.height}, {rect.x + x + rect.height, rect.y}, colour(ink),
                   spacing * 0.22f);
    }
  } else if (tone == Tone::slide) {
    bool odd = false;
    for (float y = spacing * 0.35f; y < rect.height; y += spacing * 0.6f, odd = !odd) {
      for (float x = odd ? spacing * 0.5f : 0; x < rect.width; x += spacing) {
        list.AddCircleFilled({rect.x + x, rect.y + y}, spacing * 0.14f, colour(ink), 6);
      }
    }
  }
  list.PopClipRect();
}

void paint_rows(Ui& ui, Rect rect, page::Chart chart, page::BarRowsLook look, double indent) {
  const auto em = [&](const ImFont* font) { return font->FontSize / kLineOfEm / ui.scale; };
  look.width = rect.width / ui.scale;
  look.size = em(ui.fonts.small);
  look.strong_size = em(ui.fonts.text);
  look.indent = indent;
  for (page::ChartBar& bar : chart.bars) {
    const ImFont* font = bar.sum ? ui.fonts.text : ui.fonts.small;
    const float words = size_of(bar.to ? ui.fonts.text : ui.fonts.small, bar.words).x;
    bar.name = fitted(font, bar.name, rect.width - words - ui.px(static_cast<float>(indent) + 8));
  }
  paint_sheet(*ImGui::GetWindowDrawList(), ui.fonts, bar_rows(chart, look), {rect.low(), ui.scale});
}

void thresholds_chart(Ui& ui, Rect rect, std::span<const Threshold> thresholds, double slope) {
  if (thresholds.empty()) return;
  page::Chart chart;
  chart.kind = ChartKind::bars;
  chart.y.high = std::max(slope * 1.15, 10 * kDegree);
  const float row = rect.height / static_cast<float>(thresholds.size());
  const bool low = row < ui.px(kThresholdRow) - 0.5f;
  for (const Threshold& t : thresholds) {
    page::ChartBar bar;
    bar.sum = &t == &thresholds.front() && t.slope;
    bar.name = (bar.sum ? "First: " : "") + t.name + (t.slope && *t.slope <= slope ? " (passed)" : "");
    bar.words = t.slope ? degrees_and_percent(t.slope) : t.instead;
    if (t.left && !low) bar.words = left_words(t.left) + ", at " + bar.words;
    if (low && !t.lies.empty()) {                                            // the interval stands between the two
      bar.name = (t.slope && *t.slope <= slope ? "Passed: " : "") + t.name;  // what is cut off is the name's end
      const float taken = size_of(ui.fonts.text, bar.words).x + size_of(ui.fonts.small, t.lies).x + ui.px(34);
      bar.name = fitted(bar.sum ? ui.fonts.text : ui.fonts.small, bar.name, rect.width - taken);
    }
    bar.paint = t.tone == Tone::near ? theme::kInkSoft : fill_of(t.tone);
    if (t.slope) {
      chart.y.high = std::max(chart.y.high, *t.slope);
      bar.from = 0;
      bar.to = *t.slope;
      if (t.interval) bar.doubt_low = t.interval->low;
      if (t.interval && !t.interval->open) bar.doubt_high = t.interval->high;
    }
    chart.bars.push_back(bar);
  }
  chart.rules.push_back({slope, {}});  // the ground as it is
  const double rows = row / ui.scale;
  paint_rows(ui, rect, std::move(chart), {.row = rows, .base = 12, .bar_top = 16, .bar = 4}, 18);
  for (std::size_t i = 0; i < thresholds.size(); ++i) {
    const Threshold& t = thresholds[i];
    const float y = rect.y + row * static_cast<float>(i);
    draw_symbol(*ImGui::GetWindowDrawList(), t.tone, {rect.x + ui.px(6), y + ui.px(8)}, ui.px(12),
                fill_of(t.tone == Tone::near ? Tone::unknown : t.tone));
    hover_help(ui, t.name, {rect.x, y, rect.width, row}, t.help);
    if (t.lies.empty()) continue;
    const float width = size_of(ui.fonts.small, t.lies).x;
    const float before = low ? size_of(ui.fonts.text, degrees_and_percent(t.slope)).x + ui.px(8) : 0;
    const Rect lies{rect.x + rect.width - before - width, y + ui.px(low ? 1 : 21), width, ui.fonts.small->FontSize};
    text_at(*ImGui::GetWindowDrawList(), ui.fonts.small, lies.low(), theme::kInkSoft, t.lies);
    remember_readout(ui, t.name + " interval", lies);
  }
}

ImVec2 polar_place(Rect rect, double heading, double slope) {
  const double radius = std::min(rect.width, rect.height) / 2 * std::clamp(slope / kPolarRim, 0.0, 1.0);
  return {rect.middle().x - static_cast<float>(radius * std::sin(heading)),
          rect.middle().y - static_cast<float>(radius * std::cos(heading))};
}

namespace {

// Halfway to white.
constexpr Colour paler(Colour c) {
  const auto half = [](std::uint8_t channel) { return static_cast<std::uint8_t>((channel + 255) / 2); };
  return {half(c.r), half(c.g), half(c.b), c.a};
}

}  // namespace

std::optional<double> polar_chart(Ui& ui, Rect rect, const Session& session) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 centre = rect.middle();
  const float rim = std::min(rect.width, rect.height) / 2;
  const double slope = session.scene().terrain.slope, heading = session.scene().start.heading;
  // Nothing of a scene before: pale until every heading is known on even ground, growing over features.
  const bool of_scene = session.answer_is_of_scene();
  static const std::vector<EnvelopePoint> kNone;
  const auto& points = of_scene ? session.by_heading() : kNone;

  hover_help(ui, "Margin by heading", rect,
             "The slope at which it slides or the first wheel lifts, whichever comes first, for every heading: top = "
             "facing uphill, left = turned to the left. The dark ring is the ground as it is; the room between ring "
             "and curve is what is left. Click to turn the machine; so does the slider Heading.");
  std::optional<double> wanted;
  if (ImGui::IsItemActive()) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const double left = centre.x - mouse.x, up = centre.y - mouse.y;
    if (left * left + up * up > 25) wanted = std::round(std::atan2(left, up) / (5 * kDegree)) * 5 * kDegree;
  }

  // The dial of the page's chart, small; where it has given way filled as strongly as the bars above it. On top of it
  // what only the window marks: the way to turn it, here and the weakest heading.
  const double diameter = std::min(rect.width, rect.height) / ui.scale;
  const bool turned_right = std::sin(heading) < -0.1 && std::cos(heading) > -0.1;  // its ray is where numbers stand
  const DialLook page;
  const PageSheet dial = dial_of(heading_dial(slope, heading, points),
                                 {.side = diameter,
                                  .body = theme::kPaintAccent,
                                  .weave = 0.65,
                                  .room = session.headings_are_of_scene() ? page.room : paler(page.room),
                                  .lost = theme::kLifted,
                                  .stripes = theme::kCard,
                                  .ring = Dash::solid,
                                  .words_at = turned_right ? 45.0 : -45.0,
                                  .rim_words = false});
  paint_sheet(list, ui.fonts, dial, {{centre.x - rim, centre.y - rim}, ui.scale});
  const float s = static_cast<float>(std::sin(heading)), c = static_cast<float>(std::cos(heading));
  const ImVec2 tip = polar_place(rect, heading, kPolarRim);
  const auto arrow = [&](float back, float side) {
    return ImVec2(tip.x + ui.px(back) * s - ui.px(side) * c, tip.y + ui.px(back) * c + ui.px(side) * s);
  };
  list.AddTriangleFilled(arrow(-3, 0), arrow(9, 6), arrow(9, -6), colour(theme::kInk));

  if (const auto weakest = weakest_heading(session); weakest && weakest->gives_way()) {
    const ImVec2 p = polar_place(rect, weakest->heading, *weakest->gives_way());
    const float d = ui.px(6);
    list.AddQuadFilled({p.x, p.y - d}, {p.x + d, p.y}, {p.x, p.y + d}, {p.x - d, p.y}, colour(theme::kLifted));
    list.AddQuad({p.x, p.y - d}, {p.x + d, p.y}, {p.x, p.y + d}, {p.x - d, p.y}, colour(theme::kCard), ui.px(1.5));
  }
  const StaticSolution& statics = session.statics();
  const EnvelopePoint here{heading, statics.first_lift_off, statics.first_wheel, false, {}, statics.slide};
  if (of_scene && here.gives_way()) {
    const ImVec2 p = polar_place(rect, heading, *here.gives_way());
    list.AddCircleFilled(p, ui.px(5), colour(theme::kCard), 16);
    list.AddCircle(p, ui.px(5), colour(theme::kInk), 16, ui.px(2));
  }
  return wanted;
}

void load_chart(Ui& ui, Rect rect, const State& state, double weight) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float middle = rect.x + rect.width / 2, gap = ui.px(26);
  const float row = rect.height / 2, reach = rect.width / 2 - gap;
  double all = 0;  // what the wheels carry together: on a slope less than the weight
  for (const WheelState& wheel : state.wheels) all += wheel.load;
  double most = 0.5 * weight;
  for (const WheelState& wheel : state.wheels) most = std::max(most, std::min(wheel.load, weight));
  for (int i = 0; i < kWheels; ++i) {
    const double load = state.wheels[static_cast<std::size_t>(i)].load;
    const bool up = !(load > 1e-4 * weight);
    const bool left = is_left(i);
    const float y = rect.y + (is_front(i) ? 0 : row);
    const float inner = left ? middle - gap : middle + gap, outer = left ? rect.x : rect.x + rect.width;
    const Rect trough{std::min(inner, outer), y + ui.px(19), reach, ui.px(12)};
    list.AddRectFilled(trough.low(), trough.high(), colour(theme::kTrough), ui.px(2));
    if (up) {
      list.AddRectFilled(trough.low(), trough.high(), colour(theme::kLifted), ui.px(2));
      draw_pattern(list, Tone::lifted, trough, theme::kCard, ui.px(8));
      const float x = left ? outer + ui.px(8) : outer - ui.px(8);
      draw_symbol(list, Tone::lifted, {x, y + ui.px(9)}, ui.px(14), theme::kLifted);
      text_at(list, ui.fonts.text, {left ? x + ui.px(12) : x - ui.px(12), y}, theme::kLifted, "UP: carries nothing",
              left ? 0.f : 1.f);
    } else {
      const float length = reach * static_cast<float>(std::min(1.0, load / most));
      list.AddRectFilled({left ? inner - length : inner, trough.y},
                         {left ? inner : inner + length, trough.y + trough.height}, colour(theme::kLoad), ui.px(2));
      const std::string force = shown(Quantity::load, load, ui.units), share = percent(all > 0 ? load / all : 0);
      const float force_width = size_of(ui.fonts.text, force).x + ui.px(8);
      text_at(list, ui.fonts.text, {outer, y}, theme::kInk, force, left ? 0.f : 1.f);
      text_at(list, ui.fonts.small, {left ? outer + force_width : outer - force_width, y + ui.px(2)}, theme::kInkSoft,
              share, left ? 0.f : 1.f);
    }
    hover_help(ui, std::string("Load ") + wheel_name(i), {trough.x, y, reach, row},
               fmt::format("Load of the {} wheel, square to the ground: {}, {} of what all carry. Not one wheel may "
                           "reach zero.",
                           wheel_name(i), shown(Quantity::load, load, ui.units), percent(all > 0 ? load / all : 0)));
  }
  for (bool front : {true, false}) {
    const float y = rect.y + (front ? 0 : row) + ui.px(16);
    text_at(list, ui.fonts.small, {middle, y}, theme::kInkSoft, front ? "Front" : "Rear", 0.5f);
  }
}

}  // namespace sidehill::screen

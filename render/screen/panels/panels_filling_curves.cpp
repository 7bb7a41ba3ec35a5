// The curves of the filling page: what gives way first, and what the axle carries, over the filling of one axle; a line
// for each liquid with its intervals, and the set-ups as points.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "render/page/chart_plots.h"
#include "render/screen/kit/caution.h"
#include "render/screen/kit/sheet_painter.h"
#include "render/screen/panels/panels_filling.h"
#include "render/screen/panels/panels_plan.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/filling.h"

namespace sidehill::screen {
namespace {

using page::Dash;
using page::PagePath;
using page::PagePoint;
using page::PageSheet;

// Distinguished without colour. Dashed is kept for what freezes solid.
constexpr Dash kDashes[] = {Dash::solid, Dash::dash_dot, Dash::dotted, Dash::long_dash};
constexpr Colour kInks[] = {theme::kSteady, theme::kInk, theme::kLoad, theme::kInkSoft};
static_assert(std::size(kDashes) == kMostLiquids && std::size(kInks) == kMostLiquids);
constexpr const char* kSlides = "the tyres slide";

// One of the two plots: which number of a point it shows, in the unit read.
struct Quantities {
  std::string item, title, unit;
  std::function<std::optional<double>(const FillPoint&)> value;
  std::function<std::optional<Interval>(const FillPoint&)> range;
  std::vector<std::pair<double, std::string>> limits;  // lines across, with words
  bool slopes = false;                                 // of what lifts a wheel; a slide is a line of its own
};

// The earliest slide of all liquids at a fill, with the interval of the first; they hardly differ. None where a wheel
// lifts first at every point.
std::vector<FillPoint> slide_line(const FillCurveSet& set) {
  std::vector<FillPoint> line;
  bool first_anywhere = false;
  for (const FillCurve& curve : set.curves)
    for (std::size_t i = 0; i < curve.points.size(); ++i) {
      const FillPoint& point = curve.points[i];
      first_anywhere = first_anywhere || point.slides_first();
      if (i >= line.size())
        line.push_back(point);
      else if (point.slide && (!line[i].slide || *point.slide < *line[i].slide))
        line[i].slide = point.slide;
    }
  if (!first_anywhere) line.clear();
  return line;
}

double in_degrees(double angle) { return angle / kDegree; }
Interval in_degrees(const Interval& range) { return {range.low / kDegree, range.high / kDegree, range.open}; }

// Of a set-up as it is.
struct Mark {
  std::string name;  // "A"
  FillPoint point;
};

struct Plot {
  const Ui& ui;
  Rect area;  // of the lines alone [px]
  double low = 0, high = 1, step = 1;
  float x(double fill) const { return area.x + static_cast<float>(fill) * area.width; }
  float y(double value) const {
    const double along = std::clamp((value - low) / (high - low), 0.0, 1.0);
    return area.y + area.height - static_cast<float>(along) * area.height;
  }
};

void fit(Plot& plot, const FillCurveSet& set, const Quantities& of, const std::vector<Mark>& marks,
         const std::vector<FillPoint>& slides) {
  double low = 1e300, high = -1e300;
  const auto take = [&](std::optional<double> value) {
    if (value && std::isfinite(*value)) low = std::min(low, *value), high = std::max(high, *value);
  };
  const auto take_point = [&](const FillPoint& point) {
    take(of.value(point));
    if (const auto range = of.range(point))
      take(range->low), take(range->open ? std::nullopt : std::optional(range->high));
  };
  for (const FillCurve& curve : set.curves) std::ranges::for_each(curve.points, take_point);
  for (const Mark& mark : marks) take_point(mark.point);
  for (const FillPoint& point : slides) {
    if (point.slide) take(in_degrees(*point.slide));
    if (point.slide_range) take(in_degrees(point.slide_range->low));
  }
  if (low > high) low = 0, high = 1;
  // A limit near by is part of it.
  const double spread = std::max(high - low, 1e-3);
  for (const auto& [at, words] : of.limits)
    if (at > low - spread && at < high + spread) take(at);
  plot.step = page::tick_step(std::max(high - low, 1e-3) * 1.2, 6);
  plot.low = std::max(0.0, std::floor(low / plot.step - 0.2) * plot.step);
  plot.high = std::ceil(high / plot.step + 0.2) * plot.step;
}

void draw_axes(ImDrawList& list, const Plot& plot, const Quantities& of, double valve) {
  const Ui& ui = plot.ui;
  const ImFont* small = ui.fonts.small;
  const Rect& area = plot.area;
  for (double v = plot.low; v <= plot.high + plot.step / 1e3; v += plot.step) {
    list.AddLine({area.x, plot.y(v)}, {area.x + area.width, plot.y(v)}, colour(theme::kRule));
    text_at(list, small, {area.x - ui.px(5), plot.y(v) - small->FontSize / 2}, theme::kInkSoft,
            page::tick_words(v, plot.step), 1);
  }
  for (const int percent : {0, 25, 50, 75, 100}) {
    const float x = plot.x(percent / 100.0);
    list.AddLine({x, area.y}, {x, area.y + area.height}, colour(with_alpha(theme::kRule, 0.6)));
    text_at(list, small, {x, area.y + area.height + ui.px(1)}, theme::kInkSoft, fmt::format("{}", percent), 0.5);
  }
  list.AddRect(area.low(), area.high(), colour(theme::kInkSoft));
  // Beyond it the valve no longer says when to stop.
  const float x = plot.x(valve);
  list.AddLine({x, area.y}, {x, area.y + area.height}, colour(with_alpha(theme::kLiquid, 0.8)), ui.px(1.5));
  auto limits = of.limits;
  std::ranges::sort(limits);
  bool above_line = limits.size() < 2;  // of two the lower one has its words below it
  for (const auto& [at, words] : limits) {
    if (at < plot.low || at > plot.high) continue;
    const float y = plot.y(at), dash = ui.px(6);
    for (float s = area.x; s < area.x + area.width; s += 2 * dash)
      list.AddLine({s, y}, {std::min(s + dash, area.x + area.width), y}, colour(theme::kLifted), ui.px(1.5));
    const float above = y - small->FontSize - ui.px(1);
    const bool goes_above = above_line && above >= area.y;
    text_at(list, small, {area.x + ui.px(4), goes_above ? above : y + ui.px(1)}, theme::kLifted,
            fitted(small, words, area.width - ui.px(8)));
    above_line = true;
  }
}

Dash dash_of(const FillCurve& curve, std::size_t i) {
  return curve.at_coldest == Frost::solid ? Dash::dashed : kDashes[i];
}

// Lines, the band of the liquid in the tyres, and a bar at each point whose interval is known.
void draw_lines(PageSheet& sheet, const Plot& plot, const FillCurveSet& set, const Quantities& of,
                const std::vector<FillPoint>& slides) {
  const double px = plot.ui.px(1);
  const auto high_end = [&](const Interval& range) { return range.open ? plot.high : range.high; };
  const auto bar = [&](double x, const Interval& range, Colour ink) {
    const double low = plot.y(range.low), high = plot.y(high_end(range));
    page::add_line(sheet, {x, low}, {x, high}, ink, 1.25 * px);
    for (const double end : {low, high})
      page::add_line(sheet, {x - 2.5 * px, end}, {x + 2.5 * px, end}, ink, 1.25 * px);
  };
  if (!set.curves.empty()) {
    PagePath band{{}, true, 0, kInks[0], Dash::solid, page::Pattern::plain, with_alpha(kInks[0], 0.15)};
    std::vector<PagePoint> back;
    for (const FillPoint& point : set.curves[0].points)
      if (const auto range = of.range(point)) {
        band.points.push_back({plot.x(point.fill), plot.y(high_end(*range))});
        back.push_back({plot.x(point.fill), plot.y(range->low)});
      }
    band.points.insert(band.points.end(), back.rbegin(), back.rend());
    if (back.size() > 1) sheet.marks.push_back(std::move(band));
  }
  for (std::size_t i = set.curves.size(); i-- > 0;) {
    const FillCurve& curve = set.curves[i];
    PagePath path{{}, false, (i == 0 ? 2.75 : 1.75) * px, kInks[i], dash_of(curve, i)};
    path.weave = px;
    const auto flush = [&] {
      if (path.points.size() > 1) sheet.marks.push_back(path);
      path.points.clear();
    };
    for (const FillPoint& point : curve.points) {
      const auto value = of.value(point);
      if (value)
        path.points.push_back({plot.x(point.fill), plot.y(*value)});
      else
        flush();
      const auto range = of.range(point);
      // The first has its band; an empty tyre is the same for all.
      if (!range || !value || i == 0 || !(point.fill > 0)) continue;
      // Beside each other, so that each liquid's bar is seen.
      const double x = plot.x(point.fill) + (static_cast<double>(i) - 2) * 5 * px;
      bar(std::min(x, plot.area.x + plot.area.width - 3.0 * px), *range, kInks[i]);
    }
    flush();
  }
  PagePath slide{{}, false, 3 * px, theme::kSlide, Dash::dotted};
  slide.weave = px;
  for (const FillPoint& point : slides) {
    if (point.slide) slide.points.push_back({plot.x(point.fill), plot.y(in_degrees(*point.slide))});
    const double x = std::min(plot.x(point.fill) + 10 * px, plot.area.x + plot.area.width - 3 * px);
    if (point.slide_range) bar(x, in_degrees(*point.slide_range), theme::kSlide);
  }
  if (slide.points.size() > 1) sheet.marks.push_back(std::move(slide));
}

// At the end of each line, moved apart where they would stand on each other.
void name_ends(Ui& ui, PageSheet& sheet, ImDrawList& list, const Plot& plot, const FillCurveSet& set,
               const Quantities& of, const std::vector<FillPoint>& slides, float room) {
  struct End {
    std::string words;
    Colour ink;
    Dash dash;
    double width;
    float from, y, high;
  };
  std::vector<End> ends;
  const ImFont* small = ui.fonts.small;
  const double px = ui.px(1);
  const auto add = [&](const std::string& name, Colour ink, Dash dash, double width, std::optional<double> value) {
    const std::string words = in_lines(small, read_in(name, ui.units), room - ui.px(38));
    const float high = static_cast<float>(1 + std::ranges::count(words, '\n')) * small->FontSize;
    const float y = value ? plot.y(*value) : plot.area.y + plot.area.height;
    ends.push_back({words, ink, dash, width * px, y, y, high});
  };
  for (std::size_t i = 0; i < set.curves.size(); ++i) {
    const FillCurve& curve = set.curves[i];
    const auto last =
        std::find_if(curve.points.rbegin(), curve.points.rend(), [&](const FillPoint& p) { return of.value(p); });
    const std::string name = curve.at_coldest == Frost::solid    ? "FREEZES: " + curve.name
                             : curve.at_coldest == Frost::slushy ? "SLUSH: " + curve.name
                             : !curve.refusal.empty()            ? "cannot go in: " + curve.name
                                                                 : curve.name;
    add(name, kInks[i], dash_of(curve, i), i == 0 ? 2.75 : 1.75,
        last != curve.points.rend() ? of.value(*last) : std::nullopt);
  }
  if (!slides.empty())
    add(kSlides, theme::kSlide, Dash::dotted, 3,
        slides.back().slide ? std::optional(in_degrees(*slides.back().slide)) : std::nullopt);
  std::vector<std::size_t> order(ends.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return ends[i].y; });
  const float gap = ui.px(2);
  float least = plot.area.y - ui.px(20);
  for (const std::size_t i : order) {
    ends[i].y = std::max(ends[i].y, least + ends[i].high / 2);
    least = ends[i].y + ends[i].high / 2 + gap;
  }
  float most = plot.area.y + plot.area.height + small->FontSize;
  for (auto i = order.rbegin(); i != order.rend(); ++i) {
    ends[*i].y = std::min(ends[*i].y, most - ends[*i].high / 2);
    most = ends[*i].y - ends[*i].high / 2 - gap;
  }
  const float right = plot.area.x + plot.area.width, text = right + ui.px(38);
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const End& end = ends[i];
    page::add_line(sheet, {right, end.from}, {right + 12 * px, end.y}, with_alpha(end.ink, 0.6), 0.75 * px);
    PagePath sample{{{right + 12 * px, end.y}, {right + 34 * px, end.y}}, false, end.width, end.ink, end.dash};
    sample.weave = 0.6 * px;
    sheet.marks.push_back(std::move(sample));
    text_at(list, small, {text, end.y - end.high / 2}, end.ink, end.words);
    remember_readout(ui, fmt::format("{} end {}", of.item, i + 1), {right, end.y - end.high / 2, room, end.high});
  }
}

std::string range_words(const std::optional<Interval>& range, int digits, Units units) {
  if (!range) return "";
  return fmt::format(" ({} to {})", number_in(range->low, digits, units),
                     range->open ? "no upper end" : number_in(range->high, digits, units));
}

// What comes first stands first.
std::string slope_words(const FillPoint& point, Units units) {
  if (point.failed) return "no answer was found";
  const auto one = [&](const char* what, const std::optional<double>& slope, const std::optional<Interval>& range) {
    if (!slope) return std::string();
    return fmt::format("{} at {}{}", what, degrees_and_percent(*slope, 1, true),
                       range_words(range ? std::optional(in_degrees(*range)) : std::nullopt, 1, units));
  };
  const std::string slides = one("slides", point.slide, point.slide_range),
                    lifts = one("a wheel lifts", point.lift, point.lift_range);
  if (slides.empty() && lifts.empty()) return "nothing gives way";
  if (slides.empty() || lifts.empty()) return slides + lifts;
  return point.slides_first() ? slides + ", " + lifts : lifts + ", " + slides;
}

std::string value_words(const Quantities& of, const FillPoint& point, Units units) {
  if (of.slopes) return slope_words(point, units);
  return fmt::format("{} {}{}", number_in(of.value(point).value_or(0), 0, units), of.unit,
                     range_words(of.range(point), 0, units));
}

void draw_marks(Ui& ui, ImDrawList& list, const Plot& plot, const Quantities& of, const std::vector<Mark>& marks) {
  for (const Mark& mark : marks) {
    const auto value = of.value(mark.point);
    if (!value) continue;
    ImVec2 at{plot.x(mark.point.fill), plot.y(*value)};
    const float r = ui.px(marks.size() > 1 ? 9 : 6);
    // Two at one place are drawn beside each other.
    for (const Mark& other : marks)
      if (&other != &mark && of.value(other.point) && std::abs(plot.x(other.point.fill) - at.x) < r &&
          std::abs(plot.y(*of.value(other.point)) - at.y) < r)
        at.x += (mark.name < other.name ? -1.f : 1.f) * r;
    list.AddCircleFilled(at, r, colour(theme::kAccent), 24);
    list.AddCircle(at, r, colour(theme::kCard), 24, ui.px(1.5));
    if (marks.size() > 1)
      text_at(list, ui.fonts.small, {at.x, at.y - ui.fonts.small->FontSize / 2}, theme::kOnAccent,
              mark.name.substr(0, 1), 0.5);
    remember_readout(ui, fmt::format("{} point {}", of.item, mark.name), {at.x - r, at.y - r, 2 * r, 2 * r});
  }
}

void help_at_mouse(const Ui& ui, const Plot& plot, const FillCurveSet& set, const Quantities& of) {
  const double along = (ImGui::GetIO().MousePos.x - plot.area.x) / std::max(1.f, plot.area.width);
  const int i = static_cast<int>(std::lround(std::clamp(along, 0.0, 1.0) * FillCurves::kSteps));
  std::string words = fmt::format("{} % full", 100.0 * i / FillCurves::kSteps);
  for (const FillCurve& curve : set.curves)
    words += fmt::format("\n{}: {}", read_in(curve.name, ui.units),
                         curve.points.empty() ? curve.refusal.empty() ? "being worked out" : curve.refusal
                                              : value_words(of, curve.points[static_cast<std::size_t>(i)], ui.units));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(10), ui.px(8)));
  ImGui::BeginTooltip();
  wrapped_words(words, ui.px(330));
  ImGui::EndTooltip();
  ImGui::PopStyleVar();
}

void draw_plot(Ui& ui, Rect rect, const FillCurveSet& set, const Quantities& of, const std::vector<Mark>& marks,
               double valve) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImFont* small = ui.fonts.small;
  float names = 0;
  for (const FillCurve& curve : set.curves)
    names = std::max(names, size_of(small, read_in(curve.name, ui.units)).x + size_of(small, "FREEZES: ").x);
  const std::vector<FillPoint> slides = of.slopes ? slide_line(set) : std::vector<FillPoint>{};
  const float room = std::min(std::max(names, size_of(small, kSlides).x) + ui.px(42), rect.width * 0.36f);
  text_at(list, ui.fonts.text, {rect.x, rect.y}, theme::kInk,
          fitted(ui.fonts.text, fmt::format("{} [{}]", of.title, of.unit), rect.width));
  Plot plot{ui, {rect.x + ui.px(40), rect.y + ui.px(24), rect.width - ui.px(40) - room, 0}};
  plot.area.height = std::max(ui.px(30), rect.height - ui.px(24) - small->FontSize - ui.px(4));
  fit(plot, set, of, marks, slides);
  draw_axes(list, plot, of, valve);
  PageSheet sheet;
  draw_lines(sheet, plot, set, of, slides);
  name_ends(ui, sheet, list, plot, set, of, slides, room);
  paint_sheet(list, ui.fonts, sheet, {{0, 0}, 1});
  draw_marks(ui, list, plot, of, marks);
  ImGui::SetCursorScreenPos(plot.area.low());
  ImGui::InvisibleButton(of.item.c_str(), {std::max(1.f, plot.area.width), std::max(1.f, plot.area.height)});
  remember_readout(ui, of.item, plot.area);
  if (ImGui::IsItemHovered()) help_at_mouse(ui, plot, set, of);
}

Quantities slope_of(const Scene& scene, const FillCurveSet& set) {
  const bool slides = !slide_line(set).empty();
  Quantities of;
  of.item = "Curves: slope";
  of.slopes = true;
  of.title = fmt::format("{} a wheel lifts, heading {}",
                         slides ? "IT SLIDES FIRST (dotted); slope at which" : "Slope at which",
                         signed_degrees(scene.start.heading));
  of.unit = "°";
  of.value = [](const FillPoint& p) { return p.lift ? std::optional(in_degrees(*p.lift)) : std::nullopt; };
  of.range = [](const FillPoint& p) { return p.lift_range ? std::optional(in_degrees(*p.lift_range)) : std::nullopt; };
  of.limits.push_back({scene.terrain.slope / kDegree, "ground " + degrees_and_percent(scene.terrain.slope)});
  if (scene.job.work != Work::none && scene.job.slope > 0)
    of.limits.push_back({scene.job.slope / kDegree, "the job's steepest " + degrees_and_percent(scene.job.slope)});
  return of;
}

// What the axle and its tyres may carry, as far as that is known.
Quantities load_of(const KnownFilling& known, bool front, Units units) {
  const ShownUnit unit = shown_unit(Quantity::mass, units);
  Quantities of;
  of.item = "Curves: load";
  of.title = fmt::format("Load on the {} axle, level ground", front ? "front" : "rear");
  of.unit = unit.name;
  of.value = [unit](const FillPoint& p) { return std::optional(p.load * unit.factor); };
  of.range = [unit](const FillPoint& p) {
    return p.load_range ? std::optional(Interval{p.load_range->low * unit.factor, p.load_range->high * unit.factor,
                                                 p.load_range->open})
                        : std::nullopt;
  };
  for (const std::optional<AxleFilling>& axle : known.axles) {
    if (!axle) continue;
    const LoadCheck& loads = axle->rules.loads;
    const LoadMargin& whole = loads.axles[front ? 0 : 1];
    if (whole.capacity > 0)
      of.limits.push_back({whole.capacity * unit.factor, "the axle may carry " + kilograms(whole.capacity)});
    const std::size_t left = front ? kFrontLeft : kRearLeft;
    if (const TyreCheck& tyre = loads.tyres[left]; tyre.service && tyre.margin.capacity > 0)
      of.limits.push_back(
          {2 * tyre.margin.capacity * unit.factor,
           fmt::format("its tyres {} carry {}", tyre.rating == Rating::stated ? "may" : "may, if usual,",
                       kilograms(2 * tyre.margin.capacity))});
    break;
  }
  for (auto& [at, words] : of.limits) words = read_in(words, units);
  return of;
}

void draw_curves_head(Ui& ui, FillingPage& page) {
  FillCurves& curves = page.curves;
  if (button(ui, "Over rear", Icon::none, "The curves are over the filling of the rear tyres", !page.over_front))
    page.over_front = false;
  ImGui::SameLine(0, ui.px(4));
  if (button(ui, "Over front", Icon::none, "The curves are over the filling of the front tyres", page.over_front))
    page.over_front = true;
  ImGui::SameLine(0, ui.px(10));
  if (curves.working()) {
    if (button(ui, "Stop curves", Icon::none, "No more intervals; the lines that are there stay")) curves.stop();
    ImGui::SameLine(0, ui.px(8));
    soft_text(ui, fmt::format("{}: {:.0f} %", curves.curves() && curves.curves()->values_known ? "Intervals" : "Curves",
                              100 * curves.share()));
  } else if (curves.stopped()) {
    if (button(ui, "Curves again", Icon::none, "Works them out from the beginning")) curves.again();
    ImGui::SameLine(0, ui.px(8));
    soft_text(ui, "Stopped: intervals are missing.");
  } else {
    soft_text(ui, "Nineteen times in twenty, estimates");
  }
}

}  // namespace

void draw_filling_curves(Ui& ui, const Desk& desk, FillingPage& page, Rect rect) {
  ImGui::SetCursorScreenPos(rect.low());
  ImGui::BeginChild("Filling curves", {std::max(1.f, rect.width), std::max(1.f, rect.height)}, false,
                    ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
  draw_curves_head(ui, page);
  const FillCurveSet* set = page.curves.curves();
  const bool edits_b = desk.compares() && desk.edits_other, two = two_shown(desk);
  const KnownFilling& known = page.known[edits_b ? 1 : 0];
  const Scene& scene = desk.edited().scene();
  if (set && set->front == page.over_front) {
    std::vector<Mark> marks;
    const auto [a, b] = two ? names_of_two(desk) : std::pair<std::string, std::string>{"Here", ""};
    const auto mark = [&](const std::string& name, const KnownFilling& of) {
      if (of.refusal.empty() && of.over_front == page.over_front) marks.push_back({name, of.point});
    };
    mark(a, page.known[0]);
    if (two) mark(b, page.known[1]);
    if (edits_b) std::ranges::reverse(marks);
    std::ranges::reverse(marks);  // the one that is changed on top
    const auto& axle = known.axles[page.over_front ? 0 : 1];
    const double valve = axle ? fill_at_valve(axle->sheet.cavity, 12) : 0.75;
    std::string notes;
    std::size_t slide_points = 0, all_points = 0;
    for (const FillCurve& curve : set->curves)
      for (const FillPoint& point : curve.points) slide_points += point.slides_first() ? 1 : 0, ++all_points;
    if (slide_points > 0 && slide_points == all_points)
      notes += "It SLIDES FIRST at every fill: no filling changes that much. ";
    else if (slide_points > 0)
      notes += "At some fills it SLIDES before a wheel lifts. ";
    const Quantities slope = slope_of(scene, *set), load = load_of(known, page.over_front, ui.units);
    for (auto one = marks.rbegin(); one != marks.rend(); ++one)
      notes += fmt::format("{}: {:.1f} % full, {}, {}. ", one->name, 100 * one->point.fill,
                           value_words(slope, one->point, ui.units), value_words(load, one->point, ui.units));
    if (two && !differ_in_filling_alone(desk.session.scene(), desk.other->scene(), page.over_front))
      notes += fmt::format("{} and {} differ in more than this filling: the curves are those of {}. ", a, b,
                           edits_b ? b : a);
    if (std::ranges::any_of(set->curves, [](const FillCurve& curve) { return curve.at_coldest == Frost::solid; }))
      notes += "Dashed: FREEZES SOLID in the coldest night, do not drive then. ";
    notes += fmt::format("Per cent of the room in each tyre; blue line: valve at the top, {}. ", percent(valve));
    notes += "Even ground, standing still; bars and band at every quarter, none between.";
    const std::string lines = in_lines(ui.fonts.small, notes, rect.width - ui.px(6));
    const float foot = static_cast<float>(1 + std::ranges::count(lines, '\n')) * ui.fonts.small->FontSize + ui.px(4);
    const float top = ImGui::GetCursorScreenPos().y + ui.px(2);
    const float each = std::max(ui.px(70), (rect.y + rect.height - top - foot) / 2);
    draw_plot(ui, {rect.x, top, rect.width, each - ui.px(6)}, *set, slope, marks, valve);
    draw_plot(ui, {rect.x, top + each, rect.width, each - ui.px(6)}, *set, load, marks, valve);
    const ImVec2 at{rect.x, top + 2 * each};
    text_at(*ImGui::GetWindowDrawList(), ui.fonts.small, at, theme::kInk, lines);
    remember_readout(ui, "Curves: notes", {at.x, at.y, rect.width, foot});
  }
  ImGui::EndChild();
}

}  // namespace sidehill::screen

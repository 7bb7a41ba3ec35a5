// Below the picture, while planning: the trade-off as a chart one points at.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/chart.h"
#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels_plan.h"
#include "render/screen/parts/charts.h"
#include "render/text/plan/plan_columns.h"
#include "render/text/plan/plan_words.h"
#include "render/text/words/words.h"

namespace sidehill::screen {
namespace {

constexpr float kNearPoint = 11;  // the mouse is on it [px at scale 1]

// One axis: which column, its range, and where that is on the screen.
struct PlanAxis {
  PlanColumn column;
  double low = 0, high = 1, step = 1;
  float from = 0, to = 1;  // [px]
  float at(double value) const { return from + static_cast<float>((value - low) / (high - low)) * (to - from); }
};

struct PlanDot {
  std::size_t place = 0;  // of Plan::chosen or Plan::on_front
  bool listed = false;    // it is one of the few
  const PlanMeasures* measures = nullptr;
  const PlanChoice* choice = nullptr;
  std::optional<double> x, y;
  ImVec2 spot{};
};

std::vector<PlanDot> dots_of(const Plan& plan, PlanColumn across, PlanColumn up, Units units) {
  std::vector<PlanDot> dots;
  const auto put = [&](std::size_t place, bool listed, const PlanMeasures& m, const PlanChoice& choice) {
    dots.push_back({place, listed, &m, &choice, column_value(across, m, units), column_value(up, m, units)});
  };
  for (std::size_t i = 0; i < plan.on_front.size(); ++i)
    if (std::ranges::find(plan.chosen, plan.on_front[i].choice, &ChosenPlan::choice) == plan.chosen.end())
      put(i, false, plan.on_front[i].measures, plan.on_front[i].choice);
  for (std::size_t i = 0; i < plan.chosen.size(); ++i)  // on top of the others
    put(i, true, plan.chosen[i].measures, plan.chosen[i].choice);
  return dots;
}

void fit(PlanAxis& axis, const std::vector<PlanDot>& dots, std::optional<double> PlanDot::*value,
         std::optional<double> rule) {
  double low = 1e300, high = -1e300;
  for (const PlanDot& dot : dots)
    if (dot.x && dot.y) low = std::min(low, *(dot.*value)), high = std::max(high, *(dot.*value));
  // What is asked is part of it unless all lie far off.
  const double spread = high - low;
  if (rule && low <= high && *rule > low - spread && *rule < high + spread)
    low = std::min(low, *rule), high = std::max(high, *rule);
  if (low > high) low = 0, high = 1;
  const double span = std::max({high - low, 0.02 * std::abs(high), 1e-3});
  axis.step = page::tick_step(span * 1.2, 6);
  axis.low = low - 0.1 * span;
  axis.high = high + 0.1 * span;
  if (low >= 0 && axis.low < 0) axis.low = low == 0 ? -0.04 * span : 0;
}

std::string tick_number(double value, double step) {
  const int digits = step >= 1 ? 0 : step >= 0.1 ? 1 : step >= 0.01 ? 2 : 3;
  return fmt::format("{:.{}f}", std::abs(value) < step / 1e3 ? 0.0 : value, digits);
}

std::string axis_title(PlanColumn column, Units units) {
  return fmt::format("{} [{}], {}", column_names(column).name, column_unit(column, units), column_names(column).better);
}

void draw_plan_axes(const Ui& ui, ImDrawList& list, Rect plot, const PlanAxis& x, const PlanAxis& y) {
  list.AddRectFilled(plot.low(), plot.high(), colour(theme::kCard));
  const ImFont* small = ui.fonts.small;
  for (double v = std::ceil(y.low / y.step) * y.step; v <= y.high; v += y.step) {
    list.AddLine({plot.x, y.at(v)}, {plot.x + plot.width, y.at(v)}, colour(theme::kRule));
    text_at(list, small, {plot.x - ui.px(5), y.at(v) - small->FontSize / 2}, theme::kInkSoft, tick_number(v, y.step),
            1);
  }
  for (double v = std::ceil(x.low / x.step) * x.step; v <= x.high; v += x.step) {
    list.AddLine({x.at(v), plot.y}, {x.at(v), plot.y + plot.height}, colour(theme::kRule));
    text_at(list, small, {x.at(v), plot.y + plot.height + ui.px(2)}, theme::kInkSoft, tick_number(v, x.step), 0.5);
  }
  list.AddRect(plot.low(), plot.high(), colour(theme::kInkSoft));
}

// What is asked of the slope, across the plot.
void draw_asked_line(const Ui& ui, ImDrawList& list, Rect plot, const PlanAxis& axis, bool upright, double value) {
  if (value < axis.low || value > axis.high) {
    const std::string far =
        fmt::format("asked: {:.1f}°, {}", value, value < axis.low ? "all are above" : "ALL ARE BELOW");
    text_at(list, ui.fonts.small,
            {plot.x + ui.px(4),
             value < axis.low ? plot.y + plot.height - ui.fonts.small->FontSize - ui.px(2) : plot.y + ui.px(2)},
            theme::kLifted, far);
    return;
  }
  const float at = axis.at(value), dash = ui.px(6);
  const float from = upright ? plot.y : plot.x, to = from + (upright ? plot.height : plot.width);
  for (float s = from; s < to; s += 2 * dash) {
    const float end = std::min(to, s + dash);
    upright ? list.AddLine({at, s}, {at, end}, colour(theme::kLifted), ui.px(1.5))
            : list.AddLine({s, at}, {end, at}, colour(theme::kLifted), ui.px(1.5));
  }
  const char* words = "asked";
  if (upright)
    text_at(list, ui.fonts.small, {at + ui.px(4), plot.y + ui.px(2)}, theme::kLifted, words);
  else
    text_at(list, ui.fonts.small, {plot.x + plot.width - ui.px(4), at + ui.px(1)}, theme::kLifted, words, 1);
}

bool overlaps(const Rect& a, const Rect& b) {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

// Beside each mark its first reason, where there is room.
void name_marks(const Ui& ui, ImDrawList& list, Rect plot, const Plan& plan, const std::vector<PlanDot>& dots) {
  std::vector<Rect> taken;
  const float r = ui.px(10);
  for (const PlanDot& dot : dots)
    if (dot.listed && dot.x && dot.y) taken.push_back({dot.spot.x - r, dot.spot.y - r, 2 * r, 2 * r});
  for (const PlanDot& dot : dots) {
    if (!dot.listed || !dot.x || !dot.y) continue;
    std::string words = reasons_words(plan.chosen[dot.place]);
    words = words.substr(0, words.find(','));
    const ImVec2 size = size_of(ui.fonts.small, words);
    const ImVec2 corners[] = {{dot.spot.x + r + ui.px(2), dot.spot.y - size.y / 2},
                              {dot.spot.x - r - ui.px(2) - size.x, dot.spot.y - size.y / 2},
                              {dot.spot.x - size.x / 2, dot.spot.y - r - size.y},
                              {dot.spot.x - size.x / 2, dot.spot.y + r}};
    for (const ImVec2& corner : corners) {
      const Rect place{corner.x, corner.y, size.x, size.y};
      const bool inside = place.x >= plot.x && place.x + place.width <= plot.x + plot.width && place.y >= plot.y &&
                          place.y + place.height <= plot.y + plot.height;
      if (!inside || std::ranges::any_of(taken, [&](const Rect& other) { return overlaps(place, other); })) continue;
      list.AddRectFilled(place.low(), place.high(), colour(with_alpha(theme::kCard, 0.8)));
      text_at(list, ui.fonts.small, corner, theme::kInk, words);
      taken.push_back(place);
      break;
    }
  }
}

void draw_dot_help(const Ui& ui, const Plan& plan, const PlanDot& dot) {
  std::string words = capital(read_in(plan_name(plan.ground, *dot.choice, *dot.measures), ui.units)) + ".";
  for (std::size_t k = 0; k < kPlanColumns; ++k) {
    const auto column = static_cast<PlanColumn>(k);
    words += fmt::format("\n{}: {}", column_names(column).name, column_words(column, *dot.measures, ui.units));
  }
  words += dot.listed ? "" : "\nClick to stand it beside today's machine.";
  const ImVec2 display = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({std::min(dot.spot.x + ui.px(14), display.x - ui.px(310)), dot.spot.y - ui.px(12)},
                          ImGuiCond_Always, {0, 1});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(10), ui.px(8)));
  ImGui::BeginTooltip();
  wrapped_words(words, ui.px(280));
  ImGui::EndTooltip();
  ImGui::PopStyleVar();
}

void choose_axes(Ui& ui, ViewChoices& choices) {
  std::vector<std::string> names;
  for (std::size_t k = 0; k < kPlanColumns; ++k) names.emplace_back(column_names(static_cast<PlanColumn>(k)).name);
  const float half = ImGui::GetContentRegionAvail().x / 2;
  soft_text(ui, "Up");
  ImGui::SameLine(0, ui.px(6));
  choice(ui, "Chart up", names, choices.plan.up, "What the chart shows upwards", half - ui.px(60));
  ImGui::SameLine(half);
  soft_text(ui, "Across");
  ImGui::SameLine(0, ui.px(6));
  choice(ui, "Chart across", names, choices.plan.across, "What the chart shows to the right", half - ui.px(60));
}

// The picture stands on the scene's slope, which need not be the job's, and at one heading.
void say_slope_shown(Ui& ui, Desk& desk) {
  const Scene& scene = desk.session.scene();
  if (scene.job.work == Work::none) return;
  const ChosenPlan* one = desk.planning ? desk.planning->chosen() : nullptr;
  const PlanStand* stand = one ? &one->measures.stand : nullptr;
  // Where the chosen set-up gives way first, if that is known of all headings.
  const bool decides = stand && stand->known && stand->at_all && !stand->lost && stand->gives_way;
  const double heading = decides ? stand->heading : scene.start.heading;
  const bool steep = std::abs(scene.terrain.slope - scene.job.slope) < 0.05 * kDegree;
  const bool alike = steep && std::abs(std::remainder(scene.start.heading - heading, kTwoPi)) < 0.05 * kDegree;
  const std::string shown_on = fmt::format("Shown on {}, heading {}", degrees_and_percent(scene.terrain.slope),
                                           signed_degrees(scene.start.heading));
  const std::string name = names_of_two(desk).second;
  std::string words;
  if (!steep)
    words = fmt::format("{}; the job's steepest is {}.", shown_on, degrees_and_percent(scene.job.slope));
  else if (!decides)
    words = shown_on + "; at another heading it may give way sooner.";
  else if (alike)
    words = fmt::format("{}: there {} gives way first.", shown_on, name);
  else
    words = fmt::format("{}; {} gives way first at heading {}.", shown_on, name, signed_degrees(heading));
  // What the plan knows is worse than what the picture shows at this heading.
  const bool worse = stand && stand->gives_way && *stand->gives_way < scene.terrain.slope;
  if (worse)
    words = fmt::format("On {} {} GIVES WAY at heading {}.", degrees_and_percent(scene.terrain.slope), name,
                        signed_degrees(stand->heading));
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x - (alike ? 0 : ui.px(158));
  text_at(*ImGui::GetWindowDrawList(), ui.fonts.small, {corner.x, corner.y + (alike ? 0 : ui.px(7))},
          worse ? theme::kLifted : theme::kInk, fitted(ui.fonts.small, words, width));
  if (alike) {
    ImGui::Dummy({0, ui.fonts.small->FontSize});
    return;
  }
  ImGui::SetCursorScreenPos({corner.x + width + ui.px(8), corner.y});
  if (!button(ui, "On the job's slope", Icon::none,
              "Stands both machines on the job's steepest slope, at the heading at which the chosen set-up gives way "
              "first. It is a change of the scene; Undo takes it back.",
              false, ui.px(150)))
    return;
  Scene changed = scene;
  changed.terrain.slope = scene.job.slope;
  changed.start.heading = heading;
  desk.session.edit(std::move(changed));
  if (plan_state(desk) == PlanState::of_older && !desk.planning->working()) begin_plan(desk);
}

}  // namespace

void draw_plan_mark(const Ui& ui, ImDrawList& list, ImVec2 centre, std::size_t place, const ChosenPlan& one,
                    bool chosen) {
  const float r = ui.px(9);
  const bool today = one.choice == PlanChoice{};
  const Colour fill = chosen ? theme::kAccent : theme::kInk;
  if (today)
    list.AddRectFilled({centre.x - r, centre.y - r}, {centre.x + r, centre.y + r}, colour(fill), ui.px(2));
  else
    list.AddCircleFilled(centre, r, colour(fill), 24);
  if (chosen) list.AddCircle(centre, r + ui.px(3), colour(theme::kAccent), 28, ui.px(2));
  const std::string number = fmt::format("{}", place + 1);
  text_at(list, ui.fonts.small, {centre.x, centre.y - ui.fonts.small->FontSize / 2}, theme::kOnAccent, number, 0.5);
}

void draw_plan_chart(Ui& ui, Desk& desk, ViewChoices& choices) {
  say_slope_shown(ui, desk);
  choose_axes(ui, choices);
  const Plan* plan = desk.planning ? desk.planning->plan() : nullptr;
  if (!plan) {
    soft_text(ui, "Here every plan worth a look becomes a point, once there is one.", true);
    return;
  }
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float small = ui.fonts.small->FontSize;
  const float right = ImGui::GetWindowPos().x + ImGui::GetWindowWidth() - ui.px(14);
  const float bottom = ImGui::GetWindowPos().y + ImGui::GetWindowHeight() - ui.px(4);
  const auto across = static_cast<PlanColumn>(choices.plan.across), up = static_cast<PlanColumn>(choices.plan.up);
  std::vector<PlanDot> dots = dots_of(*plan, across, up, ui.units);
  std::string undrawn;
  for (const PlanDot& dot : dots)
    if (dot.listed && !(dot.x && dot.y)) undrawn += fmt::format("{}{}", undrawn.empty() ? "" : ", ", dot.place + 1);
  // Titles of the axes above and below, and what is not drawn.
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float wide = right - corner.x;
  text_at(list, ui.fonts.small, {corner.x, corner.y}, theme::kInk,
          fitted(ui.fonts.small, axis_title(up, ui.units), wide));
  const Rect plot{corner.x + ui.px(44), corner.y + small + ui.px(4), wide - ui.px(48),
                  std::max(ui.px(40), bottom - corner.y - 3 * small - ui.px(12))};
  text_at(list, ui.fonts.small, {right, plot.y + plot.height + small + ui.px(3)}, theme::kInk,
          fitted(ui.fonts.small, axis_title(across, ui.units), wide * 0.7f), 1);
  if (!undrawn.empty())
    text_at(list, ui.fonts.small, {corner.x, plot.y + plot.height + small + ui.px(3)}, theme::kLifted,
            "No number: " + undrawn);
  const double asked = (plan->slope + plan->question.left) / kDegree;
  const auto rule = [&](PlanColumn column) {
    return column == PlanColumn::gives_way && asked > 0 ? std::optional(asked) : std::nullopt;
  };
  PlanAxis x{across}, y{up};
  fit(x, dots, &PlanDot::x, rule(across));
  fit(y, dots, &PlanDot::y, rule(up));
  x.from = plot.x, x.to = plot.x + plot.width;
  y.from = plot.y + plot.height, y.to = plot.y;
  draw_plan_axes(ui, list, plot, x, y);
  if (rule(up)) draw_asked_line(ui, list, plot, y, false, asked);
  if (rule(across)) draw_asked_line(ui, list, plot, x, true, asked);

  ImGui::SetCursorScreenPos(plot.low());
  const bool clicked = ImGui::InvisibleButton("##trade-off", {std::max(1.f, plot.width), plot.height});
  const bool hovered = ImGui::IsItemHovered();
  remember_readout(ui, "Trade-off", plot);
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const PlanDot* under = nullptr;
  float nearest = ui.px(kNearPoint);
  const ChosenPlan* chosen = desk.planning->chosen();
  for (PlanDot& dot : dots) {
    if (!dot.x || !dot.y) continue;
    dot.spot = {x.at(*dot.x), y.at(*dot.y)};
    const float away = std::hypot(mouse.x - dot.spot.x, mouse.y - dot.spot.y);
    if (hovered && (away < nearest || (dot.listed && away <= nearest))) nearest = away, under = &dot;
  }
  for (const PlanDot& dot : dots) {
    if (!dot.x || !dot.y) continue;
    const bool is_chosen = chosen && chosen->choice == *dot.choice;
    const float r = ui.px(kNearPoint);
    remember_readout(ui, fmt::format("{} {}", dot.listed ? "Mark" : "Point", dot.place + (dot.listed ? 1 : 0)),
                     {dot.spot.x - r / 2, dot.spot.y - r / 2, r, r});
    if (dot.listed) {
      draw_plan_mark(ui, list, dot.spot, dot.place, plan->chosen[dot.place], is_chosen);
      continue;
    }
    list.AddCircleFilled(dot.spot, ui.px(3.5), colour(with_alpha(theme::kSteady, 0.75)), 12);
    if (is_chosen || &dot == under) list.AddCircle(dot.spot, ui.px(7), colour(theme::kAccent), 20, ui.px(2));
  }
  name_marks(ui, list, plot, *plan, dots);
  if (!under) return;
  draw_dot_help(ui, *plan, *under);
  if (clicked) under->listed ? choose_plan(desk, under->place) : choose_plan_point(desk, under->place);
}

}  // namespace sidehill::screen

#include "render/screen/panels/panels_loader_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "render/screen/kit/caution.h"
#include "render/screen/parts/charts.h"
#include "render/text/rest/loader_cell_words.h"
#include "render/text/rest/loader_report.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/loader_tool.h"

namespace sidehill::screen {
namespace {

constexpr const char* kHeightKey = "ballast.loader_pin_height_m";
constexpr const char* kLoadKey = "ballast.loader_payload_kg";
constexpr double kLeastMapWidth = 520;  // narrower than that it also covers what is on the right [px]
constexpr double kWordsBeside = 720;    // from this width on the words stand beside the map, not below [px]

// A share of a limit: over it, close to it, or well within.
Tone tone_of_share(double used) {
  if (!(used > 0)) return Tone::unknown;
  return used > 1 ? Tone::limit : used > 0.9 ? Tone::near : Tone::steady;
}

LoaderCellMark mark_of_first(const Scene& scene, const LoaderCell& cell, const LoaderDoubt* doubt) {
  LoaderCellMark mark;
  const LoaderFirst first = first_to_give_way(cell);
  mark.word = first.cause == LoaderCause::lifts       ? "lifts"
              : first.cause == LoaderCause::goes_over ? "over"
                                                      : cause_word(first.cause);
  if (!first.slope) {
    mark.number = "never";
    mark.tone = load_allowed(cell) ? Tone::steady : Tone::limit;
    return mark;
  }
  const Interval* interval = interval_of(first, doubt);
  const double least = interval ? std::min(interval->low, *first.slope) : *first.slope;
  mark.number = doubt ? degrees(least) : "(" + degrees(least) + ")";
  const double left = least - scene.terrain.slope;
  if (left <= 0)
    mark.tone = first.cause == LoaderCause::slides ? Tone::slide : Tone::lifted;
  else if (!load_allowed(cell))
    mark.tone = Tone::limit;
  else
    mark.tone = left < theme::kNearDeg * kDegree ? Tone::near : Tone::steady;
  if (!load_allowed(cell)) mark.word += " !";
  return mark;
}

// The value of a datum as a slider would set it: whole steps in the unit shown.
double as_a_slider(std::string_view key, double file_value, double low, double high, Units units) {
  const Field* field = find_field(key);
  const double most = std::get<NumberField>(field->kind).max;
  const TypedUnit typed = typed_unit(key, units, most);
  const double step = typed_step(typed, field->slider ? field->slider->step : 0.01, units);
  return std::clamp(typed.file(std::round(typed.shown(file_value) / step) * step), low, high);
}

// The cells' places on the screen; each cell stands around its own height and load.
struct MapPlot {
  Rect rect;
  const LoaderAxes& axes;
  float cell_width() const { return rect.width / static_cast<float>(axes.loads.size()); }
  float cell_height() const { return rect.height / static_cast<float>(axes.heights.size()); }
  Rect cell(std::size_t height, std::size_t load) const {
    const float w = cell_width(), h = cell_height();
    return {rect.x + w * static_cast<float>(load), rect.y + rect.height - h * static_cast<float>(height + 1), w, h};
  }
  ImVec2 at(double height, double load) const {
    const auto along = [](const std::vector<double>& axis, double value) {
      const double span = axis.back() - axis.front();
      return span > 0 ? static_cast<float>((value - axis.front()) / span) : 0.f;
    };
    const float x0 = rect.x + cell_width() / 2, y0 = rect.y + rect.height - cell_height() / 2;
    return {x0 + along(axes.loads, load) * (rect.width - cell_width()),
            y0 - along(axes.heights, height) * (rect.height - cell_height())};
  }
  LoaderJob::Place place(ImVec2 mouse) const {  // within the axes
    const auto along = [](const std::vector<double>& axis, float part) {
      return axis.front() + (axis.back() - axis.front()) * std::clamp<double>(part, 0, 1);
    };
    const float across = rect.width - cell_width(), up = rect.height - cell_height();
    return {along(axes.heights, (rect.y + rect.height - cell_height() / 2 - mouse.y) / std::max(1.f, up)),
            along(axes.loads, (mouse.x - rect.x - cell_width() / 2) / std::max(1.f, across))};
  }
};

void set_point(Session& session, const LoaderAxes& axes, LoaderJob::Place place, Units units) {
  Scene scene = session.scene();
  const double height = as_a_slider(kHeightKey, place.height, axes.heights.front(), axes.heights.back(), units);
  const double load = as_a_slider(kLoadKey, place.load, 0, axes.loads.back(), units);
  scene.ballast.loader_pin_height = height;
  if (!has_bale(scene.ballast.bale) || load > 0) scene.ballast = with_load(scene.ballast, load);
  session.edit(std::move(scene));
}

void draw_cells(Ui& ui, const Scene& scene, const LoaderMapDrawer& drawer, const MapPlot& plot) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  for (std::size_t h = 0; h < plot.axes.heights.size(); ++h)
    for (std::size_t l = 0; l < plot.axes.loads.size(); ++l) {
      const LoaderCell* cell = drawer.map.cell(h, l);
      const Rect r = plot.cell(h, l);
      const LoaderCellMark mark = mark_of(scene, cell, drawer.map.doubt(h, l), drawer.cells, ui.units);
      const Colour fill = cell ? fill_of(mark.tone) : theme::kTrough;
      list.AddRectFilled(r.low(), r.high(), colour(with_alpha(fill, cell ? 0.34 : 0.5)));
      if (cell) draw_pattern(list, mark.tone, r, with_alpha(fill, 0.55), ui.px(11));
      const bool pointed = drawer.pointed && drawer.pointed->first == h && drawer.pointed->second == l;
      list.AddRect(r.low(), r.high(), colour(pointed ? theme::kInk : theme::kCard), 0, 0, ui.px(pointed ? 2 : 1));
      // Words on paper of their own, so that the hatching does not cross them.
      const std::array<const std::string*, 2> lines{&mark.number, &mark.word};
      const float line = ui.fonts.small->FontSize;
      const bool both = r.height >= 2 * line + ui.px(6);
      const std::size_t count = both && !mark.word.empty() ? 2 : 1;
      float y = r.middle().y - line * static_cast<float>(count) / 2;
      for (std::size_t i = 0; i < count; ++i, y += line) {
        std::string words = *lines[i];
        if (count == 1 && !mark.word.empty()) {
          const std::string more = words + " " + mark.word;
          if (size_of(ui.fonts.small, more).x <= r.width - ui.px(6)) words = more;
        }
        const float width = size_of(ui.fonts.small, words).x;
        if (words.empty() || width > r.width - ui.px(2) || line > r.height) continue;
        list.AddRectFilled({r.middle().x - width / 2 - ui.px(2), y}, {r.middle().x + width / 2 + ui.px(2), y + line},
                           colour(with_alpha(theme::kCard, 0.86)), ui.px(2));
        text_at(list, ui.fonts.small, {r.middle().x, y}, theme::kInk, words, 0.5f);
      }
    }
}

void draw_axes(Ui& ui, const Scene& scene, const MapPlot& plot) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float line = ui.fonts.small->FontSize;
  float free_from = -1e9f;
  for (std::size_t l = 0; l < plot.axes.loads.size(); ++l) {
    const std::string words = shown(Quantity::mass, plot.axes.loads[l], ui.units);
    const float x = plot.cell(0, l).middle().x, half = size_of(ui.fonts.small, words).x / 2;
    if (x - half < free_from) continue;
    free_from = x + half + ui.px(6);
    text_at(list, ui.fonts.small, {x, plot.rect.y + plot.rect.height + ui.px(2)}, theme::kInkSoft, words, 0.5f);
  }
  float free_below = 1e9f;
  for (std::size_t h = 0; h < plot.axes.heights.size(); ++h) {
    const float y = plot.cell(h, 0).middle().y;
    if (y + line / 2 > free_below) continue;
    free_below = y - line / 2;
    text_at(list, ui.fonts.small, {plot.rect.x - ui.px(6), y - line / 2}, theme::kInkSoft,
            shown(Quantity::length, plot.axes.heights[h], ui.units), 1);
  }
  const std::string across =
      capital(load_words(scene.ballast)) + " across, height of the bucket pin up. Drag the ring.";
  text_at(list, ui.fonts.small, {plot.rect.x, plot.rect.y + plot.rect.height + line + ui.px(4)}, theme::kInk,
          fitted(ui.fonts.small, across, plot.rect.width));
}

// The scene's own height and load.
void draw_point(Ui& ui, const Scene& scene, const MapPlot& plot) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 p = plot.at(scene.ballast.loader_pin_height, loader_load(scene.ballast));
  list.PushClipRect(plot.rect.low(), plot.rect.high(), true);
  const ImU32 faint = colour(with_alpha(theme::kInk, 0.35));  // the numbers below it are still read
  list.AddLine({plot.rect.x, p.y}, {p.x - ui.px(10), p.y}, faint, ui.px(1));
  list.AddLine({p.x, p.y + ui.px(10)}, {p.x, plot.rect.y + plot.rect.height}, faint, ui.px(1));
  list.AddCircle(p, ui.px(10), colour(theme::kCard), 28, ui.px(6));
  list.AddCircle(p, ui.px(10), colour(theme::kInk), 28, ui.px(3));
  list.PopClipRect();
  remember_readout(ui, "Loader map point", {p.x - ui.px(10), p.y - ui.px(10), ui.px(20), ui.px(20)});
}

// The plot with its mouse and its arrow keys.
void draw_plot(Ui& ui, Session& session, LoaderMapDrawer& drawer, Rect area) {
  const LoaderAxes& axes = drawer.map.axes();
  float names = 0;
  for (double height : axes.heights)
    names = std::max(names, size_of(ui.fonts.small, shown(Quantity::length, height, ui.units)).x);
  const float foot = 2 * ui.fonts.small->FontSize + ui.px(8), left = names + ui.px(10);
  const MapPlot plot{{area.x + left, area.y, std::max(1.f, area.width - left), std::max(1.f, area.height - foot)},
                     axes};
  drawer.plot = plot.rect;
  ImGui::SetCursorScreenPos(plot.rect.low());
  ImGui::InvisibleButton("##map", {plot.rect.width, plot.rect.height});
  remember(ui, "Loader map", plot.rect);
  const bool held = ImGui::IsItemActive(), hovered = ImGui::IsItemHovered();
  const bool focused = reach(ui, "Loader map", plot.rect);
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  drawer.pointed.reset();
  if (hovered && !held) {
    const auto column = static_cast<std::size_t>(
        std::clamp((mouse.x - plot.rect.x) / plot.cell_width(), 0.f, static_cast<float>(axes.loads.size()) - 1));
    const auto row =
        static_cast<std::size_t>(std::clamp((plot.rect.y + plot.rect.height - mouse.y) / plot.cell_height(), 0.f,
                                            static_cast<float>(axes.heights.size()) - 1));
    drawer.pointed = {row, column};
  }
  if (held) {
    set_point(session, axes, plot.place(mouse), ui.units);
  } else if (focused && ui.typing.empty()) {
    const auto pressed = [](ImGuiKey key) {
      const int index = ImGui::GetKeyIndex(key);
      return index >= 0 && ImGui::IsKeyPressed(index);
    };
    const BallastPlan& plan = session.scene().ballast;
    LoaderJob::Place place{plan.loader_pin_height, loader_load(plan)};
    const LoaderJob::Place before = place;
    const double high = (axes.heights.back() - axes.heights.front()) / 20, wide = axes.loads.back() / 20;
    if (pressed(ImGuiKey_UpArrow)) place.height += high;
    if (pressed(ImGuiKey_DownArrow)) place.height -= high;
    if (pressed(ImGuiKey_RightArrow)) place.load += wide;
    if (pressed(ImGuiKey_LeftArrow)) place.load -= wide;
    if (place.height != before.height || place.load != before.load) set_point(session, axes, place, ui.units);
  }
  draw_cells(ui, session.scene(), drawer, plot);
  draw_axes(ui, session.scene(), plot);
  draw_point(ui, session.scene(), plot);
}

void draw_cell_words(Ui& ui, const char* item, const std::string& title, const LoaderCellWords& words) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  wrapped_words(title);
  for (std::size_t i = 0; i < words.lines.size(); ++i) {
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(i < words.grave ? theme::kLifted : theme::kInk));
    wrapped_words((i < words.grave ? "! " : "") + words.lines[i]);
    ImGui::PopStyleColor();
  }
  remember_readout(ui, item,
                   {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ImGui::GetCursorScreenPos().y - corner.y});
}

std::string place_words(double height, double load, Units units) {
  return fmt::format("{}, bucket pin {} up", shown(Quantity::mass, load, units),
                     shown(Quantity::length, height, units));
}

// The present point, and the cell the mouse is over.
void draw_words(Ui& ui, const Session& session, const LoaderMapDrawer& drawer) {
  const Scene& scene = session.scene();
  const LoaderMap& map = drawer.map;
  ImGui::PushFont(ui.fonts.small);
  const std::string here = "Now: " + place_words(scene.ballast.loader_pin_height, loader_load(scene.ballast), ui.units);
  if (const LoaderCell* cell = map.present())
    draw_cell_words(ui, "Loader map: now", here, loader_cell_words(scene, *cell, map.present_doubt(), ui.units));
  else
    soft_text(ui, here + ": being worked out.", true);
  ImGui::Dummy({0, ui.px(4)});
  if (drawer.pointed) {
    const auto [row, column] = *drawer.pointed;
    const std::string there = "Pointed at: " + place_words(map.axes().heights[row], map.axes().loads[column], ui.units);
    if (const LoaderCell* cell = map.cell(row, column))
      draw_cell_words(ui, "Loader map: pointed", there,
                      loader_cell_words(scene, *cell, map.doubt(row, column), ui.units));
    else
      soft_text(ui, there + ": being worked out.", true);
  } else {
    soft_text(ui, "Point at a cell to read it.", true);
  }
  ImGui::Dummy({0, ui.px(4)});
  soft_text(ui, read_in(what_loader_tells(scene.ballast), ui.units), true);
  ImGui::PopFont();
}

const char* legend_of(LoaderCells what) {
  switch (what) {
    case LoaderCells::first:
      return "Slope at which it gives way first: the low end of its interval; in brackets while that is not known. "
             "! = load not allowed";
    case LoaderCells::counterweight:
      return "Least mass on the rear mount, in all, that keeps 20 % of the mass on the rear axle. ! = more than it "
             "takes";
    case LoaderCells::front:
      return "Share of what the front axle (above) and the front tyres (below) may carry on level ground";
    case LoaderCells::rear:
      return "On the rear axle on level ground, and its share of the mass: 20 % at least";
  }
  return "";
}

// What each hatching says, with a piece of it.
void draw_legend(Ui& ui, LoaderCells what) {
  struct Entry {
    Tone tone;
    const char* word;
  };
  static constexpr std::array<Entry, 5> kFirst{{{Tone::steady, "holds"},
                                                {Tone::near, "less than 5° left"},
                                                {Tone::limit, "not allowed"},
                                                {Tone::slide, "slides here"},
                                                {Tone::lifted, "lifts or goes over here"}}};
  static constexpr std::array<Entry, 3> kShares{
      {{Tone::steady, "within"}, {Tone::near, "close, or more than now"}, {Tone::limit, "not allowed"}}};
  const std::span<const Entry> entries =
      what == LoaderCells::first ? std::span<const Entry>(kFirst) : std::span<const Entry>(kShares);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, line = ui.fonts.small->FontSize + ui.px(3);
  float x = corner.x, y = corner.y;
  for (const Entry& entry : entries) {
    const float wide = ui.px(24) + size_of(ui.fonts.small, entry.word).x + ui.px(12);
    if (x > corner.x && x + wide > corner.x + width) x = corner.x, y += line;
    const Rect box{x, y + ui.px(2), ui.px(18), line - ui.px(5)};
    list.AddRectFilled(box.low(), box.high(), colour(with_alpha(fill_of(entry.tone), 0.34)));
    draw_pattern(list, entry.tone, box, with_alpha(fill_of(entry.tone), 0.55), ui.px(8));
    list.AddRect(box.low(), box.high(), colour(fill_of(entry.tone)));
    text_at(list, ui.fonts.small, {x + ui.px(24), y}, theme::kInk, entry.word);
    x += wide;
  }
  ImGui::SetCursorScreenPos({corner.x, y + line});
  soft_text(ui, legend_of(what), true);
}

void draw_head(Ui& ui, ViewChoices& choices, LoaderMapDrawer& drawer) {
  if (button(ui, "Close loader map", Icon::close, "Back to the picture. Keys: Escape, B") || escape_pressed())
    pull(Drawer::loader_map, choices);
  ImGui::SameLine();
  static const std::vector<std::string> kNames{"What gives way first", "Counterweight needed", "Front axle and tyres",
                                               "Rear axle"};
  int index = static_cast<int>(drawer.cells);
  if (choice(ui, "Cells show", kNames, index, "What the cells of the map say", ui.px(240)))
    drawer.cells = static_cast<LoaderCells>(index);
  const LoaderMap& map = drawer.map;
  if (map.axes().heights.empty() || !map.refusal().empty() || map.share() >= 1) return;
  ImGui::SameLine();
  soft_text(ui, fmt::format("{} {:.0f} %", map.map_is_known() ? "Intervals" : "Being worked out", 100 * map.share()));
}

}  // namespace

LoaderCellMark mark_of(const Scene& scene, const LoaderCell* cell, const LoaderDoubt* doubt, LoaderCells what,
                       Units units) {
  LoaderCellMark mark;
  if (!cell) return {"...", "", Tone::unknown};
  const Vehicle& v = scene.vehicle;
  switch (what) {
    case LoaderCells::first:
      return mark_of_first(scene, *cell, doubt);
    case LoaderCells::counterweight: {
      if (!cell->counterweight) return {"no use", "", Tone::limit};
      const bool fits = *cell->counterweight <= v.rear_mount.max_mass;
      mark.number = *cell->counterweight > 0 ? shown(Quantity::mass, cell->counterweight, units) : "none";
      if (!fits) mark.number += " !";
      mark.tone = !fits ? Tone::limit : *cell->counterweight > scene.ballast.rear_weights ? Tone::near : Tone::steady;
      if (v.front.capacity > 0 && cell->counterweight_front > v.front.capacity)
        mark.tone = Tone::limit, mark.word = "front !";
      return mark;
    }
    case LoaderCells::front: {
      const auto words = [](double used) {
        return used > 0 ? percent(used) + (used > 1 ? " !" : "") : std::string("?");
      };
      mark.number = words(cell->front_axle_used);
      mark.word = words(cell->front_used);
      mark.tone = tone_of_share(std::max(cell->front_axle_used, cell->front_used));
      if (mark.tone == Tone::steady && !(cell->front_axle_used > 0 && cell->front_used > 0)) mark.tone = Tone::unknown;
      return mark;
    }
    case LoaderCells::rear: {
      if (!(cell->rear_axle > 0)) return {"TIPS !", "", Tone::limit};
      const double part = cell->rear_axle / cell->mass;
      mark.number = shown(Quantity::mass, cell->rear_axle, units);
      mark.word = percent(part) + (part < 0.2 ? " !" : "");
      mark.tone = part < 0.2 ? Tone::limit : part < 0.25 ? Tone::near : Tone::steady;
      return mark;
    }
  }
  return mark;
}

void draw_loader_map(Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
  if (!choices.loader_map) choices.loader_map = std::make_shared<LoaderMapDrawer>();
  LoaderMapDrawer& drawer = *choices.loader_map;
  Session& session = desk.edited();
  const Rect& view = layout.view;
  const float right = view.width < ui.px(kLeastMapWidth) && layout.right.width > 0 ? layout.right.x + layout.right.width
                                                                                   : view.x + view.width;
  // What the band above says while the point is dragged must not move the map under the mouse.
  if (!(drawer.top > 0) || !ImGui::GetIO().MouseDown[0]) drawer.top = view.y + ui.px(8);
  const float top = drawer.top;
  ImGui::SetNextWindowPos({view.x + ui.px(8), top});
  ImGui::SetNextWindowSize(
      {std::max(1.f, right - view.x - ui.px(16)), std::max(1.f, layout.caution.y - top - ui.px(8))});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.f);
  ImGui::Begin("Loader map", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
  const bool hides = hides_numbers(desk, choices);
  if (!hides && session.refusal().empty())
    drawer.map.ask(session.scene(), 2 * session.edits() + (desk.compares() && desk.edits_other ? 1 : 0));
  else
    drawer.map.forget();
  drawer.map.advance();
  draw_head(ui, choices, drawer);
  if (hides) {
    soft_text(ui, "The map stands here once the class has guessed.", true);
  } else if (!session.refusal().empty()) {
    wrapped_words("This machine cannot exist: " + session.refusal());
  } else if (!session.scene().vehicle.loader.fitted) {
    soft_text(ui, "This machine has no loader. Open one that has, or say so with Machine.", true);
  } else if (!drawer.map.refusal().empty()) {
    wrapped_words("No map: " + drawer.map.refusal());
  } else {
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const bool beside = room.x >= ui.px(kWordsBeside);
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const float wide = beside ? room.x * 0.62f : room.x;
    const float legend = ui.px(66), high = (beside ? room.y : std::max(room.y * 0.52f, ui.px(180))) - legend;
    draw_plot(ui, session, drawer, {corner.x, corner.y, wide, std::max(ui.px(90), high)});
    ImGui::SetCursorScreenPos({corner.x, corner.y + std::max(ui.px(90), high) + ui.px(2)});
    ImGui::BeginChild("##legend", {wide, legend - ui.px(4)}, false, ImGuiWindowFlags_NoNav);
    draw_legend(ui, drawer.cells);
    ImGui::EndChild();
    if (beside) ImGui::SetCursorScreenPos({corner.x + wide + ui.px(12), corner.y});
    ImGui::BeginChild("##words", {0, 0}, false, ImGuiWindowFlags_NoNav);
    draw_words(ui, session, drawer);
    ImGui::EndChild();
  }
  ImGui::End();
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
}

}  // namespace sidehill::screen

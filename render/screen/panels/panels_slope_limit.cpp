#include "render/screen/panels/panels_slope_limit.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "render/screen/kit/caution.h"
#include "render/text/words/columns.h"
#include "render/text/words/words.h"
#include "sim/scene/scene_fields.h"

namespace sidehill::screen {
namespace {

constexpr const char* kSpeed = "programme.speed_kmh";
constexpr const char* kHeight = "terrain.feature[0].height_m";

// One number of an axis, in the unit shown; `value` is in the file's.
void number_field(Ui& ui, const std::string& label, const TypedUnit& typed, double& value) {
  double now = typed.shown(value);
  ImGui::PushID(label.c_str());
  ImGui::SetNextItemWidth(ui.px(64));
  before_field(ui, label);
  ImGui::InputDouble("##value", &now, 0, 0, "%.4g");
  after_field(ui, label);
  if (ImGui::IsItemDeactivatedAfterEdit() && std::isfinite(now)) value = typed.file(now);
  ImGui::PopID();
}

void draw_axis(Ui& ui, SlopeLimitDrawer::Axis& axis, const char* label, const std::string& name) {
  const TypedUnit typed = typed_unit(axis.key.key, ui.units);
  tick(ui, label, axis.on, "A column or row of the table for each value");
  if (!axis.on) return;
  ImGui::Indent(ui.px(24));
  const auto word = [&](const char* text) {
    ImGui::AlignTextToFramePadding();
    soft_text(ui, text);
    ImGui::SameLine();
  };
  word("from");
  number_field(ui, name + " from", typed, axis.key.from);
  ImGui::SameLine();
  word("to");
  number_field(ui, name + " to", typed, axis.key.to);
  ImGui::SameLine();
  soft_text(ui, typed.unit + ", values:");
  ImGui::SameLine();
  double steps = axis.key.steps;
  number_field(ui, name + " values", TypedUnit{}, steps);
  axis.key.steps = static_cast<int>(std::clamp(std::round(steps), 2.0, 50.0));
  ImGui::Unindent(ui.px(24));
}

std::string minutes(double seconds) {
  return seconds < 90 ? fmt::format("about {:.0f} s", std::max(1.0, seconds))
                      : fmt::format("about {:.0f} min", seconds / 60);
}

void draw_progress(Ui& ui, const SlopeSearch& search) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const Rect bar{corner.x, corner.y, ImGui::GetContentRegionAvail().x, ui.px(16)};
  const float part = static_cast<float>(search.share());
  list.AddRectFilled(bar.low(), bar.high(), colour(theme::kTrough), ui.px(4));
  list.AddRectFilled(bar.low(), {bar.x + bar.width * part, bar.y + bar.height}, colour(theme::kAccent), ui.px(4));
  list.AddRect(bar.low(), bar.high(), colour(theme::kRule), ui.px(4));
  remember_readout(ui, "Slope limit progress", bar);
  ImGui::Dummy({bar.width, bar.height + ui.px(2)});
  const std::optional<double> left = search.time_left();
  soft_text(ui, search.stopping() ? std::string("Stopping")
                                  : fmt::format("{:.0f} % of the runs are done, time left: {}", 100 * search.share(),
                                                left ? minutes(*left) : "not known yet"));
}

// The verb's text: rows of a table in columns of equal pitch, sentences broken over as many lines as they need.
void draw_table(Ui& ui, const std::string& text) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImFont* font = ui.fonts.small;
  const float pitch = size_of(font, "0").x * 1.02f, line_height = font->FontSize + ui.px(3);
  std::string sentence;
  const auto say = [&] {
    if (sentence.empty()) return;
    ImGui::PushStyleColor(ImGuiCol_Text,
                          vector_colour(sentence.find("LIMIT") != sentence.npos ? theme::kLifted : theme::kInk));
    wrapped_words(sentence);
    ImGui::PopStyleColor();
    sentence.clear();
  };
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string line = text.substr(begin, end - begin);
    begin = end + 1;
    const std::size_t first = line.find_first_not_of(' ');
    const bool row = first != line.npos && (line.find("  ", first) != line.npos || first > 6);
    if (first == line.npos) {
      say();
      ImGui::Dummy({0, ui.px(4)});
      continue;
    }
    if (!row) {  // a paragraph's next line goes on with it
      const bool goes_on = !sentence.empty() && line.starts_with("    ");
      if (!goes_on) say();
      sentence += (sentence.empty() ? "" : " ") + line.substr(first);
      continue;
    }
    say();
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    std::size_t column = 0;  // of a terminal
    for (std::size_t i = 0; i < line.size();) {
      if (line[i] == ' ') {
        ++i, ++column;
        continue;
      }
      const std::size_t stop = std::min(line.find("  ", i), line.size());
      const std::string word = line.substr(i, stop - i);
      const std::size_t wide = columns_of(word);
      const bool number = std::isdigit(static_cast<unsigned char>(word[0])) != 0 || word[0] == '~' || word == "none" ||
                          word == "-" || word.starts_with("over ");
      const float x = corner.x + pitch * static_cast<float>(number ? column + wide : column);
      text_at(list, font, {x, corner.y}, theme::kInk, word, number ? 1.f : 0.f);
      column += wide;
      i = stop;
    }
    ImGui::Dummy({pitch * static_cast<float>(column), line_height});
  }
  say();
}

void draw_found(Ui& ui, const SlopeSearch& search) {
  if (search.working()) return draw_progress(ui, search);
  if (!search.refusal().empty()) {
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(theme::kLifted));
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    wrapped_words("! " + search.refusal());
    remember_readout(ui, "Slope limit refusal", {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ui.px(20)});
    ImGui::PopStyleColor();
    return;
  }
  if (search.was_stopped_by_edit())
    soft_text(ui, "The scene was changed, so the search of the older scene was stopped. Search again.", true);
  if (!search.asked()) return;
  if (!search.is_of_scene()) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    wrapped_words("The table that was here is of an older scene. Search again.");
    remember_readout(ui, "Slope limit is old", {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ui.px(20)});
    return;
  }
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  ImGui::PushFont(ui.fonts.small);
  draw_table(ui, slope_limit_table(slope_limit_json(*search.asked(), search.cells()), ui.units));
  ImGui::PopFont();
  remember_readout(ui, "Slope limit table",
                   {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ImGui::GetCursorScreenPos().y - corner.y});
}

}  // namespace

std::array<SlopeLimitDrawer::Axis, 2> usual_axes(const Scene& scene) {
  std::array<SlopeLimitDrawer::Axis, 2> axes;
  axes[0] = {true, {kSpeed, 2, 10, 5}};
  axes[1] = {false, {kHeight, 0.1, 0.3, 3}};
  if (!scene.terrain.features.empty()) {
    const double height = scene.terrain.features.front().height;
    axes[1].key.from = std::round(50 * height) / 100, axes[1].key.to = std::round(150 * height) / 100;
  }
  return axes;
}

SlopeLimitRequest asked_of(const SlopeLimitDrawer& drawer, const Scene& scene) {
  SlopeLimitRequest request;
  request.scene = scene;
  request.ask.bearable = drawer.no_roll ? Bearable::no_roll : Bearable::no_lift;
  for (const SlopeLimitDrawer::Axis& axis : drawer.axes)
    if (axis.on && (axis.key.key != kHeight || !scene.terrain.features.empty())) request.keys.push_back(axis.key);
  return request;
}

void draw_slope_limit(Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
  if (!choices.slope_limit) choices.slope_limit = std::make_shared<SlopeLimitDrawer>();
  SlopeLimitDrawer& drawer = *choices.slope_limit;
  const Session& session = desk.edited();
  const Scene& scene = session.scene();
  const Rect& view = layout.view;
  const float top = view.y + ui.px(8), room = view.width - ui.px(16);
  ImGui::SetNextWindowPos({view.x + ui.px(8), top});
  ImGui::SetNextWindowSize(
      {std::max(1.f, std::min(room, ui.px(860))), std::max(1.f, layout.caution.y - top - ui.px(8))});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.f);
  ImGui::Begin("Slope limit", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
  if (button(ui, "Close slope limit", Icon::close, "Back to the picture. Keys: Escape, Z") || escape_pressed())
    pull(Drawer::slope_limit, choices);
  const std::string first = scene.terrain.features.empty() ? std::string() : scene.terrain.features.front().name;
  if (drawer.axes[0].key.key.empty() || drawer.filled_for != first) {
    drawer.axes = usual_axes(scene);
    drawer.filled_for = first;
  }
  drawer.search.mind(scene, 2 * session.edits() + (desk.compares() && desk.edits_other ? 1 : 0));
  drawer.search.advance();
  if (hides_numbers(desk, choices)) {
    soft_text(ui, "The table stands here once the class has guessed.", true);
  } else {
    soft_text(
        ui,
        "The steepest slope on which this scene's run ends well. Each value of the table is found by some 25 runs "
        "on steeper and steeper ground.",
        true);
    int what = drawer.no_roll ? 1 : 0;
    if (choice(ui, "Slope limit: what must not happen", {"No wheel may lift", "It must not go over"}, what,
               "What ends a run badly", ui.px(260)))
      drawer.no_roll = what == 1;
    draw_axis(ui, drawer.axes[0], "For several speeds", "Speed");
    if (!scene.terrain.features.empty())
      draw_axis(ui, drawer.axes[1], "For several heights of what lies in the way", "Height");
    ImGui::Dummy({0, ui.px(2)});
    if (!drawer.search.working()) {
      if (button(ui, "Search slopes", Icon::none, "Runs it in the background; the window stays usable", true))
        drawer.search.begin(asked_of(drawer, scene));
    } else if (button(ui, "Stop search", Icon::none, "Ends the search; what was found so far is thrown away")) {
      drawer.search.stop();
    }
    ImGui::Dummy({0, ui.px(4)});
    draw_found(ui, drawer.search);
  }
  ImGui::End();
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
}

}  // namespace sidehill::screen

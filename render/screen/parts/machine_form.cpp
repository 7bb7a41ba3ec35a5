#include "render/screen/parts/machine_form.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <cstring>

#include "render/screen/kit/caution.h"
#include "render/screen/parts/machine_sketch.h"
#include "render/screen/parts/machine_state.h"
#include "render/text/machine/machine_report.h"
#include "sim/base/errors.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

constexpr double kLabelWidth = 206, kFieldWidth = 88, kUnitWidth = 38;  // [px at scale 1]
constexpr double kSketchFrom = 800;  // width of the window from which a drawing stands beside the rows
constexpr double kSketchWidth = 320;
constexpr double kBesideFrom = 500;  // width of the rows from which what is known stands beside, not below

void put(std::array<char, 128>& buffer, std::string_view text) {
  const std::size_t n = std::min(text.size(), buffer.size() - 1);
  std::memcpy(buffer.data(), text.data(), n);
  buffer[n] = '\0';
}

// Every number as it is shown in the chosen units; what is no number, or none that is allowed, as it was typed.
void write_rows(MachineForm& form) {
  for (const EntryField& field : entry_fields()) {
    if (form.mistakes.contains(field.key)) continue;
    const auto& said = form.entry.*field.at;
    const EntryUnit unit = entry_unit(field, form.units);
    put(form.typed[std::string(field.key)],
        said ? trimmed_number(*said / unit.to_si, unit.digits + (is_metric(form.units) ? 1 : 0)) : "");
  }
  for (const char* key : {"name", "front_tyre", "rear_tyre"})
    if (!form.mistakes.contains(key)) put(form.typed[key], entry_word(form.entry, key));
}

void load_class(MachineForm& form) {
  form.like = {};
  form.mistakes.erase("class");
  try {
    form.like = load_vehicle(form.entry.machine_class, ".");
  } catch (const InputError& error) {
    form.mistakes["class"] = error.what();
  }
}

void make_again(MachineForm& form) {
  form.made = make_machine(form.entry, form.like);
  for (const auto& [key, mistake] : form.mistakes) {
    form.made.checks.insert(form.made.checks.begin(), {key, Severity::grave, mistake});
    form.made.usable = false;
  }
  form.waits = true;
}

void answer_again(MachineForm& form) {
  form.waits = false;
  form.answer.reset();
  if (!form.made.usable) return;
  try {
    form.answer = answer_of(form.made);
  } catch (const InputError& error) {
    form.made.usable = false;
    form.made.checks.insert(form.made.checks.begin(), {"", Severity::grave, error.what()});
  }
}

// What stands in a number's field: a number, nothing, or a mistake.
void read_number(MachineForm& form, const EntryField& field) {
  std::string text = form.typed[std::string(field.key)].data();
  std::ranges::replace(text, ',', '.');
  auto& said = form.entry.*field.at;
  form.mistakes.erase(std::string(field.key));
  const std::size_t first = text.find_first_not_of(' ');
  if (first == text.npos) return said.reset();
  char* end = nullptr;
  const double value = std::strtod(text.c_str(), &end);
  const EntryUnit unit = entry_unit(field, form.units);
  while (end && *end == ' ') ++end;
  const std::string range =
      fmt::format("allowed {} to {} {}", trimmed_number(field.min * field.to_si / unit.to_si, unit.digits),
                  trimmed_number(field.max * field.to_si / unit.to_si, unit.digits), unit.name);
  said.reset();
  // What reads as words (inf, nan) or in base sixteen is no number to a person.
  const bool plain = text.find_first_not_of("0123456789.+-eE ") == text.npos;
  if (!plain || !end || *end != '\0' || !std::isfinite(value)) {
    form.mistakes[std::string(field.key)] = "a number belongs here, " + range;
    return;
  }
  const double si = value * unit.to_si, slack = 1e-6 * std::abs(si);
  if (si < field.min * field.to_si - slack || si > field.max * field.to_si + slack)
    form.mistakes[std::string(field.key)] = "out of range, " + range;
  else
    said = std::clamp(si, field.min * field.to_si, field.max * field.to_si);
}

struct Row {
  Ui& ui;
  MachineForm& form;
  float x, y, width;  // [px]
  bool beside;

  // Label at the left; returns where the field goes.
  void label(std::string_view text) const {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    text_at(list, ui.fonts.text, {x, y + ui.px(5)}, theme::kInk,
            fitted(ui.fonts.text, text, ui.px(kLabelWidth) - ui.px(8)));
    ImGui::SetCursorScreenPos({x + ui.px(kLabelWidth), y});
  }
  // State beside or below; leaves the cursor under the row.
  void state(std::string_view key, std::string_view name, float from) const {
    const RowState state = state_of(form, key);
    const float left = beside ? from : x + ui.px(12), top = beside ? y + ui.px(5) : y + ui.px(29);
    const float icon = ui.px(13), text_x = left + icon + ui.px(7), room = std::max(ui.px(60), x + width - text_x);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    draw_state_mark(list, state.mark, {left + icon / 2, top + ui.px(9)}, icon, ui.px(1));
    const std::string lines = in_lines(ui.fonts.small, state.words, room);
    const ImVec2 size = size_of(ui.fonts.small, lines);
    const Colour ink = state.mark == StateMark::grave || state.mark == StateMark::look ? theme::kInk : theme::kInkSoft;
    text_at(list, ui.fonts.small, {text_x, top + ui.px(1)}, ink, lines);
    remember_readout(ui, std::string(name) + " state", {left, top, text_x - left + size.x, size.y});
    const float bottom = std::max(y + ui.px(27), top + size.y + ui.px(3));
    ImGui::SetCursorScreenPos({x, bottom});
    ImGui::Dummy({1, 0});
    if (ImGui::IsMouseHoveringRect({x, y}, {x + width, bottom}) && ImGui::IsWindowHovered() &&
        (ImGui::GetIO().MouseDelta.x != 0 || ImGui::GetIO().MouseDelta.y != 0))
      form.looked_at = key;
  }
};

Row next_row(Ui& ui, MachineForm& form) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  return {ui, form, at.x, at.y, width, width >= ui.px(kBesideFrom)};
}

// A field to type into; true if its text changed.
bool field(const Row& row, std::string_view key, std::string_view name, double width) {
  ImGui::PushID(key.data(), key.data() + key.size());
  ImGui::SetNextItemWidth(row.ui.px(width));
  const bool mistake = row.form.mistakes.contains(key);
  ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, row.ui.px(mistake ? 2 : 1));
  ImGui::PushStyleColor(ImGuiCol_Border, vector_colour(mistake ? theme::kLifted : theme::kRule));
  auto& buffer = row.form.typed[std::string(key)];
  before_field(row.ui, name, true);
  const bool changed = ImGui::InputText("##field", buffer.data(), buffer.size(), ImGuiInputTextFlags_AutoSelectAll);
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
  after_field(row.ui, name);
  if (ImGui::IsItemActivated()) row.form.looked_at = key;
  if (ImGui::IsItemActive()) {
    row.form.active_row = key;
    // A row reached by the Tab key may lie outside what is seen; one that is clicked is in sight and stays there.
    if (ImGui::IsItemActivated() && !ImGui::GetIO().MouseDown[0]) ImGui::SetScrollHereY(0.5f);
  }
  ImGui::PopID();
  return changed;
}

void number_row(Ui& ui, MachineForm& form, const EntryField& entry_field) {
  const Row row = next_row(ui, form);
  row.label(entry_field.label);
  if (field(row, entry_field.key, entry_field.label, kFieldWidth)) {
    read_number(form, entry_field);
    make_again(form);
    form.changed_row = entry_field.key;
  }
  const float from = row.x + ui.px(kLabelWidth + kFieldWidth + 7);
  text_at(*ImGui::GetWindowDrawList(), ui.fonts.small, {from, row.y + ui.px(6)}, theme::kInkSoft,
          entry_unit(entry_field, form.units).name);
  row.state(entry_field.key, entry_field.label, from + ui.px(kUnitWidth));
}

void word_row(Ui& ui, MachineForm& form, const char* key, const char* label) {
  const Row row = next_row(ui, form);
  row.label(label);
  if (field(row, key, label, kFieldWidth + kUnitWidth + 30)) {
    form.mistakes.erase(key);
    if (!set_entry_word(form.entry, key, form.typed[key].data()))
      form.mistakes[key] = "too long, allowed up to 120 letters";
    make_again(form);
    form.changed_row = key;
  }
  row.state(key, label, row.x + ui.px(kLabelWidth + kFieldWidth + kUnitWidth + 37));
}

// A choice whose first word leaves it to the class.
void choice_row(Ui& ui, MachineForm& form, const char* key, const char* label, const std::vector<std::string>& names,
                const std::vector<std::string>& values) {
  const Row row = next_row(ui, form);
  row.label(label);
  ImGui::SetCursorScreenPos({row.x + ui.px(kLabelWidth), row.y + ui.px(5)});
  const std::string now = entry_word(form.entry, key);
  int index = static_cast<int>(std::ranges::find(values, now) - values.begin());
  if (index >= static_cast<int>(values.size())) index = 0;
  if (choice(ui, label, names, index, "", ui.px(kFieldWidth + kUnitWidth + 60))) {
    set_entry_word(form.entry, key, values[static_cast<std::size_t>(index)]);
    form.looked_at = key;
    make_again(form);
  }
  row.state(key, label, row.x + ui.px(kLabelWidth + kFieldWidth + kUnitWidth + 67));
}

void group_rows(Ui& ui, MachineForm& form, EntryGroup group) {
  for (const EntryField& entry_field : entry_fields())
    if (entry_field.group == group) number_row(ui, form, entry_field);
}

void all_rows(Ui& ui, MachineForm& form) {
  section(ui, "From its plate");
  word_row(ui, form, "name", "What you call it");
  choice_row(ui, form, "front_drive", "Driven front axle", {"as its class", "no", "yes"}, {"", "no", "yes"});
  group_rows(ui, form, EntryGroup::plate);
  section(ui, "From the weighbridge");
  soft_text(ui, "Level, bucket empty and knee-high, nothing on the rear linkage. Say what was on it.", true);
  group_rows(ui, form, EntryGroup::weighbridge);
  if (button(ui, "Weigh it step by step", Icon::none,
             "With a drawing, for the centre of gravity of the scene's machine: use this machine first"))
    form.to_weigh = true;
  section(ui, "With a tape measure");
  soft_text(ui, "On level ground, engine off, brake on, bucket down. Never under a raised bucket or axle.", true);
  choice_row(ui, form, "track_measured", "Tracks were read", {"between tyre middles", "over the outside"},
             {"between_middles", "over_outside"});
  choice_row(ui, form, "frame", "Frame", {"as its class", "none", "two-post frame", "cab"},
             {"", "none", "two_post", "cab"});
  group_rows(ui, form, EntryGroup::tape);
  section(ui, "Loader");
  choice_row(ui, form, "loader", "Front loader", {"as its class", "none", "fitted"}, {"", "no", "yes"});
  if (form.entry.loader.value_or(form.like.loader.fitted)) group_rows(ui, form, EntryGroup::loader);
  section(ui, "Tyres");
  word_row(ui, form, "front_tyre", "Front tyre size");
  word_row(ui, form, "rear_tyre", "Rear tyre size");
  group_rows(ui, form, EntryGroup::tyres);
  ImGui::Dummy({1, ui.px(8)});
}

void header(Ui& ui, MachineForm& form, Rect area) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  text_at(list, ui.fonts.heading, {area.x + ui.px(16), area.y + ui.px(10)}, theme::kInk, "Your machine");
  const float x = area.x + ui.px(16), y = area.y + ui.px(38);
  text_at(list, ui.fonts.text, {x, y}, theme::kInkSoft, "Most like");
  const float after = size_of(ui.fonts.text, "Most like ").x + ui.px(4);
  ImGui::SetCursorScreenPos({x + after, y});
  int index =
      static_cast<int>(std::ranges::find(form.class_names, form.entry.machine_class) - form.class_names.begin());
  std::vector<std::string> labels = form.class_labels;
  if (index >= static_cast<int>(labels.size())) labels.push_back(form.entry.machine_class);
  if (choice(ui, "Class", labels, index, "What you do not know is taken from this class, grown to your machine's size.",
             area.width - after - ui.px(40))) {
    if (index < static_cast<int>(form.class_names.size()))
      form.entry.machine_class = form.class_names[static_cast<std::size_t>(index)];
    load_class(form);
    make_again(form);
  }
}

void sketch_side(Ui& ui, MachineForm& form, Rect area) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(area.low(), area.high(), colour(theme::kCard), ui.px(6));
  list.AddRect(area.low(), area.high(), colour(theme::kRule), ui.px(6), 0, ui.px(1));
  const float pad = ui.px(12), text_height = std::min(ui.px(118), 0.42f * area.height);
  const Vehicle& shown = form.made.usable ? form.made.vehicle : form.like;
  draw_machine_sketch(ui, {area.x + pad, area.y + pad, area.width - 2 * pad, area.height - 2 * pad - text_height},
                      shown, form.looked_at, form.entry.track_reading == TrackReading::over_outside,
                      length_words(form, form.looked_at), typed_notes(form));
  const float y = area.y + area.height - text_height - pad / 2;
  text_at(list, ui.fonts.text, {area.x + pad, y}, theme::kInk,
          fitted(ui.fonts.text, label_of(form.looked_at), area.width - 2 * pad));
  text_at(list, ui.fonts.small, {area.x + pad, y + ui.px(22)}, theme::kInkSoft,
          in_lines(ui.fonts.small, how_to(form.looked_at), area.width - 2 * pad));
  remember_readout(ui, "How to measure", area);
}

// What the form says of the machine as a whole, each on as many lines as it needs.
struct FootLine {
  const char* item;
  const ImFont* font;
  Colour ink;
  std::string text;
};

std::vector<FootLine> foot_lines(const Ui& ui, const MachineForm& form) {
  std::vector<FootLine> lines;
  const std::string grave = first_grave_words(form);
  if (!grave.empty())
    lines.push_back({"Answer", ui.fonts.text, theme::kLifted, "No machine yet. " + grave});
  else if (form.waits)
    lines.push_back(
        {"Answer", ui.fonts.text, theme::kInkSoft, "First wheel lifts: shown as soon as you leave the row"});
  else if (form.answer)
    lines.push_back({"Answer", ui.fonts.text, theme::kInk,
                     fmt::format("Across an even slope a wheel lifts at {}", lift_off_words(*form.answer))});
  else
    lines.push_back({"Answer", ui.fonts.text, theme::kInkSoft, " "});
  lines.push_back({"Machine caution", ui.fonts.small, theme::kInkSoft,
                   "No slope is safe: frame up, belt on, load low, slow; the maker's limits first. At rest, even "
                   "ground, tyres on air."});
  if (!form.message.empty())
    lines.push_back({"Message", ui.fonts.small, theme::kInk, form.message});
  else if (grave.empty() && form.answer && !form.waits && !form.answer->next.empty())
    lines.push_back(
        {"Measure next", ui.fonts.small, theme::kAccent, "Measure next: " + form.answer->next.front().sentence});
  else
    lines.push_back({"", ui.fonts.small, theme::kInk, " "});  // room kept, so that nothing jumps while typing
  return lines;
}

ImVec2 wrapped_size(const FootLine& line, float width) {
  return size_of(line.font, in_lines(line.font, line.text, width));
}

float height_of(const Ui& ui, const std::vector<FootLine>& lines, float width) {
  float height = ui.px(7);
  for (const FootLine& line : lines) height += wrapped_size(line, width).y + ui.px(3);
  return height;
}

void draw_lines(Ui& ui, MachineForm& form, const std::vector<FootLine>& lines, ImVec2 place, float width) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  float y = place.y + ui.px(7);
  for (const FootLine& line : lines) {
    const ImVec2 size = wrapped_size(line, width);
    text_at(list, line.font, {place.x, y}, line.ink, in_lines(line.font, line.text, width));
    const Rect rect{place.x, y, size.x, size.y};
    if (std::string_view(line.item) == "Measure next") {
      ImGui::SetCursorScreenPos(rect.low());
      bool pressed = ImGui::InvisibleButton("##next", {std::max(1.f, size.x), size.y + ui.px(2)});
      remember(ui, line.item, rect);
      if (reach(ui, line.item, rect) && ui.enter) pressed = true;
      if (pressed) form.looked_at = form.answer->next.front().entry_key;
      tooltip(ui, other_measures(form));
    } else if (*line.item) {
      remember_readout(ui, line.item, rect);
    }
    y += size.y + ui.px(3);
  }
}

constexpr double kButtonsHeight = 44;  // [px at scale 1]

MachineRequest foot_buttons(Ui& ui, MachineForm& form, Rect area) {
  const float x = area.x + ui.px(16), width = area.width - ui.px(32);
  MachineRequest request = MachineRequest::none;
  ImGui::SetCursorScreenPos({x, area.y + area.height - ui.px(38)});
  if (button(ui, "Use this machine", Icon::none, "Puts it into the scene in place of the machine there.",
             form.made.usable, 0, form.made.usable))
    request = MachineRequest::use;
  ImGui::SameLine();
  if (button(ui, "Save machine file", Icon::none,
             "A text file with every number and where it comes from: " + machine_file_name(form), false, 0,
             form.made.usable))
    request = MachineRequest::save;
  ImGui::SameLine();
  if (button(ui, "Cancel", Icon::none, "Leaves the scene as it is (Esc).")) request = MachineRequest::cancel;
  const ImVec2 after = ImGui::GetItemRectMax();
  const float name_x = after.x + ui.px(18), name_width = std::min(ui.px(230), x + width - name_x);
  if (name_width > ui.px(110)) {
    ImGui::SetCursorScreenPos({name_x, area.y + area.height - ui.px(36)});
    ImGui::SetNextItemWidth(name_width);
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, ui.px(1));
    before_field(ui, "File name", true);
    ImGui::InputTextWithHint("##file", machine_file_name(form).c_str(), form.file.data(), form.file.size());
    ImGui::PopStyleVar();
    if (ImGui::IsItemActive()) form.active_row = "file";
    after_field(ui, "File name");
  }
  return request;
}

}  // namespace

MachineForm open_machine_form(const MachineEntry& entry, Units units) {
  MachineForm form;
  form.entry = entry;
  form.units = units;
  for (const auto& file : vehicle_files()) {
    const std::string name = file.stem().string();
    std::string label = name;
    try {
      label = load_vehicle(name, ".").name;
    } catch (const InputError&) {
      continue;  // no class to take anything from
    }
    form.class_names.push_back(name);
    form.class_labels.push_back(label);
  }
  load_class(form);
  write_rows(form);
  make_again(form);
  answer_again(form);
  return form;
}

MachineRequest draw_machine_form(Ui& ui, MachineForm& form, Rect area) {
  ImGui::SetNextWindowPos(area.low());
  ImGui::SetNextWindowSize({area.width, area.height});
  ImGui::Begin("Your machine", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoScrollWithMouse | ImGuiWindowFlags_NoNav);
  ui.order.clear();  // it covers everything else: Tab stays in it
  if (form.units != ui.units) {
    form.units = ui.units;
    write_rows(form);
    for (const EntryField& field : entry_fields())
      if (form.mistakes.contains(field.key)) read_number(form, field);  // its range is said in other units
    make_again(form);
  }
  header(ui, form, area);
  const float top = ui.px(68), room = area.width - ui.px(32), buttons = ui.px(kButtonsHeight);
  std::vector<FootLine> words = foot_lines(ui, form);
  // In a low window with large letters the words stand above the rows and are scrolled with them.
  const bool low = area.height - top - buttons - height_of(ui, words, room) < 0.3f * area.height;
  const float foot_height = buttons + (low ? 0 : height_of(ui, words, room));
  const bool sketch = area.width >= ui.px(kSketchFrom);
  const float side = sketch ? ui.px(kSketchWidth) : 0, gap = ui.px(16);
  const bool was_typing = !form.active_row.empty();  // Escape leaves a field before it leaves the form
  form.active_row.clear();
  ImGui::SetCursorScreenPos({area.x, area.y + top});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(gap, ui.px(2)));
  ImGui::BeginChild("##rows",
                    {area.width - (sketch ? side + gap : 0), std::max(ui.px(20), area.height - top - foot_height)},
                    false, ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NoNav);
  if (form.to_top) ImGui::SetScrollY(0), form.to_top = false;
  if (low) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float wide = ImGui::GetContentRegionAvail().x;
    draw_lines(ui, form, words, at, wide);
    ImGui::SetCursorScreenPos({at.x, at.y + height_of(ui, words, wide)});
    ImGui::Dummy({1, 0});
  }
  all_rows(ui, form);
  ImGui::EndChild();
  ImGui::PopStyleVar();
  if (form.waits && (form.active_row.empty() || form.active_row != form.changed_row)) {
    answer_again(form);
    words = foot_lines(ui, form);
  }
  if (sketch)
    sketch_side(ui, form,
                {area.x + area.width - side - gap, area.y + top, side, area.height - top - foot_height - ui.px(8)});
  const Rect foot{area.x, area.y + area.height - foot_height, area.width, foot_height};
  ImGui::GetWindowDrawList()->AddLine(foot.low(), {foot.x + foot.width, foot.y}, colour(theme::kRule), ui.px(1));
  if (!low) draw_lines(ui, form, words, {foot.x + ui.px(16), foot.y}, room);
  MachineRequest request = foot_buttons(ui, form, foot);
  const int escape = ImGui::GetKeyIndex(ImGuiKey_Escape);
  const bool in_popup = ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
  if (!was_typing && form.active_row.empty() && !ImGui::IsAnyItemActive() && !in_popup &&
      ImGui::IsKeyPressed(escape, false))
    request = MachineRequest::cancel;
  ImGui::End();
  return request;
}

std::string row_words(const MachineForm& form, std::string_view entry_key) { return state_of(form, entry_key).words; }

std::string machine_file_name(const MachineForm& form) {
  std::string name = form.file.data();
  if (name.empty()) {
    for (const char c : form.entry.name.empty() ? std::string("my machine") : form.entry.name)
      name += std::isalnum(static_cast<unsigned char>(c))
                  ? static_cast<char>(std::tolower(static_cast<unsigned char>(c)))
                  : '_';
  }
  return name.ends_with(".toml") ? name : name + ".toml";
}

}  // namespace sidehill::screen

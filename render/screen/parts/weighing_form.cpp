#include "render/screen/parts/weighing_form.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <span>
#include <utility>
#include <vector>

#include "render/screen/kit/caution.h"
#include "render/screen/parts/weighing_sketch.h"
#include "render/text/machine/weighing_report.h"
#include "render/text/words/words.h"
#include "sim/base/errors.h"
#include "sim/own_machine/weighed_machine.h"
#include "sim/scene/data_files.h"

namespace sidehill::screen {
namespace {

constexpr double kDrawingFrom = 820;  // width of the window from which the drawing stands beside the rows [px]
constexpr double kRowsWidth = 400;
constexpr const char* kSheetName = "weighing";

struct WeighingRow {
  std::string_view key, label;
};
constexpr std::array kMeasured{WeighingRow{"wheelbase_m", "Wheelbase"},
                               WeighingRow{"front_radius_m", "Front wheel centre up"},
                               WeighingRow{"rear_radius_m", "Rear wheel centre up"},
                               WeighingRow{"front_track_m", "Front track"},
                               WeighingRow{"rear_track_m", "Rear track"},
                               WeighingRow{"front_liquid_kg", "Liquid, both front tyres"},
                               WeighingRow{"front_liquid_depth_m", "Its middle below the wheel"},
                               WeighingRow{"rear_liquid_kg", "Liquid, both rear tyres"},
                               WeighingRow{"rear_liquid_depth_m", "Its middle below wheel, rear"}};
constexpr std::array kWheels4{
    WeighingRow{"front_left_kg", "Front left wheel"}, WeighingRow{"front_right_kg", "Front right wheel"},
    WeighingRow{"rear_left_kg", "Rear left wheel"}, WeighingRow{"rear_right_kg", "Rear right wheel"}};
constexpr std::array kAxles2{WeighingRow{"front_kg", "Front axle"}, WeighingRow{"rear_kg", "Rear axle"}};
constexpr std::array kRaisedFront{WeighingRow{"raise_front_m", "Front wheel centres rose by"},
                                  WeighingRow{"raised_rear_kg", "Rear axle, then"},
                                  WeighingRow{"raised_front_kg", "Front axle, then"},
                                  WeighingRow{"raised_standing_radius_m", "Rear wheel centre up, then"}};
constexpr std::array kRaisedRear{WeighingRow{"raise_rear_m", "Rear wheel centres rose by"},
                                 WeighingRow{"raised_front_kg", "Front axle, then "},
                                 WeighingRow{"raised_rear_kg", "Rear axle, then "},
                                 WeighingRow{"raised_standing_radius_m", "Front wheel centre up, then"}};
constexpr std::array kTolerances{WeighingRow{"scale_tolerance_percent", "Scale: +- of a load"},
                                 WeighingRow{"scale_tolerance_least_kg", "but at least"},
                                 WeighingRow{"length_tolerance_m", "Tape: +- of a length"}};
constexpr std::array<const char*, kWeighingSteps> kStepNames{"1 Before", "2 Measure", "3 Level", "4 Raised",
                                                             "5 Result"};

std::span<const WeighingRow> raised_rows(const WeighingForm& form) {
  return form.front_raised ? std::span<const WeighingRow>(kRaisedFront) : std::span<const WeighingRow>(kRaisedRear);
}
std::span<const WeighingRow> level_rows(const WeighingForm& form) {
  return form.singly ? std::span<const WeighingRow>(kWheels4) : std::span<const WeighingRow>(kAxles2);
}

// What is typed under a key, as it stands there; empty = nothing.
std::string_view typed_under(const WeighingForm& form, std::string_view key) {
  const auto found = form.typed.find(key);
  return found == form.typed.end() ? std::string_view() : std::string_view(found->second.data());
}

void put(WeighingForm& form, std::string_view key, double file_value) {
  const TypedUnit typed = typed_unit(key, form.units, 3);
  std::array<char, 32>& buffer = form.typed[std::string(key)];
  buffer = {};
  const int digits = key.ends_with("_kg") ? 0 : std::max(3, typed.digits);
  const std::string words = trimmed_number(typed.shown(file_value), digits);
  std::memcpy(buffer.data(), words.data(), std::min(words.size(), buffer.size() - 1));
}

// Number in the file's unit; none where nothing, or no number, is typed.
std::optional<double> number_under(const WeighingForm& form, std::string_view key) {
  std::string text(typed_under(form, key));
  std::ranges::replace(text, ',', '.');
  if (text.find_first_not_of(' ') == text.npos) return std::nullopt;
  char* end = nullptr;
  const double value = std::strtod(text.c_str(), &end);
  while (end && *end == ' ') ++end;
  if (!end || *end != '\0' || !std::isfinite(value)) return std::nullopt;
  return typed_unit(key, form.units, 3).file(value);
}

void rows_of(Ui& ui, WeighingForm& form, std::span<const WeighingRow> rows, std::string_view wrong_key) {
  for (const WeighingRow& row : rows) {
    const auto keys = weighing_keys();
    const auto key = std::ranges::find(keys, row.key, &NumberKey::key);
    const TypedUnit typed = typed_unit(row.key, form.units, 3);
    const std::string label(row.label);
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    text_at(*ImGui::GetWindowDrawList(), ui.fonts.text, {corner.x, corner.y + ui.px(5)}, theme::kInk,
            fitted(ui.fonts.text, label, ui.px(206)));
    ImGui::SetCursorScreenPos({corner.x + ui.px(212), corner.y});
    ImGui::PushID(label.c_str());
    ImGui::SetNextItemWidth(ui.px(88));
    const bool wrong = row.key == wrong_key;
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, ui.px(wrong ? 2 : 1));
    ImGui::PushStyleColor(ImGuiCol_Border, vector_colour(wrong ? theme::kLifted : theme::kRule));
    std::array<char, 32>& buffer = form.typed[std::string(row.key)];
    before_field(ui, label, true);
    ImGui::InputText("##field", buffer.data(), buffer.size(), ImGuiInputTextFlags_AutoSelectAll);
    after_field(ui, label);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
    if (key != keys.end())
      tooltip(ui, fmt::format("{} (allowed {:.4g} to {:.4g} {})", key->help, typed.shown(key->min),
                              typed.shown(key->max), typed.unit));
    ImGui::PopID();
    text_at(*ImGui::GetWindowDrawList(), ui.fonts.small, {corner.x + ui.px(306), corner.y + ui.px(6)}, theme::kInkSoft,
            typed.unit.empty() ? "%" : typed.unit);
    ImGui::SetCursorScreenPos({corner.x, corner.y + ui.px(30)});
  }
}

void step_words(Ui& ui, std::size_t from, std::size_t to, Units units) {
  const auto steps = weighing_steps();
  for (std::size_t i = from; i < std::min(to, steps.size()); ++i) {
    wrapped_words(read_in(steps[i], units));
    ImGui::Dummy({0, ui.px(4)});
  }
}

// What the scene says is on the machine: it must be so on the scales.
std::string loaded_words(const Scene& scene, Units units) {
  const auto mass = [&](double kg) { return shown(Quantity::mass, kg, units); };
  const BallastPlan& plan = scene.ballast;
  std::string words = fmt::format("Weigh it as this scene has it, or change the scene first: driver {}",
                                  mass(scene.vehicle.driver.mass));
  if (scene.vehicle.tank.capacity > 0) words += fmt::format("; tank {} full", percent(plan.tank_fraction));
  words += fmt::format("; front weights {}, rear weights {}", mass(plan.front_weights), mass(plan.rear_weights));
  if (plan.rear_wheel_weights > 0) words += fmt::format(", {} on each rear wheel", mass(plan.rear_wheel_weights));
  if (scene.vehicle.loader.fitted)
    words += fmt::format("; bucket pin {} up with {} in it", shown(Quantity::length, plan.loader_pin_height, units),
                         mass(plan.loader_payload));
  if (plan.implement.mass > 0) words += fmt::format("; implement {}", mass(plan.implement.mass));
  return words + ".";
}

// Returns true once it has gone into the machine.
bool draw_result(Ui& ui, WeighingForm& form, Session& session, const WeighingFound& found) {
  if (!found.sheet) {
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(theme::kLifted));
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    wrapped_words("No result yet. " + found.wrong);
    remember_readout(ui, "Weighing is wrong", {corner.x, corner.y, ui.px(200), ui.px(20)});
    ImGui::PopStyleColor();
    return false;
  }
  const WeighingSheet& sheet = *found.sheet;
  const WeighedCentre c = centre_of_gravity_of(sheet.weighing);
  const WeighingError e = error_of(sheet.weighing, sheet.tolerance);
  const std::vector<std::string> cautions = weighing_cautions(sheet);
  for (std::size_t i = 0; i + 2 < cautions.size(); ++i) {  // what is doubtful of this sheet comes first
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(theme::kLifted));
    wrapped_words("! " + read_in(cautions[i], form.units));
    ImGui::PopStyleColor();
  }
  const auto row = [&](const char* item, const std::string& name, Quantity quantity, double value, double error,
                       int digits) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const std::string words = fmt::format("{} ({} to {})", measured(quantity, value, digits, form.units),
                                          measured(quantity, value - error, digits, form.units),
                                          measured(quantity, value + error, digits, form.units));
    soft_text(ui, name);
    wrapped_words(words);
    remember_readout(ui, item, {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ui.px(38)});
    ImGui::Dummy({0, ui.px(3)});
  };
  row("Weighed mass", "Mass, and where it lies nineteen times in twenty", Quantity::mass, c.mass, e.mass, 0);
  row("Weighed height", "Centre of gravity above level ground, tyres as they stood", Quantity::length, c.z, e.centre.z,
      3);
  row("Weighed ahead", "Ahead of the rear axle", Quantity::length, c.x, e.centre.x, 3);
  if (c.y)
    row("Weighed left", "To the left of the middle", Quantity::length, *c.y, e.centre.y, 3);
  else
    soft_text(ui, "To the left of the middle: not known. Weigh the wheels singly and give both tracks.", true);
  if (!e.doubts.empty()) soft_text(ui, "The height owes most of its error to: " + e.doubts.front().what + ".", true);
  rows_of(ui, form, kTolerances, found.wrong_key);
  bool used = false;
  if (button(ui, "Use it", Icon::none,
             "Puts mass and centre of gravity into the machine of the scene, with their doubts; undo takes it back",
             true)) {
    try {
      session.edit(with_weighing(session.scene(), sheet));
      form.message = "The scene's machine now has this mass and this centre of gravity.";
      used = true;
    } catch (const InputError& error) {
      form.message = std::string("! ") + error.what();
    }
  }
  return used;
}

void draw_step(Ui& ui, WeighingForm& form, Session& session, const WeighingFound& found) {
  const auto wrong_in = [&](std::span<const WeighingRow> rows) {
    return std::ranges::find(rows, found.wrong_key, &WeighingRow::key) != rows.end() ? std::string_view(found.wrong_key)
                                                                                     : std::string_view();
  };
  switch (form.step) {
    case WeighingStep::prepare:
      step_words(ui, 0, 2, form.units);
      wrapped_words(loaded_words(session.scene(), form.units));
      break;
    case WeighingStep::measure:
      step_words(ui, 2, 3, form.units);
      rows_of(ui, form, kMeasured, wrong_in(kMeasured));
      soft_text(ui, "What stands here is what the scene says. Measure it again where you can.", true);
      break;
    case WeighingStep::level: {
      step_words(ui, 3, 4, form.units);
      int how = form.singly ? 0 : 1;
      if (choice(ui, "Weighed by", {"each wheel by itself", "each axle"}, how, "", ui.px(220))) form.singly = how == 0;
      ImGui::Dummy({0, ui.px(4)});
      rows_of(ui, form, level_rows(form), wrong_in(level_rows(form)));
      break;
    }
    case WeighingStep::raised: {
      ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(theme::kLifted));
      wrapped_words(std::string("! ") + weighing_danger());
      ImGui::PopStyleColor();
      ImGui::Dummy({0, ui.px(4)});
      step_words(ui, 4, 7, form.units);
      int which = form.front_raised ? 0 : 1;
      if (choice(ui, "Raised axle", {"front axle raised", "rear axle raised"}, which, "", ui.px(220)))
        form.front_raised = which == 0;
      ImGui::Dummy({0, ui.px(4)});
      rows_of(ui, form, raised_rows(form), wrong_in(raised_rows(form)));
      soft_text(ui, "One axle's load is enough; the other, and the wheel centre, make it surer.", true);
      break;
    }
    case WeighingStep::result:
      step_words(ui, 7, 8, form.units);
      draw_result(ui, form, session, found);
      break;
  }
  if (!form.message.empty()) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    wrapped_words(read_in(form.message, form.units));
    remember_readout(ui, "Weighing message", {corner.x, corner.y, ui.px(200), ui.px(20)});
  }
}

// Load under an axle as typed, level or raised.
std::string load_words_of(const WeighingForm& form, bool front) {
  std::optional<double> load;
  if (form.step >= WeighingStep::raised && form.step != WeighingStep::result)
    load = number_under(form, front ? "raised_front_kg" : "raised_rear_kg");
  else if (form.singly) {
    const auto left = number_under(form, front ? "front_left_kg" : "rear_left_kg"),
               right = number_under(form, front ? "front_right_kg" : "rear_right_kg");
    if (left && right) load = *left + *right;
  } else {
    load = number_under(form, front ? "front_kg" : "rear_kg");
  }
  return load ? shown(Quantity::mass, load, form.units) : "?";
}

void draw_drawing(Ui& ui, const WeighingForm& form, const Scene& scene, const WeighingFound& found, Rect area) {
  WeighingSketch sketch;
  sketch.front_raised = form.front_raised;
  sketch.front = load_words_of(form, true), sketch.rear = load_words_of(form, false);
  if (form.step == WeighingStep::raised) {
    const char* key = form.front_raised ? "raise_front_m" : "raise_rear_m";
    const std::optional<double> raised = number_under(form, key);
    sketch.raised = std::clamp(raised.value_or(0.5), 0.1, 1.2);
    sketch.height = raised ? shown(Quantity::length, raised, form.units) : "?";
  }
  if (form.step == WeighingStep::result && found.sheet) {
    const WeighedCentre c = centre_of_gravity_of(found.sheet->weighing);
    sketch.has_centre = true;
    sketch.centre_x = c.x, sketch.centre_z = c.z;
    sketch.centre_doubt = error_of(found.sheet->weighing, found.sheet->tolerance).centre.z;
  }
  draw_weighing_sketch(ui, area, scene.vehicle, sketch);
  remember_readout(ui, "Weighing drawing", area);
}

}  // namespace

WeighingForm weighing_form(const Scene& scene, Units units) {
  WeighingForm form;
  form.units = units;
  form.filled_for = scene.vehicle.name;
  try {
    const Weighing w = weighing_before(scene);
    put(form, "wheelbase_m", w.wheelbase);
    put(form, "front_radius_m", w.front_radius);
    put(form, "rear_radius_m", w.rear_radius);
    put(form, "front_track_m", w.front_track);
    put(form, "rear_track_m", w.rear_track);
    for (const auto& [mass, depth, mass_key, depth_key] :
         {std::tuple{w.front_liquid, w.front_liquid_depth, "front_liquid_kg", "front_liquid_depth_m"},
          {w.rear_liquid, w.rear_liquid_depth, "rear_liquid_kg", "rear_liquid_depth_m"}})
      if (mass > 0) put(form, mass_key, mass), put(form, depth_key, depth);
    const WeighingTolerance usual;
    put(form, "scale_tolerance_percent", 100 * usual.scale);
    put(form, "scale_tolerance_least_kg", usual.scale_least);
    put(form, "length_tolerance_m", usual.length);
  } catch (const InputError&) {  // an impossible machine: nothing is filled in
  }
  return form;
}

std::string weighing_text(const WeighingForm& form) {
  std::string text = "format = 1\n";
  const auto add = [&](std::span<const WeighingRow> rows) {
    for (const WeighingRow& row : rows) {
      if (typed_under(form, row.key).find_first_not_of(' ') == std::string_view::npos) continue;
      const std::optional<double> value = number_under(form, row.key);
      text +=
          value ? fmt::format("{} = {:.10g}\n", row.key, *value) : fmt::format("{} = \"{}\"\n", row.key, "no number");
    }
  };
  add(kMeasured);
  add(level_rows(form));
  add(raised_rows(form));
  add(kTolerances);
  return text;
}

WeighingFound weighing_found(const WeighingForm& form) {
  WeighingFound found;
  try {
    found.sheet = parse_weighing(weighing_text(form), kSheetName);
  } catch (const InputError& error) {
    // "weighing:3: raised_rear_kg: missing ...": the key becomes the row's own name.
    std::string words = error.what();
    const std::size_t name = words.find(": "), key = name == words.npos ? words.npos : words.find(": ", name + 2);
    found.wrong = words;
    if (key == words.npos) return found;
    found.wrong_key = words.substr(name + 2, key - name - 2);
    std::string label = key_words(found.wrong_key);
    for (const std::span<const WeighingRow> rows :
         {std::span<const WeighingRow>(kMeasured), std::span<const WeighingRow>(kAxles2),
          std::span<const WeighingRow>(kWheels4), raised_rows(form), std::span<const WeighingRow>(kTolerances)})
      for (const WeighingRow& row : rows)
        if (row.key == found.wrong_key) label = row.label;
    found.wrong = label + ": " + read_in(words.substr(key + 2), form.units);
  }
  return found;
}

bool draw_weighing(Ui& ui, WeighingForm& form, Session& session, Rect area) {
  if (form.units != ui.units) {  // what is typed is read in the new units
    std::map<std::string, double, std::less<>> values;
    for (const auto& [key, text] : form.typed)
      if (const auto value = number_under(form, key)) values[key] = *value;
    form.units = ui.units;
    for (const auto& [key, value] : values) put(form, key, value);
  }
  ImGui::SetNextWindowPos(area.low());
  ImGui::SetNextWindowSize({area.width, area.height});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  ImGui::Begin("Weighing", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoScrollWithMouse | ImGuiWindowFlags_NoNav);
  ui.order.clear();  // it covers everything else: Tab stays in it
  bool close = false;
  ImGui::PushFont(ui.fonts.heading);
  ImGui::TextUnformatted("Weigh the machine for its centre of gravity");
  ImGui::PopFont();
  float right = area.x + area.width - ui.px(12);
  for (int i = 0; i < kWeighingSteps; ++i) {
    const char* name = kStepNames[static_cast<std::size_t>(i)];
    const float wide = size_of(ui.fonts.text, name).x + ui.px(22);
    if (i > 0 && ImGui::GetItemRectMax().x + wide + ui.px(8) < right) ImGui::SameLine();
    if (button(ui, name, Icon::none, "", static_cast<int>(form.step) == i)) form.step = static_cast<WeighingStep>(i);
  }
  ImGui::Dummy({0, ui.px(4)});
  const WeighingFound found = weighing_found(form);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float foot = ui.px(44), room = std::max(1.f, area.y + area.height - foot - corner.y);
  const bool beside = area.width >= ui.px(kDrawingFrom);
  const float wide = beside ? ui.px(kRowsWidth) : area.width - ui.px(24);
  const float drawing = beside ? room : std::min(room * 0.36f, ui.px(220));
  if (!beside) {
    draw_drawing(ui, form, session.scene(), found, {corner.x, corner.y, wide, drawing});
    ImGui::SetCursorScreenPos({corner.x, corner.y + drawing + ui.px(4)});
  }
  ImGui::BeginChild("##rows", {wide, beside ? room : std::max(1.f, room - drawing - ui.px(4))}, false,
                    ImGuiWindowFlags_NoNav);
  draw_step(ui, form, session, found);
  ImGui::EndChild();
  if (beside)
    draw_drawing(ui, form, session.scene(), found,
                 {corner.x + wide + ui.px(20), corner.y, std::max(1.f, area.width - wide - ui.px(52)), drawing});
  ImGui::SetCursorScreenPos({area.x + ui.px(12), area.y + area.height - ui.px(38)});
  const int step = static_cast<int>(form.step);
  if (button(ui, "Step back", Icon::none, "The step before", false, 0, step > 0))
    form.step = static_cast<WeighingStep>(step - 1);
  ImGui::SameLine();
  if (button(ui, "Next step", Icon::none, "What comes next", step + 1 < kWeighingSteps, 0, step + 1 < kWeighingSteps))
    form.step = static_cast<WeighingStep>(step + 1);
  ImGui::SameLine();
  if (button(ui, "Close weighing", Icon::none, "Back; what is typed stays here. Key: Escape") ||
      (escape_pressed() && !ImGui::IsAnyItemActive() && ui.field.empty()))
    close = true;
  ImGui::End();
  ImGui::PopStyleColor();
  return close;
}

}  // namespace sidehill::screen

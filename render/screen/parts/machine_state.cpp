#include "render/screen/parts/machine_state.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>

#include "render/text/words/units.h"

namespace sidehill::screen {
namespace {

// Rows that are no numbers.
struct WordRow {
  std::string_view key, label, how;
};
constexpr WordRow kRows[] = {
    {"class", "Class", "The generic machine most like yours."},
    {"name", "What you call it", "Any name; it becomes the machine's and the file's."},
    {"front_drive", "Driven front axle", "Is there a drive shaft to the front axle?"},
    {"track_measured", "Tracks were read",
     "Between the middles of the two treads, or from the outer edge of one tyre to the outer edge of the other."},
    {"frame", "Frame", "What protects you when it rolls over, as it is now: folded down counts as none."},
    {"loader", "Front loader", "On the machine now."},
    {"front_tyre", "Front tyre size",
     "Off the sidewall, as 13.6R24 or 420/70R28; what stands behind it too, as 121A8."},
    {"rear_tyre", "Rear tyre size", "Off the sidewall, as 18.4R34 or 480/70R34; what stands behind it too, as 144A8."},
};

std::string with_unit(double si, const EntryUnit& unit) {
  return fmt::format("{} {}", trimmed_number(si / unit.to_si, unit.digits), unit.name);
}

// A number that may be so and so far off.
std::string estimate_words(const MachineForm& form, const EntryField& field, const EntryEstimate& estimate) {
  const EntryUnit unit = entry_unit(field, form.units);
  std::string words = "estimated " + with_unit(estimate.value, unit);
  const std::string off = trimmed_number(estimate.tolerance / unit.to_si, unit.digits);
  if (off != "0") words += " ±" + off;
  return words + ", from its class";
}

std::string number_words(const MachineForm& form, const EntryField& field) {
  if (form.entry.*field.at) return field.group == EntryGroup::plate ? "from the plate" : "measured";
  const std::string_view key = field.key;
  // What was on it while nothing was weighed needs no answer.
  const bool weighed = form.entry.mass || form.entry.front_axle || form.entry.rear_axle;
  if (key == "mass_kg") {
    if (form.entry.front_axle && form.entry.rear_axle) return "the two axles together";
    return fmt::format("missing: bare machine estimated {}, from its class",
                       with_unit(form.made.mass, entry_unit(field, form.units)));
  }
  if (key == "front_axle_kg" || key == "rear_axle_kg") {
    const bool other = key == "front_axle_kg" ? form.entry.rear_axle.has_value() : form.entry.front_axle.has_value();
    if (form.entry.mass && other) return "the whole less the other axle";
    const double share =
        100 * (key == "front_axle_kg" ? form.made.weighed_front_share : 1 - form.made.weighed_front_share);
    return fmt::format("missing: about {:.0f} % of the bare machine, from its class", share);
  }
  if (key == "raised_by_m" || key == "raised_rear_kg" || key == "centre_height_m") {
    if (form.entry.raised_by && form.entry.raised_rear) return "from the weighing with the front raised";
    if (form.entry.centre_height) return "not needed";
    const EntryUnit unit = entry_unit(*find_entry_field("centre_height_m"), form.units);
    return fmt::format("missing: centre of gravity estimated {} up ±8 %", with_unit(form.made.centre_height, unit));
  }
  if (field.group == EntryGroup::weighbridge) {
    if (!weighed) return "not needed before it is weighed";
    if (key == "fuel_percent") return "missing: taken as half full";
    if (key == "driver_kg") return "missing: taken as nobody";
    return "taken as none";
  }
  if (const auto estimate = estimate_for(form.made, key)) return estimate_words(form, field, *estimate);
  if (key.ends_with("_capacity_kg")) return "missing: axle loads are not checked";
  if (key.ends_with("_narrowest_m")) return "missing: not known";
  if (key.ends_with("_centre_m")) return "missing: from tyre size and load";
  return "missing";
}

std::string word_words(const MachineForm& form, std::string_view key) {
  const Vehicle& v = form.made.vehicle;
  if (key == "name") return form.entry.name.empty() ? "the class's name" : "";
  if (key == "front_tyre" || key == "rear_tyre") {
    const Tyre& tyre = key == "front_tyre" ? v.front.tyre : v.rear.tyre;
    const EntryUnit unit = entry_unit(*find_entry_field("front_centre_m"), form.units);
    const std::string size =
        fmt::format("radius {}, width {}", with_unit(tyre.free_radius, unit), with_unit(tyre.section_width, unit));
    if (!entry_word(form.entry, key).empty()) return "from the sidewall: " + size;
    return fmt::format("estimated from its class: {}{}", tyre.size == "not read" ? "" : tyre.size + ", ", size);
  }
  if (key == "track_measured") return "";
  const bool said = !entry_word(form.entry, key).empty();
  if (said) return "as you say";
  if (key == "frame")
    return v.frame.kind == FrameKind::none  ? "its class has none"
           : v.frame.kind == FrameKind::cab ? "its class has a cab"
                                            : "its class has a two-post frame";
  if (key == "loader") return v.loader.fitted ? "its class has one" : "its class has none";
  if (key == "front_drive") return v.front_drive ? "its class has it" : "its class has none";
  return "";
}

}  // namespace

EntryUnit entry_unit(const EntryField& field, Units units) {
  const std::pair<std::string_view, Quantity> known[] = {
      {"m", Quantity::length}, {"kg", Quantity::mass}, {"kPa", Quantity::pressure}, {"kW", Quantity::power}};
  for (const auto& [name, quantity] : known) {
    if (field.unit != name) continue;
    // Feet and inches are read, inches typed.
    const ShownUnit unit = shown_unit(quantity, units);
    return {1 / unit.factor, unit.name, unit.digits};
  }
  return {field.to_si, field.unit, 0};
}

RowState state_of(const MachineForm& form, std::string_view key) {
  // The mistake in what is typed first, then what does not fit to the rest.
  if (const auto mistake = form.mistakes.find(key); mistake != form.mistakes.end())
    return {StateMark::grave, mistake->second};
  const auto shown = [&](const EntryCheck& check) { return read_in(check.sentence, form.units); };
  const EntryField* field = find_entry_field(key);
  const bool said = field ? (form.entry.*field->at).has_value() : !entry_word(form.entry, key).empty();
  for (const EntryCheck& check : form.made.checks)
    if (check.key == key && check.severity == Severity::grave) return {StateMark::grave, shown(check)};
  for (const EntryCheck& check : form.made.checks)
    if (check.key == key && (said || !field || check.sentence.find("missing") != std::string::npos))
      return {StateMark::look, shown(check)};
  const std::string words = field ? number_words(form, *field) : word_words(form, key);
  if (said || words == "not needed") return {StateMark::measured, words};
  const bool other = words.starts_with("the two axles") || words.starts_with("the whole less") ||
                     words.starts_with("from the weighing");
  if (other) return {StateMark::measured, words};
  return {words.starts_with("estimated") || (!field && !words.empty()) ? StateMark::estimated : StateMark::missing,
          words};
}

void draw_state_mark(ImDrawList& list, StateMark mark, ImVec2 c, float size, float line) {
  const float r = size / 2;
  switch (mark) {
    case StateMark::measured:  // a tick
      list.AddLine({c.x - 0.8f * r, c.y}, {c.x - 0.2f * r, c.y + 0.65f * r}, colour(theme::kAccent), 2 * line);
      list.AddLine({c.x - 0.2f * r, c.y + 0.65f * r}, {c.x + 0.85f * r, c.y - 0.7f * r}, colour(theme::kAccent),
                   2 * line);
      break;
    case StateMark::estimated:  // a wave: about
      for (const float dy : {-0.35f, 0.35f}) {
        const float y = c.y + dy * r;
        list.AddBezierCubic({c.x - 0.85f * r, y + 0.2f * r}, {c.x - 0.3f * r, y - 0.8f * r},
                            {c.x + 0.3f * r, y + 0.8f * r}, {c.x + 0.85f * r, y - 0.2f * r}, colour(theme::kInkSoft),
                            1.6f * line);
      }
      break;
    case StateMark::missing:  // an empty ring
      list.AddCircle(c, 0.7f * r, colour(theme::kInkSoft), 20, 1.4f * line);
      break;
    case StateMark::look:
    case StateMark::grave: {  // a triangle with a stroke; filled where nothing can be made
      const ImVec2 a{c.x, c.y - 0.95f * r}, b{c.x - r, c.y + 0.8f * r}, d{c.x + r, c.y + 0.8f * r};
      const bool grave = mark == StateMark::grave;
      list.AddTriangleFilled(a, b, d, colour(grave ? theme::kLifted : theme::kNear));
      list.AddTriangle(a, b, d, colour(theme::kInk), line);
      const ImU32 ink = colour(grave ? theme::kOnAccent : theme::kInk);
      list.AddLine({c.x, c.y - 0.35f * r}, {c.x, c.y + 0.25f * r}, ink, 1.6f * line);
      list.AddLine({c.x, c.y + 0.42f * r}, {c.x, c.y + 0.6f * r}, ink, 1.6f * line);
      break;
    }
  }
}

std::string_view label_of(std::string_view key) {
  if (const EntryField* field = find_entry_field(key)) return field->label;
  const auto row = std::ranges::find(kRows, key, &WordRow::key);
  return row == std::end(kRows) ? std::string_view() : row->label;
}

std::string_view how_to(std::string_view key) {
  if (const EntryField* field = find_entry_field(key)) return field->how;
  const auto row = std::ranges::find(kRows, key, &WordRow::key);
  return row == std::end(kRows) ? std::string_view() : row->how;
}

std::string first_grave_words(const MachineForm& form) {
  for (const EntryCheck& check : form.made.checks)
    if (check.severity == Severity::grave) {
      const std::string sentence = read_in(check.sentence, form.units);
      return check.key.empty() ? sentence : fmt::format("{}: {}", label_of(check.key), sentence);
    }
  return {};
}

std::string length_words(const MachineForm& form, std::string_view key) {
  const EntryField* field = find_entry_field(key);
  if (!field || field->unit != "m") return {};
  const EntryUnit unit = entry_unit(*field, form.units);
  if (const auto& said = form.entry.*field->at) return with_unit(*said, unit);
  const auto estimate = estimate_for(form.made, key);
  return estimate ? "about " + with_unit(estimate->value, unit) : "";
}

std::vector<SketchNote> typed_notes(const MachineForm& form) {
  std::vector<SketchNote> notes;
  for (const EntryField& field : entry_fields())
    if (const auto& said = form.entry.*field.at; said && (field.unit == "m" || field.unit == "kg"))
      notes.push_back({std::string(field.key), with_unit(*said, entry_unit(field, form.units))});
  return notes;
}

std::string other_measures(const MachineForm& form) {
  std::string text;
  if (form.answer)
    for (std::size_t i = 0; i < form.answer->next.size() && i < 5; ++i)
      text += (i == 0 ? "" : "\n") + form.answer->next[i].sentence;
  return text;
}

}  // namespace sidehill::screen

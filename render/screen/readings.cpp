#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "render/screen/readings_list.h"

namespace sidehill {

Off not_reckoned(const std::string& why) { return {{}, {}, {}, "Doubt not reckoned: " + why}; }

void ReadingList::add(Reading reading, Off off) {
  reading.group = group;
  if (reading.value && !std::isfinite(*reading.value)) reading.value.reset();
  if (!reading.value && reading.instead.empty()) reading.instead = "-";
  reading.doubt_words = std::move(off.words);
  if (reading.value && off.width && std::isfinite(*off.width)) {
    reading.doubt = off.width;
    reading.low = off.low;
    reading.high = off.high;
  }
  if (reading.doubt_words.empty()) reading.doubt_words = "Doubt not reckoned.";
  all.push_back(std::move(reading));
}

Off ReadingList::off(const std::optional<Interval>& interval, const std::optional<double>& value) const {
  if (!known.doubts) return {{}, {}, {}, "How far off it may be is being worked out."};
  if (!value) return not_reckoned("there is no value it could be off from.");
  if (!interval) return not_reckoned("on the even slope it never happens.");
  const bool rough = !known.scene.terrain.features.empty();
  Off out;
  out.words =
      "Each measure is moved by what a tape, a weighbridge or a gauge leaves open (the scene's own tolerances, else "
      "our estimates), the whole answer worked out anew each time and the changes added as squares (k = 2).";
  if (rough) {
    out.width = 0.5 * (interval->high - interval->low);
    out.words += " Reckoned on the even slope: bumps and holes are left out.";
  } else {
    out.low = interval->low;
    if (!interval->open) out.high = interval->high;
    out.width = std::max(*value - interval->low, interval->high - *value);
  }
  if (interval->open) out.words += " At one end of what is not known it never happens.";
  return out;
}

std::string ReadingList::most_from() const {
  if (!known.doubts) return {};
  std::string words;
  int told = 0;
  for (const Doubt& doubt : known.doubts->doubts) {
    if (told == 2 || !(std::max(-doubt.low, doubt.high) > 0)) break;
    const TypedUnit typed = typed_unit(doubt.key, Units::si);
    std::string name = doubt.key.substr(0, doubt.key.size() - typed.suffix.size());
    for (std::string_view room : {"vehicle.", "terrain.", "ballast.", "start."})
      if (name.starts_with(room)) name.erase(0, room.size());
    for (char& letter : name)
      if (letter == '.' || letter == '_') letter = ' ';
    words += (told == 0 ? " Most of it comes from: " : "; ") + name +
             fmt::format(" (± {:.2g}{}{})", doubt.tolerance, doubt.unit.empty() ? "" : " ", doubt.unit);
    ++told;
  }
  return words.empty() ? words : words + ".";
}

Off ReadingList::off_of_datum(std::string_view key) const {
  const Field* field = find_field(key);
  const auto* number = field ? std::get_if<NumberField>(&field->kind) : nullptr;
  if (!number) return not_reckoned("it is as put in.");
  for (const Tolerance& tolerance : known.scene.tolerances)
    if (tolerance.key == key) return {tolerance.value * number->to_si, {}, {}, "As the scene says it is known."};
  return {default_tolerance(*field, known.scene) * number->to_si, {}, {}, "Our estimate of how well it is known."};
}

std::vector<Reading> readings_of(const Known& known) {
  ReadingList list{known};
  add_margins(list);
  add_loads(list);
  add_masses(list);
  add_room(list);
  add_ground(list);
  add_why(list);
  return std::move(list.all);
}

std::string value_words(const Reading& reading, Units units) {
  if (!reading.value) return reading.instead;
  // What a cause adds is a change, read with its sign.
  if (reading.id.starts_with("why_") && reading.id != "why_bare")
    return shown_change(reading.quantity, *reading.value, units);
  return shown(reading.quantity, reading.value, units);
}

std::string found_words(const Reading& reading, Units units) {
  std::string words = reading.how;
  if (reading.low && reading.high) {
    words += fmt::format(" Nineteen times in twenty it lies between {} and {}.",
                         shown(reading.quantity, reading.low, units), shown(reading.quantity, reading.high, units));
  } else if (reading.low) {
    words += fmt::format(" Nineteen times in twenty it lies above {}.", shown(reading.quantity, reading.low, units));
  }
  return words + "\n" + reading.doubt_words;
}

const Reading* find_reading(std::span<const Reading> readings, std::string_view id) {
  const auto at = std::ranges::find(readings, id, &Reading::id);
  return at == readings.end() ? nullptr : &*at;
}

}  // namespace sidehill

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "render/screen/desk/readings_list.h"
#include "render/text/rest/doubt_report.h"
#include "sim/base/plain_number.h"

namespace sidehill::screen {

Off not_calculated(const std::string& why) { return {{}, {}, {}, "Uncertainty not calculated: " + why}; }

void ReadingList::add(Reading reading, Off off) {
  reading.group = group;
  if (reading.value && !std::isfinite(*reading.value)) reading.value.reset();
  if (!reading.value && reading.instead.empty()) reading.instead = "-";
  reading.doubt_words = std::move(off.words);
  if (reading.value && off.width && std::isfinite(*off.width)) {
    reading.doubt = off.width;
    reading.low = off.low, reading.high = off.high;
    if (!off.low) {
      reading.low = *reading.value - *off.width, reading.high = *reading.value + *off.width;
      if (*reading.value >= 0) reading.low = std::max(0.0, *reading.low);  // no datum changes its sign
    }
    reading.datum = std::move(off.datum), reading.datum_value = off.datum_value;
  }
  if (reading.doubt_words.empty()) reading.doubt_words = "Uncertainty not calculated.";
  all.push_back(std::move(reading));
}

Off ReadingList::off(const std::optional<Interval>& interval, const std::optional<double>& value,
                     const std::optional<double>& middle) const {
  if (!known.doubts) return {{}, {}, {}, kDoubtIsComing};
  if (!value) return not_calculated("there is no value it could be off from.");
  if (!interval || !middle) return not_calculated("on the even slope it never happens.");
  Off out;
  out.words =
      "Each measure is moved by what a tape, a weighbridge or a gauge leaves open (the tolerances of the scene or its "
      "machine file, else our estimates), the whole answer worked out again each time and the changes added as squares "
      "(k = 2).";
  const bool moved = *value != *middle;
  out.low = moved ? *value - (*middle - interval->low) : interval->low;
  if (!interval->open) out.high = moved ? *value + (interval->high - *middle) : interval->high;
  out.width = std::max(*middle - interval->low, interval->high - *middle);
  if (!known.scene.terrain.features.empty())
    out.words += " Worked out on the even slope: bumps and holes are left out.";
  if (interval->open) out.words += " At one end of what is not known it never happens.";
  return out;
}

namespace {

// The first two causes of a list that is sorted already. What has bounds and no tolerance is named alone.
std::string most_words(const std::vector<const Doubt*>& causes, const BallastPlan& plan) {
  std::string words;
  for (std::size_t i = 0; i < std::min<std::size_t>(causes.size(), 2); ++i) {
    const Doubt& doubt = *causes[i];
    words += (i == 0 ? " Most of it comes from: " : "; ") + datum_words(doubt.key, plan);
    if (doubt.tolerance > 0)
      words += fmt::format(" (± {}{}{})", plain_number(doubt.tolerance, 2), doubt.unit.empty() ? "" : " ", doubt.unit);
  }
  return words.empty() ? words : words + ".";
}

}  // namespace

std::string ReadingList::most_from() const {
  if (!known.doubts) return {};
  std::vector<const Doubt*> causes;
  for (const Doubt& doubt : known.doubts->doubts)
    if (std::max(-doubt.low, doubt.high) > 0) causes.push_back(&doubt);  // the most comes first
  return most_words(causes, known.scene.ballast);
}

std::string ReadingList::most_from(std::optional<double> Facts::*angle) const {
  if (!known.doubts || !(known.doubts->middle.*angle)) return {};
  const double middle = *(known.doubts->middle.*angle);
  std::vector<std::pair<double, const Doubt*>> moves;
  for (const Moved& moved : known.doubts->moved) {
    double most = 0;
    for (const std::optional<Facts>& end : moved.ends)
      if (end && (*end).*angle) most = std::max(most, std::abs(*((*end).*angle) - middle));
    const auto doubt = std::ranges::find(known.doubts->doubts, moved.key, &Doubt::key);
    if (most > 1e-9 && doubt != known.doubts->doubts.end()) moves.emplace_back(most, &*doubt);
  }
  std::ranges::stable_sort(moves, std::ranges::greater{}, [](const auto& move) { return move.first; });
  std::vector<const Doubt*> causes;
  for (const auto& move : moves) causes.push_back(move.second);
  return most_words(causes, known.scene.ballast);
}

Off ReadingList::off_of_datum(std::string_view key) const {
  const Field* field = find_field(key);
  const auto* number = field ? std::get_if<NumberField>(&field->kind) : nullptr;
  if (!number) return not_calculated("it is as put in.");
  Off off{default_tolerance(*field, known.scene) * number->to_si,
          {},
          {},
          "Our estimate of how well it is known.",
          std::string(key),
          file_value(*number, known.scene) * number->to_si + number->offset};
  for (const Tolerance& tolerance : known.scene.tolerances) {
    if (tolerance.key != key) continue;
    off.width = tolerance.value * number->to_si;
    off.words = "As the scene or its machine file says it is known.";
  }
  return off;
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

std::string interval_words(const Reading& reading, Units units) {
  if (!reading.value || !reading.low) return {};
  return shown_interval(reading.quantity, *reading.low, reading.high, units);
}

std::string value_and_interval(const Reading& reading, Units units) {
  const std::string interval = interval_words(reading, units);
  return value_words(reading, units) + (interval.empty() ? "" : " (" + interval + ")");
}

std::string found_words(const Reading& reading, Units units) {
  std::string words = reading.how;
  if (const std::string interval = interval_words(reading, units); !interval.empty())
    words += " Nineteen times in twenty: " + interval + ".";
  return words + "\n" + reading.doubt_words;
}

const Reading* find_reading(std::span<const Reading> readings, std::string_view id) {
  const auto at = std::ranges::find(readings, id, &Reading::id);
  return at == readings.end() ? nullptr : &*at;
}

}  // namespace sidehill::screen

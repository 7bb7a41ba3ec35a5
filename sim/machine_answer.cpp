// What a made machine answers, how far that may be off, and what to measure next.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/made_machine.h"
#include "sim/statics.h"
#include "sim/uncertainty.h"

namespace sidehill {
namespace {

constexpr double kDegree = 3.14159265358979323846 / 180;

std::string sentence_for(std::string_view entry_key, std::string_view label, double effect) {
  const std::string worth = fmt::format(": not knowing it moves first lift-off by up to {:.1f}°", effect / kDegree);
  if (entry_key == "raised_rear_kg") return "Weigh it with the front raised, for the height of its weight" + worth;
  if (entry_key == "front_axle_kg") return "Weigh the axles one by one" + worth;
  if (entry_key == "mass_kg") return "Weigh the whole machine" + worth;
  if (entry_key == "front_tyre" || entry_key == "rear_tyre")
    return fmt::format("Read the {} tyre size off the sidewall{}", entry_key.substr(0, entry_key.find('_')), worth);
  return std::string(label) + worth;
}

}  // namespace

MachineAnswer answer_of(const MadeMachine& made) {
  const Scene scene = scene_of(made);
  const Model model = build(scene);
  const StaticSolution statics = solve_statics(model);
  MachineAnswer out;
  out.first_lift_off = statics.first_lift_off;
  const Uncertainty doubt = uncertainty(scene, model, statics);
  if (out.first_lift_off && doubt.first_lift_off)
    out.low = doubt.first_lift_off->low, out.high = doubt.first_lift_off->high;
  for (const Doubt& one : doubt.doubts) {
    const DatumOrigin* origin = origin_of(made, one.key);
    if (!origin || origin->entry_key.empty() || origin->tolerance == 0) continue;
    if (origin->from == DatumFrom::measured || origin->from == DatumFrom::plate) continue;
    // Dimensions from a size are as good as it gets; what a raised weighing left open as well.
    if (origin->from == DatumFrom::tyre_size || origin->how.starts_with("from the weighing")) continue;
    const double effect = std::max(-one.low, one.high);
    const auto same = std::ranges::find(out.next, origin->entry_key, &MeasureNext::entry_key);
    if (same != out.next.end())
      same->effect = std::hypot(same->effect, effect);
    else
      out.next.push_back({origin->entry_key, effect, ""});
  }
  std::erase_if(out.next, [](const MeasureNext& next) { return !(next.effect > 0.05 * kDegree); });
  std::ranges::stable_sort(out.next, std::greater{}, &MeasureNext::effect);
  for (MeasureNext& next : out.next) {
    const EntryField* field = find_entry_field(next.entry_key);
    next.sentence = sentence_for(next.entry_key, field ? field->label : next.entry_key, next.effect);
  }
  return out;
}

}  // namespace sidehill

#include "sim/insight/sensitivity.h"

#include <algorithm>
#include <cmath>

#include "sim/base/errors.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene.h"
#include "sim/scene/scene_checks.h"
#include "sim/scene/scene_fields.h"

namespace sidehill {
namespace {

std::optional<double> lift_off_of(const Scene& scene, const Model& like) {
  try {
    if (find_conflict(scene)) return std::nullopt;
    return first_lift_off(build(scene, &like)).slope;
  } catch (const InputError&) {
    return std::nullopt;
  }
}

// A zero that stands for "work it out": a little more than that is another machine.
bool says_none(const Field& field, double value) {
  for (std::string_view words : {"0 = from", "0 = not", "0 = typical", "0 = the", "0 = our"})
    if (value == 0 && field.help.find(words) != field.help.npos) return true;
  return false;
}

double step_of(const NumberField& number, double value) {
  if (value != 0) return 1e-3 * std::abs(value);
  return std::min(1e-3 * (number.max - number.min), 1.0);  // nothing yet: no value to take a share of
}

Sensitivity sensitivity(const Scene& scene, const Model& model, std::optional<double> middle, std::string_view key,
                        const std::vector<const Field*>& fields) {
  const auto& first = std::get<NumberField>(fields.front()->kind);
  Sensitivity out{std::string(key), std::string(fields.front()->unit), file_value(first, scene), {}};
  std::optional<double> end[2];
  double from = out.value, to = out.value;
  for (int side = 0; side < 2; ++side) {
    Scene moved = scene;
    const double by = (side == 0 ? -1 : 1) * step_of(first, out.value);
    if (out.value + by < first.min || out.value + by > first.max) continue;
    for (const Field* field : fields) {
      const auto& number = std::get<NumberField>(field->kind);
      set_file_value(number, moved, std::clamp(file_value(number, scene) + by, number.min, number.max));
    }
    end[side] = lift_off_of(moved, model);
    if (end[side]) (side == 0 ? from : to) = out.value + by;
  }
  if (!middle || from == to || says_none(*fields.front(), out.value)) return out;
  out.per_unit = (end[1].value_or(*middle) - end[0].value_or(*middle)) / (to - from);
  return out;
}

}  // namespace

std::vector<Sensitivity> sensitivities(const Scene& given) {
  Scene scene = given;
  scene.terrain.features.clear();
  const Model model = build(scene);
  const auto middle = first_lift_off(model).slope;
  std::vector<Sensitivity> all;
  std::vector<const Field*> together;
  for (const Alias& alias : scene_aliases()) {
    const auto targets = targets_of(alias.key);
    if (targets.empty() || !std::holds_alternative<NumberField>(targets.front()->kind)) continue;
    all.push_back(sensitivity(scene, model, middle, alias.key, targets));
    together.insert(together.end(), targets.begin(), targets.end());
  }
  for (const Field& field : scene_fields()) {
    if (!std::holds_alternative<NumberField>(field.kind)) continue;
    if (std::find(together.begin(), together.end(), &field) != together.end()) continue;
    all.push_back(sensitivity(scene, model, middle, field.key, {&field}));
  }
  std::stable_sort(all.begin(), all.end(), [](const Sensitivity& a, const Sensitivity& b) {
    const auto effect = [](const Sensitivity& s) {
      return s.per_unit ? std::abs(*s.per_unit * (s.value != 0 ? s.value : 1)) : -1;
    };
    return effect(a) > effect(b);
  });
  return all;
}

}  // namespace sidehill

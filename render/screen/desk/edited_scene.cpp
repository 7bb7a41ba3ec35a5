#include "render/screen/desk/edited_scene.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "sim/scene/scene_file.h"
#include "vehicles/air_spring.h"

namespace sidehill::screen {
namespace {

template <typename Kind>
const Kind& kind_of(const Field& field) {
  if (const Kind* kind = std::get_if<Kind>(&field.kind)) return *kind;
  throw std::out_of_range(std::string(field.key) + " is a datum of another kind");
}

const Field& first_field(std::string_view key) {
  const std::vector<const Field*> fields = fields_of(key);
  if (fields.empty()) throw std::out_of_range("no datum " + std::string(key));
  return *fields.front();
}

}  // namespace

Scene with_pressure(Scene scene, const Scene& loaded, bool front, double pressure_kpa) {
  Tyre& tyre = (front ? scene.vehicle.front : scene.vehicle.rear).tyre;
  tyre = pumped((front ? loaded.vehicle.front : loaded.vehicle.rear).tyre, tyre, 1000 * pressure_kpa);
  return scene;
}

std::vector<const Field*> fields_of(std::string_view key) {
  if (const Field* field = find_field(key)) return {field};
  std::vector<const Field*> fields;
  for (const Alias& alias : scene_aliases()) {
    if (alias.key != key) continue;
    for (std::string_view target : alias.targets) {
      if (const Field* field = find_field(target)) fields.push_back(field);
    }
  }
  return fields;
}

double EditedScene::number(std::string_view key) const {
  return file_value(kind_of<NumberField>(first_field(key)), scene_);
}

double EditedScene::loaded_number(std::string_view key) const {
  return file_value(kind_of<NumberField>(first_field(key)), loaded_);
}

int EditedScene::choice(std::string_view key) const { return kind_of<ChoiceField>(first_field(key)).get(scene_); }

bool EditedScene::flag(std::string_view key) const {
  return *kind_of<FlagField>(first_field(key)).at(const_cast<Scene&>(scene_));  // the accessor only finds the address
}

Scene EditedScene::with_number(std::string_view key, double value) const {
  first_field(key);
  Scene changed = scene_;
  for (const Field* field : fields_of(key)) {
    const NumberField& kind = kind_of<NumberField>(*field);
    set_file_value(kind, changed, std::clamp(value, kind.min, kind.max));
  }
  return changed;
}

Scene EditedScene::with_choice(std::string_view key, int index) const {
  first_field(key);
  Scene changed = scene_;
  for (const Field* field : fields_of(key)) {
    const ChoiceField& kind = kind_of<ChoiceField>(*field);
    kind.set(changed, std::clamp(index, 0, static_cast<int>(kind.choices.size()) - 1));
  }
  return changed;
}

Scene EditedScene::with_flag(std::string_view key, bool on) const {
  first_field(key);
  Scene changed = scene_;
  for (const Field* field : fields_of(key)) *kind_of<FlagField>(*field).at(changed) = on;
  return changed;
}

void EditedScene::change(Scene scene) {
  scene_ = std::move(scene);
  edited_ = true;
  ++edits_;
}

void EditedScene::restore() {
  change(loaded_);
  edited_ = false;
}

void EditedScene::open(Scene scene) {
  loaded_ = scene;
  change(std::move(scene));
  edited_ = false;
}

void EditedScene::take_back(Scene scene, Scene loaded) {
  loaded_ = std::move(loaded);
  change(std::move(scene));
  edited_ = write_scene(scene_) != write_scene(loaded_);
}

}  // namespace sidehill::screen

// The scene being edited, beside what it was when it was opened: values by key, and whether anything differs. Knows no
// answer, no run.
#pragma once
#include <string_view>
#include <vector>

#include "render/namespaces.h"
#include "sim/scene/scene_fields.h"

namespace sidehill::screen {

class EditedScene {
 public:
  explicit EditedScene(Scene scene) : loaded_(scene), scene_(std::move(scene)) {}

  const Scene& scene() const { return scene_; }
  const Scene& loaded() const { return loaded_; }  // as it was opened
  bool edited() const { return edited_; }          // differs from what was opened
  unsigned edits() const { return edits_; }        // counts up with every change of the scene
  // Value of a datum in the file's unit; key of a field or an alias (then of its first target). Throws
  // std::out_of_range if there is none of that name and kind. So does `with`. An alias is set in all its targets.
  double number(std::string_view key) const;
  double loaded_number(std::string_view key) const;
  int choice(std::string_view key) const;
  bool flag(std::string_view key) const;
  // The scene with one datum changed; a number is clamped to the field's range.
  Scene with_number(std::string_view key, double value) const;
  Scene with_choice(std::string_view key, int index) const;
  Scene with_flag(std::string_view key, bool on) const;

  void change(Scene scene);
  void restore();                             // back to what was opened
  void mark_edited() { edited_ = true; }      // what was opened is not saved anywhere
  void open(Scene scene);                     // another scene; what was opened before is forgotten
  void take_back(Scene scene, Scene loaded);  // as they were once

 private:
  Scene loaded_, scene_;
  bool edited_ = false;
  unsigned edits_ = 0;
};

// The scene with both tyres of an axle at another cold gauge pressure [kPa], their stiffness along with it
// (vehicles/air_spring.h); `loaded`: as it was opened, so that letting the air in again leads back to it.
Scene with_pressure(Scene scene, const Scene& loaded, bool front, double pressure_kpa);

// Fields a key stands for: the field itself or an alias's targets. Empty if unknown.
std::vector<const Field*> fields_of(std::string_view key);

}  // namespace sidehill::screen

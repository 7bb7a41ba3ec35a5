// What was edited, to be taken back and done again: whole scenes as they were. Knows no window and no session.
#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "render/namespaces.h"
#include "sim/scene/scene.h"

namespace sidehill::screen {

// All of a person's work at one moment.
struct EditedScenes {
  Scene scene, loaded;         // being edited; as it was opened
  std::optional<Scene> other;  // the set-up beside it, if two are compared
  int document = 0;            // whose scene it is, for whoever keeps files; undoing an opening goes back to that one
};

class History {
 public:
  static constexpr std::size_t kMost = 300;  // entries kept; the oldest go first

  // Begins with `now`; what was before is forgotten.
  void begin(const EditedScenes& now);
  // The work has become `now`: one entry more, and what had been taken back is forgotten. Nothing if it is the same as
  // the newest to the last digit.
  void note(EditedScenes now);
  bool can_undo() const { return at_ > 0; }
  bool can_redo() const { return at_ + 1 < entries_.size(); }
  const EditedScenes& undo();  // one back; the oldest if there is none before
  const EditedScenes& redo();  // one on; the newest if there is none after
  const EditedScenes& now() const { return entries_[at_]; }
  std::size_t size() const { return entries_.size(); }

 private:
  std::vector<EditedScenes> entries_{EditedScenes{}};
  std::size_t at_ = 0;
};

bool same(const EditedScenes& a, const EditedScenes& b);  // every value written out is the same

}  // namespace sidehill::screen

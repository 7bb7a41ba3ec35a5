#include "render/screen/desk/history.h"

#include <utility>

#include "sim/scene/scene_file.h"

namespace sidehill::screen {

bool same(const EditedScenes& a, const EditedScenes& b) {
  if (a.document != b.document || a.other.has_value() != b.other.has_value()) return false;
  if (write_scene(a.scene) != write_scene(b.scene) || write_scene(a.loaded) != write_scene(b.loaded)) return false;
  return !a.other || write_scene(*a.other) == write_scene(*b.other);
}

void History::begin(const EditedScenes& now) {
  entries_.assign(1, now);
  at_ = 0;
}

void History::note(EditedScenes now) {
  if (same(now, entries_[at_])) return;
  entries_.resize(at_ + 1);
  entries_.push_back(std::move(now));
  if (entries_.size() > kMost) entries_.erase(entries_.begin());
  at_ = entries_.size() - 1;
}

const EditedScenes& History::undo() {
  if (can_undo()) --at_;
  return entries_[at_];
}

const EditedScenes& History::redo() {
  if (can_redo()) ++at_;
  return entries_[at_];
}

}  // namespace sidehill::screen

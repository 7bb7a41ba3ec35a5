#include "render/screen/kit/key_queue.h"

namespace sidehill::screen {

std::vector<KeyEvent> KeyQueue::next_frame() {
  std::vector<KeyEvent> out;
  if (pause_ > 0) --pause_;
  bool letters = false;
  while (!waiting_.empty()) {
    const KeyEvent& next = waiting_.front();
    const bool release = !next.letter && next.action == KeyEvent::up;
    const bool leads = next.leads && !release;
    // One leading key may follow another in the next frame; letters and what edits them wait longer.
    if (pause_ > 0 && !release && !(leads && pause_ < kPause)) break;
    if (leads && letters) break;
    letters = letters || next.letter;
    out.push_back(next);
    waiting_.pop_front();
    if (leads) {
      pause_ = kPause;
      break;  // what is held with it, Shift, is let go a frame later
    }
  }
  return out;
}

}  // namespace sidehill::screen

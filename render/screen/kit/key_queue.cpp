#include "render/screen/kit/key_queue.h"

#include <algorithm>

namespace sidehill::screen {

std::vector<KeyEvent> KeyQueue::next_frame() {
  std::vector<KeyEvent> out;
  ++frame_;
  if (pause_ > 0) --pause_;
  bool letters = false;
  while (!waiting_.empty()) {
    const KeyEvent& next = waiting_.front();
    const bool release = !next.letter && next.action == KeyEvent::up;
    const bool leads = next.leads && !release;
    // One leading key may follow another after a frame between: a field that Enter has left is still said to be typed
    // into in the next one. Letters and what edits them wait longer.
    if (pause_ > 0 && !release && !(leads && pause_ < kPause - 1)) break;
    if (leads && letters) break;
    // Backspace twice, Tab twice: whoever looks at the keys once a frame has to see the key up in between. A key that
    // types is known by its letter.
    const bool types = waiting_.size() > 1 && waiting_[1].letter;
    if (!next.letter && next.action == KeyEvent::down && !types && free_from_[next.key] > frame_) break;
    if (!next.letter && next.action == KeyEvent::down) free_from_[next.key] = frame_ + 2;
    if (release) free_from_[next.key] = std::max(free_from_[next.key], frame_ + 1);
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

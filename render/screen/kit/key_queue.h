// Keys as they came in, handed out a frame's worth at a time, so that what is typed faster than pictures are drawn
// reaches the field it was meant for: a Tab that arrives with the digits before it waits for the next frame, and the
// digits after it wait until the next field listens. Knows no window, no Dear ImGui.
#pragma once
#include <deque>
#include <map>
#include <vector>

#include "render/namespaces.h"

namespace sidehill::screen {

struct KeyEvent {
  bool letter = false;                     // `key` is a letter's code point, else a key of the keyboard
  unsigned key = 0;                        //
  int scancode = 0, mods = 0;              // of a key
  enum { up, down, again } action = down;  // of a key
  bool leads = false;                      // a key that may move from one field to the next, or open or close one
};

class KeyQueue {
 public:
  static constexpr int kPause = 3;  // frames until a field that was led to listens

  void add(const KeyEvent& event) { waiting_.push_back(event); }
  bool empty() const { return waiting_.empty(); }  // nothing is left to hand out
  // In the order they came. A leading key that follows letters begins another frame, and is the last of its own; after
  // it only releases go out for kPause frames, and from the second on another leading key. A key that types nothing
  // goes down again only after a frame in which it is up.
  std::vector<KeyEvent> next_frame();

 private:
  std::deque<KeyEvent> waiting_;
  int pause_ = 0;
  long frame_ = 0;
  std::map<unsigned, long> free_from_;  // the frame from which on a key that went down may go down again
};

}  // namespace sidehill::screen

// A finished or running run as values: the scene with every value written out, moments, states, events, outcome.
#pragma once
#include <string>
#include <vector>

#include "sim/motion/driving.h"
#include "sim/motion/machine_state.h"
#include "sim/motion/state.h"
#include "sim/scene/scene.h"

namespace sidehill {

// settled: let go above the ground, it has come to rest on its wheels. point_of_no_return is the moment of balance,
// known once the machine lies: the highest place of the centre of gravity on the way. lift_off: a wheel carries
// nothing, for one step or for longer; at 0 s it was in the air from the start.
enum class EventKind {
  touch_down,
  settled,
  lift_off,
  lands,
  stop_hit,
  slide,
  point_of_no_return,
  hull_touches,
  frame_touches,
  at_rest
};

struct Event {
  EventKind kind;
  double time = 0;   // [s], interpolated between steps
  int wheel = -1;    // enum Wheel or -1
  double slope = 0;  // of the ground then [rad]
};

// From the step of that number on, the machine is driven so.
struct HandOrder {
  long step = 0;
  ByHand hand;
};

// wheel_up: a wheel is in the air when the run ends, and the machine has not gone over.
enum class Outcome { stands, slides, wheel_up, lifts_and_returns, on_frame, rolls_on, overturned_rear, diverged };
// It lies on its side, its roof or its back.
constexpr bool overturns(Outcome outcome) {
  return outcome == Outcome::on_frame || outcome == Outcome::rolls_on || outcome == Outcome::overturned_rear;
}

struct Recording {
  std::string scene_text;  // write_scene() of what was run
  std::string program_version;
  double frame_step = 0.02;  // time between stored states [s]
  std::vector<State> states;
  std::vector<MachineState> moments;  // of the same frames; World::restore and World::state give the states from them
  std::vector<Event> events;
  std::vector<HandOrder> orders;  // of somebody who drove by hand
  Outcome outcome = Outcome::stands;
  std::string divergence;  // body, quantity, time; empty unless diverged
};

// From when on what happens counts [s]; what was before is the landing. When it had come to rest after the drop; if it
// never did, its touch-down; 0 for a run that starts at rest.
double counts_from(const std::vector<Event>& events);

// The first lift-off that counts: since counts_from(), or before it and the wheel was still up then. nullptr: none.
const Event* first_lift_off(const std::vector<Event>& events);

// How many wheels carry nothing in the last state.
int wheels_up_at_end(const Recording& recording);

const char* to_string(EventKind kind);   // "lift_off"
const char* to_string(Outcome outcome);  // "lifts_and_returns"

}  // namespace sidehill

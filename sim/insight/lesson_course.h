// What a class follows while the run of a lesson is shown: one quantity over the time of the run, and the moments that
// answer the lesson's question. Knows no screen, no words.
#pragma once
#include <optional>
#include <utility>
#include <vector>

#include "sim/insight/lesson.h"
#include "sim/motion/recording.h"

namespace sidehill {

enum class Followed {
  slope,  // of the ground, while it is tilted [deg]
  tilt,   // of the machine against the ground it stands on, any way [deg], 0 to 180
  lean,   // of the machine sideways, against the horizon [deg], 0 to 90
  speed,  // of the machine over the ground [km/h]
  time,   // since the first wheel left the ground [s]
};
Followed followed_in(Asked quantity);

double lean_sideways(const State& state);     // [deg], 0 to 90
double tilt_from_ground(const State& state);  // [deg], 0 to 180

// Of one moment of a run with these events, later ones left out; none while there is nothing to say, as for `time`
// before a wheel has left the ground. From the point of no return on, `time` stays as it was there.
std::optional<double> follow(Followed what, const State& state, const std::vector<Event>& events);

// A moment that the question is about.
struct AskedMoment {
  enum Kind { lifts, slides, no_return, touches, most_lean, end } kind;
  double time = 0;              // [s]
  std::optional<double> value;  // of what is followed, there; none where nobody knows it
};
// In the order of their time; of a run that goes on, those so far. `ended`: nothing more will come of it.
std::vector<AskedMoment> asked_moments(Asked quantity, const Recording& recording, bool ended);

}  // namespace sidehill

#include "sim/recording.h"

namespace sidehill {

const char* to_string(EventKind kind) {
  switch (kind) {
    case EventKind::touch_down:
      return "touch_down";
    case EventKind::lift_off:
      return "lift_off";
    case EventKind::lands:
      return "lands";
    case EventKind::stop_hit:
      return "stop_hit";
    case EventKind::slide:
      return "slide";
    case EventKind::point_of_no_return:
      return "point_of_no_return";
    case EventKind::hull_touches:
      return "hull_touches";
    case EventKind::frame_touches:
      return "frame_touches";
    case EventKind::at_rest:
      return "at_rest";
  }
  return "";
}

const char* to_string(Outcome outcome) {
  switch (outcome) {
    case Outcome::stands:
      return "stands";
    case Outcome::slides:
      return "slides";
    case Outcome::wheel_up:
      return "wheel_up";
    case Outcome::lifts_and_returns:
      return "lifts_and_returns";
    case Outcome::on_frame:
      return "on_frame";
    case Outcome::rolls_on:
      return "rolls_on";
    case Outcome::overturned_rear:
      return "overturned_rear";
    case Outcome::diverged:
      return "diverged";
  }
  return "";
}

}  // namespace sidehill

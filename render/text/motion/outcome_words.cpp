#include "render/text/motion/outcome_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "render/text/rest/answer_json.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/motion/slip.h"
#include "sim/motion/under_way.h"

namespace sidehill::text {
namespace {

constexpr double kOnItsSide = 0.57;   // cosine of 55 deg: leaning further it does not stand on its wheels
constexpr double kUpright = 0.7;      // of the nose: on its tail, on its nose
constexpr double kWorthSaying = 0.1;  // slid [m]
constexpr double kStillMoving = 0.2;  // [m/s]

bool went_over(const Recording& recording) {
  return recording.outcome == Outcome::on_frame || recording.outcome == Outcome::rolls_on ||
         recording.outcome == Outcome::overturned_rear;
}

const Event* first_event(const Recording& recording, EventKind kind) {
  const auto found = std::find_if(recording.events.begin(), recording.events.end(),
                                  [&](const Event& event) { return event.kind == kind; });
  return found == recording.events.end() ? nullptr : &*found;
}

// A frame is named only where there is one, and it is up.
bool frame_is_up(const Scene& scene) {
  const ProtectiveFrame& frame = scene.vehicle.frame;
  return frame.kind != FrameKind::none && !(frame.kind == FrameKind::two_post && frame.folded);
}

std::string with_slide(const std::string& line, const Recording& recording) {
  const std::string slid = slid_words(recording);
  return slid.empty() ? line : line + "; " + slid;
}

// "A WHEEL LIFTS", "3 WHEELS LIFT": whichever of the two fits.
std::string by_count(int count, const char* one, const char* several) {
  return count > 1 ? fmt::format("{} WHEELS {}", count, several) : fmt::format("A WHEEL {}", one);
}

std::string stands_words(const Recording& recording) {
  const std::string all = "STANDS: all wheels stay on the ground";
  if (const Event* settled = first_event(recording, EventKind::settled))
    return all + fmt::format(" from {:.2f} s on, when it had come to rest", settled->time);
  return first_event(recording, EventKind::touch_down) ? all + " once they have landed" : all;
}

}  // namespace

bool slides_at_end(const Recording& recording) {
  return !recording.states.empty() && an_axle_slides(recording.states.back()) &&
         glm::length(recording.states.back().v_G) > 0.05;
}

std::string slid_words(const Recording& recording) {
  const double far = slid_distance(recording.states, counts_from(recording.events));
  if (!(far > kWorthSaying)) return {};
  const double speed = recording.states.empty() ? 0 : glm::length(recording.states.back().v_G);
  return fmt::format("its tyres slide {:.1f} m{}", far,
                     slides_at_end(recording) ? fmt::format(", and still slide at the end, at {:.1f} m/s", speed) : "");
}

int wheels_lifted(const Recording& recording) {
  std::array<bool, kWheels> lifted{};
  const double from = counts_from(recording.events);
  for (const Event& event : recording.events)
    if (event.kind == EventKind::lift_off && event.wheel >= 0 && event.time >= from)
      lifted[static_cast<std::size_t>(event.wheel)] = true;
  return static_cast<int>(std::ranges::count(lifted, true));
}

std::string over_which_way(const Recording& recording) {
  if (!went_over(recording)) return {};
  if (recording.outcome == Outcome::overturned_rear) return "backwards";
  const auto leans = [](const State& state) { return state.X_GV.R[2].z < kOnItsSide; };
  const auto found = std::find_if(recording.states.begin(), recording.states.end(), leans);
  if (found == recording.states.end()) return "sideways";
  if (found->X_GV.R[0].z < -kUpright) return "forwards";
  return found->X_GV.R[1].z > 0 ? "to the right" : "to the left";
}

Lying lying(const Scene& scene, const Recording& recording) {
  if (recording.states.empty()) return {"is upright", "upright", false};
  return lying(scene, recording.states.back());
}

Lying lying(const Scene& scene, const State& last) {
  const Mat3& R = last.X_GV.R;
  Lying out;
  if (R[0].z > kUpright)
    out = {"stands on its tail", "tail", false};
  else if (R[0].z < -kUpright)
    out = {"stands on its nose", "nose", false};
  else if (R[2].z >= kOnItsSide)
    return {"is upright", "upright", false};
  else if (R[2].z < -kOnItsSide)
    out = {"lies on its back", "back", false};
  else if (R[1].z > 0)
    out = {"lies on its right side", "right_side", false};
  else
    out = {"lies on its left side", "left_side", false};
  out.on_frame = last.frame_touches && frame_is_up(scene) && std::abs(R[0].z) <= kUpright;
  if (out.on_frame) out.words += ", on its roll-over frame";
  return out;
}

namespace {

// Of a run that went on until it was decided.
std::string decided_line(const Scene& scene, const Recording& recording) {
  switch (recording.outcome) {
    case Outcome::stands:
      return with_slide(stands_words(recording), recording);
    case Outcome::slides:
      return with_slide("SLIDES: the tyres do not hold", recording);
    case Outcome::wheel_up:
      return with_slide(by_count(wheels_up_at_end(recording), "IS UP at the end", "ARE UP at the end"), recording);
    case Outcome::lifts_and_returns:
      return with_slide(by_count(wheels_lifted(recording), "LIFTS and comes back", "LIFT and come back"), recording);
    case Outcome::on_frame:
    case Outcome::rolls_on:
    case Outcome::overturned_rear: {
      const std::string goes =
          "OVERTURNS " + over_which_way(recording) + (recording.outcome == Outcome::rolls_on ? ", rolls on" : "");
      const double speed = recording.states.empty() ? 0 : glm::length(recording.states.back().v_G);
      const bool moves = !first_event(recording, EventKind::at_rest) && speed > kStillMoving;
      return goes + " and " + lying(scene, recording).words +
             (moves ? fmt::format("; it still moves at the end, at {:.1f} m/s", speed) : "");
    }
    case Outcome::diverged:
      return "NO ANSWER: the numbers ran away";
  }
  return "-";
}

}  // namespace

std::string cut_off_words(CutOff cut, const Recording& recording) {
  if (cut == CutOff::no || recording.states.empty()) return {};
  const double time = recording.states.back().time;
  if (cut == CutOff::in_the_air) return fmt::format("the run stops at {:.2f} s while the machine is in the air", time);
  return fmt::format("the run stops at {:.2f} s while the machine is going over", time);
}

std::string outcome_line(const Scene& scene, const Recording& recording) {
  if (overturns(recording.outcome) || recording.outcome == Outcome::diverged) return decided_line(scene, recording);
  const CutOff cut = cut_off(build(scene), recording);
  if (cut == CutOff::no) return decided_line(scene, recording);
  const std::string words = "HOW IT ENDS IS NOT KNOWN: " + cut_off_words(cut, recording);
  return recording.outcome == Outcome::stands ? words : words + ". " + decided_line(scene, recording);
}

bool drop_throws_it_over(const Scene& scene, const StaticSolution& statics, const Recording& recording) {
  const Programme& programme = scene.programme;
  if (!(programme.drop_height > 0) || !went_over(recording) || first_event(recording, EventKind::settled)) return false;
  if (statics.status != RestStatus::stands || !recording.orders.empty() || programme.tilt_rate != 0) return false;
  double begins = 1e300;
  if (programme.speed != 0) begins = programme.drive_from;
  for (const Action& action : programme.actions) begins = std::min(begins, action.at);
  const Event* over = first_event(recording, EventKind::hull_touches);
  return over && over->time < begins;
}

std::string landing_table(const Answer& answer, const Recording& recording) {
  const Event *down = first_event(recording, EventKind::touch_down), *rest = first_event(recording, EventKind::settled);
  if (!down || !rest) return {};
  std::string text =
      fmt::format("\nThe landing, apart from what follows\n  touches down at {:.2f} s, has come to rest at {:.2f} s\n",
                  down->time, rest->time);
  const LeastMargins least = least_margins(answer.model, recording.states, down->time, rest->time);
  if (least.angle) text += fmt::format("  least margin {} at {:.2f} s\n", degrees(*least.angle), least.angle_at);
  for (const Event& event : recording.events)
    if (event.time < rest->time && event.kind != EventKind::touch_down)
      text += fmt::format("  {:8.3f} s   {}\n", event.time, event_words(event));
  return text;
}

nlohmann::ordered_json landing_json(const Answer& answer, const Recording& recording) {
  const Event *down = first_event(recording, EventKind::touch_down), *rest = first_event(recording, EventKind::settled);
  if (!down || !rest) return nullptr;
  const LeastMargins least = least_margins(answer.model, recording.states, down->time, rest->time);
  nlohmann::ordered_json wheels = nlohmann::ordered_json::array();
  for (int wheel = 0; wheel < kWheels; ++wheel)
    if (std::any_of(recording.events.begin(), recording.events.end(), [&](const Event& e) {
          return e.kind == EventKind::lift_off && e.wheel == wheel && e.time < rest->time;
        }))
      wheels.push_back(wheel_key(wheel));
  return {{"touch_down_s", number_or_null(down->time)},
          {"settled_s", number_or_null(rest->time)},
          {"least_angle_left_deg", number_or_null(least.angle, kDegree)},
          {"least_angle_left_at_s", least.angle ? number_or_null(least.angle_at) : nlohmann::ordered_json(nullptr)},
          {"wheels_that_left_the_ground", wheels}};
}

}  // namespace sidehill::text

// What a set-up does in its job: slip, efficiency and greatest pull, on level ground and up the steepest slope; how
// much of the grip a cross slope takes; litres of fuel and what ballast takes of them; what the tyres do to the soil.
// Joins a machine with the published equations of traction, fuel_use and soil_stress. Knows no file, no time.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "sim/job/ballast_tables.h"
#include "sim/job/fuel_use.h"
#include "sim/job/rules.h"
#include "sim/job/soil_stress.h"
#include "sim/job/tractor_pull.h"

namespace sidehill {

// Our estimates where the job has no datum.
inline constexpr double kFrontLead = 0.03;    // of a driven front axle over the rear one [-]
inline constexpr double kRoadRolling = 0.02;  // rolling resistance over load on a hard road [-]
inline constexpr double kLeastPressure =
    8e4;  // least pressure a tyre is recommended for high torque [Pa]; tyre maker's data book

// Pulling on one ground at one slope, straight up it.
struct PullAtWork {
  double slope = 0;      // [rad]
  double asked = 0;      // the implement's pull and the weight's along the slope together [N]
  double of_weight = 0;  // of that, the weight's [N]
  PullAnswer answer;
  std::optional<double> most;  // greatest pull left for the implement, after the weight's [N]; none: it cannot climb
  double axle_power = 0;  // at the driven wheels, at the working speed [W]; 0 = speed not known, or it does not pull
};

struct WorkAnswer {
  bool known = false;                                // false: the ground is mud, where the equations end
  double cone_index = 0;                             // [Pa]; of a road that of hard ground, for its grip
  bool road = false;                                 // rolling coefficient in place of the equations' motion resistance
  bool pull_known = false;                           // the job says what the implement takes
  PullAtWork level, uphill;                          // `uphill` only with a slope that is driven up: slope > 0
  std::vector<RangeLeft> ranges_front, ranges_rear;  // of the equations that are left, level, without pull
  // Share of the sideways grip that a cross slope of this steepness uses, and what it leaves lengthwise [-]; none
  // where grip is without limit or the slope is 0. Source: friction circle, our estimate.
  std::optional<double> side_use, left_lengthwise;

  // Fuel; none where speed, hours or power are not known. Part load by Grisso et al. at full throttle.
  double load_share = 0;  // of the rated power, at work on the level [-]; above 1 the engine cannot
  std::optional<double> work_rate, road_rate;  // [L/h]
  double work_year = 0, road_year = 0;         // [L]; of the hours that are known
  double ballast = 0;                          // liquid and weights [kg]
  double ballast_year = 0;                     // litres a year that rolling all of it takes, level [L]
};

// Level hard balance of the axles with what the job hangs on them, under the pull; the slope's part by the lever rule
// about the wheels' contact lines with the height of the centre of gravity.
WorkAnswer at_work(const Scene& scene, const Model& model, const RuleReport& rules);

// Of the fuller tyre of an axle, as it stands on the level in the job.
struct SoilUnder {
  SoilWheel wheel;
  bool recommended_known = false;  // false: the pressure there is taken as the one recommended
  StressField field;
  // At kSoilDepths [Pa]; none = not known. Where the field is out of range, below an evenly loaded circle of the
  // contact area (`by_circle`): near the surface too low, at 50 cm hardly different.
  std::array<std::optional<double>, 3> stress;
  bool by_circle = false;
  std::vector<std::string> cautions;  // the worst first
};
inline constexpr std::array<double, 3> kSoilDepths{0.15, 0.30, 0.50};  // [m]

struct SoilAnswer {
  double concentration = 5;        // by the job's ground: 4 hard and dry, 5 firm, 6 tilled, soft or wet [-]
  std::array<SoilUnder, 2> axles;  // front, rear
};
// Milliseconds.
SoilAnswer soil_under(const Scene& scene, const Model& model, const RuleReport& rules);

}  // namespace sidehill

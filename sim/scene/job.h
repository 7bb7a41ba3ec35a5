// What a machine is wanted for: the work, what hangs behind, speeds and hours, the ground, the steepest slope, the
// winter, and what is on hand to ballast it with. Plain data; a job changes no answer at rest by itself. Knows no file
// format, no machine.
#pragma once
#include <array>
#include <string>
#include <vector>

#include "sim/base/enum_table.h"
#include "vehicles/liquid.h"
#include "vehicles/price.h"

namespace sidehill {

enum class Work {
  none,              // nothing is asked
  heavy_pull,        // plough, heavy cultivator
  light_pull,        // tine harrow, drill, tedder
  mounted,           // carried on the linkage
  loader,            // lifting and carrying in front
  hauling,           // a trailer on tracks and roads
  mowing_on_slopes,  // across and up steep grass
  forestry,          // winch, blade, logs
  yard,              // lifting on hard ground
};
inline constexpr std::array kWorks{
    KeyOf<Work>{Work::none, "none"},
    KeyOf<Work>{Work::heavy_pull, "heavy_pull"},
    KeyOf<Work>{Work::light_pull, "light_pull"},
    KeyOf<Work>{Work::mounted, "mounted_implement"},
    KeyOf<Work>{Work::loader, "loader"},
    KeyOf<Work>{Work::hauling, "hauling"},
    KeyOf<Work>{Work::mowing_on_slopes, "mowing_on_slopes"},
    KeyOf<Work>{Work::forestry, "forestry"},
    KeyOf<Work>{Work::yard, "lifting_in_a_yard"},
};
static_assert(is_whole(kWorks, &KeyOf<Work>::value));

// What the implement hangs on.
enum class JobHitch { none, drawbar, linkage };
inline constexpr std::array kJobHitches{
    KeyOf<JobHitch>{JobHitch::none, "none"},
    KeyOf<JobHitch>{JobHitch::drawbar, "drawbar"},
    KeyOf<JobHitch>{JobHitch::linkage, "linkage"},
};
static_assert(is_whole(kJobHitches, &KeyOf<JobHitch>::value));

// `road`: asphalt or concrete, where the traction equations do not hold. `mud`: where they end.
enum class JobGround { road, hard, firm, tilled, soft, mud };
inline constexpr std::array kJobGrounds{
    KeyOf<JobGround>{JobGround::road, "road"}, KeyOf<JobGround>{JobGround::hard, "hard"},
    KeyOf<JobGround>{JobGround::firm, "firm"}, KeyOf<JobGround>{JobGround::tilled, "tilled"},
    KeyOf<JobGround>{JobGround::soft, "soft"}, KeyOf<JobGround>{JobGround::mud, "mud"},
};
static_assert(is_whole(kJobGrounds, &KeyOf<JobGround>::value));

enum class JobHeadings { any, across, up_and_down };
inline constexpr std::array kJobHeadings{
    KeyOf<JobHeadings>{JobHeadings::any, "any"},
    KeyOf<JobHeadings>{JobHeadings::across, "across"},
    KeyOf<JobHeadings>{JobHeadings::up_and_down, "up_and_down"},
};
static_assert(is_whole(kJobHeadings, &KeyOf<JobHeadings>::value));

enum class YesNo { not_known, no, yes };
inline constexpr std::array kYesNoWords{
    KeyOf<YesNo>{YesNo::not_known, "not_known"},
    KeyOf<YesNo>{YesNo::no, "no"},
    KeyOf<YesNo>{YesNo::yes, "yes"},
};
static_assert(is_whole(kYesNoWords, &KeyOf<YesNo>::value));

// Who can fill a tyre here.
enum class Filler { not_known, owner, tyre_service, dealer };
inline constexpr std::array kFillers{
    KeyOf<Filler>{Filler::not_known, "not_known"},
    KeyOf<Filler>{Filler::owner, "owner"},
    KeyOf<Filler>{Filler::tyre_service, "tyre_service"},
    KeyOf<Filler>{Filler::dealer, "dealer"},
};
static_assert(is_whole(kFillers, &KeyOf<Filler>::value));

// Where weights go.
enum class WeightPlace { front, rear, front_wheels, rear_wheels };
inline constexpr std::array kWeightPlaces{
    KeyOf<WeightPlace>{WeightPlace::front, "front"},
    KeyOf<WeightPlace>{WeightPlace::rear, "rear"},
    KeyOf<WeightPlace>{WeightPlace::front_wheels, "front_wheels"},
    KeyOf<WeightPlace>{WeightPlace::rear_wheels, "rear_wheels"},
};
static_assert(is_whole(kWeightPlaces, &KeyOf<WeightPlace>::value));

// Weights in pieces that are there, or can be had.
struct WeightOnHand {
  std::string name;
  WeightPlace place = WeightPlace::front;
  double mass = 0;    // of one piece [kg], > 0
  double pieces = 1;  // whole; on wheels of both wheels together
  double price = 0;   // of one piece [EUR]; 0 = not given
};

// Where a pair of wheels on hand goes.
enum class WheelsAxle { front, rear };
inline constexpr std::array kWheelsAxles{KeyOf<WheelsAxle>{WheelsAxle::front, "front"},
                                         KeyOf<WheelsAxle>{WheelsAxle::rear, "rear"}};
static_assert(is_whole(kWheelsAxles, &KeyOf<WheelsAxle>::value));

enum class WheelsFit { beside, instead };  // as dual wheels, alike to those on the axle; in place of those
inline constexpr std::array kWheelsFits{KeyOf<WheelsFit>{WheelsFit::beside, "beside"},
                                        KeyOf<WheelsFit>{WheelsFit::instead, "instead"}};
static_assert(is_whole(kWheelsFits, &KeyOf<WheelsFit>::value));

// A pair of wheels that is there, or can be had.
struct WheelsOnHand {
  std::string name;
  WheelsAxle axle = WheelsAxle::rear;
  WheelsFit fit = WheelsFit::beside;
  double dual_spacing = 0;  // beside: mid-plane of the outer tyre beyond the inner one's [m]
  // Instead: the tyre's designation and service description, tyre and rim of one wheel [kg], what a rim may carry [kg].
  std::string size, service;
  double wheel_mass = 0;
  double rim_capacity = 0;  // 0 = not known
  double price = 0;         // of the pair [EUR]; 0 = not given
};

// A liquid that is there, or can be had.
struct MediumOnHand {
  Medium medium = Medium::water;
  double volume = 0;  // [m3]; 0 = as much as is wanted
  PriceRange price;   // as pumped [EUR/L]; 0 = not given
};

struct Job {
  std::string name;
  Work work = Work::none;
  JobHitch hitch = JobHitch::none;
  double pull = 0;            // what the implement takes at working speed, along the ground [N]; 0 = not known
  double implement_mass = 0;  // on the linkage, or the part of a trailed one that rests on the drawbar [kg]
  double implement_x = -1.6;  // its centre of mass, ahead of the rear axle; behind is negative [m]
  double implement_z = 0.7;   // as carried, above ground [m]
  double working_speed = 0;   // [m/s]; 0 = not known
  double road_speed = 0;      // [m/s]; 0 = never on the road
  double working_time = 0;    // a year [s]
  double road_time = 0;       // a year [s]
  JobGround ground = JobGround::firm;
  double cone_index = 0;  // measured [Pa]; 0 = that of the ground's class
  bool wet = false;
  double slope = 0;  // the steepest [rad]
  JobHeadings headings = JobHeadings::any;
  double coldest = 283.15;                    // coldest night the machine stands through [K]
  YesNo tubes = YesNo::not_known;             // the tyres have tubes
  YesNo liquid_permitted = YesNo::not_known;  // by the makers of tyre and rim
  bool backhoe = false;                       // one is fitted behind
  bool air_water_valve = false;               // on hand
  bool tubes_on_hand = false;                 // new ones
  Filler filler = Filler::not_known;
  std::vector<WeightOnHand> weights;
  std::vector<MediumOnHand> media;
  std::vector<WheelsOnHand> wheels;
};

}  // namespace sidehill

// What a whole tractor of two axles can pull on level soil: slips, tractive efficiency, greatest pull, and the least
// mass added for a slip. Plain numbers in; knows no scene and no model. One question takes about a microsecond.
// Source: the equations of sim/job/traction.h for each wheel; the balance of pull and the transfer of load by the pull
// are statics (as in Zoz and Grisso 2003). The shift of the load by the rolling resistance is left out.
#pragma once
#include <optional>

#include "sim/job/traction.h"

namespace sidehill {

// One axle. All its tyres carry the same.
struct PullAxle {
  double load = 0;  // static load of the axle, level, without the pull [N]
  int tyres = 2;    // how many carry it: 2, with duals 4
  TyreShape tyre;   // one of them; its deflection is kept, whatever the load becomes
  TyreSet set = TyreSet::bias;
  bool driven = false;  // a wheel that is not driven rolls freely: no slip, and MRR(0) in its way
};

struct PullTractor {
  PullAxle front, rear;
  double wheelbase = 0;     // [m]
  double hitch_height = 0;  // of the pull's line, level, over the ground [m]
  double front_lead = 0;  // how much faster the front wheels are driven over the ground: (1 - s_f)(1 + lead) = 1 - s_r
};

struct PullGround {
  double cone_index = 0;  // [Pa]
  std::optional<double> rolling =
      {};  // a hard road: rolling resistance over load [-] instead of the equations' resistance
};

enum class PullKind {
  pulls,           // everything below is valid
  needs_no_drive,  // driven at no slip there is as much already: the pull pushes, or is less than the lead gives
  out_of_reach,    // no slip gives that pull; loads and greatest pull at these loads are valid
  axle_lifts,      // the pull takes all load off an axle; only the loads are valid
};

struct PullAnswer {
  PullKind kind = PullKind::out_of_reach;
  double front_load = 0, rear_load = 0;          // with the pull [N]
  double front_mobility = 0, rear_mobility = 0;  // Bn [-]
  double front_slip = 0, rear_slip = 0;          // [-]; 0 of an axle that rolls freely
  double efficiency = 0;     // pull times speed over the power at the driven axles [-]: P / sum(GTR R / (1 - s))
  double dynamic_ratio = 0;  // pull over the load on driven axles [-]
  double most_here = 0;      // greatest pull with the loads as they are at this pull [N]
};

// `pull` [N], positive backwards at the hitch: everything lengthwise that the wheels must overcome besides their own
// motion resistance. A weight along a slope or the rolling of a trailer is added by whoever asks; the efficiency then
// counts these as useful. Loads with the pull: front - P h/L, rear + P h/L.
PullAnswer pull_answer(const PullTractor& tractor, const PullGround& ground, double pull);

// The greatest pull [N] that the tractor can hold, with the loads that this pull itself makes, to 0.01 N. Where a front
// axle would lift before the wheels slip, the pull at which it lifts. Nothing: it cannot move itself.
std::optional<double> greatest_pull(const PullTractor& tractor, const PullGround& ground);

// The least mass to add [kg] so that the slip of the rear wheels (of the front ones where only they are driven) is
// `slip_limit` or less at this pull. `share_front` 0 to 1 of it stands on the front axle. 0: none is needed; nothing:
// none up to `most`. Counted from none upwards: slip need not fall for ever as mass is added, since the resistance
// grows with it, so more than this may be too much again. To 0.001 kg.
std::optional<double> least_mass_for_slip(const PullTractor& tractor, const PullGround& ground, double pull,
                                          double share_front, double slip_limit, double most = 8000);

}  // namespace sidehill

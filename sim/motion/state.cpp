#include "sim/motion/state.h"

#include <bit>

namespace sidehill {
namespace {

struct Fnv {
  std::uint64_t value = 1469598103934665603ull;
  void add(std::uint64_t bits) {
    for (int i = 0; i < 8; ++i) {
      value ^= (bits >> (8 * i)) & 0xff;
      value *= 1099511628211ull;
    }
  }
  void add(double x) { add(std::bit_cast<std::uint64_t>(x)); }
  void add(bool x) { add(std::uint64_t{x}); }
  void add(const Vec3& x) { add(x.x), add(x.y), add(x.z); }
};

}  // namespace

std::uint64_t hash(const State& s) {
  Fnv h;
  h.add(s.time), h.add(s.slope);
  for (int c = 0; c < 3; ++c) h.add(s.X_GV.R[c]);
  h.add(s.X_GV.p), h.add(s.v_G), h.add(s.w_G);
  h.add(s.axle_angle), h.add(s.axle_rate), h.add(s.boom_angle), h.add(s.bucket_angle), h.add(s.steer);
  h.add(s.articulation), h.add(s.hanging_G), h.add(s.tank_G), h.add(s.engine_speed), h.add(s.pull),
      h.add(s.hitch_force_G);
  h.add(s.tied), h.add(s.stake_G);
  for (const WheelState& w : s.wheels) {
    h.add(w.centre_G), h.add(w.axle_G), h.add(w.spin_angle), h.add(w.spin_rate), h.add(w.load), h.add(w.penetration),
        h.add(w.contact_G), h.add(w.force_G);
    h.add(w.sliding), h.add(w.liquid_swing), h.add(w.liquid_G);
  }
  h.add(s.centre_of_gravity_G), h.add(s.on_stop), h.add(s.hull_touches), h.add(s.frame_touches),
      h.add(s.kinetic_energy);
  return h.value;
}

}  // namespace sidehill

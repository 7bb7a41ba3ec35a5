#include "vehicles/tyre_cavity.h"

#include "vehicles/tyre_size.h"

namespace sidehill {

Cavity cavity_of(const Tyre& tyre) {
  const double volume = tyre.cavity_volume > 0
                            ? tyre.cavity_volume
                            : tyre_cavity_volume(tyre.section_width, 2 * tyre.free_radius, 2 * tyre.rim_radius);
  return cavity_of(tyre.free_radius, tyre.rim_radius, tyre.section_width, volume);
}

double cavity_uncertainty(const Tyre& tyre) {
  if (tyre.cavity_volume > 0) return 0.01;
  // A size we cannot read is taken to be as well known as the worst series we can.
  return is_tyre_size(tyre.size) ? parse_tyre_size(tyre.size).volume_uncertainty : 0.10;
}

}  // namespace sidehill

#include "vehicles/tyre_cavity.h"

#include <cmath>

#include "vehicles/tyre_size.h"

namespace sidehill {

namespace {

double volume_from_dimensions(const Tyre& tyre) {
  SizeSeries series = SizeSeries::drive;
  double width = tyre.section_width;
  if (const auto size = read_tyre_size(tyre.size)) {
    series = size->series;
    // Whoever gives the nominal width means the tyre, which measures more.
    if (std::abs(width - size->section_width) < 0.01 * width) width *= size->measured_width / size->section_width;
  }
  return tyre_cavity_volume(series, width, 2 * tyre.free_radius, 2 * tyre.rim_radius);
}

}  // namespace

Cavity cavity_of(const Tyre& tyre) {
  const double volume = tyre.cavity_volume > 0 ? tyre.cavity_volume : volume_from_dimensions(tyre);
  return cavity_of(tyre.free_radius, tyre.rim_radius, tyre.section_width, volume);
}

double cavity_uncertainty(const Tyre& tyre) {
  if (tyre.cavity_volume > 0) return 0.01;
  // A size we cannot read is taken to be as well known as the worst series we can.
  const auto size = read_tyre_size(tyre.size);
  return size ? size->volume_uncertainty : 0.10;
}

}  // namespace sidehill

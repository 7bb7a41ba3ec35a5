// Charts of a run: degrees left and wheel loads over time, with what happened. Know the recording; no drawing library,
// no screen.
#pragma once
#include "render/namespaces.h"
#include "render/page/chart.h"
#include "sim/motion/recording.h"

namespace sidehill::page {

// Force angle under way (sim/motion/under_way angle_left), the stretches of sim/motion/margin_gaps hatched and without
// a line. Both throw InputError for a recording without frames or whose scene cannot be read.
Chart margin_chart(const Recording& recording);
Chart loads_chart(const Recording& recording, Units units = Units::si);

}  // namespace sidehill::page

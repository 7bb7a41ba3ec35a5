// Set-ups side by side as a chart: at which slope each slides, lifts a wheel and goes over, with its interval. Knows
// the comparison; no drawing library, no screen.
#pragma once
#include "render/namespaces.h"
#include "render/page/chart.h"
#include "sim/insight/set_ups.h"

namespace sidehill::page {

Chart set_ups_chart(const SetUpComparison& all);

}  // namespace sidehill::page

// Every chart by the name a person asks for it by: the one list of them for command line and window. Knows the answer
// and the recording; no drawing library, no screen.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "render/page/chart.h"
#include "sim/motion/recording.h"
#include "sim/scene/scene.h"

namespace sidehill {

// "heading", "time", "loads", "why", "slopes", "fills".
const std::vector<std::string>& chart_names();
bool is_chart_of_run(std::string_view name);  // drawn over a run's time, from its recording

// Answers the scene as far as this chart needs it. `plain`: the margin by heading along an axis, not around the
// machine. Throws InputError for an impossible machine, for a name that is not in the list or is of a run, and for
// "why" where no wheel ever lifts.
Chart make_chart(std::string_view name, const Scene& scene, bool plain = false);
// A chart of a run. Throws InputError as render/page/run_charts.h, and for a name that is not of a run.
Chart make_chart(std::string_view name, const Recording& recording);

}  // namespace sidehill

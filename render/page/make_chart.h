// Every chart by the name a person asks for it by: the one list of them for command line and window. Knows the answer
// and the recording; no drawing library, no screen.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "render/namespaces.h"
#include "render/page/chart.h"
#include "sim/motion/recording.h"
#include "sim/scene/scene.h"

namespace sidehill::page {

// A chart a person can ask for. It is made of a scene, or of a run: one of the two is empty.
struct OfferedChart {
  std::string_view key;                                    // "heading"
  const char* name;                                        // "Margin by heading"
  const char* help;                                        // "margin by heading"
  Chart (*of_scene)(const Scene& scene, bool plain) = {};  // answers the scene as far as this chart needs it
  Chart (*of_run)(const Recording& recording, Units units) = {};
};
const std::vector<OfferedChart>& offered_charts();
std::vector<std::string> chart_keys();
bool is_chart_of_run(std::string_view key);  // drawn over a run's time, from its recording

// `plain`: the margin by heading along an axis, not around the machine. Throws InputError for an impossible machine,
// for a key that is not in the list or is of a run, and for "why" where no wheel ever lifts.
Chart make_chart(std::string_view key, const Scene& scene, bool plain = false, Units units = Units::si);
// A chart of a run. Throws InputError as render/page/run_charts.h, and for a key that is not of a run.
Chart make_chart(std::string_view key, const Recording& recording, Units units = Units::si);

}  // namespace sidehill::page

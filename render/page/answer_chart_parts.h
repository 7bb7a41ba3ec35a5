// What the charts of an answer are made with. Part of render/page/answer_charts.
#pragma once
#include <optional>
#include <string>

#include "render/namespaces.h"
#include "render/page/chart.h"
#include "sim/scene/scene.h"

namespace sidehill::page {

// Nothing where the angle is not finite [rad to degrees].
std::optional<double> in_degrees(const std::optional<double>& angle);

// With the scene's words, the caution and the limits of validity.
Chart chart_about(const Scene& scene, ChartKind kind, std::string title);

double round_up(double value, double step);  // to the next whole step

}  // namespace sidehill::page

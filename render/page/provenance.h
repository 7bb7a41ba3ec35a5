// What a chart or report was made from, so that it can be made again. Knows no drawing.
#pragma once
#include <string>

#include "render/namespaces.h"
#include "sim/scene/scene.h"

namespace sidehill::page {

// 16 hex digits over the scene with every value written out (FNV-1a, 64 bits): the same scene has the same.
std::string scene_hash(const Scene& scene);

// "Sidehill 0.1.0, scene 0123456789abcdef".
std::string made_by(const Scene& scene);

// "First slope: utility tractor, 75 kW, four-wheel drive on firm dry grassland, slope 18.0°, across, ...".
std::string scene_words(const Scene& scene);

}  // namespace sidehill::page

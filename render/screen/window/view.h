// `sidehill view`: the window on a scene. Needs a display.
#pragma once
#include <filesystem>
#include <span>
#include <string>

#include "render/namespaces.h"

namespace sidehill::screen {

// Opens the window on a scene file and stays until it is closed; returns 0. Throws InputError with one clear line for a
// scene that cannot be read, and where there is no display or no OpenGL 3.3.
int view(const std::filesystem::path& scene_path, std::span<const std::string> overrides);

}  // namespace sidehill::screen

// Reads and writes scenes (toml++ lives in the .cpp and nowhere else). Knows the field list, no physics.
#pragma once
#include <filesystem>
#include <span>
#include <stdexcept>
#include <string>

#include "sim/scene.h"

namespace sidehill {

// Bad input, as one line for a person: "file:line: key: what is wrong, what is allowed".
struct InputError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

// defaults <- vehicle file <- scene file <- overrides ("key=value" in the file's units; "ballast.point_mass+={...}"
// appends). Throws InputError for anything wrong, also values outside their range and keys that do not exist.
Scene load_scene(const std::filesystem::path& path, std::span<const std::string> overrides = {});
void apply_override(Scene& scene, std::string_view override_text);  // throws InputError

// Every value written out (no vehicle file needed to read it back).
std::string write_scene(const Scene& scene);
Scene parse_scene(std::string_view text, const std::filesystem::path& name);  // throws InputError

// To a temporary name, then renamed, so that an interruption loses nothing. Throws InputError.
void save_text(const std::filesystem::path& path, std::string_view text);

}  // namespace sidehill

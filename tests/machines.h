// Machines for tests: the reference bodies and the generic machines, loaded from their files, with overrides.
#pragma once
#include <string>
#include <vector>

#include "sim/scene_file.h"

namespace sidehill {

inline Scene test_scene(const std::string& name, std::vector<std::string> overrides = {}) {
  return load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + name + ".toml", overrides);
}

// A generic machine put down on level ground with grip without limit, rear tyres three quarters full of water.
inline Scene test_machine(const std::string& vehicle, std::vector<std::string> more = {}) {
  std::vector<std::string> overrides{
      "vehicle_file=\"" + vehicle + "\"", "terrain.slope_deg=0",       "terrain.soil.adhesion_unlimited=true",
      "ballast.loader_payload_kg=0",      "programme.drop_height_m=0", "ballast.rear.medium=\"water\""};
  overrides.insert(overrides.end(), more.begin(), more.end());
  return test_scene("first_slope", overrides);
}

inline constexpr double kDegrees = 57.295779513082323;
inline constexpr const char* kMachines[] = {"compact_26kw", "utility_75kw", "row_crop_150kw", "orchard_60kw",
                                            "two_wheel_45kw"};

}  // namespace sidehill

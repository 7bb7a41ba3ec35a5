// Reads and writes scenes. Knows the field list, no physics.
#pragma once
#include <filesystem>
#include <span>
#include <string>

#include "sim/scene/scene.h"
#include "sim/scene/scene_fields.h"

namespace sidehill {

// defaults <- machine file <- scene file <- overrides ("key=value" in the file's units; "ballast.point_mass+={...}"
// appends an entry, "terrain.feature[0].height_m=0.3" changes one, "vehicle_file=..." changes the machine under the
// scene's own vehicle data, "job_file=..." replaces the job). Its tolerances are the scene's own and, of what the scene
// does not name, those of the machine file. Throws InputError for anything wrong: values outside their range, keys that
// do not exist, data that contradict each other.
Scene load_scene(const std::filesystem::path& path, std::span<const std::string> overrides = {});

// One override on a scene at hand; "vehicle_file=..." replaces the whole vehicle, with its tolerances. Throws
// InputError as above, but looks at this datum alone: contradictions show in find_conflict (sim/scene/scene_checks.h)
// once all are applied. `option` is what messages call the place it comes from.
void apply_override(Scene& scene, std::string_view override_text, const std::string& option = "--set");

// What a machine file says: the machine, and how well its numbers are known where the file says so.
struct MachineFile {
  Vehicle vehicle;
  std::vector<Tolerance> tolerances;  // whole keys, "vehicle.rear.track_m"; none twice
};
// `name` as in a scene's vehicle_file, relative names from `folder`. Throws InputError.
MachineFile load_machine(std::string_view name, const std::filesystem::path& folder);
Vehicle load_vehicle(std::string_view name, const std::filesystem::path& folder);  // the machine alone

// What a job file says; `name` as in a scene's job_file. Throws InputError.
Job load_job(std::string_view name, const std::filesystem::path& folder);

// Every value written out (no vehicle file needed to read it back; its name is kept in a comment). What has been read
// comes back bit for bit.
std::string write_scene(const Scene& scene);

// What a file says of a datum behind its equals sign: 120, "water", true. Empty for what is not written.
std::string text_in_file(const Field& field, const Scene& scene);

// What a scene is whose file says nothing: every default, on a value that a file can state exactly.
Scene default_scene();

// Keys of the list of data that begin with `part` and differ, as --set takes them to make `to` of `from`:
// "vehicle.rear.track_m=1.9". Texts stand in quotes.
std::vector<std::string> changed_settings(const Scene& from, const Scene& to, std::string_view part);

// Text of a scene; `name` is what messages call it, and relative vehicle files are sought from its folder.
Scene parse_scene(std::string_view text, const std::filesystem::path& name);

}  // namespace sidehill

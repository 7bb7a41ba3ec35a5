// Where scenes and machines lie on the disk, whatever folder the program is started from. Knows no file format.
#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace sidehill {

// "utility_75kw" -> ../vehicles/utility_75kw.toml as seen from `folder` or from any folder above it, above the current
// one or above the program itself; a name with a slash or ending in .toml is a path relative to `folder`. Empty if
// there is none.
std::filesystem::path find_vehicle_file(std::string_view name, const std::filesystem::path& folder);

// The same for a job: "hill_hay" -> ../scenes/jobs/hill_hay.toml.
std::filesystem::path find_job_file(std::string_view name, const std::filesystem::path& folder);

// The machines, the scenes for people, the lessons and the jobs that come with the program, sorted; empty if the folder
// is not found.
std::vector<std::filesystem::path> vehicle_files();
std::vector<std::filesystem::path> scene_files();
std::vector<std::filesystem::path> lesson_files();  // of scenes/lessons
std::vector<std::filesystem::path> job_files();     // of scenes/jobs

// A scene or lesson that came with the program under an earlier name: `path` itself if it is there or was never
// renamed, else the same folder's file of today's name.
std::filesystem::path present_name(const std::filesystem::path& path);
// The same for a lesson's name without folder and ending.
std::string present_lesson(const std::string& name);

// For a message when they are empty: "the folder with vehicles and scenes in it was not found in or above ...".
std::string data_sought();

}  // namespace sidehill

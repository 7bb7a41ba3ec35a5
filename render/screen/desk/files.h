// What the window keeps between two starts, in the user's state folder: the files opened last, and work that was not
// saved when the program ended. Knows no window. A folder that cannot be written is no fault: then nothing is kept.
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/scene/scene.h"

namespace sidehill::screen {

// $XDG_STATE_HOME/sidehill, or ~/.local/state/sidehill; empty where there is no home.
std::filesystem::path state_folder();

// Where one's own machines are kept: $XDG_DATA_HOME/sidehill/machines, or ~/.local/share/sidehill/machines.
std::filesystem::path machines_folder();

// The units a person chose last, kept in the state folder; Units::si where none are.
text::Units kept_units(const std::filesystem::path& folder);
void keep_units(const std::filesystem::path& folder, text::Units units);

// Files opened last, newest first, without those that are gone; at most kRecent.
constexpr std::size_t kRecent = 10;
std::vector<std::filesystem::path> recent_files(const std::filesystem::path& folder);
void remember_file(const std::filesystem::path& folder, const std::filesystem::path& file);

// Work that was not saved, of a program that is no longer running.
struct UnsavedWork {
  std::filesystem::path file;    // the scene as it was last
  std::filesystem::path beside;  // the second set-up; empty = there was none
  std::string title;             // of the scene
  std::string when;              // it was kept, in the local time: "2031-05-04 13:20"
};
std::vector<UnsavedWork> unsaved_work(const std::filesystem::path& folder);  // newest first

// Keeps a scene, and perhaps a second set-up beside it, as this program's unsaved work; with an empty one forgets it.
void keep_unsaved(const std::filesystem::path& folder, const std::optional<Scene>& scene,
                  const Scene* beside = nullptr);
// Moves what this program keeps aside, as the `number`th work it has left unsaved; at most kPutBy are kept.
constexpr int kPutBy = 5;
void put_by(const std::filesystem::path& folder, int number);
void forget(const UnsavedWork& work);

// Scenes and recorded runs in a folder, and the folders in it, by name; folders first. Empty if it cannot be read.
struct FolderEntry {
  std::filesystem::path path;
  bool is_folder = false;
  std::string title;  // of a scene, empty if it has none or is none
};
std::vector<FolderEntry> look_into(const std::filesystem::path& folder);

}  // namespace sidehill::screen

// The person's own folders on this desktop, and how to show one. Knows no scene, no window.
#pragma once
#include <filesystem>
#include <string>

#include "render/namespaces.h"

namespace sidehill::screen {

// Where a person keeps pictures: XDG_PICTURES_DIR of the environment, else the line of that name in user-dirs.dirs of
// the user's configuration folder, else ~/Pictures. Home where that is no folder; the current one without a home.
std::filesystem::path pictures_folder();

// Where a file of that name goes: into `folder` unless the name says another one; "~/" is home. An empty `folder` is
// the current one. Always a whole path.
std::filesystem::path place_in(const std::filesystem::path& folder, const std::string& name);

// Shows a folder in the desktop's file manager: the program xdg-open of PATH, with the folder as its one argument and
// no shell between. Waits for nothing. Throws InputError where it cannot be started.
void show_folder(const std::filesystem::path& folder);

}  // namespace sidehill::screen

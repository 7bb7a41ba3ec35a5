// Keeps unsaved work on the disk for the case that the program ends without it being saved, and forgets it once it is.
// Knows no window.
#pragma once
#include <filesystem>

#include "render/namespaces.h"
#include "render/screen/desk/desk.h"

namespace sidehill::screen {

struct Keeper {
  static constexpr double kEvery = 2;  // least time between two writings [s]

  std::filesystem::path folder;  // empty = nothing is kept
  bool holds = false;            // something of ours lies there
  unsigned kept = 0;             // edits that are in it
  int document = 0;              // whose
  double at = 0;                 // when it was written [s]
  int put_by = 0;                // works of this program that were replaced without being saved
};

// Once a turn of the window; `time` [s] from any steady clock.
void look(Keeper& keeper, const Desk& desk, double time);
// At the end: what was not written yet.
void finish(Keeper& keeper, const Desk& desk);

}  // namespace sidehill::screen

// A film made to its end on a terminal, with progress. Part of the screen: nothing without it.
#pragma once
#ifdef SIDEHILL_SCREEN
#include <string>

#include "render/screen/output/film.h"

namespace sidehill {

// Prints the file's name at the end. Stopped by Ctrl-C it throws InputError, and nothing half-made stays behind.
void finish_film(screen::Film& film, const std::string& file);

}  // namespace sidehill
#endif

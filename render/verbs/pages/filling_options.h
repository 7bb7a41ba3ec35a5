// What the verbs about a scene's fillings share: which axle, and which file. Prints nothing.
#pragma once
#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "sim/insight/fill_of_scene.h"

namespace sidehill {

void take_axle(CLI::App& sub, std::string& axle);  // --axle front|rear; empty = every one with liquid

// Throws InputError if the name does not end in .pdf; `what` is written there, "a filling sheet".
void check_pdf_name(const std::string& verb, const std::string& file, const char* what);

// Of the axle asked for, or of all with liquid. Throws InputError with one line where there is none.
std::vector<AxleFilling> fillings_asked(const std::string& verb, const std::string& file, const Scene& scene,
                                        const std::string& axle);

}  // namespace sidehill

// The ground in words, for list, label and page alike: what stands on it and how it grips. Knows no tool, no screen, no
// file.
#pragma once
#include <string>

#include "render/namespaces.h"
#include "terrain/features.h"
#include "terrain/soil.h"

namespace sidehill::text {

std::string feature_name(const Feature& feature);  // its own name, else its kind's
bool is_round(const Feature& feature);             // length is its diameter, width and angle say nothing
bool is_sunk(const Feature& feature);
std::string feature_size(const Feature& feature);   // "0.25 m high, 1.00 m by 2.00 m"
std::string feature_words(const Feature& feature);  // "Bump  0.25 m high, 1.00 m by 2.00 m"
// For a page, where nothing shows what it is: kind and own name. "old rut (ditch), 0.25 m deep, 1.00 m by 5.00 m".
std::string feature_sentence(const Feature& feature);

// "grip 0.60"; "grip 0.60 along the wheels, 0.36 across" where the two differ; "grip taken as unlimited".
std::string grip_words(const Soil& soil);

}  // namespace sidehill::text

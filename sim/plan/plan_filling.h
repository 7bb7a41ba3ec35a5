// The fillings that a plan file asks for, with what its log says is in the tyres already. Knows no words, no paper.
#pragma once
#include <string>
#include <vector>

#include "sim/insight/fill_of_scene.h"

namespace sidehill {

// As axle_fillings; of a plan file also what the tyres hold today. `name` is what messages call its file, `day` is
// today. Throws InputError as axle_fillings and read_log.
std::vector<AxleFilling> fillings_to_do(const Scene& scene, const std::string& name, const std::string& day);

}  // namespace sidehill

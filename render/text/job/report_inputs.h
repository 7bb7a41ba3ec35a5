// What went into an answer, datum by datum with its plain name and how well it is known. Knows no paper, no file.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/scene/scene.h"

namespace sidehill::text {

enum class KnownBy { not_asked, file, estimate };  // chosen, or moves nothing; somebody said it; our estimate

struct InputRow {
  std::string group;        // "Machine", "Ballast and load", "Ground and place", ...
  std::string key;          // in files
  std::string name, value;  // for people, with its unit
  std::string known;        // "±20 kg"; empty where it is not asked
  KnownBy by = KnownBy::not_asked;
};

// Every datum that bears on the answer, in the order of a file: parts that are not there are left out, and so are the
// programme where it does nothing and the job where there is none.
std::vector<InputRow> input_rows(const Scene& scene, Units units);

// "Of 140 numbers that were measured or estimated the file says of 12 how well they are known; of 128 it does not ..."
std::string inputs_sentence(const std::vector<InputRow>& rows);

}  // namespace sidehill::text

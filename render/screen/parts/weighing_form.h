// Weighing the machine of the scene for its centre of gravity, step by step with a drawing: what to do, what to read,
// what comes of it, and into the machine with it. The sheet is the one `sidehill weigh` reads. Knows Dear ImGui, the
// session and sim's weighing; works nothing out itself.
#pragma once
#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "render/screen/desk/session.h"
#include "render/screen/kit/ui.h"
#include "sim/own_machine/weighing_file.h"

namespace sidehill::screen {

enum class WeighingStep { prepare, measure, level, raised, result };
constexpr int kWeighingSteps = 5;

struct WeighingForm {
  WeighingStep step = WeighingStep::prepare;
  bool singly = true;                                              // each wheel has a scale, else each axle
  bool front_raised = true;                                        // the axle that is raised
  Units units = Units::si;                                         // of what is typed
  std::map<std::string, std::array<char, 32>, std::less<>> typed;  // by key of a weighing file, in those units
  std::string message;                                             // of what was done last; empty = nothing
  std::string filled_for;                                          // name of the machine that it was filled in for
};

// The form for a scene: what is known of its machine is filled in, to be measured again; what a scale says is not.
WeighingForm weighing_form(const Scene& scene, Units units);
// The sheet as a weighing file has it, of what is typed so far.
std::string weighing_text(const WeighingForm& form);
// The same read back: a sheet, or what is missing or wrong as a sentence.
struct WeighingFound {
  std::optional<WeighingSheet> sheet;
  std::string wrong, wrong_key;
};
WeighingFound weighing_found(const WeighingForm& form);

// Draws it over `area` [px]. Returns true if it is to close.
bool draw_weighing(Ui& ui, WeighingForm& form, Session& session, Rect area);

}  // namespace sidehill::screen

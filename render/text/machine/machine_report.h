// A made machine in words: where each number comes from, what does not fit, what to measure next.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/own_machine/made_machine.h"

namespace sidehill::text {

std::string machine_table(const MachineEntry& entry, const MadeMachine& made,
                          const std::optional<MachineAnswer>& answer, Units units = Units::si);
nlohmann::ordered_json machine_json(const MachineEntry& entry, const MadeMachine& made,
                                    const std::optional<MachineAnswer>& answer);

// "33.1° = 65 % (31.2° to 35.0°)", or "no wheel ever lifts".
std::string lift_off_words(const MachineAnswer& answer);

}  // namespace sidehill::text

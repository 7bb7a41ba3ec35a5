// What every verb of the program says to the terminal: its exit code, and answers as JSON.
#pragma once
#include <nlohmann/json_fwd.hpp>

namespace sidehill {

inline constexpr int kAnswered = 0, kBadInput = 2, kDiverged = 3, kLimitBroken = 4,
                     kInterrupted = 130;  // exit codes

// On standard output. Bytes that are not UTF-8 (a file's odd name) do not stop an answer.
void print(const nlohmann::ordered_json& json);

}  // namespace sidehill

#include "render/verbs/terminal.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

namespace sidehill {

void print(const nlohmann::ordered_json& json) {
  fmt::print("{}\n", json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace));
}

}  // namespace sidehill

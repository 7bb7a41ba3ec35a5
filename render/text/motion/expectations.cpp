#include "render/text/motion/expectations.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/motion/run_report.h"
#include "render/text/rest/answer_json.h"
#include "sim/base/errors.h"
#include "sim/motion/run.h"
#include "sim/scene/scene.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

// "wheel_load_n[2]" or "final.roll_deg" in the answer.
const Json& look_up(const Json& answer, const std::string& quantity) {
  std::string path = "/" + quantity;
  for (char& c : path)
    if (c == '.' || c == '[') c = '/';
  std::erase(path, ']');
  try {
    return answer.at(Json::json_pointer(path));
  } catch (const Json::exception&) {
    throw InputError("expect[].quantity: \"" + quantity +
                     "\" is not in the answer (`sidehill solve --json` shows what is)");
  }
}

}  // namespace

std::vector<Held> held_against(const Scene& scene) {
  std::vector<Held> all;
  if (scene.expect.empty()) return all;
  const auto asks_for_run = [](const Expect& expect) { return expect.quantity.starts_with("final"); };
  const Answer at_rest = answer(scene);
  const Json json = std::ranges::any_of(scene.expect, asks_for_run) ? to_json(at_rest, run(scene)) : to_json(at_rest);
  for (const Expect& expect : scene.expect) {
    const Json& found = look_up(json, expect.quantity);
    Held held{expect, false, found.dump()};
    if (expect.value)
      held.holds = found.is_number() && std::abs(found.get<double>() - *expect.value) <= expect.tolerance;
    else
      held.holds = found.is_null();
    all.push_back(held);
  }
  return all;
}

}  // namespace sidehill::text

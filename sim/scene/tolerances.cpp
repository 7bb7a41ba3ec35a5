#include "sim/scene/tolerances.h"

#include <algorithm>

namespace sidehill {

bool has_tolerance(const std::vector<Tolerance>& list, std::string_view key) {
  return std::ranges::any_of(list, [&](const Tolerance& one) { return one.key == key; });
}

void forget_machine(std::vector<Tolerance>& list) {
  std::erase_if(list, [](const Tolerance& one) { return one.key.starts_with("vehicle."); });
}

std::vector<Tolerance> over_machines(std::vector<Tolerance> own, const std::vector<Tolerance>& of_machine) {
  const std::size_t said = own.size();
  for (const Tolerance& one : of_machine) {
    const auto end = own.begin() + static_cast<std::ptrdiff_t>(said);
    if (std::none_of(own.begin(), end, [&](const Tolerance& mine) { return mine.key == one.key; })) own.push_back(one);
  }
  return own;
}

}  // namespace sidehill

#include "sim/codes/rolling_file.h"

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "sim/base/text_file.h"
#include "sim/scene/number_file.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

using R = RollingTractor;

// Ranges are wide: they hold off mistakes of unit (mm, degrees, tonnes), not odd tractors.
constexpr std::array<RollingField, 17> kRollingFields{{
    {"H1", "m", "height of the centre of gravity", &R::H1, 0.1, 3},
    {"L3", "m", "horizontal distance, centre of gravity to rear axle", &R::L3, 0.1, 5},
    {"L2", "m", "horizontal distance, centre of gravity to front axle", &R::L2, 0.1, 5},
    {"D3", "m", "height of the rear tyres under full axle load", &R::D3, 0.2, 3},
    {"D2", "m", "height of the front tyres under full axle load", &R::D2, 0.2, 3},
    {"H6", "m", "height of the frame's point of impact", &R::H6, 0.3, 5},
    {"L6", "m", "centre of gravity to leading point of intersection of the frame, minus = ahead", &R::L6, -5, 5},
    {"B6", "m", "width of the frame between its points of impact", &R::B6, 0.05, 4},
    {"H7", "m", "height of the bonnet", &R::H7, 0.1, 4},
    {"B7", "m", "width of the bonnet", &R::B7, 0.05, 4},
    {"L7", "m", "centre of gravity to front corner of the bonnet", &R::L7, 0.05, 6},
    {"H0", "m", "height of the front axle's pivot", &R::H0, 0.05, 2},
    {"S", "m", "rear track", &R::S, 0.2, 4},
    {"B0", "m", "rear tyre width", &R::B0, 0.05, 2},
    {"D0", "rad", "front axle swing from the middle to its stop", &R::D0, 0, 1},
    {"Mc", "kg", "mass", &R::Mc, 50, 20000},
    {"Q", "kg m2", "moment of inertia about the lengthwise axis through the centre of gravity", &R::Q, 1, 50000},
}};

}  // namespace

std::span<const RollingField> rolling_fields() { return kRollingFields; }

RollingTractor parse_rolling_tractor(std::string_view text, const std::filesystem::path& path) {
  const std::string name = path.string();
  std::vector<NumberKey> keys;
  for (const RollingField& field : kRollingFields)
    keys.push_back({field.key, field.unit, field.help, field.min, field.max, true});
  const std::vector<NumberValue> values = read_numbers(text, name, keys);
  RollingTractor tractor;
  for (std::size_t i = 0; i < kRollingFields.size(); ++i) tractor.*(kRollingFields[i].member) = values[i].value;
  if (const auto conflict = find_rolling_conflict(tractor)) {
    const auto at = std::ranges::find(kRollingFields, std::string_view(conflict->key), &RollingField::key);
    refuse_number(name,
                  at == kRollingFields.end() ? 1 : values[static_cast<std::size_t>(at - kRollingFields.begin())].line,
                  conflict->key, conflict->message);
  }
  return tractor;
}

RollingTractor load_rolling_tractor(const std::filesystem::path& path) {
  return parse_rolling_tractor(read_text(path), path);
}

}  // namespace sidehill

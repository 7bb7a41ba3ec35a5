#include "sim/motion/hull_force.h"

#include <algorithm>

namespace sidehill {
namespace {

constexpr double kStiffness = 2.5e5;  // of one corner [N/m]
constexpr double kDamping = 9e3;      // [N s/m]
constexpr double kAdhesion = 0.5;     // metal ploughing through turf [-]
constexpr double kGrip = 1.5e5;       // tangential stiffness of a corner that sticks [N/m]

Vec3 along_ground(const Vec3& v, const Vec3& normal) { return v - glm::dot(v, normal) * normal; }

}  // namespace

std::optional<HullForce> hull_force(const Terrain& terrain, const Vec3& p_G, const Vec3& v_G, HullContact& contact) {
  const GroundPoint ground = ground_at(terrain, {p_G.x, p_G.y});
  const double depth = (ground.height - p_G.z) * ground.normal.z;
  if (depth <= 0) {
    contact.touching = false;
    return std::nullopt;
  }
  const double closing = -glm::dot(v_G, ground.normal);
  std::optional<double> ago;
  if (!contact.touching) {
    contact = {true, p_G};
    ago = closing > 0 ? depth / closing : 0.0;
  }
  const double load = std::max(0.0, kStiffness * depth + kDamping * closing);
  Vec3 grip =
      -kGrip * along_ground(p_G - contact.anchor_G, ground.normal) - 0.2 * kDamping * along_ground(v_G, ground.normal);
  const double wanted = glm::length(grip), limit = kAdhesion * load;
  if (wanted > limit && wanted > 0) {
    grip *= limit / wanted;
    contact.anchor_G = p_G + grip / kGrip;
  }
  return HullForce{load * ground.normal + grip, ago};
}

}  // namespace sidehill

#include "render/screen/scene3d/field_mesh.h"

#include <cmath>
#include <cstdint>
#include <glm/geometric.hpp>

#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

// 0 to 1, the same for ever.
double chance(int ix, int iy, std::uint32_t which) {
  std::uint32_t h =
      static_cast<std::uint32_t>(ix) * 374761393u + static_cast<std::uint32_t>(iy) * 668265263u + which * 2246822519u;
  h = (h ^ (h >> 13)) * 1274126177u;
  return static_cast<double>((h ^ (h >> 16)) & 0xFFFF) / 65535.0;
}

void add_triangle(Mesh& mesh, glm::vec3 a, glm::vec3 b, glm::vec3 c, Paint low, Paint high, glm::vec3 normal) {
  for (const bool turned : {false, true}) {  // seen from both sides
    const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
    mesh.vertices.push_back({a, normal, low, 1});
    mesh.vertices.push_back({turned ? c : b, normal, turned ? high : low, 1});
    mesh.vertices.push_back({turned ? b : c, normal, turned ? low : high, 1});
    mesh.indices.insert(mesh.indices.end(), {first, first + 1, first + 2});
  }
}

}  // namespace

Mesh grass_mesh(const GroundPicture& ground) {
  constexpr double kCell = 0.75;  // one tuft in each [m]
  Mesh mesh;
  const int reach = static_cast<int>(kGrassReach / kCell);
  const int middle_x = static_cast<int>(std::floor(ground.focus_G.x / kCell)),
            middle_y = static_cast<int>(std::floor(ground.focus_G.y / kCell));
  for (int ix = middle_x - reach; ix <= middle_x + reach; ++ix)
    for (int iy = middle_y - reach; iy <= middle_y + reach; ++iy) {
      const glm::dvec2 at = kCell * glm::dvec2(ix + chance(ix, iy, 1), iy + chance(ix, iy, 2));
      if (glm::length(at - ground.focus_G) > kGrassReach) continue;
      bool bare = false;
      for (const Feature& feature : ground.features) bare = bare || std::abs(feature_at(feature, at).height) > 0;
      if (bare) continue;
      const double tone = 0.85 + 0.3 * chance(ix, iy, 3);
      const auto green = [&](double r, double g, double b) {
        return Paint{static_cast<std::uint8_t>(r * tone), static_cast<std::uint8_t>(g * tone),
                     static_cast<std::uint8_t>(b * tone), 0};
      };
      for (std::uint32_t blade = 0; blade < 3; ++blade) {
        const double turned = kTwoPi * chance(ix, iy, 10 + blade), high = 0.07 + 0.09 * chance(ix, iy, 20 + blade);
        const glm::dvec2 way(std::cos(turned), std::sin(turned)), aside(-way.y, way.x);
        const glm::dvec2 foot = at + 0.03 * way, tip = at + (0.04 + 0.6 * high) * way;
        add_triangle(mesh, glm::vec3(glm::dvec3(foot - 0.014 * aside, 0)),
                     glm::vec3(glm::dvec3(foot + 0.014 * aside, 0)), glm::vec3(glm::dvec3(tip, high)),
                     green(104, 126, 76), green(160, 178, 116), {0, 0, 1});
      }
    }
  return mesh;
}

Mesh fence_mesh() {
  MeshBuilder mesh(Detail::coarse);
  constexpr float kHalf = 60, kApart = 4;
  const auto high = static_cast<float>(kFenceHeight);
  for (const float y : {-static_cast<float>(kFenceFar), static_cast<float>(kFenceFar)}) {
    mesh.paint = {118, 98, 74, 0};
    for (float x = -kHalf; x <= kHalf; x += kApart)
      mesh.box({x, y, high / 2 - 0.1f}, {0.05f, 0.05f, high / 2 + 0.1f}, 0);
    mesh.paint = {136, 116, 90, 0};
    for (const float z : {0.55f, 1.05f}) mesh.box({0, y, z}, {kHalf, 0.02f, 0.045f}, 0);
  }
  return mesh.take();
}

}  // namespace sidehill::screen

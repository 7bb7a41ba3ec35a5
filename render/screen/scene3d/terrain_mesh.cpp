#include "render/screen/scene3d/terrain_mesh.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include "render/screen/kit/theme.h"

namespace sidehill::screen {
namespace {

// Smooth noise, 0 to 1, the same for ever.
double noise(double x, double y) {
  const auto at = [](double ix, double iy) {
    std::uint32_t h = static_cast<std::uint32_t>(static_cast<std::int32_t>(ix)) * 374761393u +
                      static_cast<std::uint32_t>(static_cast<std::int32_t>(iy)) * 668265263u;
    h = (h ^ (h >> 13)) * 1274126177u;
    return static_cast<double>((h ^ (h >> 16)) & 0xFFFF) / 65535.0;
  };
  const double ix = std::floor(x), iy = std::floor(y);
  const auto ease = [](double t) { return t * t * (3 - 2 * t); };
  const double u = ease(x - ix), v = ease(y - iy);
  return glm::mix(glm::mix(at(ix, iy), at(ix + 1, iy), u), glm::mix(at(ix, iy + 1), at(ix + 1, iy + 1), u), v);
}

Vec3 of(Colour c) { return Vec3(c.r, c.g, c.b); }

Vec3 meadow(double x, double y) {
  static const Vec3 grass = 0.94 * of(theme::kGrass), dry(172, 162, 118), fresh(122, 142, 92);
  const double broad = noise(x / 13 + 40, y / 8 + 11), patch = noise(x / 3.1, y / 1.9), tuft = noise(x / 0.7, y / 0.6);
  Vec3 colour = glm::mix(grass, dry, 0.75 * glm::smoothstep(0.45, 0.95, 0.7 * broad + 0.3 * patch));
  colour = glm::mix(colour, fresh, 0.7 * glm::smoothstep(0.55, 1.0, 0.6 * (1 - broad) + 0.4 * patch));
  return colour * (0.955 + 0.07 * tuft + 0.03 * patch);
}

// What a feature is made of shows where it is higher or deeper than a hand.
Vec3 on_features(Vec3 colour, const std::vector<Feature>& features, glm::dvec2 p_G) {
  for (const Feature& feature : features) {
    const double h = std::abs(feature_at(feature, p_G).height);
    if (h <= 0) continue;
    const double share = glm::smoothstep(0.10, 0.55, h / std::max(feature.height, 0.02));
    switch (feature.kind) {
      case FeatureKind::stump:
        colour = glm::mix(colour, share > 0.9 ? Vec3(203, 172, 126) : Vec3(112, 88, 66), share);
        break;
      case FeatureKind::hole:
        colour = glm::mix(colour, Vec3(112, 90, 66), 0.9 * share);
        break;
      case FeatureKind::ditch:
        colour = glm::mix(colour, Vec3(128, 112, 78), 0.75 * share);
        break;
      case FeatureKind::bump:
        colour = glm::mix(colour, of(theme::kEarth), 0.75 * share);
        break;
      case FeatureKind::kerb:
        colour = glm::mix(colour, Vec3(158, 155, 148), glm::smoothstep(0.0, 0.06, h / std::max(feature.height, 0.02)));
        break;
      case FeatureKind::rough:
        colour = glm::mix(colour, of(theme::kEarth), 0.45);
        break;
    }
  }
  return colour;
}

}  // namespace

std::vector<double> grid_lines(double centre, double fine, const std::vector<DenseInterval>& dense) {
  constexpr double kFineReach = 7;
  constexpr std::size_t kMost = 170;
  std::vector<double> lines;
  const double middle = std::round(centre / fine) * fine;  // lines stay put while the machine moves less than one step
  const int steps = static_cast<int>(kFineReach / fine);
  for (int i = -steps; i <= steps; ++i) lines.push_back(middle + i * fine);
  for (const double side : {-1.0, 1.0}) {
    double at = steps * fine, step = fine;
    while (at < kGroundReach) {
      step = std::min(step * 1.26, 16.0);
      at += step;
      lines.push_back(middle + side * std::min(at, kGroundReach));
    }
  }
  for (const DenseInterval& d : dense) {
    const int n = static_cast<int>((d.to - d.from) / d.step) + 1;
    for (int i = 0; i <= n && lines.size() < kMost; ++i) lines.push_back(d.from + (d.to - d.from) * i / n);
  }
  std::sort(lines.begin(), lines.end());
  // Lines nearly on top of each other would only make slivers.
  std::vector<double> kept;
  for (const double line : lines)
    if (kept.empty() || line - kept.back() > 0.012) kept.push_back(line);
  return kept;
}

Mesh ground_mesh(const GroundPicture& ground) {
  std::vector<DenseInterval> dense_x, dense_y;
  for (const Feature& feature : ground.features) {
    const double reach = feature_reach(feature);
    if (glm::length(glm::dvec2(feature.x, feature.y) - ground.focus_G) > reach + 14) continue;
    const bool round = info(feature.kind).round;
    const double small = round ? feature.length / 14 : std::min(feature.length, feature.width) / 12;
    const double step = feature.kind == FeatureKind::rough ? 0.2 : std::clamp(small, 0.03, 0.25);
    const double half = std::min(round ? feature.length / 2 * 1.15 : reach, 5.0);
    if (feature.kind ==
        FeatureKind::kerb) {  // its edges are a few centimetres wide: lines on them, where they run along
      const double s = std::abs(std::sin(feature.angle)), c = std::abs(std::cos(feature.angle));
      if (std::min(s, c) < 0.02) {
        for (const double side : {-1.0, 1.0}) {
          const double edge = (s < c ? feature.x : feature.y) + side * (feature.length / 2 - 0.03);
          (s < c ? dense_x : dense_y).push_back({edge - 0.04, edge + 0.04, 0.0175});
        }
      }
    }
    dense_x.push_back({feature.x - half, feature.x + half, step});
    dense_y.push_back({feature.y - half, feature.y + half, step});
  }
  constexpr double kFine = 0.5;
  const std::vector<double> xs = grid_lines(ground.focus_G.x, kFine, dense_x),
                            ys = grid_lines(ground.focus_G.y, kFine, dense_y);
  Terrain terrain;
  terrain.slope = ground.slope;
  terrain.features = ground.features;
  Mesh mesh;
  mesh.vertices.reserve(xs.size() * ys.size());
  for (const double y : ys) {
    for (const double x : xs) {
      const GroundPoint here = ground_at(terrain, {x, y});
      const Vec3 colour = glm::clamp(on_features(meadow(x, y), ground.features, {x, y}), Vec3(0), Vec3(255));
      Vertex v;
      v.place = glm::vec3(static_cast<float>(x), static_cast<float>(y), static_cast<float>(here.height));
      v.normal = glm::vec3(here.normal);
      v.paint = {static_cast<std::uint8_t>(colour.x), static_cast<std::uint8_t>(colour.y),
                 static_cast<std::uint8_t>(colour.z), 0};
      // Hollows get less light from the sky; our estimate of it.
      v.light = static_cast<float>(std::clamp(1 + 0.9 * std::min(here.height, 0.0), 0.55, 1.0));
      mesh.vertices.push_back(v);
    }
  }
  const auto columns = static_cast<std::uint32_t>(xs.size());
  for (std::uint32_t j = 0; j + 1 < ys.size(); ++j)
    for (std::uint32_t i = 0; i + 1 < columns; ++i) {
      const std::uint32_t a = j * columns + i, b = a + 1, c = b + columns, d = a + columns;
      mesh.indices.insert(mesh.indices.end(), {a, b, c, a, c, d});
    }
  return mesh;
}

}  // namespace sidehill::screen

#include "render/screen/scene3d/mesh.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>
#include <map>
#include <unordered_map>

namespace sidehill::screen {
namespace {

constexpr float kCreaseCos = 0.80f;  // faces meeting at less than 37 deg are shaded as one curved surface

using Key = std::uint64_t;

// Places closer than 0.1 mm count as one.
Key key_of(glm::vec3 p) {
  const auto part = [](float v) { return static_cast<Key>(std::lround(v * 1e4f) + (1 << 20)) & 0x1FFFFF; };
  return part(p.x) << 42 | part(p.y) << 21 | part(p.z);
}

double six_volumes(glm::vec3 a, glm::vec3 b, glm::vec3 c) {
  return glm::dot(glm::dvec3(a), glm::cross(glm::dvec3(b), glm::dvec3(c)));
}

// Sides of something round.
int sides_of(int full, Detail detail) { return detail == Detail::full ? full : std::max(5, full * 6 / 10); }

// Two unit vectors that complete `axis` to a right-handed set.
std::pair<glm::vec3, glm::vec3> across(glm::vec3 axis) {
  const glm::vec3 helper = std::abs(axis.z) < 0.8f ? glm::vec3(0, 0, 1) : glm::vec3(1, 0, 0);
  const glm::vec3 u = glm::normalize(glm::cross(helper, axis));
  return {u, glm::cross(axis, u)};
}

}  // namespace

void MeshBuilder::quad(glm::vec3 a, glm::vec3 b, glm::vec3 c, glm::vec3 d) {
  triangle(a, b, c);
  triangle(a, c, d);
}

void MeshBuilder::finish(bool closed) {
  double volume = 0;
  for (Triangle& t : piece_) {
    for (glm::vec3& p : t) p = glm::vec3(place * glm::vec4(p, 1));
    volume += six_volumes(t[0], t[1], t[2]);
  }
  if (closed && volume < 0)
    for (Triangle& t : piece_) std::swap(t[1], t[2]);

  // Normals: the mean of the faces round a place that lean little from this one, weighted by area.
  std::vector<glm::vec3> area(piece_.size());
  std::unordered_map<Key, std::vector<std::uint32_t>> round;
  round.reserve(piece_.size());
  for (std::uint32_t i = 0; i < piece_.size(); ++i) {
    const Triangle& t = piece_[i];
    area[i] = glm::cross(t[1] - t[0], t[2] - t[0]);
    for (const glm::vec3& p : t) round[key_of(p)].push_back(i);
  }
  std::unordered_map<Key, std::vector<std::uint32_t>> made;  // vertices at a place, by normal
  for (std::uint32_t i = 0; i < piece_.size(); ++i) {
    const float size = glm::length(area[i]);
    if (size < 1e-9f) continue;  // collapsed: nothing to see
    const glm::vec3 own = area[i] / size;
    for (const glm::vec3& p : piece_[i]) {
      const Key key = key_of(p);
      glm::vec3 n{0};
      for (const std::uint32_t k : round[key])
        if (glm::dot(area[k], own) > kCreaseCos * glm::length(area[k])) n += area[k];
      n = glm::normalize(n);
      auto& here = made[key];
      const auto same = std::find_if(here.begin(), here.end(),
                                     [&](std::uint32_t v) { return glm::dot(mesh_.vertices[v].normal, n) > 0.9995f; });
      if (same != here.end()) {
        mesh_.indices.push_back(*same);
      } else {
        here.push_back(static_cast<std::uint32_t>(mesh_.vertices.size()));
        mesh_.indices.push_back(here.back());
        mesh_.vertices.push_back({p, n, paint, 1});
      }
    }
  }
  piece_.clear();
}

void MeshBuilder::box(glm::vec3 centre, glm::vec3 half_size, float chamfer) {
  const float thin = std::min({half_size.x, half_size.y, half_size.z});
  constexpr float kSmall = 0.13f;  // cut edges of less than this are lost on a moving view [m]
  const float c = detail == Detail::coarse && thin < kSmall ? 0 : std::clamp(chamfer, 0.0f, 0.49f * thin);
  const glm::vec3 inner = half_size - c;
  // Point of corner (sx, sy, sz) that lies on the face across `axis`.
  const auto corner = [&](int axis, float sx, float sy, float sz) {
    const glm::vec3 s(sx, sy, sz);
    glm::vec3 p = s * inner;
    p[axis] = s[axis] * half_size[axis];
    return centre + p;
  };
  const auto outward_quad = [&](glm::vec3 p, glm::vec3 q, glm::vec3 r, glm::vec3 s) {
    if (glm::dot(glm::cross(q - p, r - p), (p + r) * 0.5f - centre) < 0) std::swap(q, s);
    quad(p, q, r, s);
  };
  for (int axis = 0; axis < 3; ++axis) {
    for (const float side : {-1.0f, 1.0f}) {
      const auto at = [&](float u, float v) {
        glm::vec3 s;
        s[axis] = side;
        s[(axis + 1) % 3] = u;
        s[(axis + 2) % 3] = v;
        return corner(axis, s.x, s.y, s.z);
      };
      outward_quad(at(-1, -1), at(1, -1), at(1, 1), at(-1, 1));
    }
  }
  if (c > 0) {
    for (int axis = 0; axis < 3; ++axis) {  // edges along `axis`, between the faces across the other two
      const int a1 = (axis + 1) % 3, a2 = (axis + 2) % 3;
      for (const float s1 : {-1.0f, 1.0f}) {
        for (const float s2 : {-1.0f, 1.0f}) {
          glm::vec3 lo{0}, hi{0};
          lo[axis] = -1, hi[axis] = 1;
          lo[a1] = hi[a1] = s1;
          lo[a2] = hi[a2] = s2;
          outward_quad(corner(a1, lo.x, lo.y, lo.z), corner(a1, hi.x, hi.y, hi.z), corner(a2, hi.x, hi.y, hi.z),
                       corner(a2, lo.x, lo.y, lo.z));
        }
      }
    }
    for (const float sx : {-1.0f, 1.0f})
      for (const float sy : {-1.0f, 1.0f})
        for (const float sz : {-1.0f, 1.0f}) {
          glm::vec3 p = corner(0, sx, sy, sz), q = corner(1, sx, sy, sz), r = corner(2, sx, sy, sz);
          if (sx * sy * sz < 0) std::swap(q, r);
          triangle(p, q, r);
        }
  }
  finish(true);
}

void MeshBuilder::bar(glm::vec3 a, glm::vec3 b, float radius_a, float radius_b, int sides) {
  if (glm::length(b - a) < 1e-5f) return;
  sides = sides_of(sides, detail);
  const auto [u, v] = across(glm::normalize(b - a));
  std::vector<std::vector<glm::vec3>> rings(2);
  for (int i = 0; i < sides; ++i) {
    const float angle = kTurn * static_cast<float>(i) / static_cast<float>(sides);
    const glm::vec3 out = std::cos(angle) * u + std::sin(angle) * v;
    rings[0].push_back(a + radius_a * out);
    rings[1].push_back(b + radius_b * out);
  }
  skin(rings);
}

void MeshBuilder::beam(glm::vec3 a, glm::vec3 b, float width, float depth, glm::vec3 side) {
  if (glm::length(b - a) < 1e-5f) return;
  const glm::vec3 along = glm::normalize(b - a);
  const glm::vec3 w = glm::cross(side, along);
  const glm::vec3 up = glm::length(w) > 1e-4f ? glm::normalize(w) : across(along).first;
  const glm::vec3 across_beam = glm::cross(along, up);
  std::vector<std::vector<glm::vec3>> rings(2);
  constexpr float kCut = 0.72f;  // corners cut so that they catch light
  constexpr std::array<glm::vec2, 8> kOct = {
      {{1, kCut}, {kCut, 1}, {-kCut, 1}, {-1, kCut}, {-1, -kCut}, {-kCut, -1}, {kCut, -1}, {1, -kCut}}};
  constexpr std::array<glm::vec2, 4> kSquare = {{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}}};
  const std::vector<glm::vec2> corners = detail == Detail::full
                                             ? std::vector<glm::vec2>(kOct.begin(), kOct.end())
                                             : std::vector<glm::vec2>(kSquare.begin(), kSquare.end());
  for (const glm::vec2 o : corners) {
    const glm::vec3 out = across_beam * (o.x * width / 2) + up * (o.y * depth / 2);
    rings[0].push_back(a + out);
    rings[1].push_back(b + out);
  }
  skin(rings);
}

void MeshBuilder::tube(const std::vector<glm::vec3>& path, float radius, int sides) {
  if (path.size() < 2) return;
  sides = detail == Detail::full ? sides : std::max(4, sides / 2);
  std::vector<std::vector<glm::vec3>> rings;
  glm::vec3 u = across(glm::normalize(path[1] - path[0])).first;
  for (std::size_t k = 0; k < path.size(); ++k) {
    const glm::vec3 before = k > 0 ? glm::normalize(path[k] - path[k - 1]) : glm::normalize(path[1] - path[0]);
    const glm::vec3 after = k + 1 < path.size() ? glm::normalize(path[k + 1] - path[k]) : before;
    const glm::vec3 along = glm::normalize(before + after);
    u = glm::normalize(u - glm::dot(u, along) * along);
    const glm::vec3 v = glm::cross(along, u);
    std::vector<glm::vec3> ring;
    for (int i = 0; i < sides; ++i) {
      const float angle = kTurn * static_cast<float>(i) / static_cast<float>(sides);
      ring.push_back(path[k] + radius * (std::cos(angle) * u + std::sin(angle) * v));
    }
    rings.push_back(std::move(ring));
  }
  skin(rings);
}

void MeshBuilder::lathe(const std::vector<glm::vec2>& profile, int segments) {
  segments = sides_of(segments, detail);
  const auto at = [&](std::size_t k, int i) {
    const float angle = kTurn * static_cast<float>(i % segments) / static_cast<float>(segments);
    return glm::vec3(profile[k].y * std::cos(angle), profile[k].x, profile[k].y * std::sin(angle));
  };
  for (std::size_t k = 0; k + 1 < profile.size(); ++k)
    for (int i = 0; i < segments; ++i) quad(at(k, i), at(k, i + 1), at(k + 1, i + 1), at(k + 1, i));
  const bool closed =
      glm::length(profile.front() - profile.back()) < 1e-5f || (profile.front().y < 1e-5f && profile.back().y < 1e-5f);
  finish(closed);
}

void MeshBuilder::open_lathe(const std::vector<glm::vec2>& profile, int segments) { lathe(profile, segments); }

void MeshBuilder::extrude(const std::vector<glm::vec2>& outline, float y0, float y1) {
  std::vector<std::vector<glm::vec3>> rings(2);
  for (const glm::vec2 p : outline) {
    rings[0].emplace_back(p.x, y0, p.y);
    rings[1].emplace_back(p.x, y1, p.y);
  }
  skin(rings);
}

void MeshBuilder::skin(const std::vector<std::vector<glm::vec3>>& rings) {
  const std::size_t n = rings.front().size();
  for (std::size_t k = 0; k + 1 < rings.size(); ++k)
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t j = (i + 1) % n;
      quad(rings[k][i], rings[k][j], rings[k + 1][j], rings[k + 1][i]);
    }
  const auto middle = [](const std::vector<glm::vec3>& ring) {
    glm::vec3 sum{0};
    for (const glm::vec3& p : ring) sum += p;
    return sum / static_cast<float>(ring.size());
  };
  const glm::vec3 first = middle(rings.front()), last = middle(rings.back());
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t j = (i + 1) % n;
    triangle(first, rings.front()[j], rings.front()[i]);
    triangle(last, rings.back()[i], rings.back()[j]);
  }
  finish(true);
}

void MeshBuilder::ribbon(const std::vector<glm::vec3>& a, const std::vector<glm::vec3>& b) {
  for (std::size_t i = 0; i + 1 < a.size(); ++i) quad(a[i], a[i + 1], b[i + 1], b[i]);
  finish(false);
}

void bake_light(Mesh& mesh, float reach) {
  if (mesh.vertices.empty()) return;
  glm::vec3 low = mesh.vertices[0].place, high = low;
  for (const Vertex& v : mesh.vertices) low = glm::min(low, v.place), high = glm::max(high, v.place);
  const float cell = std::max(reach / 14, glm::length(high - low) / 200);
  low -= 2 * cell;
  const glm::ivec3 n = glm::ivec3((high + 2 * cell - low) / cell) + 1;
  std::vector<std::uint8_t> filled(static_cast<std::size_t>(n.x) * static_cast<std::size_t>(n.y) *
                                   static_cast<std::size_t>(n.z));
  const auto index = [&](glm::vec3 p) -> std::ptrdiff_t {
    const glm::ivec3 c = glm::ivec3(glm::floor((p - low) / cell));
    if (c.x < 0 || c.y < 0 || c.z < 0 || c.x >= n.x || c.y >= n.y || c.z >= n.z) return -1;
    return (static_cast<std::ptrdiff_t>(c.z) * n.y + c.y) * n.x + c.x;
  };
  for (std::size_t i = 0; i + 2 < mesh.indices.size(); i += 3) {
    const glm::vec3 a = mesh.vertices[mesh.indices[i]].place, b = mesh.vertices[mesh.indices[i + 1]].place,
                    c = mesh.vertices[mesh.indices[i + 2]].place;
    const float longest = std::max({glm::length(b - a), glm::length(c - a), glm::length(c - b)});
    const int steps = std::clamp(static_cast<int>(longest / cell * 1.3f) + 1, 1, 120);
    for (int u = 0; u <= steps; ++u)
      for (int v = 0; v + u <= steps; ++v) {
        const float s = static_cast<float>(u) / static_cast<float>(steps),
                    t = static_cast<float>(v) / static_cast<float>(steps);
        const std::ptrdiff_t at = index(a + s * (b - a) + t * (c - a));
        if (at >= 0) filled[static_cast<std::size_t>(at)] = 1;
      }
  }
  constexpr int kDirections = 26;
  std::array<glm::vec3, kDirections> directions;
  for (int i = 0; i < kDirections; ++i) {  // evenly over the sphere (golden angle)
    const float z = 1 - (2 * static_cast<float>(i) + 1) / kDirections, r = std::sqrt(1 - z * z);
    const float angle = 2.399963f * static_cast<float>(i);
    directions[static_cast<std::size_t>(i)] = {r * std::cos(angle), r * std::sin(angle), z};
  }
  // In cells from here on. A cast is a floor for what is positive; std::floor costs more than all the rest.
  const float far = reach / cell;
  const auto blocked = [&](glm::vec3 p) {  // 1 filled, 0 free, -1 outside the grid
    if (!(p.x >= 0 && p.y >= 0 && p.z >= 0)) return -1;
    const int x = static_cast<int>(p.x), y = static_cast<int>(p.y), z = static_cast<int>(p.z);
    if (x >= n.x || y >= n.y || z >= n.z) return -1;
    return static_cast<int>(
        filled[(static_cast<std::size_t>(z) * static_cast<std::size_t>(n.y) + static_cast<std::size_t>(y)) *
                   static_cast<std::size_t>(n.x) +
               static_cast<std::size_t>(x)]);
  };
  for (Vertex& v : mesh.vertices) {
    const glm::vec3 from = (v.place - low) / cell + v.normal;
    float open = 0, all = 0;
    for (const glm::vec3& d : directions) {
      const float weight = glm::dot(d, v.normal);
      if (weight < 0.15f) continue;
      all += weight;
      float free = 1;
      // Starts two cells out so that the surface does not shade itself.
      for (float t = 2; t < far; t += 1) {
        const int met = blocked(from + d * t);
        if (met == 0) continue;
        if (met > 0) free = t / far;
        break;
      }
      open += weight * free;
    }
    v.light = all > 0 ? 0.25f + 0.75f * open / all : 1;
  }
}

double enclosed_volume(const Mesh& mesh) {
  double sum = 0;
  for (std::size_t i = 0; i + 2 < mesh.indices.size(); i += 3)
    sum += six_volumes(mesh.vertices[mesh.indices[i]].place, mesh.vertices[mesh.indices[i + 1]].place,
                       mesh.vertices[mesh.indices[i + 2]].place);
  return sum / 6;
}

int open_edges(const Mesh& mesh) {
  std::map<std::pair<Key, Key>, int> balance;
  for (std::size_t i = 0; i + 2 < mesh.indices.size(); i += 3)
    for (std::size_t k = 0; k < 3; ++k) {
      const Key a = key_of(mesh.vertices[mesh.indices[i + k]].place);
      const Key b = key_of(mesh.vertices[mesh.indices[i + (k + 1) % 3]].place);
      if (a == b) continue;
      balance[std::minmax(a, b)] += a < b ? 1 : -1;
    }
  return static_cast<int>(std::count_if(balance.begin(), balance.end(), [](const auto& e) { return e.second != 0; }));
}

}  // namespace sidehill::screen

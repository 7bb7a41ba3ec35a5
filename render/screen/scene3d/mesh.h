// Triangles with normals, colours and baked ambient light, and the tools parts are made from: box, bar, turned profile,
// extruded outline, skin. Single precision: this is for the picture only. Knows no GL, no machine.
#pragma once
#include <array>
#include <cstdint>
#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>
#include <numbers>
#include <vector>

#include "render/namespaces.h"

namespace sidehill::screen {

inline constexpr float kTurn = 2 * std::numbers::pi_v<float>;  // [rad]

struct Paint {
  std::uint8_t r = 200, g = 200, b = 200;  // sRGB
  std::uint8_t gloss = 40;                 // 0 dull to 255 polished
};

struct Vertex {
  glm::vec3 place{0};
  glm::vec3 normal{0, 0, 1};
  Paint paint;
  float light = 1;  // ambient light that reaches it, 0 to 1
};

struct Mesh {
  std::vector<Vertex> vertices;
  std::vector<std::uint32_t> indices;  // triangles, anticlockwise seen from outside
};

// How finely a mesh is made. Software drawing spends its time on triangles: a moving view is drawn coarsely, a view at
// rest and a picture in full.
enum class Detail {
  full,
  coarse,  // fewer sides to what is round, no cut edges on small blocks; the same outlines and places
};

// Grows a Mesh piece by piece. Every piece but `ribbon` and `open_lathe` is closed, and faces outwards whatever order
// its points come in and even under a mirroring `place`: the sign of its volume decides.
class MeshBuilder {
 public:
  explicit MeshBuilder(Detail how_fine = Detail::full) : detail(how_fine) {}
  Paint paint;
  Detail detail = Detail::full;
  glm::mat4 place{1.0f};  // applied to what is added

  // Block with its edges cut off by `chamfer` (0 = sharp).
  void box(glm::vec3 centre, glm::vec3 half_size, float chamfer = 0.02f);
  // Round bar or cone from a to b with flat ends.
  void bar(glm::vec3 a, glm::vec3 b, float radius_a, float radius_b, int sides = 12);
  void bar(glm::vec3 a, glm::vec3 b, float radius, int sides = 12) { bar(a, b, radius, radius, sides); }
  // Square-edged beam from a to b: `width` along `side`, `depth` across both.
  void beam(glm::vec3 a, glm::vec3 b, float width, float depth, glm::vec3 side = {0, 1, 0});
  // Bent tube through points, flat ends.
  void tube(const std::vector<glm::vec3>& path, float radius, int sides = 10);
  // Profile of (y, radius) turned about the y axis. It must close on itself or begin and end at radius 0.
  void lathe(const std::vector<glm::vec2>& profile, int segments);
  // The same for an open profile; its two sides both show.
  void open_lathe(const std::vector<glm::vec2>& profile, int segments);
  // Outline in the x-z plane, star-shaped from the mean of its points, from y0 to y1.
  void extrude(const std::vector<glm::vec2>& outline, float y0, float y1);
  // Skin over rings of equally many points, the ends capped from their middle.
  void skin(const std::vector<std::vector<glm::vec3>>& rings);
  // Open strip between two lines of equally many points.
  void ribbon(const std::vector<glm::vec3>& a, const std::vector<glm::vec3>& b);

  const Mesh& mesh() const { return mesh_; }
  Mesh take() { return std::move(mesh_); }

 private:
  using Triangle = std::array<glm::vec3, 3>;
  void triangle(glm::vec3 a, glm::vec3 b, glm::vec3 c) { piece_.push_back({a, b, c}); }
  void quad(glm::vec3 a, glm::vec3 b, glm::vec3 c, glm::vec3 d);
  void finish(bool closed);  // moves the piece into the mesh: places it, turns it outwards, gives it normals
  std::vector<Triangle> piece_;
  Mesh mesh_;
};

// Darkens vertices that see little of the open: marches rays over a grid of filled cells. `reach` [m] is how far things
// shade each other.
void bake_light(Mesh& mesh, float reach);

// Volume enclosed [m3]: positive for closed meshes that face outwards. For tests.
double enclosed_volume(const Mesh& mesh);
// Number of edges that do not have as many triangles running one way as the other, vertices at one place counted as
// one. For tests.
int open_edges(const Mesh& mesh);

}  // namespace sidehill::screen

// What a Renderer is made of, shared by the files that implement it and by nobody else.
#pragma once
#include <list>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/gl/gl_mesh.h"
#include "render/screen/gl/gl_program.h"
#include "render/screen/gl/renderer.h"

namespace sidehill::screen {

inline std::string with_light(const char* text) { return std::string(shaders::kCommon) + text; }
inline std::string opening(const char* text) {
  return std::string("#define OPENS\n") + shaders::kCommon + shaders::kHides + text;
}

inline glm::mat4 matrix(const Pose& X) {
  glm::mat4 m(glm::mat3(X.R));
  m[3] = glm::vec4(glm::vec3(X.p), 1);
  return m;
}

inline bool is_glass(const Part& part) {
  return std::holds_alternative<SidewallShape>(part.shape) || std::holds_alternative<CabGlassShape>(part.shape);
}

// All zero for what is no tyre.
inline TyreMeasures tyre_of(const Shape& shape) {
  if (const auto* wheel = std::get_if<WheelShape>(&shape)) return wheel->tyre;
  if (const auto* wall = std::get_if<SidewallShape>(&shape)) return wall->tyre;
  return {0, 0, 0, false};
}

struct MeshStore {
  Program solid{shaders::kSolidVertex, with_light(shaders::kSolidFragment)};
  Program quick{"#define QUICK\n" + with_light(shaders::kSolidVertex), with_light(shaders::kQuickFragment)};
  // The same where a wheel is lifted: what hides it is left out, or drawn as a veil.
  Program solid_open{opening(shaders::kSolidVertex), opening(shaders::kSolidFragment)};
  Program quick_open{"#define QUICK\n" + opening(shaders::kSolidVertex), opening(shaders::kQuickFragment)};
  Program liquid_open{opening(shaders::kSolidVertex), opening(shaders::kLiquidFragment)};
  Program depth{shaders::kSolidVertex, shaders::kDepthFragment};
  Program glass{shaders::kSolidVertex, with_light(shaders::kGlassFragment)};
  Program liquid{shaders::kSolidVertex, with_light(shaders::kLiquidFragment)};
  Program ground_near{with_light(shaders::kGroundVertex), "#define NEAR\n" + with_light(shaders::kGroundFragment)};
  Program ground_far{with_light(shaders::kGroundVertex), with_light(shaders::kGroundFragment)};
  Program mark{shaders::kMarkVertex, with_light(shaders::kMarkFragment)};
  Program sky{shaders::kSkyVertex, with_light(shaders::kSkyFragment)};
  Program ghost{std::string("#define GHOST\nuniform vec3 uSun;\n") + shaders::kSolidVertex, shaders::kGhostFragment};
  Program tracing{shaders::kTracingVertex, shaders::kTracingFragment};

  struct Kept {
    Shape shape;
    Detail detail = Detail::full;
    GlMesh mesh;
  };
  std::list<Kept> meshes;  // most recently used first
};

struct Renderer::Impl {
  std::shared_ptr<MeshStore> store;
  Program &solid = store->solid, &depth = store->depth, &glass = store->glass, &liquid = store->liquid,
          &ground_near = store->ground_near, &ground_far = store->ground_far, &mark = store->mark, &sky = store->sky;

  GlTarget fine, result;          // `fine` holds four samples a pixel
  std::optional<GlTarget> other;  // the ghost's own picture, made when there is one
  unsigned shadow_texture = 0, shadow_framebuffer = 0, empty_array = 0;
  int shadow_size = 0;        // [px]
  float shadow_lift = 0.03f;  // a few texels [m]
  glm::mat4 to_shadow{1.0f};
  std::vector<Part> shadow_of;

  Detail detail = Detail::coarse;
  GlMesh near_mesh, far_mesh, marks_ground, marks_front;
  std::vector<Feature> ground_features;
  std::optional<glm::dvec2> ground_focus;
  RenderStats stats;

  explicit Impl(std::shared_ptr<MeshStore> shared);
  ~Impl();
  Impl(const Impl&) = delete;
  Impl& operator=(const Impl&) = delete;
  const GlMesh& mesh_of(const Shape& shape, Detail how_fine);
  void draw(const GlMesh& mesh) {
    mesh.draw();
    stats.triangles += mesh.triangles();
  }
  void set_squash(const Program& program, const std::optional<Squash>& squash, const TyreMeasures& tyre);
  void size_shadow(int size);
  void draw_shadow(const Drawing& drawing);
  void update_ground(const GroundPicture& picture);
  void draw_parts(const Drawing& drawing, const glm::mat4& view, bool see_through, bool veil = false);
  void set_lifted(const Program& program, const Drawing& drawing, const Vec3* own) const;
  void draw_liquids(const Drawing& drawing, const glm::mat4& view);
  void draw_ground(const Drawing& drawing, const glm::mat4& view);
  void draw_ghost(const Drawing& drawing, const glm::mat4& view, const GlTarget& target);
  void trace_ghost(const Drawing& drawing, const glm::dmat4& projection, const glm::mat4& view, const GlTarget& target,
                   int samples);
  void draw_marks(const Drawing& drawing, const Camera& camera, const glm::mat4& view, int width, int height,
                  const Drawing* second);
  void begin(const Program& program, const glm::mat4& view, Vec3 eye_W) const;
  Vec3 eye_W{0.0};
};

}  // namespace sidehill::screen

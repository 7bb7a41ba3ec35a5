#include "render/screen/gl/renderer.h"

#include <epoxy/gl.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <glm/ext/matrix_clip_space.hpp>
#include <glm/ext/matrix_transform.hpp>
#include <stdexcept>

#include "render/screen/gl/renderer_impl.h"
#include "render/screen/gl/shaders.h"
#include "render/screen/kit/theme.h"
#include "render/screen/scene3d/field_mesh.h"
#include "render/screen/scene3d/machine_mesh.h"
#include "render/screen/scene3d/marks.h"
#include "render/screen/scene3d/terrain_mesh.h"

namespace sidehill::screen {
namespace {

constexpr int kShadowMoving = 512, kShadowStill = 1024;     // [px]
constexpr std::size_t kMostMeshes = 160;                    // two machines in both details
const Vec3 kSun = glm::normalize(Vec3(0.50, -0.52, 0.80));  // lights the side that the presets look at

glm::vec3 linear(Colour c) {
  const glm::vec3 v = glm::vec3(c.r, c.g, c.b) / 255.0f;
  return v * v;
}

// Water is blue; brine has a greener tone (and by its name beside the fill).
Colour liquid_colour(Medium medium) { return medium == Medium::water ? theme::kLiquid : rgb(0x219C97); }

bool same(const Pose& a, const Pose& b) { return a.R == b.R && a.p == b.p; }
bool same(const std::optional<Squash>& a, const std::optional<Squash>& b) {
  if (a.has_value() != b.has_value()) return false;
  return !a || (a->centre == b->centre && a->axle == b->axle && a->contact == b->contact && a->normal == b->normal &&
                a->deflection == b->deflection);
}
bool same(const std::vector<Part>& a, const std::vector<Part>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Part& p, const Part& q) {
    return same(p.X_WP, q.X_WP) && same(p.squash, q.squash) && p.shape == q.shape;
  });
}

// A wheel's shadow shows no lugs: a plain ring does.
Shape shadow_shape(const TyreMeasures& tyre) {
  return LiquidShape{0.25 * tyre.radius, 0.985 * tyre.radius, tyre.width};
}

// What is kept of the state of OpenGL while a picture is drawn.
struct Kept {
  int framebuffer = 0;
  std::array<int, 4> viewport{};
  unsigned char blend = 0, depth = 0, cull = 0, scissor = 0;
  Kept() {
    glGetIntegerv(GL_FRAMEBUFFER_BINDING, &framebuffer);
    glGetIntegerv(GL_VIEWPORT, viewport.data());
    blend = glIsEnabled(GL_BLEND);
    depth = glIsEnabled(GL_DEPTH_TEST);
    cull = glIsEnabled(GL_CULL_FACE);
    scissor = glIsEnabled(GL_SCISSOR_TEST);
  }
  ~Kept() {
    const auto set = [](unsigned what, unsigned char on) { on ? glEnable(what) : glDisable(what); };
    glBindFramebuffer(GL_FRAMEBUFFER, static_cast<unsigned>(framebuffer));
    glViewport(viewport[0], viewport[1], viewport[2], viewport[3]);
    set(GL_BLEND, blend);
    set(GL_DEPTH_TEST, depth);
    set(GL_CULL_FACE, cull);
    set(GL_SCISSOR_TEST, scissor);
    glDepthMask(GL_TRUE);
    glDepthFunc(GL_LESS);
    glUseProgram(0);
    glBindVertexArray(0);
  }
};

}  // namespace

Renderer::Impl::Impl(std::shared_ptr<MeshStore> shared) : store(std::move(shared)) {
  glGenVertexArrays(1, &empty_array);
  glGenTextures(1, &shadow_texture);
  glBindTexture(GL_TEXTURE_2D, shadow_texture);
  size_shadow(kShadowMoving);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_BORDER);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_BORDER);
  constexpr std::array<float, 4> kLit = {1, 1, 1, 1};
  glTexParameterfv(GL_TEXTURE_2D, GL_TEXTURE_BORDER_COLOR, kLit.data());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_MODE, GL_COMPARE_REF_TO_TEXTURE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_FUNC, GL_LEQUAL);
  glGenFramebuffers(1, &shadow_framebuffer);
  int before = 0;
  glGetIntegerv(GL_FRAMEBUFFER_BINDING, &before);
  glBindFramebuffer(GL_FRAMEBUFFER, shadow_framebuffer);
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, shadow_texture, 0);
  glDrawBuffer(GL_NONE);
  glReadBuffer(GL_NONE);
  glBindFramebuffer(GL_FRAMEBUFFER, static_cast<unsigned>(before));
}

void Renderer::Impl::size_shadow(int size) {
  shadow_size = size;
  glBindTexture(GL_TEXTURE_2D, shadow_texture);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_DEPTH_COMPONENT24, size, size, 0, GL_DEPTH_COMPONENT, GL_UNSIGNED_INT, nullptr);
}

Renderer::Impl::~Impl() {
  glDeleteVertexArrays(1, &empty_array);
  glDeleteTextures(1, &shadow_texture);
  glDeleteFramebuffers(1, &shadow_framebuffer);
}

const GlMesh& Renderer::Impl::mesh_of(const Shape& shape, Detail how_fine) {
  std::list<MeshStore::Kept>& meshes = store->meshes;
  for (auto it = meshes.begin(); it != meshes.end(); ++it)
    if (it->detail == how_fine && it->shape == shape) {
      meshes.splice(meshes.begin(), meshes, it);
      return it->mesh;
    }
  if (meshes.size() >= kMostMeshes) meshes.pop_back();
  meshes.emplace_front();
  meshes.front().shape = shape;
  meshes.front().detail = how_fine;
  meshes.front().mesh.set(make_mesh(shape, how_fine));
  ++stats.meshes_made;
  return meshes.front().mesh;
}

void Renderer::Impl::set_squash(const Program& program, const std::optional<Squash>& squash, const TyreMeasures& tyre) {
  if (!squash) {
    program.set("uTyre", glm::vec3(0));
    return;
  }
  const Vec3 n = squash->normal;
  program.set("uGround", glm::vec4(glm::vec3(n), static_cast<float>(glm::dot(n, squash->contact))));
  program.set("uCentre", glm::vec3(squash->centre));
  program.set("uAxle", glm::vec3(squash->axle));
  program.set("uTyre", glm::vec3(static_cast<float>(tyre.radius), static_cast<float>(tyre.rim_radius),
                                 static_cast<float>(squash->deflection)));
}

void Renderer::Impl::begin(const Program& program, const glm::mat4& view, Vec3 from) const {
  program.use();
  program.set("uView", view);
  program.set("uToShadow", to_shadow);
  program.set("uEye", glm::vec3(from));
  program.set("uSun", glm::vec3(kSun));
  program.set("uLift", shadow_lift);
  program.set("uSky", linear(theme::kSky) * glm::vec3(0.80f, 0.88f, 0.98f));
  program.set("uHorizon", linear(theme::kHorizon));
  program.set_unit("uShadow", 0);
  glActiveTexture(GL_TEXTURE0);
  glBindTexture(GL_TEXTURE_2D, shadow_texture);
}

void Renderer::Impl::draw_shadow(const Drawing& drawing) {
  const int size = detail == Detail::full ? kShadowStill : kShadowMoving;
  stats.shadow_drawn = size != shadow_size || !same(shadow_of, drawing.parts);
  if (!stats.shadow_drawn) return;
  shadow_of = drawing.parts;
  if (size != shadow_size) size_shadow(size);
  const double reach = drawing.size * 1.05 + 0.3;
  shadow_lift = static_cast<float>(std::max(0.03, 3.2 * 2 * reach / size));
  const glm::dmat4 look = glm::lookAt(drawing.focus + 20.0 * kSun, drawing.focus, Vec3(0, 0, 1));
  const glm::mat4 view(glm::ortho(-reach, reach, -reach, reach, 20 - 2 * reach, 20 + 2 * reach) * look);
  // To texture coordinates, with a small bias against self-shadow.
  to_shadow =
      glm::translate(glm::mat4(1), glm::vec3(0.5f, 0.5f, 0.4985f)) * glm::scale(glm::mat4(1), glm::vec3(0.5f)) * view;
  glBindFramebuffer(GL_FRAMEBUFFER, shadow_framebuffer);
  glViewport(0, 0, size, size);
  glDisable(GL_BLEND);
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LESS);
  glDepthMask(GL_TRUE);
  glEnable(GL_CULL_FACE);
  glClear(GL_DEPTH_BUFFER_BIT);
  depth.use();
  depth.set("uView", view);
  for (const Part& part : drawing.parts) {
    if (is_glass(part)) continue;
    depth.set("uPose", matrix(part.X_WP));
    set_squash(depth, part.squash, tyre_of(part.shape));
    draw(mesh_of(part.squash ? shadow_shape(tyre_of(part.shape)) : part.shape, Detail::coarse));
  }
}

void Renderer::Impl::update_ground(const GroundPicture& picture) {
  constexpr double kStay = 2.0;  // the fine patch follows in steps [m]
  const bool same_features = std::equal(picture.features.begin(), picture.features.end(), ground_features.begin(),
                                        ground_features.end(), [](const Feature& a, const Feature& b) {
                                          return a.kind == b.kind && a.x == b.x && a.y == b.y && a.angle == b.angle &&
                                                 a.length == b.length && a.width == b.width && a.height == b.height &&
                                                 a.seed == b.seed;
                                        });
  if (ground_focus && same_features && glm::length(*ground_focus - picture.focus_G) < kStay) return;
  ground_focus = picture.focus_G;
  ground_features = picture.features;
  // Two meshes over the same ground: shadow, grain and grid are worked out near the machine only.
  constexpr float kNearReach = 12;
  Mesh near = ground_mesh(picture), far = near;
  near.indices.clear();
  std::vector<std::uint32_t> all;
  all.swap(far.indices);
  for (std::size_t i = 0; i + 2 < all.size(); i += 3) {
    const glm::vec2 at = glm::vec2(near.vertices[all[i]].place);
    const bool close = glm::length(at - glm::vec2(picture.focus_G)) < kNearReach;
    std::vector<std::uint32_t>& into = close ? near.indices : far.indices;
    into.insert(into.end(), all.begin() + static_cast<std::ptrdiff_t>(i),
                all.begin() + static_cast<std::ptrdiff_t>(i + 3));
  }
  const auto append = [](Mesh& to, const Mesh& more) {
    const auto first = static_cast<std::uint32_t>(to.vertices.size());
    to.vertices.insert(to.vertices.end(), more.vertices.begin(), more.vertices.end());
    for (const std::uint32_t i : more.indices) to.indices.push_back(first + i);
  };
  append(near, grass_mesh(picture));
  append(far, fence_mesh());
  near_mesh.set(near);
  far_mesh.set(far);
}

// Lifted wheels that are to be seen, without the one at `own`: a wheel does not hide itself.
void Renderer::Impl::set_lifted(const Program& program, const Drawing& drawing, const Vec3* own) const {
  constexpr std::size_t kMost = 4;
  std::vector<glm::vec4> centres(kMost, glm::vec4(0)), axles(kMost, glm::vec4(0, 1, 0, 1));
  for (std::size_t i = 0; i < std::min(kMost, drawing.rings.size()); ++i) {
    const Ring& ring = drawing.rings[i];
    if (own) {
      const Vec3 off = *own - ring.centre, aside = off - glm::dot(off, ring.axis) * ring.axis;
      if (glm::length(aside) < 0.1 && glm::length(off) < 1.2) continue;  // or the other tyre of a pair
    }
    centres[i] = glm::vec4(glm::vec3(ring.centre), static_cast<float>(ring.radius));
    axles[i] = glm::vec4(glm::vec3(ring.axis), static_cast<float>(ring.radius / ring.half_width));
  }
  program.set("uLifted", centres);
  program.set("uLiftedAxle", axles);
}

void Renderer::Impl::draw_parts(const Drawing& drawing, const glm::mat4& view, bool see_through, bool veil) {
  const bool opens = !see_through && !drawing.rings.empty();
  const Program& program = see_through              ? glass
                           : detail == Detail::full ? (opens ? store->solid_open : solid)
                                                    : (opens ? store->quick_open : store->quick);
  begin(program, view, eye_W);
  constexpr float kVeil = 0.14f;  // several layers may lie one behind the other
  if (opens) program.set("uVeil", veil ? kVeil : 0.0f);
  for (const Part& part : drawing.parts) {
    if (is_glass(part) != see_through) continue;
    if (opens) {
      const bool of_wheel =
          std::holds_alternative<WheelShape>(part.shape) || std::holds_alternative<WheelWeightShape>(part.shape);
      set_lifted(program, drawing, of_wheel ? &part.X_WP.p : nullptr);
    }
    const bool cab = std::holds_alternative<CabGlassShape>(part.shape);
    if (see_through) program.set("uGlass", cab ? glm::vec2(0.10f, 0.50f) : glm::vec2(0.10f, 0.62f));
    program.set("uPose", matrix(part.X_WP));
    set_squash(program, part.squash, tyre_of(part.shape));
    draw(mesh_of(part.shape, detail));
  }
}

void Renderer::Impl::draw_liquids(const Drawing& drawing, const glm::mat4& view) {
  const bool opens = !drawing.rings.empty();
  const Program& program = opens ? store->liquid_open : liquid;
  begin(program, view, eye_W);
  for (const LiquidPart& part : drawing.liquids) {
    if (opens) set_lifted(program, drawing, &part.X_WP.p);
    program.set("uPose", matrix(part.X_WP));
    set_squash(program, part.squash, {part.shape.outer_radius, part.shape.inner_radius, part.shape.width, false});
    program.set("uSurface",
                glm::vec4(glm::vec3(part.up), static_cast<float>(glm::dot(part.up, part.squash.centre) + part.level)));
    program.set("uTint", linear(part.frozen ? theme::kIce : liquid_colour(part.medium)) * 1.1f);
    program.set("uIce", part.frozen ? 1.0f : 0.0f);
    const GlMesh& mesh = mesh_of(part.shape, detail);
    glCullFace(GL_FRONT);  // far side first: through an open top one looks on the surface
    draw(mesh);
    glCullFace(GL_BACK);
    draw(mesh);
  }
}

void Renderer::Impl::draw_ground(const Drawing& drawing, const glm::mat4& view) {
  const double y = drawing.ground.focus_G.y;
  const glm::vec4 slope(
      static_cast<float>(drawing.ground.slope), static_cast<float>(std::min(-kSlopeReach, y - 0.6 * kSlopeReach)),
      static_cast<float>(std::max(kSlopeReach, y + 0.6 * kSlopeReach)), static_cast<float>(kEaseLength));
  std::vector<glm::vec4> spots(5, glm::vec4(0, 0, -1000, 1));
  for (std::size_t i = 0; i < std::min<std::size_t>(drawing.contacts.size(), 4); ++i)
    spots[i] = glm::vec4(glm::vec3(drawing.contacts[i]), 4.5f);
  Vec3 below{0};  // under the belly
  for (const Vec3& contact : drawing.contacts) below += contact / static_cast<double>(drawing.contacts.size());
  spots[4] = glm::vec4(glm::vec3(below + Vec3(0, 0, 0.4)), 0.14f);
  for (const bool close : {true, false}) {
    const Program& program = close ? ground_near : ground_far;
    begin(program, view, eye_W);
    program.set("uSlope", slope);
    program.set("uFocus", glm::vec2(drawing.ground.focus_G));
    program.set("uLines", drawing.ground.lines ? 1.0f : 0.0f);
    program.set("uSpots", spots);
    draw(close ? near_mesh : far_mesh);
  }
}

void Renderer::Impl::draw_marks(const Drawing& drawing, const Camera& camera, const glm::mat4& view, int width,
                                int height, const Drawing* second) {
  const double aspect = static_cast<double>(width) / height, pixel = height_at_1(camera, aspect) / height;
  Marks marks = make_marks(drawing, camera, pixel, height, aspect);
  if (second) add_marks(marks, *second, camera, pixel, height, aspect);
  marks_ground.set(marks.ground, true);
  marks_front.set(marks.front, true);
  begin(mark, view, eye_W);
  glDisable(GL_CULL_FACE);
  glDepthMask(GL_FALSE);
  glEnable(GL_POLYGON_OFFSET_FILL);
  glPolygonOffset(-2, -8);
  mark.set("uFade", 0.45f);  // what the machine hides shows faintly
  glDepthFunc(GL_GREATER);
  draw(marks_ground);
  mark.set("uFade", 1.0f);
  glDepthFunc(GL_LEQUAL);
  draw(marks_ground);
  glDisable(GL_POLYGON_OFFSET_FILL);
  glDepthMask(GL_TRUE);
  // Never hidden. Through the range of depths and not by another test: each combination of states is a program more for
  // a software driver to compile before the first picture.
  glDepthRange(0, 0);
  draw(marks_front);
  glDepthRange(0, 1);
}

Renderer::Renderer() {
  if (epoxy_gl_version() < 33) throw std::runtime_error("the 3-D picture needs OpenGL 3.3 or newer");
  impl_ = std::make_unique<Impl>(std::make_shared<MeshStore>());
}

Renderer::Renderer(std::shared_ptr<MeshStore> store) : impl_(std::make_unique<Impl>(std::move(store))) {}

Renderer Renderer::beside(const Renderer& other) { return Renderer(other.impl_->store); }

Renderer::~Renderer() = default;
Renderer::Renderer(Renderer&&) noexcept = default;
Renderer& Renderer::operator=(Renderer&&) noexcept = default;

void Renderer::render(const Drawing& drawing, const Camera& camera, int width, int height, Quality quality,
                      const Drawing* ghost) {
  Impl& r = *impl_;
  width = std::clamp(width, 1, 8192);
  height = std::clamp(height, 1, 8192);
  const Kept kept;
  glDisable(GL_SCISSOR_TEST);
  r.stats = {};
  int most = 0;
  glGetIntegerv(GL_MAX_TEXTURE_SIZE, &most);
  const int samples = quality == Quality::still && 2 * std::max(width, height) <= most ? 2 : 1;
  r.result.resize(width, height, true);
  if (samples > 1) r.fine.resize(samples * width, samples * height, true);
  const GlTarget& target = samples > 1 ? r.fine : r.result;

  r.detail = quality == Quality::moving ? Detail::coarse : Detail::full;
  r.update_ground(drawing.ground);
  r.draw_shadow(drawing);
  r.eye_W = eye(camera);
  const glm::dmat4 projection = projection_matrix(camera, static_cast<double>(width) / height);
  const glm::mat4 view(projection * view_matrix(camera));
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LEQUAL);
  glDepthMask(GL_TRUE);
  glDisable(GL_BLEND);
  glEnable(GL_CULL_FACE);
  glCullFace(GL_BACK);
  if (ghost) r.draw_ghost(*ghost, view, target);
  glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer());
  glViewport(0, 0, target.width(), target.height());
  glClear(GL_DEPTH_BUFFER_BIT);
  r.draw_parts(drawing, view, false);
  r.draw_ground(drawing, view);

  r.begin(r.sky, view, r.eye_W);
  r.sky.set("uUnview", glm::mat4(glm::inverse(projection * view_matrix(camera))));
  glBindVertexArray(r.empty_array);
  glDrawArrays(GL_TRIANGLES, 0, 3);

  glEnable(GL_BLEND);
  glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  if (!drawing.rings.empty()) {
    glDepthMask(GL_FALSE);
    r.draw_parts(drawing, view, false, true);
    glDepthMask(GL_TRUE);
  }
  r.draw_liquids(drawing, view);
  glDepthMask(GL_FALSE);
  glDisable(GL_CULL_FACE);
  r.draw_parts(drawing, view, true);
  if (ghost) r.trace_ghost(*ghost, projection, view, target, samples);
  r.draw_marks(drawing, camera, view, width, height, ghost);

  if (samples > 1) {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, r.fine.framebuffer());
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, r.result.framebuffer());
    // Exactly half the size: linear filtering takes the mean of each four samples.
    glBlitFramebuffer(0, 0, r.fine.width(), r.fine.height(), 0, 0, width, height, GL_COLOR_BUFFER_BIT, GL_LINEAR);
  }
}

unsigned Renderer::texture() const { return impl_->result.texture(); }
unsigned Renderer::framebuffer() const { return impl_->result.framebuffer(); }
int Renderer::width() const { return impl_->result.width(); }
int Renderer::height() const { return impl_->result.height(); }
RenderStats Renderer::stats() const { return impl_->stats; }

}  // namespace sidehill::screen

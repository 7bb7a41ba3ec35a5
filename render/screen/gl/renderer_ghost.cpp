// The ghost of a second machine: drawn into a picture of its own, then traced over the first.
#include <array>
#include <glm/common.hpp>

#include "render/screen/gl/renderer_impl.h"
#include "render/screen/kit/theme.h"

namespace sidehill::screen {

// The second machine into a picture of its own: lightness and depth.
void Renderer::Impl::draw_ghost(const Drawing& drawing, const glm::mat4& view, const GlTarget& target) {
  if (!other) other.emplace();
  other->resize(target.width(), target.height(), true);
  glBindFramebuffer(GL_FRAMEBUFFER, other->framebuffer());
  glViewport(0, 0, other->width(), other->height());
  glClearColor(0, 0, 1, 1);  // no part, far away
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
  const Program& program = store->ghost;
  begin(program, view, eye_W);
  int number = 0;
  for (const Part& part : drawing.parts) {
    if (is_glass(part)) continue;
    number = number % 250 + 1;
    program.set("uPart", static_cast<float>(number) / 255);
    program.set("uPose", matrix(part.X_WP));
    set_squash(program, part.squash, tyre_of(part.shape));
    draw(mesh_of(part.shape, Detail::coarse));
  }
}

// ... and laid over the first, where it can be: in the rectangle that holds its outermost places.
void Renderer::Impl::trace_ghost(const Drawing& drawing, const glm::dmat4& projection, const glm::mat4& view,
                                 const GlTarget& target, int samples) {
  glm::vec2 low(1), high(-1);
  for (const Vec3& p : drawing.extent) {
    const glm::vec4 clip = view * glm::vec4(glm::vec3(p), 1.0f);
    if (clip.w < 0.1f) {  // partly behind the eye
      low = glm::vec2(-1), high = glm::vec2(1);
      break;
    }
    low = glm::min(low, glm::vec2(clip) / clip.w);
    high = glm::max(high, glm::vec2(clip) / clip.w);
  }
  if (drawing.extent.empty()) low = glm::vec2(-1), high = glm::vec2(1);
  const glm::vec2 size(static_cast<float>(target.width()), static_cast<float>(target.height()));
  constexpr float kRoom = 0.07f;  // the extent is a box round the bulk: mirrors and lugs stand out of it
  low = glm::clamp((low - kRoom) * 0.5f + 0.5f, 0.0f, 1.0f) * size;
  high = glm::clamp((high + kRoom) * 0.5f + 0.5f, 0.0f, 1.0f) * size;
  if (high.x <= low.x || high.y <= low.y) return;
  glEnable(GL_SCISSOR_TEST);
  glScissor(static_cast<int>(low.x), static_cast<int>(low.y), static_cast<int>(high.x - low.x) + 1,
            static_cast<int>(high.y - low.y) + 1);
  glBindFramebuffer(GL_FRAMEBUFFER, target.colour_framebuffer());
  const Program& program = store->tracing;
  program.use();
  program.set_unit("uGhost", 0);
  program.set_unit("uSceneDepth", 1);
  // From the projection's two numbers back to its planes.
  const double a = projection[2][2], b = projection[3][2];
  program.set("uPlanes", glm::vec2(static_cast<float>(b / (a - 1)), static_cast<float>(b / (a + 1))));
  program.set("uPixel", static_cast<float>(samples));
  program.set("uTint", glm::vec3(theme::kGhost.r, theme::kGhost.g, theme::kGhost.b) / 255.0f);
  const std::array<unsigned, 2> textures = {other->texture(), target.depth_texture()};
  for (unsigned unit = 0; unit < textures.size(); ++unit) {
    glActiveTexture(GL_TEXTURE0 + unit);
    glBindTexture(GL_TEXTURE_2D, textures[unit]);
  }
  glDisable(GL_DEPTH_TEST);
  glBindVertexArray(empty_array);
  glDrawArrays(GL_TRIANGLES, 0, 3);
  glEnable(GL_DEPTH_TEST);
  for (unsigned unit = 0; unit < textures.size(); ++unit) {
    glActiveTexture(GL_TEXTURE0 + unit);
    glBindTexture(GL_TEXTURE_2D, 0);
  }
  glActiveTexture(GL_TEXTURE0);
  glDisable(GL_SCISSOR_TEST);
  glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer());
}

}  // namespace sidehill::screen

// The panels around the picture as pixels that are kept: while a machine moves, most of them stay as they are, and
// drawing their letters anew takes as long as a third of the picture. Needs a current OpenGL context and Dear ImGui's
// OpenGL backend; knows no panel.
#pragma once
#include <imgui.h>

#include <vector>

#include "render/namespaces.h"
#include "render/screen/gl/gl_mesh.h"
#include "render/screen/kit/theme.h"
#include "render/screen/kit/ui.h"

namespace sidehill::screen {

class PanelCache {
 public:
  // Letters have become others in the same places: all is drawn anew.
  void forget() { kept_.clear(), width_ = 0; }
  // Of a frame that is built (after ImGui::Render): brings what lies beside `view` [px] up to date and copies it into
  // the framebuffer now bound for drawing, width x height [px] large. `paper` is what the panels are drawn on.
  void place(const ImDrawData& frame, Rect view, Colour paper, int width, int height);
  // What lies over the view, to be drawn after the picture in it. Good until the next frame is begun.
  ImDrawData* over() { return &over_; }
  int drawn() const { return drawn_; }  // lists of the last frame that were drawn anew

 private:
  // All that says what a list of Dear ImGui's looks like.
  struct Kept {
    std::vector<ImDrawVert> vertices;
    std::vector<ImDrawIdx> indices;
    std::vector<ImVec4> clips;
    std::vector<ImTextureID> textures;
    std::vector<unsigned> counts;
    ImVec4 bounds{0, 0, 0, 0};  // low x, low y, high x, high y [px]
  };
  static Kept kept_of(const ImDrawList& list);
  static bool same(const Kept& kept, const ImDrawList& list);
  void draw_region(const ImDrawData& frame, ImVec4 region, Colour paper);

  GlTarget target_;
  std::vector<Kept> kept_;  // of the panels, in their order
  std::vector<ImDrawList*> panels_, over_lists_;
  ImDrawData over_;
  int width_ = 0, height_ = 0, drawn_ = 0;
};

}  // namespace sidehill::screen

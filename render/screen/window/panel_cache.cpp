#include "render/screen/window/panel_cache.h"

#include <backends/imgui_impl_opengl3.h>
#include <epoxy/gl.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace sidehill::screen {
namespace {

bool meet(const ImVec4& a, const ImVec4& b) { return a.x < b.z && b.x < a.z && a.y < b.w && b.y < a.w; }

ImVec4 both(const ImVec4& a, const ImVec4& b) {
  return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.z, b.z), std::max(a.w, b.w)};
}

// Of all that the list may colour; empty (high below low) for one without anything.
ImVec4 bounds_of(const ImDrawList& list) {
  ImVec4 bounds(1e9f, 1e9f, -1e9f, -1e9f);
  for (const ImDrawCmd& command : list.CmdBuffer)
    if (command.ElemCount > 0) bounds = both(bounds, command.ClipRect);
  return bounds;
}

ImDrawData data_of(const ImDrawData& frame, std::vector<ImDrawList*>& lists) {
  ImDrawData data = frame;
  data.CmdLists = lists.data();
  data.CmdListsCount = static_cast<int>(lists.size());
  return data;
}

template <class T>
bool same_bytes(const std::vector<T>& a, const ImVector<T>& b) {
  return a.size() == static_cast<std::size_t>(b.Size) &&
         (a.empty() || std::memcmp(a.data(), b.Data, a.size() * sizeof(T)) == 0);
}

}  // namespace

PanelCache::Kept PanelCache::kept_of(const ImDrawList& list) {
  Kept kept;
  kept.vertices.assign(list.VtxBuffer.begin(), list.VtxBuffer.end());
  kept.indices.assign(list.IdxBuffer.begin(), list.IdxBuffer.end());
  for (const ImDrawCmd& command : list.CmdBuffer) {
    kept.clips.push_back(command.ClipRect);
    kept.textures.push_back(command.GetTexID());
    kept.counts.push_back(command.ElemCount);
  }
  kept.bounds = bounds_of(list);
  return kept;
}

bool PanelCache::same(const Kept& kept, const ImDrawList& list) {
  if (!same_bytes(kept.vertices, list.VtxBuffer) || !same_bytes(kept.indices, list.IdxBuffer) ||
      kept.clips.size() != static_cast<std::size_t>(list.CmdBuffer.Size))
    return false;
  for (std::size_t i = 0; i < kept.clips.size(); ++i) {
    const ImDrawCmd& command = list.CmdBuffer[static_cast<int>(i)];
    const ImVec4 &a = kept.clips[i], &b = command.ClipRect;
    if (a.x != b.x || a.y != b.y || a.z != b.z || a.w != b.w || kept.textures[i] != command.GetTexID() ||
        kept.counts[i] != command.ElemCount)
      return false;
  }
  return true;
}

// All panels anew within that region, of whole pixels.
void PanelCache::draw_region(const ImDrawData& frame, ImVec4 region, Colour paper) {
  region = {std::floor(region.x), std::floor(region.y), std::ceil(region.z), std::ceil(region.w)};
  glEnable(GL_SCISSOR_TEST);
  glScissor(static_cast<int>(region.x), height_ - static_cast<int>(region.w), static_cast<int>(region.z - region.x),
            static_cast<int>(region.w - region.y));
  glClearColor(static_cast<float>(paper.r) / 255, static_cast<float>(paper.g) / 255, static_cast<float>(paper.b) / 255,
               1);
  glClear(GL_COLOR_BUFFER_BIT);
  glDisable(GL_SCISSOR_TEST);
  std::vector<ImDrawList*> lists;
  std::vector<ImVec4> clips;  // as they were
  for (ImDrawList* list : panels_) {
    if (!meet(bounds_of(*list), region)) continue;
    lists.push_back(list);
    for (ImDrawCmd& command : list->CmdBuffer) {
      clips.push_back(command.ClipRect);
      ImVec4& clip = command.ClipRect;
      clip = {std::max(clip.x, region.x), std::max(clip.y, region.y), std::min(clip.z, region.z),
              std::min(clip.w, region.w)};
    }
  }
  ImDrawData data = data_of(frame, lists);
  ImGui_ImplOpenGL3_RenderDrawData(&data);
  drawn_ += static_cast<int>(lists.size());
  std::size_t at = 0;
  for (ImDrawList* list : lists)
    for (ImDrawCmd& command : list->CmdBuffer) command.ClipRect = clips[at++];
}

void PanelCache::place(const ImDrawData& frame, Rect view, Colour paper, int width, int height) {
  int bound = 0;
  glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &bound);
  const ImVec4 inner(view.x, view.y, view.x + view.width, view.y + view.height);
  panels_.clear();
  over_lists_.clear();
  for (int i = 0; i < frame.CmdListsCount; ++i)
    (meet(bounds_of(*frame.CmdLists[i]), inner) ? over_lists_ : panels_).push_back(frame.CmdLists[i]);
  over_ = data_of(frame, over_lists_);
  drawn_ = 0;

  const bool anew = width != width_ || height != height_ || kept_.size() != panels_.size();
  width_ = width, height_ = height;
  target_.resize(width, height, false);
  const ImVec4 whole(0, 0, static_cast<float>(width), static_cast<float>(height));
  std::vector<ImVec4> regions;
  if (anew) {
    kept_.clear();
    for (const ImDrawList* list : panels_) kept_.push_back(kept_of(*list));
    regions.push_back(whole);
  } else {
    for (std::size_t i = 0; i < panels_.size(); ++i) {
      if (same(kept_[i], *panels_[i])) continue;
      const ImVec4 before = kept_[i].bounds;
      kept_[i] = kept_of(*panels_[i]);
      const ImVec4 region = both(before, kept_[i].bounds);
      if (region.x < region.z && region.y < region.w)
        regions.push_back({std::max(region.x, 0.f), std::max(region.y, 0.f), std::min(region.z, whole.z),
                           std::min(region.w, whole.w)});
    }
  }
  if (!regions.empty()) {
    glBindFramebuffer(GL_FRAMEBUFFER, target_.framebuffer());
    for (const ImVec4& region : regions)
      if (region.x < region.z && region.y < region.w) draw_region(frame, region, paper);
  }

  // All around the view.
  const int left = std::clamp(static_cast<int>(view.x), 0, width),
            top = std::clamp(static_cast<int>(view.y), 0, height);
  const int right = std::clamp(static_cast<int>(view.x + view.width), left, width),
            bottom = std::clamp(static_cast<int>(view.y + view.height), top, height);
  glBindFramebuffer(GL_READ_FRAMEBUFFER, target_.framebuffer());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, static_cast<unsigned>(bound));
  const auto copy = [&](int x0, int y0, int x1, int y1) {  // y down
    if (x0 >= x1 || y0 >= y1) return;
    glBlitFramebuffer(x0, height - y1, x1, height - y0, x0, height - y1, x1, height - y0, GL_COLOR_BUFFER_BIT,
                      GL_NEAREST);
  };
  copy(0, 0, width, top);
  copy(0, top, left, bottom);
  copy(right, top, width, bottom);
  copy(0, bottom, width, height);
  glBindFramebuffer(GL_FRAMEBUFFER, static_cast<unsigned>(bound));
}

}  // namespace sidehill::screen

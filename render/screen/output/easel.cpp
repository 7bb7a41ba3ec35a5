#include "render/screen/output/easel.h"

#include <backends/imgui_impl_opengl3.h>
#include <epoxy/gl.h>
#include <imgui.h>

#include <algorithm>
#include <optional>
#include <stdexcept>

#include "render/screen/gl/gl_mesh.h"
#include "render/screen/gl/offscreen.h"
#include "render/screen/kit/caution.h"
#include "render/screen/kit/fonts.h"
#include "render/screen/kit/theme.h"
#include "render/screen/kit/ui.h"
#include "render/screen/scene3d/labels.h"
#include "render/text/words/words.h"

namespace sidehill::screen {
namespace {

// A caller's ImGui context, taken up again whatever happens.
class ContextKept {
 public:
  ContextKept() : kept_(ImGui::GetCurrentContext()) {}
  ~ContextKept() { ImGui::SetCurrentContext(kept_); }
  ContextKept(const ContextKept&) = delete;
  ContextKept& operator=(const ContextKept&) = delete;

 private:
  ImGuiContext* kept_;
};

}  // namespace

struct Easel::Impl {
  int width, height;
  double scale;
  std::optional<OffscreenContext> own;  // first: the rest lives in it
  std::optional<Renderer> renderer;
  std::optional<GlTarget> sheet;
  ImGuiContext* gui = nullptr;
  Fonts fonts;
  double caution_size;               // [px]
  std::vector<std::string> caution;  // broken into lines
  std::vector<std::uint8_t> bottom_up;

  Impl(int w, int h, GlHost host)
      : width(std::clamp(w, 64, 8192)),
        height(std::clamp(h, 64, 8192)),
        scale(std::clamp(std::min(width / 1280.0, height / 720.0), 0.6, 4.0)),
        caution_size(theme::kTextSize * scale) {
    if (host == GlHost::own) own.emplace();
    int before = 0;
    glGetIntegerv(GL_FRAMEBUFFER_BINDING, &before);
    renderer.emplace();
    sheet.emplace();
    sheet->resize(width, height, false);
    glBindFramebuffer(GL_FRAMEBUFFER, static_cast<unsigned>(before));
    const ContextKept kept;
    gui = ImGui::CreateContext();
    ImGui::SetCurrentContext(gui);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
    io.DeltaTime = 1.0f / 60;
    fonts = load_fonts(scale);
    if (!ImGui_ImplOpenGL3_Init("#version 330 core")) {
      ImGui::DestroyContext(gui);
      throw std::runtime_error("no picture can be drawn here: the text drawer found no OpenGL");
    }
    caution = broken(fonts.text, caution_size, kCautionLine, width - 24 * scale);
  }
  ~Impl() {
    const ContextKept kept;
    ImGui::SetCurrentContext(gui);
    ImGui_ImplOpenGL3_Shutdown();
    ImGui::DestroyContext(gui);
  }
  double caution_height() const { return (1.25 * static_cast<double>(caution.size()) + 0.7) * caution_size; }
  double entries_height() const { return 58 * scale; }
  std::vector<std::string> verdict_lines(const PictureStrip& strip) const {
    std::vector<std::string> lines;
    for (const std::string& sentence : strip.verdict)
      for (std::string& line : broken(fonts.small, fonts.small->FontSize, sentence, width - 24 * scale))
        lines.push_back(std::move(line));
    return lines;
  }
  double verdict_height(const PictureStrip& strip) const {
    const auto lines = static_cast<double>(verdict_lines(strip).size());
    return lines > 0 ? (1.25 * lines + 0.6) * fonts.small->FontSize : 0;
  }
  double readouts_height(const PictureStrip& strip) const { return entries_height() + verdict_height(strip); }
  void draw_strip(ImDrawList& list, const PictureStrip& strip, float top);
  void draw_card(ImDrawList& list, const PictureCard& card, float view) const;
};

// In the largest type with which all of it fits; the caution line below stays free.
void Easel::Impl::draw_card(ImDrawList& list, const PictureCard& card, float view) const {
  const auto w = static_cast<float>(width), s = static_cast<float>(scale);
  const float wide = std::min(w - 24 * s, 860 * s), pad = 22 * s, room = wide - 2 * pad;
  struct Set {
    const ImFont* heading;
    const ImFont* text;
  };
  std::string heading, lines;
  float high = 0;
  Set set{};
  for (const Set& tried :
       {Set{fonts.question, fonts.reading}, Set{fonts.reading, fonts.text}, Set{fonts.text, fonts.small}}) {
    set = tried;
    heading = in_lines(set.heading, card.heading, room);
    lines.clear();
    for (const std::string& line : card.lines) lines += (lines.empty() ? "" : "\n") + in_lines(set.text, line, room);
    high = size_of(set.heading, heading).y + size_of(set.text, lines).y + 2 * pad + 10 * s;
    if (high <= view - 24 * s) break;
  }
  const float left = (w - wide) / 2, top = std::max(0.f, (view - high) / 2);
  list.AddRectFilled({left, top}, {left + wide, top + high}, colour(with_alpha(theme::kCard, 0.96)), 8 * s);
  list.AddRect({left, top}, {left + wide, top + high}, colour(theme::kInk), 8 * s, 0, 2 * s);
  text_at(list, set.heading, {left + pad, top + pad}, theme::kInk, heading);
  text_at(list, set.text, {left + pad, top + pad + size_of(set.heading, heading).y + 10 * s}, theme::kInk, lines);
}

void Easel::Impl::draw_strip(ImDrawList& list, const PictureStrip& strip, float top) {
  const auto w = static_cast<float>(width), h = static_cast<float>(height), s = static_cast<float>(scale);
  list.AddRectFilled({0, top}, {w, h}, colour(theme::kPaper));
  list.AddLine({0, top}, {w, top}, colour(theme::kRule), s);
  const float pad = 12 * s;
  if (strip.readouts) {
    // As many as there is room for, first things first; the title gives way before the values do.
    std::size_t shown = 0;
    float sum = 0;
    for (; shown < strip.entries.size(); ++shown) {
      const float wide = static_cast<float>(strip.entries[shown].room) * s;
      if (sum + wide > w - 2 * pad) break;
      sum += wide;
    }
    const float title_room = w - 2 * pad - sum;
    if (title_room > 60 * s)
      text_at(list, fonts.heading, {pad, top + 18 * s}, theme::kInk,
              fitted(fonts.heading, strip.title, title_room - pad));
    float x = w - pad - sum;
    for (std::size_t i = 0; i < shown; ++i) {
      const StripEntry& entry = strip.entries[i];
      const float room = static_cast<float>(entry.room) * s - 0.5f * pad;
      text_at(list, fonts.small, {x, top + 9 * s}, theme::kInkSoft, fitted(fonts.small, entry.name, room));
      text_at(list, fonts.text, {x, top + 28 * s}, entry.warn ? theme::kLifted : theme::kInk,
              fitted(fonts.text, entry.value, room));
      x += static_cast<float>(entry.room) * s;
    }
    float y = top + static_cast<float>(entries_height()) - s;
    list.AddLine({pad, y}, {w - pad, y}, colour(theme::kRule), s);
    y += 0.3f * fonts.small->FontSize;
    for (const std::string& line : verdict_lines(strip)) {
      text_at(list, fonts.small, {pad, y}, strip.grave ? theme::kLifted : theme::kInk, line);
      y += 1.25f * fonts.small->FontSize;
    }
    if (!strip.verdict.empty()) {
      y = top + static_cast<float>(readouts_height(strip)) - s;
      list.AddLine({pad, y}, {w - pad, y}, colour(theme::kRule), s);
    }
  }
  float y = h - static_cast<float>(caution_height()) + 0.3f * static_cast<float>(caution_size);
  for (const std::string& line : caution) {
    text_at(list, fonts.text, {pad, y}, theme::kInk, line);
    y += 1.25f * static_cast<float>(caution_size);
  }
}

Easel::Easel(int width, int height, GlHost host) : impl_(std::make_unique<Impl>(width, height, host)) {}
Easel::~Easel() = default;

Pixels Easel::paint(const Drawing& drawing, const Camera& camera, const PictureStrip& strip, Quality quality) {
  Impl& e = *impl_;
  int before = 0;
  std::array<int, 4> viewport{};
  glGetIntegerv(GL_FRAMEBUFFER_BINDING, &before);
  glGetIntegerv(GL_VIEWPORT, viewport.data());
  const double wanted = e.caution_height() + (strip.readouts ? e.readouts_height(strip) : 0);
  // Something of the machine is to be seen even in a tiny picture.
  const int below = std::min(static_cast<int>(wanted), e.height * 3 / 4), view = e.height - below;
  e.renderer->render(drawing, camera, e.width, view, quality);
  glBindFramebuffer(GL_READ_FRAMEBUFFER, e.renderer->framebuffer());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, e.sheet->framebuffer());
  glBlitFramebuffer(0, 0, e.width, view, 0, below, e.width, e.height, GL_COLOR_BUFFER_BIT, GL_NEAREST);
  glBindFramebuffer(GL_FRAMEBUFFER, e.sheet->framebuffer());
  glViewport(0, 0, e.width, e.height);
  {
    const ContextKept kept;
    ImGui::SetCurrentContext(e.gui);
    ImGui_ImplOpenGL3_NewFrame();
    ImGui::NewFrame();
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    // Words at the machine would stand out from under the card.
    if (!strip.card)
      draw_labels(list, drawing, camera, {0, 0, static_cast<double>(e.width), static_cast<double>(view)}, e.scale);
    e.draw_strip(list, strip, static_cast<float>(view));
    if (strip.card) e.draw_card(list, *strip.card, static_cast<float>(view));
    ImGui::Render();
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  }
  Pixels pixels;
  pixels.width = e.width;
  pixels.height = e.height;
  const auto row = static_cast<std::size_t>(e.width) * 4, rows = static_cast<std::size_t>(e.height);
  e.bottom_up.resize(row * rows);
  pixels.rgba.resize(row * rows);
  glBindFramebuffer(GL_FRAMEBUFFER, e.sheet->framebuffer());
  glPixelStorei(GL_PACK_ALIGNMENT, 1);
  glReadPixels(0, 0, e.width, e.height, GL_RGBA, GL_UNSIGNED_BYTE, e.bottom_up.data());
  for (std::size_t y = 0; y < rows; ++y)  // OpenGL's first row is the bottom one
    std::copy_n(e.bottom_up.begin() + static_cast<std::ptrdiff_t>((rows - 1 - y) * row), row,
                pixels.rgba.begin() + static_cast<std::ptrdiff_t>(y * row));
  for (std::size_t i = 3; i < pixels.rgba.size(); i += 4) pixels.rgba[i] = 255;
  glBindFramebuffer(GL_FRAMEBUFFER, static_cast<unsigned>(before));
  glViewport(viewport[0], viewport[1], viewport[2], viewport[3]);
  return pixels;
}

}  // namespace sidehill::screen

#include "render/screen/output/picture.h"

#include <backends/imgui_impl_opengl3.h>
#include <epoxy/gl.h>
#include <fmt/format.h>
#include <imgui.h>
#include <stb_image_write.h>

#include <algorithm>
#include <stdexcept>
#include <string>

#include "render/screen/desk/verdict.h"
#include "render/screen/gl/gl_mesh.h"
#include "render/screen/gl/offscreen.h"
#include "render/screen/gl/renderer.h"
#include "render/screen/kit/caution.h"
#include "render/screen/kit/fonts.h"
#include "render/screen/kit/theme.h"
#include "render/screen/kit/ui.h"
#include "render/screen/scene3d/ghost.h"
#include "render/screen/scene3d/labels.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/motion/rest_state.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene.h"

namespace sidehill::screen {
namespace {

constexpr double kStripHeight = 92, kVerdictLine = 18;  // [px] at scale 1

// One read-out of the strip: what, and how much.
struct ReadOut {
  std::string name, value;
  bool warn = false;
};

std::vector<ReadOut> read_outs(const Scene& scene, const Model& model, const Standing& standing, Units units) {
  const StandVerdict& verdict = standing.verdict;
  std::string first = first_way_words(verdict);
  if (!verdict.gives_way.empty() && verdict.gives_way.front().interval) {
    const Interval& lies = *verdict.gives_way.front().interval;
    first += lies.open ? fmt::format(" ({} or more)", degrees(lies.low))
                       : fmt::format(" ({} to {})", degrees(lies.low), degrees(lies.high));
  }
  return {{"Slope", degrees_and_percent(scene.terrain.slope)},
          {"Heading", heading_words(scene.start.heading)},
          {"Gives way first", first},
          {"Degrees left", left_words(left_at_rest(verdict))},
          {"Total mass", text::shown(Quantity::mass, total_mass(model), units)}};
}

// Text no wider than `room`: cut with an ellipsis.
std::string fitted_at(ImFont* font, double size, std::string text, double room) {
  const auto width = [&](const std::string& s) {
    return font->CalcTextSizeA(static_cast<float>(size), 1e9f, 0, s.c_str()).x;
  };
  if (width(text) <= room) return text;
  while (!text.empty() && width(text + "…") > room) {
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80)
      text.pop_back();  // rest of a UTF-8 sign
    if (!text.empty()) text.pop_back();
  }
  return text + "…";
}

void draw_strip(ImDrawList& list, const Fonts& fonts, const std::string& title, const std::vector<ReadOut>& outs,
                const std::vector<std::string>& verdict, bool grave, const ViewRect& at, double scale) {
  list.AddRectFilled(vec(at.x, at.y), vec(at.x + at.width, at.y + at.height), colour(theme::kPaper));
  list.AddLine(vec(at.x, at.y), vec(at.x + at.width, at.y), colour(theme::kRule), static_cast<float>(scale));
  const double small = theme::kSmallTextSize * scale, heading = theme::kHeadingSize * scale,
               text = theme::kTextSize * scale, pad = 16 * scale;
  const double left = at.x + pad, room = at.width - 2 * pad, title_room = 0.27 * room;
  const auto write = [&](ImFont* font, double size, double x, double y, Colour ink, const std::string& s, double most) {
    list.AddText(font, static_cast<float>(size), vec(x, y), colour(ink), fitted_at(font, size, s, most).c_str());
  };
  write(fonts.heading, heading, left, at.y + 16 * scale, theme::kInk, title, title_room - pad);
  // Columns as wide as what stands in them, stretched to the room there is.
  std::vector<double> widths;
  double sum = 0;
  for (const ReadOut& out : outs) {
    const double name = fonts.small->CalcTextSizeA(static_cast<float>(small), 1e9f, 0, out.name.c_str()).x;
    const double value = fonts.heading->CalcTextSizeA(static_cast<float>(text), 1e9f, 0, out.value.c_str()).x;
    widths.push_back(std::max(name, value) + pad);
    sum += widths.back();
  }
  double x = left + title_room;
  for (std::size_t i = 0; i < outs.size(); ++i) {
    const double width = widths[i] * (room - title_room) / sum, most = width - 0.4 * pad;
    write(fonts.small, small, x, at.y + 12 * scale, theme::kInkSoft, outs[i].name, most);
    write(fonts.heading, text, x, at.y + 31 * scale, outs[i].warn ? theme::kLifted : theme::kInk, outs[i].value, most);
    x += width;
  }
  list.AddLine(vec(left, at.y + 59 * scale), vec(at.x + at.width - pad, at.y + 59 * scale), colour(theme::kRule),
               static_cast<float>(scale));
  double y = at.y + 65 * scale;
  for (const std::string& line : verdict) {
    write(fonts.small, small, left, y, grave ? theme::kLifted : theme::kInk, line, room);
    y += kVerdictLine * scale;
  }
  write(fonts.small, small, left, y + 2 * scale, theme::kInk, kCautionLine, room);
}

// Dear ImGui for one picture, without any window.
class StillGui {
 public:
  StillGui(int width, int height, double scale) {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.DisplaySize = vec(width, height);
    io.DeltaTime = 1.0f / 60;
    fonts_ = load_fonts(scale);
    if (!ImGui_ImplOpenGL3_Init("#version 330 core")) {
      ImGui::DestroyContext();
      throw std::runtime_error("no picture can be drawn here: the text drawer found no OpenGL");
    }
    ImGui_ImplOpenGL3_NewFrame();
    ImGui::NewFrame();
  }
  ~StillGui() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui::DestroyContext();
  }
  StillGui(const StillGui&) = delete;
  StillGui& operator=(const StillGui&) = delete;
  const Fonts& fonts() const { return fonts_; }
  void finish() {
    ImGui::Render();
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  }

 private:
  Fonts fonts_;
};

// The verdict's sentences broken into lines for that room [px]; measured with the letters they are drawn in.
std::vector<std::string> verdict_lines(const Standing& standing, const Scene& scene, const std::string& drawn,
                                       double room, double scale, Units units) {
  ImGuiContext* const before = ImGui::GetCurrentContext();
  ImGuiContext* const own = ImGui::CreateContext();
  ImGui::SetCurrentContext(own);
  const Fonts fonts = load_fonts(scale);
  unsigned char* pixels = nullptr;
  int w = 0, h = 0;
  ImGui::GetIO().Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
  std::vector<std::string> lines;
  std::vector<std::string> sentences = verdict_sentences(standing.verdict, scene, standing.statics);
  if (!drawn.empty()) sentences.front() += " " + drawn;
  for (std::string& sentence : sentences) sentence = text::read_in(sentence, units);
  for (const std::string& sentence : sentences)
    for (std::string& line : broken(fonts.small, theme::kSmallTextSize * scale, sentence, room))
      lines.push_back(std::move(line));
  ImGui::DestroyContext(own);
  ImGui::SetCurrentContext(before);
  return lines;
}

// Where it is set down, before it has come to rest: it touches the ground, and no wheel carries anything yet.
State set_down_state(const Scene& scene, Model model) {
  model.programme.drop_height = 0;
  return Runner(scene, model, std::optional<Rest>()).state();
}

// What is drawn, and what the foot says of it where that is no rest.
struct Shown {
  State state;
  Overlays overlays;
  std::string words;
};

// At rest if it can rest; without an answer as it is set down; otherwise on its way over, or where a run of a few
// seconds takes it; set down square if it cannot even move (rigid tyres).
Shown shown_of(const Scene& scene, const Model& model, const StaticSolution& statics, const Overlays& wanted) {
  if (statics.rest) return {rest_state(model, *statics.rest), wanted, ""};
  const Overlays known = known_overlays(wanted, statics);
  if (statics.status == RestStatus::unsolved) return {set_down_state(scene, model), known, drawn_words(statics)};
  const auto moment_of_run = [&](const State& moment) {
    return Shown{moment, wanted, drawn_words(statics, moment.time)};
  };
  constexpr double kLongest = 8;  // [s]: a picture must not take long
  Scene short_scene = scene;
  short_scene.programme.duration = std::min(scene.programme.duration, kLongest);
  try {
    const Recording recording = run(short_scene);
    // Going over is seen best half-way, not after it has tumbled off.
    constexpr double kLeaning = 0.9;  // cosine of about 26 deg between the machine's up and the ground's
    for (const State& moment : recording.states)
      if (moment.X_GV.R[2].z < kLeaning) return moment_of_run(moment);
    if (recording.outcome != Outcome::diverged && !recording.states.empty())
      return moment_of_run(recording.states.back());
  } catch (const InputError&) {
  }
  return {placed_state(model), known, drawn_words(statics)};
}

Pixels read_back(unsigned framebuffer, int width, int height) {
  Pixels pixels;
  pixels.width = width;
  pixels.height = height;
  const auto row = static_cast<std::size_t>(width) * 4;
  pixels.rgba.resize(row * static_cast<std::size_t>(height));
  glBindFramebuffer(GL_FRAMEBUFFER, framebuffer);
  glPixelStorei(GL_PACK_ALIGNMENT, 1);
  glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE, pixels.rgba.data());
  for (std::size_t a = 0, b = static_cast<std::size_t>(height) - 1; a < b;
       ++a, --b)  // OpenGL's first row is the bottom one
    std::swap_ranges(pixels.rgba.begin() + static_cast<std::ptrdiff_t>(a * row),
                     pixels.rgba.begin() + static_cast<std::ptrdiff_t>((a + 1) * row),
                     pixels.rgba.begin() + static_cast<std::ptrdiff_t>(b * row));
  for (std::size_t i = 3; i < pixels.rgba.size(); i += 4) pixels.rgba[i] = 255;
  return pixels;
}

}  // namespace

std::string first_way_words(const StandVerdict& verdict) {
  if (verdict.gives_way.empty()) return verdict.holds(StandCause::unsolved) ? "no answer" : "nothing";
  const WayGiven& way = verdict.gives_way.front();
  const char* what = way.what == GivesWay::slide      ? "slides at "
                     : way.what == GivesWay::tip_over ? "goes over at "
                                                      : "lifts at ";
  std::string words = what + degrees_and_percent(way.slope);
  if (way.doing) words += *way.doing == ManoeuvreKind::braking ? ", braking" : " in the bend";
  return words;
}

Pixels picture(const Scene& scene, const PictureOptions& options, std::string* drawn) {
  const Model model = build(scene);
  const Standing standing = standing_of(scene, model);
  Shown shown = shown_of(scene, model, standing.statics, options.overlays);
  if (!shown.overlays.margin) {
    shown.overlays.stands = stand_words(standing.verdict);
    shown.overlays.stands_short = short_stand_words(standing.verdict);
  }
  Drawing drawing = draw(scene, model, shown.state, shown.overlays);
  std::optional<Drawing> ghost;
  if (options.ghost) {
    const Model second = build(*options.ghost, &model);  // borrows its liquid tables
    const Standing answer = standing_of(*options.ghost, second);
    Shown other = shown_of(*options.ghost, second, answer.statics, options.overlays);
    other.overlays.stands = stand_words(answer.verdict);
    other.overlays.stands_short = short_stand_words(answer.verdict);
    ghost = as_ghost(draw(*options.ghost, second, other.state, other.overlays), "B", &drawing);
    if (!other.words.empty()) shown.words += (shown.words.empty() ? "B: " : " B: ") + other.words;
    tag_labels(drawing);
    widen_to(drawing, *ghost);
  }
  if (drawn) *drawn = shown.words;
  const Drawing* other = ghost ? &*ghost : nullptr;

  const int width = std::clamp(options.width, 64, 8192), height = std::clamp(options.height, 64, 8192);
  const double scale = std::clamp(std::min(width / 1280.0, height / 720.0), 0.5, 4.0);
  const std::vector<std::string> verdict =
      options.readouts ? verdict_lines(standing, scene, shown.words, width - 32 * scale, scale, options.overlays.units)
                       : std::vector<std::string>{};
  const double wanted_strip = (kStripHeight + kVerdictLine * static_cast<double>(verdict.size())) * scale;
  const int strip = options.readouts ? std::min(static_cast<int>(wanted_strip), height * 2 / 3) : 0;
  const OffscreenContext context;
  Renderer renderer;
  const Camera camera = camera_at(options.camera, drawing, width / static_cast<double>(height - strip));
  renderer.render(drawing, camera, width, height - strip, options.quality, other);

  GlTarget sheet;
  sheet.resize(width, height, false);
  glBindFramebuffer(GL_READ_FRAMEBUFFER, renderer.framebuffer());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, sheet.framebuffer());
  glBlitFramebuffer(0, 0, width, height - strip, 0, strip, width, height, GL_COLOR_BUFFER_BIT, GL_NEAREST);
  glBindFramebuffer(GL_FRAMEBUFFER, sheet.framebuffer());
  glViewport(0, 0, width, height);
  {
    StillGui gui(width, height, scale);
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    draw_labels(list, drawing, camera, {0, 0, static_cast<double>(width), static_cast<double>(height - strip)}, scale,
                other);
    if (options.readouts)
      draw_strip(
          list, gui.fonts(),
          scene.title.empty() ? scene.vehicle.name : text::read_in(scene.title, options.overlays.units),
          read_outs(scene, model, standing, options.overlays.units), verdict, is_grave(standing.verdict.headline),
          {0, static_cast<double>(height - strip), static_cast<double>(width), static_cast<double>(strip)}, scale);
    gui.finish();
  }
  return read_back(sheet.framebuffer(), width, height);
}

void write_png(const std::filesystem::path& path, const Pixels& pixels) {
  std::string bytes;
  const auto gather = [](void* into, void* data, int size) {
    static_cast<std::string*>(into)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
  };
  if (stbi_write_png_to_func(gather, &bytes, pixels.width, pixels.height, 4, pixels.rgba.data(), pixels.width * 4) == 0)
    throw InputError(fmt::format("{}: there is no memory for the picture", path.string()));
  save_text(path, bytes);
}

}  // namespace sidehill::screen

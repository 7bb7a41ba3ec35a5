// Films: short ones made where ffmpeg is there; whole or not at all; one line for what is wrong.
#ifdef SIDEHILL_SCREEN
#include "render/screen/output/film.h"

#include <epoxy/gl.h>
#include <imgui.h>

#include <algorithm>
#include <filesystem>

#include "render/screen/gl/gl_mesh.h"
#include "render/screen/gl/offscreen.h"
#include "render/screen/output/film_pipe.h"
#include "render/screen/output/lesson_film.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/motion/run.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/near.h"
#include "tests/kit/program.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;
using namespace sidehill::screen;

namespace {

namespace fs = std::filesystem;

const Recording& short_run() {
  static const Recording recording = [] {
    Scene scene = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
    scene.programme.duration = 0.4;
    return run(scene);
  }();
  return recording;
}

FilmOptions small() {
  FilmOptions options;
  options.width = options.height = 64;
  options.end = short_run().states.front().time + 0.2;
  options.fine = false;
  return options;
}

void need_ffmpeg() { REQUIRE_MESSAGE(shell("command -v ffmpeg").code == 0, "ffmpeg is not here: .ci/packages has it"); }

std::string refusal_of_film(const std::string& name, const FilmOptions& options) {
  try {
    Film film(short_run(), name, options);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("a short film of every kind is made, and says how far it is") {
  need_ffmpeg();
  const Folder folder;
  for (const auto& [ending, at, magic] :
       {std::tuple{"gif", 0, "GIF8"}, std::tuple{"mp4", 4, "ftyp"}, std::tuple{"webm", 0, "\x1A\x45\xDF\xA3"}}) {
    const auto& this_ending = ending;
    CAPTURE(this_ending);
    const fs::path path = folder.path / (std::string("a.") + ending);
    Film film(short_run(), path, small());
    CHECK(film.progress().total == 5);  // 0.2 s at 25 a second
    int steps = 0;
    while (film.step() == FilmState::running) {
      ++steps;
      CHECK(film.progress().done == steps);
      CHECK_FALSE(fs::exists(path));
      REQUIRE(steps < 10);
    }
    CHECK(film.state() == FilmState::finished);
    CHECK(steps == 5);
    CHECK(read_text(path).substr(static_cast<std::size_t>(at), 4) == magic);
    CHECK(film.step() == FilmState::finished);  // nothing more happens
  }
  CHECK(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator()) == 3);
}

TEST_CASE("slow motion makes more frames, and a cancelled film leaves nothing") {
  need_ffmpeg();
  const Folder folder;
  FilmOptions options = small();
  options.slow = 4;
  Film film(short_run(), folder.path / "a.mp4", options);
  CHECK(film.progress().total == 20);
  CHECK(film.step() == FilmState::running);
  film.progress().cancel = true;
  CHECK(film.step() == FilmState::cancelled);
  CHECK(film.step() == FilmState::cancelled);
  CHECK(folder.files() == 0);
  {
    Film left(short_run(), folder.path / "b.gif", small());
    left.step();
  }  // simply dropped
  CHECK(folder.files() == 0);
}

TEST_CASE("what is wrong with a film is one line, and nothing is left behind") {
  const Folder folder;
  const std::string in = folder.path.string();
  FilmOptions odd = small(), late = small(), fast = small(), tiny = small();
  odd.width = 65;
  late.start = 99;
  fast.frames_a_second = std::nan("");
  tiny.height = 8;
  for (const auto& [name, options, says] :
       {std::tuple{in + "/a.avi", small(), ".mp4, .webm or .gif"},
        std::tuple{in + "/a", small(), ".mp4, .webm or .gif"}, std::tuple{in + "/a.mp4", odd, "even"},
        std::tuple{in + "/a.gif", late, "start 99 s: allowed"}, std::tuple{in + "/a.gif", fast, "frames a second"},
        std::tuple{in + "/a.gif", tiny, "height 8 px"}, std::tuple{in + "/no/a.gif", small(), "cannot be written"}}) {
    const auto& this_name = name;
    CAPTURE(this_name);
    const std::string line = refusal_of_film(name, options);
    CAPTURE(line);
    CHECK(line.find(says) != line.npos);
    CHECK(line.find('\n') == line.npos);
  }
  CHECK_THROWS_AS(Film(Recording{}, in + "/a.gif"), InputError);
  CHECK(folder.files() == 0);
}

TEST_CASE("without ffmpeg the message says how to install it") {
  const Folder folder;
  const std::string scene = "'" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml'";
  const Said said = shell("PATH=/nowhere '" SIDEHILL_PROGRAM "' film " + scene + " '" + folder.path.string() +
                          "/a.gif' --set programme.duration_s=0.1 2>&1");
  CHECK(said.code == 2);
  CHECK(said.out.find("apt install ffmpeg") != said.out.npos);
  CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
  CHECK(folder.files() == 0);
}

TEST_CASE("an ffmpeg that gives up is quoted, and the program lives") {
  // A stand-in that says one line and dies while frames are still coming.
  const Folder folder;
  const fs::path fake = folder.path / "bin";
  fs::create_directories(fake);
  save_text(fake / "ffmpeg", "#!/bin/sh\necho 'No space left, says the stand-in' >&2\nexit 7\n");
  fs::permissions(fake / "ffmpeg", fs::perms::owner_all);
  const Said said =
      shell("PATH='" + fake.string() +
            ":/usr/bin:/bin' '" SIDEHILL_PROGRAM "' film '" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml' '" +
            folder.path.string() + "/a.gif' --width 640 --height 360 2>&1");
  CHECK(said.code == 2);
  CHECK(said.out.find("exit code 7") != said.out.npos);
  CHECK(said.out.find("No space left, says the stand-in") != said.out.npos);
  CHECK(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator()) == 1);  // only the stand-in
}

TEST_CASE("within a window's OpenGL a film leaves everything as it was") {
  need_ffmpeg();
  const Folder folder;
  const OffscreenContext windows_own;  // stands for the window's
  GlTarget target;
  target.resize(100, 50, false);
  glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer());
  glViewport(1, 2, 30, 40);
  ImGuiContext* panels = ImGui::CreateContext();
  ImGui::SetCurrentContext(panels);
  ImGui::GetIO().IniFilename = nullptr;
  {
    FilmOptions options = small();
    options.host = GlHost::current;
    Film film(short_run(), folder.path / "a.gif", options);
    while (film.step() == FilmState::running) {
      CHECK(ImGui::GetCurrentContext() == panels);
      int bound = 0, view[4] = {};
      glGetIntegerv(GL_FRAMEBUFFER_BINDING, &bound);
      glGetIntegerv(GL_VIEWPORT, view);
      CHECK(static_cast<unsigned>(bound) == target.framebuffer());
      CHECK((view[0] == 1 && view[1] == 2 && view[2] == 30 && view[3] == 40));
      CHECK(glGetError() == GL_NO_ERROR);
    }
    CHECK(film.state() == FilmState::finished);
  }
  CHECK(ImGui::GetCurrentContext() == panels);
  int bound = 0;
  glGetIntegerv(GL_FRAMEBUFFER_BINDING, &bound);  // the context is still there
  CHECK(static_cast<unsigned>(bound) == target.framebuffer());
  ImGui::DestroyContext(panels);
}

TEST_CASE("the easel paints the machine and its caution, the same twice, at odd sizes too") {
  const Scene scene = load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml");
  const Model model = build(scene);
  const Drawing drawing = draw(scene, model, short_run().states.back(), {});
  const Camera camera = camera_at(CameraPreset::three_quarter, drawing);
  for (const auto& [w, h] : {std::pair{480, 270}, {64, 64}, {200, 600}}) {
    const auto& this_w = w;
    CAPTURE(this_w);
    Easel easel(w, h, GlHost::own);
    const PictureStrip with{"A title", {{"Time", "1.00 s"}}, true, {}}, without{"A title", {}, false, {}};
    const Pixels a = easel.paint(drawing, camera, with, Quality::moving);
    CHECK(a.rgba == easel.paint(drawing, camera, with, Quality::moving).rgba);
    REQUIRE(a.rgba.size() == static_cast<std::size_t>(w * h * 4));
    // Dark letters stand on the paper at the foot, with read-outs or without.
    for (const Pixels& pixels : {a, easel.paint(drawing, camera, without, Quality::moving)}) {
      int dark = 0;
      for (int y = h - 14; y < h - 2; ++y)
        for (int x = 0; x < w; ++x) {
          const std::uint8_t* p = &pixels.rgba[4 * static_cast<std::size_t>(y * w + x)];
          if (p[0] < 120 && p[1] < 120 && p[2] < 120) ++dark;
        }
      CHECK(dark > 10);
    }
  }
}

TEST_CASE("a lesson as a film: it asks, leaves time, shows each run, and says the answer and the caution last") {
  need_ffmpeg();
  const Lesson lesson = load_lesson(SIDEHILL_SOURCE_DIR "/scenes/lessons/high_hitch.toml");
  FilmOptions options;
  options.width = options.height = 64;
  options.fine = false;
  options.frames_a_second = 1;
  options.before_seconds = 2, options.opening_seconds = 3, options.closing_seconds = 4;
  const LessonFilm made = lesson_film(lesson, options);
  REQUIRE(made.parts.size() == 2);
  CHECK(made.parts[0].title == "A: hooked high");
  CHECK(made.parts[1].title == "B: at the drawbar");
  REQUIRE(made.options.opening);
  REQUIRE(made.options.closing);
  CHECK(made.options.opening->heading == lesson.question);
  const auto all = [](const PictureCard& card) {
    std::string text = card.heading;
    for (const std::string& line : card.lines) text += "\n" + line;
    return text;
  };
  const std::string asks = all(*made.options.opening), says = all(*made.options.closing);
  for (const LessonAnswer& answer : lesson.answers) CHECK(asks.find(answer.text) != std::string::npos);
  CHECK(asks.find(lesson.because) == std::string::npos);
  CHECK(says.find(lesson.answers[judge(lesson).right].text) != std::string::npos);
  for (const std::string& words : {lesson.because, lesson.caution, lesson.take_home})
    CHECK(says.find(words) != std::string::npos);

  const Folder folder;
  int frames = 2 + 3 + 4;
  for (const FilmPart& part : made.parts)
    frames +=
        std::max(1, static_cast<int>(part.recording.states.back().time - part.recording.states.front().time + 1e-6));
  Film film(made.parts, folder.path / "lesson.gif", made.options);
  CHECK(film.progress().total == frames);
  while (film.step() == FilmState::running) {
  }
  CHECK(film.state() == FilmState::finished);
  CHECK(fs::file_size(folder.path / "lesson.gif") > 100);
}
#endif  // SIDEHILL_SCREEN

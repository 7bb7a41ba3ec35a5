#ifdef SIDEHILL_SCREEN
// The real window, on a display of its own, driven from outside by mouse and keys: opens, answers, edits, undoes, runs,
// saves, opens a dropped or chosen file, keeps what was not saved, closes.
#include <doctest/doctest.h>
#include <signal.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <thread>

#include "sim/base/text_file.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/program.h"

using namespace sidehill;
namespace fs = std::filesystem;

namespace {

// A display in memory, the program on it, and a hand that presses.
struct Screen {
  fs::path folder = fs::temp_directory_path() / ("sidehill_window_" + std::to_string(getpid()));
  std::string display;
  pid_t server = 0, viewer = 0;

  Screen() {
    fs::create_directories(folder);
    REQUIRE_MESSAGE(shell("which Xvfb xdotool > /dev/null").code == 0, "Xvfb and xdotool are missing: .ci/packages");
    const fs::path number = folder / "display";
    server =
        background("exec Xvfb -displayfd 3 -noreset -screen 0 1280x720x24 -nolisten tcp 3> '" + number.string() + "'");
    REQUIRE(until([&] {
      std::ifstream in(number);
      return static_cast<bool>(in >> display);
    }));
  }
  ~Screen() {
    for (const pid_t pid : {viewer, server})
      if (pid > 0) kill(pid, SIGKILL), waitpid(pid, nullptr, 0);
    std::error_code ignored;
    fs::remove_all(folder, ignored);
  }

  pid_t background(const std::string& line) {
    const pid_t pid = fork();
    if (pid == 0) {
      execl("/bin/sh", "sh", "-c", (line + " > '" + (folder / "log").string() + "' 2>&1").c_str(), nullptr);
      _exit(127);
    }
    return pid;
  }
  template <class Condition>
  static bool until(Condition condition, double seconds = 60) {  // long: a checked build on a busy machine
    const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(seconds);
    while (std::chrono::steady_clock::now() < end) {
      if (condition()) return true;
      std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
    return condition();
  }
  std::string environment() const {
    return "DISPLAY=:" + display + " LIBGL_ALWAYS_SOFTWARE=1 XDG_STATE_HOME='" + folder.string() + "' ";
  }
  void open(const fs::path& file) {
    viewer = background("exec env " + environment() + "'" SIDEHILL_PROGRAM "' view '" + file.string() + "'");
    const bool opened = until([&] { return title().starts_with("Sidehill"); });
    INFO("the program " << (kill(viewer, 0) == 0 ? "runs" : "has ended")
                        << ", and said: " << shell("cat '" + (folder / "log").string() + "'").out);
    REQUIRE(opened);
  }
  std::string title() const {
    std::string text =
        shell("DISPLAY=:" + display + " xdotool search --name '^Sidehill' getwindowname 2>/dev/null").out;
    return text.substr(0, text.find('\n'));
  }
  void hand(const std::string& does) const {
    shell("DISPLAY=:" + display + " xdotool " + does + " 2>/dev/null");
    std::this_thread::sleep_for(std::chrono::milliseconds(150));
  }
  void key(const std::string& keys) const { hand("key " + keys); }
  // Pressing again is no harm where a busy machine has swallowed it.
  bool key_until(const std::string& keys, const std::string& wanted) const {
    return until(
        [&] {
          if (title().find(wanted) != std::string::npos) return true;
          key(keys);
          return until([&] { return title().find(wanted) != std::string::npos; }, 2);
        },
        30);
  }
  int close() {
    kill(viewer, SIGTERM);
    int status = 0;
    waitpid(viewer, &status, 0);
    viewer = 0;
    return status;
  }
};

}  // namespace

TEST_CASE("the real window: edit, undo, run, save, crash, and the work is offered again") {
  Screen screen;
  const fs::path file = screen.folder / "mine.toml";
  Scene scene = load_scene(SIDEHILL_SOURCE_DIR "/scenes/over_a_stump.toml");
  scene.title = "Mine";
  save_text(file, write_scene(scene));
  screen.open(file);
  CHECK(screen.title() == "Sidehill - Mine");

  // The slope's slider, to the right by the mouse; its place is held by panels_test. Again until it is there: a press
  // before the first picture, which a checked build takes its time over, has nothing to press.
  REQUIRE(Screen::until([&] {
    screen.hand("mousemove 136 134 mousedown 1 mousemove 200 134 mouseup 1");
    return Screen::until([&] { return screen.title() == "Sidehill - Mine (not saved)"; }, 2);
  }));
  REQUIRE(Screen::until([&] { return screen.key("ctrl+z"), screen.title() == "Sidehill - Mine"; }, 20));
  REQUIRE(screen.key_until("ctrl+y", "(not saved)"));
  screen.key("ctrl+s");
  REQUIRE(Screen::until([&] { return screen.title() == "Sidehill - Mine"; }));
  const double slope = load_scene(file).terrain.slope;
  CHECK(slope > scene.terrain.slope + 0.02);

  // Drives off, looks back, loops, another start, another view, and is still there.
  for (const char* keys :
       {"g", "space", "comma", "comma",  "period", "o", "o", "c", "2",    "2",     "v",   "p",   "p",      "t", "k",
        "w", "w",     "m",     "Escape", "e",      "e", "u", "u", "plus", "minus", "Tab", "Tab", "Return", "r"})
    screen.key(keys);
  CHECK(kill(screen.viewer, 0) == 0);

  // Dropping takes the speed away: unsaved. Killed, it keeps it; the next start finds it.
  REQUIRE(screen.key_until("d", "(not saved)"));
  const auto kept = [&] {
    for (const auto& entry : fs::recursive_directory_iterator(screen.folder))
      if (entry.path().filename().string().starts_with("unsaved-")) return true;
    return false;
  };
  REQUIRE(Screen::until(kept));
  kill(screen.viewer, SIGKILL);
  waitpid(screen.viewer, nullptr, 0);
  screen.open(file);
  CHECK(kept());
  CHECK(load_scene(file).terrain.slope == slope);
  screen.close();
}
#endif

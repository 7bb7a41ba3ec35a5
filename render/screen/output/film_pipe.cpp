#include "render/screen/output/film_pipe.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <signal.h>
#include <spawn.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <optional>

#include "sim/base/errors.h"
#include "sim/base/saving.h"
#include "sim/scene/scene.h"

extern char** environ;

namespace sidehill::screen {
namespace {

constexpr const char* kMissing =
    "a film is made by the program ffmpeg, which is not installed (Debian: apt install ffmpeg)";

// How each kind is coded. One frame at a time, so that a long film needs no memory.
std::vector<std::string> coding(const std::string& ending) {
  if (ending == ".mp4")
    return {"-c:v",     "libx264", "-preset",   "fast",       "-crf", "20",
            "-pix_fmt", "yuv420p", "-movflags", "+faststart", "-f",   "mp4"};
  if (ending == ".webm")
    return {"-c:v",      "libvpx-vp9", "-crf",    "32", "-b:v",     "0",       "-deadline", "realtime",
            "-cpu-used", "6",          "-row-mt", "1",  "-pix_fmt", "yuv420p", "-f",        "webm"};
  // Each frame gets a palette of its own.
  return {"-filter_complex",
          "split[a][b];[a]palettegen=stats_mode=single[p];[b][p]paletteuse=new=1:dither=bayer:bayer_scale=5",
          "-loop",
          "0",
          "-f",
          "gif"};
}

std::string ending_of(const std::filesystem::path& path) { return path.extension().string(); }

}  // namespace

void check_film_name(const std::filesystem::path& path) {
  const std::string ending = ending_of(path);
  if (ending != ".mp4" && ending != ".webm" && ending != ".gif")
    throw InputError("film: " + path.string() + ": a film has a name in .mp4, .webm or .gif");
}

struct FilmPipe::Impl {
  std::filesystem::path path;
  std::optional<NewFile> file;
  int width = 0, height = 0;
  int to_ffmpeg = -1;         // a socket: writing to it never raises a signal
  std::FILE* said = nullptr;  // a file without a name, for what ffmpeg says
  std::optional<pid_t> child;

  ~Impl() {
    if (to_ffmpeg >= 0) ::close(to_ffmpeg);
    if (child) {
      ::kill(*child, SIGKILL);
      wait();
    }
    if (said) std::fclose(said);
  }
  // ffmpeg's exit code, or 128 + the signal that ended it.
  int wait() {
    int status = 0;
    while (::waitpid(*child, &status, 0) < 0 && errno == EINTR) {
    }
    child.reset();
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  }
  std::string last_line() const {
    std::rewind(said);
    std::string line, last;
    for (int c = std::fgetc(said); c != EOF; c = std::fgetc(said)) {
      if (c != '\n' && c != '\r') {
        line += static_cast<char>(c < 0x20 ? ' ' : c);
        continue;
      }
      if (!line.empty()) last = line;
      line.clear();
    }
    return line.empty() ? last : line;
  }
  [[noreturn]] void give_up() {
    ::close(to_ffmpeg);
    to_ffmpeg = -1;
    const int code = wait();
    const std::string why = last_line();
    throw InputError(
        fmt::format("film: {}: ffmpeg gave up (exit code {}){}", path.string(), code, why.empty() ? "" : ": " + why));
  }
};

FilmPipe::FilmPipe(std::filesystem::path path, int width, int height, double rate) : impl_(std::make_unique<Impl>()) {
  Impl& p = *impl_;
  check_film_name(path);
  const std::string ending = ending_of(path);
  if (ending != ".gif" && (width % 2 != 0 || height % 2 != 0))
    throw InputError(fmt::format("film: {} x {} pixels: {} needs even numbers of both", width, height, ending));
  p.width = width;
  p.height = height;
  p.path = std::move(path);
  p.file.emplace(p.path);
  p.said = std::tmpfile();
  int ends[2] = {-1, -1};
  if (!p.said || ::socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends) != 0)
    throw InputError(fmt::format("film: no pipe to ffmpeg: {}", std::strerror(errno)));
  p.to_ffmpeg = ends[1];

  std::vector<std::string> words = {"ffmpeg",
                                    "-hide_banner",
                                    "-nostats",
                                    "-loglevel",
                                    "error",
                                    "-xerror",  // or a full disk would be no error
                                    "-y",
                                    "-f",
                                    "rawvideo",
                                    "-pix_fmt",
                                    "rgba",
                                    "-s",
                                    fmt::format("{}x{}", width, height),
                                    "-r",
                                    fmt::format("{:.6g}", rate),
                                    "-i",
                                    "pipe:0",
                                    "-an"};
  for (std::string& word : coding(ending)) words.push_back(std::move(word));
  words.push_back("file:" + p.file->temporary().string());  // a name with a colon in it is no protocol
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);

  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_adddup2(&actions, ends[0], 0);
  posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_adddup2(&actions, ::fileno(p.said), 2);
  pid_t child = 0;
  const int error = ::posix_spawnp(&child, "ffmpeg", &actions, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  ::close(ends[0]);
  if (error == ENOENT) throw InputError(fmt::format("film: {}: {}", p.path.string(), kMissing));
  if (error != 0) throw InputError(fmt::format("film: ffmpeg does not start: {}", std::strerror(error)));
  p.child = child;
}

FilmPipe::~FilmPipe() = default;

void FilmPipe::write(const Pixels& frame) {
  Impl& p = *impl_;
  if (p.to_ffmpeg < 0 || frame.width != p.width || frame.height != p.height)
    throw InputError("film: a frame of another size than the film");
  for (std::size_t done = 0; done < frame.rgba.size();) {
    const ssize_t n = ::send(p.to_ffmpeg, frame.rgba.data() + done, frame.rgba.size() - done, MSG_NOSIGNAL);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) p.give_up();
    done += static_cast<std::size_t>(n);
  }
}

void FilmPipe::finish() {
  Impl& p = *impl_;
  ::close(p.to_ffmpeg);
  p.to_ffmpeg = -1;
  const int code = p.wait();
  const std::string why = p.last_line();
  if (code != 0)
    throw InputError(
        fmt::format("film: {}: ffmpeg gave up (exit code {}){}", p.path.string(), code, why.empty() ? "" : ": " + why));
  std::error_code error;
  if (std::filesystem::file_size(p.file->temporary(), error) == 0 || error)
    throw InputError(fmt::format("film: {}: ffmpeg wrote nothing", p.path.string()));
  p.file->keep();
  p.file.reset();
}

}  // namespace sidehill::screen

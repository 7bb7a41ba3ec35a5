#include "sim/base/saving.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <string>
#include <system_error>

#include "sim/base/errors.h"

namespace sidehill {
namespace fs = std::filesystem;
namespace {

constexpr int kMostLinks = 40;             // as many as the system itself follows
constexpr int kMostNames = 100;            // temporary names that may be taken already
constexpr std::size_t kLongestStem = 200;  // [bytes] of a temporary name; a name may have 255 with all its endings

[[noreturn]] void refuse(const fs::path& path, const std::string& why) {
  std::string shown = path.string();
  for (char& c : shown)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  throw InputError(shown + ": " + why);
}

[[noreturn]] void refuse(const fs::path& path, int error) {
  refuse(path, "cannot be written: " + std::generic_category().message(error));
}

// Names there stand for devices and open files, whatever they look like at the moment. Shared memory is plain.
bool is_the_systems(const fs::path& path) {
  std::error_code error;
  const fs::path whole = fs::weakly_canonical(fs::absolute(path, error).parent_path(), error) / path.filename();
  const auto starts = [&](std::string_view folder) { return (whole.string() + "/").starts_with(folder); };
  return (starts("/dev/") && !starts("/dev/shm/")) || starts("/proc/") || starts("/sys/");
}

// At most so many bytes of a name, cut between two letters.
std::string beginning(std::string name) {
  if (name.size() <= kLongestStem) return name;
  std::size_t end = kLongestStem;
  while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0) == 0x80) --end;
  return name.substr(0, end);
}

}  // namespace

fs::path file_to_write(const fs::path& path) {
  if (path.empty()) throw InputError("the file to be written has no name");
  std::error_code error;
  fs::path file = path;
  for (int links = 0;; ++links) {
    if (is_the_systems(file)) refuse(path, "is not a plain file; allowed the name of one");
    if (!fs::is_symlink(fs::symlink_status(file, error))) break;
    if (links == kMostLinks) refuse(path, "too many symbolic links");
    const fs::path next = fs::read_symlink(file, error);
    if (error) refuse(path, error.value());
    file = file.parent_path() / next;
  }
  const fs::file_status status = fs::status(file, error);
  if (fs::is_directory(status)) refuse(path, "is a folder, not a file");
  if (!file.has_filename()) refuse(path, "is the name of a folder, not of a file");
  if (status.type() == fs::file_type::not_found) {
    // Said before hours of work, not after. An empty folder name is the one we are in.
    const fs::path folder = file.has_parent_path() ? file.parent_path() : fs::path(".");
    if (::access(folder.c_str(), W_OK | X_OK) != 0) refuse(path, errno);
    return file;
  }
  if (error) refuse(path, error.value());
  if (!fs::is_regular_file(status)) refuse(path, "is not a plain file; allowed the name of one");
  constexpr fs::perms kMayWrite = fs::perms::owner_write | fs::perms::group_write | fs::perms::others_write;
  if ((status.permissions() & kMayWrite) == fs::perms::none || (::access(file.c_str(), W_OK) != 0 && errno == EACCES))
    refuse(path, "is write-protected");
  return file;
}

struct NewFile::Impl {
  fs::path asked, file, temporary;
  int open = -1;  // what `temporary` is, as long as it is ours

  ~Impl() {
    if (open >= 0) ::close(open);
    if (!temporary.empty()) std::remove(temporary.c_str());
  }

  // A name nobody has; a link planted there is not followed.
  void make(mode_t mode) {
    const std::string stem = fmt::format("{}.{}", beginning(file.filename().string()), getpid());
    for (int i = 0; i < kMostNames && open < 0; ++i) {
      fs::path name = file.parent_path() / (i == 0 ? stem + ".part" : fmt::format("{}-{}.part", stem, i));
      open = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, mode);
      if (open >= 0) temporary = std::move(name);
      if (open < 0 && errno != EEXIST) refuse(asked, errno);
    }
    if (open < 0) refuse(asked, EEXIST);
  }
};

NewFile::NewFile(const fs::path& path) : impl_(std::make_unique<Impl>()) {
  impl_->asked = path;
  impl_->file = file_to_write(path);
  struct stat old {};
  const bool replaces = ::stat(impl_->file.c_str(), &old) == 0;
  impl_->make(replaces ? 0600 : 0644);  // what was private is so at every moment
  if (!replaces) return;
  mode_t mode = old.st_mode & 0777;
  // Where the file cannot stay its owner's, its group gets no more than everybody.
  if (::fchown(impl_->open, old.st_uid, old.st_gid) != 0) mode = (mode & 0707) | (mode & 07) << 3;
  if (::fchmod(impl_->open, mode) != 0) return;  // a disk without modes has none to keep; ours stays private
}

NewFile::~NewFile() = default;

const fs::path& NewFile::temporary() const { return impl_->temporary; }

void NewFile::write(std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t n = ::write(impl_->open, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) refuse(impl_->asked, errno);
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
}

void NewFile::keep() {
  Impl& file = *impl_;
  if (::fsync(file.open) != 0 && errno != EINVAL && errno != EROFS) refuse(file.asked, errno);
  const int error = ::close(file.open) != 0 ? errno : 0;
  file.open = -1;
  if (error != 0) refuse(file.asked, error);
  if (std::rename(file.temporary.c_str(), file.file.c_str()) != 0) refuse(file.asked, errno);
  file.temporary.clear();
}

}  // namespace sidehill

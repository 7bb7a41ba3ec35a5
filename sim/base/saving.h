// How every file of the program is written: beside the old one under a temporary name, checked, then renamed. A full
// disk loses nothing, a link is followed, an old file's mode is kept, and devices and pipes are refused. Knows no
// format.
#pragma once
#include <filesystem>
#include <memory>
#include <string_view>

namespace sidehill {

// The file that writing to `path` makes or replaces: `path` itself, or what symbolic links lead to, there already or
// not. Throws InputError (sim/base/errors.h) as one line for what is no plain file: a folder, a pipe, a device,
// anything under /dev, /proc and /sys; for links that lead round in a circle; for a file that is write-protected; and
// for a new one in a folder that is not there or takes no files.
std::filesystem::path file_to_write(const std::filesystem::path& path);

// A file being written. Until `keep` the old one stays as it is; destroyed before that, it leaves nothing. Every member
// throws InputError as one line with the reason.
class NewFile {
 public:
  explicit NewFile(const std::filesystem::path& path);
  ~NewFile();
  NewFile(const NewFile&) = delete;
  NewFile& operator=(const NewFile&) = delete;

  // Where the bytes go until then, for another program that writes them; in the folder of the file itself.
  const std::filesystem::path& temporary() const;
  void write(std::string_view bytes);
  // On the disk for certain, then under its own name. A file without a byte in it is kept too.
  void keep();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace sidehill

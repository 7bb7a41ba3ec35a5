// A folder of its own for what a test writes, gone at the end.
#pragma once
#include <unistd.h>

#include <filesystem>
#include <iterator>
#include <string>

namespace sidehill {

struct Folder {
  std::filesystem::path path = std::filesystem::temp_directory_path() / unique();

  Folder() { std::filesystem::create_directories(path); }
  ~Folder() { std::filesystem::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  std::filesystem::path operator/(const std::string& name) const { return path / name; }
  long files() const { return std::distance(std::filesystem::directory_iterator(path), {}); }

 private:
  static std::string unique() {
    static int made = 0;
    return "sidehill_test." + std::to_string(getpid()) + "." + std::to_string(++made);
  }
};

}  // namespace sidehill

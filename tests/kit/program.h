// Runs the built program from outside, for tests of what it says and how it exits.
#pragma once
#include <doctest/doctest.h>
#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <string>

namespace sidehill {

struct Said {
  int code = -1;
  std::string out;
};

// Runs a shell command line; `out` is standard output, or with "2>&1" both.
inline Said shell(const std::string& line) {
  Said said;
  FILE* pipe = popen(line.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::array<char, 4096> buffer;
  while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe)) said.out.append(buffer.data(), n);
  const int status = pclose(pipe);
  said.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return said;
}

inline Said program(const std::string& arguments) { return shell("'" SIDEHILL_PROGRAM "' " + arguments); }

}  // namespace sidehill

// As long as it lives no file may grow beyond so many bytes: a limit that stands for a full disk.
#pragma once
#include <signal.h>
#include <sys/resource.h>

namespace sidehill {

struct FullDisk {
  rlimit before{};
  sighandler_t handler = SIG_DFL;

  explicit FullDisk(rlim_t bytes) {
    getrlimit(RLIMIT_FSIZE, &before);
    handler = signal(SIGXFSZ, SIG_IGN);
    const rlimit tight{bytes, before.rlim_max};
    setrlimit(RLIMIT_FSIZE, &tight);
  }
  ~FullDisk() {
    setrlimit(RLIMIT_FSIZE, &before);
    signal(SIGXFSZ, handler);
  }
  FullDisk(const FullDisk&) = delete;
  FullDisk& operator=(const FullDisk&) = delete;
};

}  // namespace sidehill

// quiet.h - keeps the solver library's stray lines out of standard output. For code that calls one.
#pragma once
#include <fcntl.h>
#include <unistd.h>

#include <cstdio>
#include <mutex>

namespace stickwright {

// While one of these lives, what the process writes to standard output is lost. At log level 0 the linear solver still
// prints "1 slacks added" now and then, which would spoil a JSON document. One at a time; others wait.
class Quiet {
 public:
  Quiet() : lock_(mutex()) {
    std::fflush(stdout);
    kept_ = dup(STDOUT_FILENO);
    const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (kept_ >= 0 && nowhere >= 0) dup2(nowhere, STDOUT_FILENO);
    if (nowhere >= 0) close(nowhere);
  }
  ~Quiet() {
    std::fflush(stdout);
    if (kept_ < 0) return;
    dup2(kept_, STDOUT_FILENO);
    close(kept_);
  }
  Quiet(const Quiet&) = delete;
  Quiet& operator=(const Quiet&) = delete;

 private:
  static std::mutex& mutex() {
    static std::mutex m;
    return m;
  }
  std::lock_guard<std::mutex> lock_;
  int kept_ = -1;
};

}  // namespace stickwright

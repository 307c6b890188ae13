// run.h - runs the built program as a user would, and keeps what it printed.
#pragma once
#include <sys/wait.h>

#include <array>
#include <cstdio>

#include "support/scratch.h"

namespace stickwright {

struct Ran {
  int exit_code = -1;
  std::string out, err;
};

inline Ran run_program_with(const std::string& arguments) {
  const auto err = std::filesystem::temp_directory_path() / ("stickwright_err_" + std::to_string(getpid()));
  const std::string command = std::string(STICKWRIGHT_PROGRAM) + " " + arguments + " 2>" + err.string();
  Ran r;
  FILE* pipe = popen(command.c_str(), "r");
  std::array<char, 4096> buffer;
  while (const std::size_t n = fread(buffer.data(), 1, buffer.size(), pipe)) r.out.append(buffer.data(), n);
  r.exit_code = WEXITSTATUS(pclose(pipe));
  r.err = slurp(err);
  std::filesystem::remove(err);
  return r;
}

}  // namespace stickwright

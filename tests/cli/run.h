// run.h - runs the built program as a user would, and keeps what it printed.
#pragma once
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace stickwright {

struct Ran {
  int exit_code = -1;
  std::string out, err;
};

inline std::string slurp(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

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

// A folder of its own for a test, removed at the end.
struct Scratch {
  std::filesystem::path path;
  explicit Scratch(const std::string& name)
      : path(std::filesystem::temp_directory_path() / ("stickwright_" + name + "_" + std::to_string(getpid()))) {
    std::filesystem::remove_all(path);
    std::filesystem::create_directories(path);
  }
  ~Scratch() { std::filesystem::remove_all(path); }
  std::string write(const std::string& file, const std::string& text) const {
    std::ofstream(path / file, std::ios::binary) << text;
    return (path / file).string();
  }
};

}  // namespace stickwright

// scratch.h - files of a test's own.
#pragma once
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace stickwright {

inline std::string slurp(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

// A folder of its own for a test, removed at the end.
struct Scratch {
  std::filesystem::path path;
  explicit Scratch(const std::string& name)
      : path(std::filesystem::temp_directory_path() /
             ("stickwright_" + name + "_" + std::to_string(getpid()) + "_" + std::to_string(++made()))) {
    std::filesystem::remove_all(path);
    std::filesystem::create_directories(path);
  }
  static int& made() {
    static int count = 0;
    return count;
  }
  Scratch(const Scratch&) = delete;
  ~Scratch() { std::filesystem::remove_all(path); }
  std::string write(const std::string& file, const std::string& text) const {
    std::ofstream(path / file, std::ios::binary) << text;
    return (path / file).string();
  }
};

}  // namespace stickwright

// printed.h - what a command prints, for looking into a PDF with the reader's own tools.
#pragma once
#include <array>
#include <cstdio>
#include <string>

namespace stickwright {

inline std::string printed_by(const std::string& command) {
  std::string out;
  std::array<char, 4096> buffer;
  FILE* pipe = popen(command.c_str(), "r");
  if (!pipe) return out;
  while (const std::size_t n = fread(buffer.data(), 1, buffer.size(), pipe)) out.append(buffer.data(), n);
  pclose(pipe);
  return out;
}

}  // namespace stickwright

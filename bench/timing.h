// timing.h - what the benchmarks print: where they ran, and how long something took.
#pragma once
#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <string>
#include <vector>

namespace stickwright::bench {

inline std::string machine() {
  std::ifstream info("/proc/cpuinfo");
  for (std::string line; std::getline(info, line);)
    if (line.starts_with("model name")) return line.substr(line.find(": ") + 2);
  return "unknown processor";
}

inline void print_heading() {
  fmt::print("{}, commit {}\n", machine(), STICKWRIGHT_COMMIT);
}

template <class Work>
double milliseconds(const Work& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

struct Times {
  double least = 0, median = 0, most = 0;
};

inline Times summary(std::vector<double> ms) {
  std::sort(ms.begin(), ms.end());
  return {ms.front(), ms[ms.size() / 2], ms.back()};
}

// Minimum, median and maximum of n runs, and the median as a multiple of the base's.
inline void print_line(const std::string& what, const Times& t, std::size_t n, double base_median) {
  fmt::print("{:44} {:9.3f} {:9.3f} {:9.3f} ms of {:3}  x {:.2f}\n", what, t.least, t.median, t.most, n,
             t.median / base_median);
}

}  // namespace stickwright::bench

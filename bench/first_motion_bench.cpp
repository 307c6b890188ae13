// How long the first-order answers take: two hands, all hands, certificate.
//   build: cmake --preset bench && cmake --build build/bench --target first_motion_bench
//   use:   build/bench/bench/first_motion_bench
// Minimum, median and maximum of 101 runs each.
#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <random>

#include "support/random_pieces.h"
#include "takeapart/coordinated.h"
#include "takeapart/falls.h"
#include "takeapart/first_motion.h"

namespace {

using namespace stickwright;

template <class Work>
void print_times(const char* what, const std::vector<Cells>& pieces, Work work) {
  std::vector<double> ms;
  const char* answer = "";
  for (int k = 0; k < 101; ++k) {
    const auto start = std::chrono::steady_clock::now();
    const Verdict v = work(Standing{pieces});
    ms.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
    answer = v == Verdict::found ? "found" : v == Verdict::none_exists ? "none" : "stopped";
  }
  std::sort(ms.begin(), ms.end());
  fmt::print("{:44} {:3} pieces  {:8.3f} {:8.3f} {:8.3f} ms  {}\n", what, pieces.size(), ms.front(), ms[ms.size() / 2],
             ms.back(), answer);
}

void print_all(const char* what, const std::vector<Cells>& pieces) {
  const Family& family = mitered();
  print_times(what, pieces, [&](const Standing& s) { return first_motion(family, s).verdict; });
  print_times("  with turning", pieces, [&](const Standing& s) { return first_motion(family, s, {true}).verdict; });
  print_times("  what falls", pieces, [&](const Standing& s) {
    return falls(touching(family, s), {0}, {0, 0, -1}).verdict;
  });
}

// The piece and its images under the twelve turns of a tetrahedron.
std::vector<Cells> twelve_around_the_origin(const Cells& piece) {
  std::vector<Cells> out;
  for (const Cells& third : known::three_around_a_diagonal(piece))
    for (Vec sign : {Vec{1, 1, 1}, Vec{1, -1, -1}, Vec{-1, 1, -1}, Vec{-1, -1, 1}}) {
      Cells cells = third;
      for (Cell& c : cells) c = {sign.x * c.x, sign.y * c.y, sign.z * c.z};
      std::sort(cells.begin(), cells.end());
      out.push_back(std::move(cells));
    }
  return out;
}

}  // namespace

int main() {
  std::mt19937 rng(1);
  print_all("dodecahedron of 192 cells cut at random",
            known::cut_at_random(mitered(), known::rhombic_dodecahedron(4), 12, rng));
  print_all("twelve that open only together", twelve_around_the_origin({{0, -4, -2},
                                                                        {2, -4, 0},
                                                                        {4, -8, -2},
                                                                        {4, -6, 0},
                                                                        {6, -4, 0},
                                                                        {6, -4, 8},
                                                                        {8, -4, -2},
                                                                        {8, -4, 2},
                                                                        {8, -4, 6},
                                                                        {8, -2, 4},
                                                                        {10, -4, 0},
                                                                        {10, 0, -4},
                                                                        {12, -2, 0},
                                                                        {12, 0, -2}}));
  print_all("twelve that only edges lock", twelve_around_the_origin({{-4, 0, 10},
                                                                     {-4, 2, 8},
                                                                     {-4, 6, 8},
                                                                     {-4, 8, 6},
                                                                     {-2, 4, 8},
                                                                     {0, 2, 12},
                                                                     {0, 4, 10},
                                                                     {2, 0, 12},
                                                                     {2, 4, 8},
                                                                     {4, -2, 0},
                                                                     {4, 0, 2},
                                                                     {4, 0, 6},
                                                                     {4, 2, 8},
                                                                     {4, 6, 8},
                                                                     {4, 8, 6},
                                                                     {6, 0, 4}}));
  print_all("three locked",
            known::three_around_a_diagonal(
                {{0, -4, -2}, {0, -2, -4}, {0, -2, 4}, {2, -4, 0}, {2, 0, -4}, {2, 0, 4}, {4, -2, 0}, {4, 0, 2}}));
}

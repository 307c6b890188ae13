// How long a plan takes, as a ratio to a yardstick measured in the same run.
//   build: cmake --preset bench && cmake --build build/bench
//   use:   build/bench/bench/plan_bench [batch.toml]
// Yardstick: 100 million steps of a 64-bit xorshift generator on one core, the same on every machine. Minimum and
// median of eleven runs each.
#include <fmt/core.h>
#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <functional>
#include <vector>

#include "packet/packet.h"

namespace {

using namespace stickwright;

struct Timed {
  double least, median;
};

Timed timed(const std::function<void()>& work) {
  std::vector<double> seconds;
  for (int k = 0; k < 11; ++k) {
    const auto start = std::chrono::steady_clock::now();
    work();
    seconds.push_back(std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
  }
  std::sort(seconds.begin(), seconds.end());
  return {seconds.front(), seconds[seconds.size() / 2]};
}

void yardstick() {
  std::uint64_t x = 88172645463325252u;
  for (int i = 0; i < 100'000'000; ++i) {
    x ^= x << 13;
    x ^= x >> 7;
    x ^= x << 17;
  }
  volatile std::uint64_t kept = x;
  (void)kept;
}

void print_line(const char* what, const Timed& t, const Timed& base) {
  fmt::print("{:34} {:8.3f} s {:8.3f} s {:8.2f}\n", what, t.least, t.median, t.median / base.median);
}

}  // namespace

int main(int argc, char** argv) {
  const std::string file = argc > 1 ? argv[1] : STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml";
  const auto plan = plan_batch(file);
  if (!plan) {
    fmt::print(stderr, "{}: {}\n", plan.problem().where, plan.problem().say);
    return 2;
  }
  const std::string pdf = "/tmp/stickwright-bench.pdf";
  fmt::print("{:34} {:>10} {:>10} {:>8}\n", "", "least", "median", "ratio");
  const Timed base = timed(yardstick);
  print_line("yardstick", base, base);
  print_line("plan without the packet", timed([&] { (void)plan_batch(file); }), base);
  print_line("packet, one paper", timed([&] { (void)write_packet(plan.value(), Paper::a4, pdf); }), base);
  print_line("all designs: assemblies, way apart", timed([&] {
               for (const PuzzlePlan& p : plan.value().batch.puzzles) (void)plan_design(p.design.design);
             }),
             base);
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  fmt::print("memory, at most {:.1f} MB\n", static_cast<double>(usage.ru_maxrss) / 1024);
  std::remove(pdf.c_str());
  return 0;
}

// How long five stacks from one box of 88 blocks take.
//   build: cmake --preset bench && cmake --build build/bench --target stacks_bench
//   use:   build/bench/bench/stacks_bench
// Forty requests of five random targets each, 10 to 120 mm, that can be met; each timed three times, the least counts.
// Minimum, median and maximum over the requests. Base: one stack after the other from the blocks that are left, which
// is neither the fewest blocks in all nor sure to find an answer.
#include <random>

#include "metrology/stack.h"
#include "timing.h"

namespace {

using namespace stickwright;

constexpr int kRequests = 40, kRuns = 3;
constexpr std::size_t kStacks = 5;

using Targets = std::vector<Nm>;

Targets random_targets(std::mt19937_64& random, std::int64_t grid_nm) {
  Targets t;
  for (std::size_t i = 0; i < kStacks; ++i) {
    const std::int64_t nm = 10'000'000 + static_cast<std::int64_t>(random() % 110'000'001);
    t.push_back(Nm{nm - nm % grid_nm});
  }
  return t;
}

std::vector<Targets> feasible_requests(const GaugeSet& set, Nm within, std::int64_t grid_nm) {
  std::mt19937_64 random(88);
  std::vector<Targets> requests;
  int tried = 0;
  while (requests.size() < kRequests) {
    ++tried;
    Targets t = random_targets(random, grid_nm);
    if (build_stacks(t, within, set)) requests.push_back(std::move(t));
  }
  fmt::print("  {} of {} random requests can be met\n", kRequests, tried);
  return requests;
}

GaugeSet left_over(const GaugeSet& set, const Stack& used) {
  GaugeSet rest = set;
  for (std::size_t i = used.blocks.size(); i-- > 0;)
    rest.blocks.erase(rest.blocks.begin() + static_cast<std::ptrdiff_t>(used.blocks[i]));
  return rest;
}

// How many blocks the greedy answer takes; none when it gets stuck.
std::size_t one_after_another(const Targets& targets, Nm within, GaugeSet set) {
  std::size_t blocks = 0;
  for (const Nm t : targets) {
    const auto stack = build_stack(t, within, set);
    if (!stack) return 0;
    blocks += stack.value().blocks.size();
    set = left_over(set, stack.value());
  }
  return blocks;
}

std::size_t all_at_once(const Targets& targets, Nm within, const GaugeSet& set) {
  const auto stacks = build_stacks(targets, within, set);
  if (!stacks || !check_stacks(stacks.value(), targets, within, set)) return 0;
  std::size_t blocks = 0;
  for (const Stack& s : stacks.value()) blocks += s.blocks.size();
  return blocks;
}

template <class Work>
bench::Times times_of(const std::vector<Targets>& requests, const Work& work) {
  std::vector<double> ms;
  for (const Targets& t : requests) {
    double least = 1e300;
    for (int k = 0; k < kRuns; ++k) least = std::min(least, bench::milliseconds([&] { work(t); }));
    ms.push_back(least);
  }
  return bench::summary(ms);
}

void print_blocks(const std::vector<Targets>& requests, Nm within, const GaugeSet& set) {
  std::size_t together = 0, greedy = 0, stuck = 0;
  for (const Targets& t : requests) {
    const std::size_t g = one_after_another(t, within, set);
    stuck += g == 0;
    if (g == 0) continue;
    greedy += g;
    together += all_at_once(t, within, set);
  }
  fmt::print("  blocks where both answer: {} together, {} greedy; greedy stuck in {} of {}\n", together, greedy, stuck,
             requests.size());
}

void print_case(const char* name, Nm within, std::int64_t grid_nm) {
  const GaugeSet set = standard_gauge_set(name, "1").take();
  fmt::print("{} grade 1, within {}, targets on {}\n", name, show_nominal(within), show_nominal(Nm{grid_nm}));
  const auto requests = feasible_requests(set, within, grid_nm);
  const auto base = times_of(requests, [&](const Targets& t) { one_after_another(t, within, set); });
  const auto ours = times_of(requests, [&](const Targets& t) { all_at_once(t, within, set); });
  bench::print_line("  one after another (base)", base, requests.size(), base.median);
  bench::print_line("  five at once", ours, requests.size(), base.median);
  print_blocks(requests, within, set);
}

}  // namespace

int main() {
  bench::print_heading();
  print_case("mm 88", Nm{1000}, 1);
  print_case("mm 88", Nm{500}, 1);
  print_case("mm 88", Nm{500}, 1000);
  print_case("mm 88", Nm{0}, 1000);
  print_case("mm 112", Nm{500}, 1);
}

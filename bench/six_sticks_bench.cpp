// How long the take-apart of many small assemblies takes: the solid six-stick burrs, 119,979 of them, and a search that
// has to look at every position there is.
//   build: cmake --preset bench && cmake --build build/bench --target six_sticks_bench
//   use:   build/bench/bench/six_sticks_bench
// Each time is the least of five; the counts to meet are those of W. H. Cutler, Journal of Recreational Mathematics
// 10(4), 1977-78. The baseline is a program for these sticks alone, which finds no fewest moves and gives no steps.
#include <fmt/core.h>

#include <atomic>
#include <chrono>

#include "plain_take_apart.h"
#include "support/caged_cubes.h"
#include "support/in_parallel.h"
#include "support/six_sticks.h"
#include "takeapart/part_search.h"
#include "takeapart/takeapart.h"

namespace {

using namespace stickwright;

constexpr int kRuns = 5;
constexpr std::size_t kBurrs = 119'979;

// Totals of all take-aparts of a run.
struct Totals {
  std::atomic<std::int64_t> asked = 0, apart = 0, tests = 0, states = 0;
};

bool comes_apart(const std::vector<Cells>& sticks, Totals& totals) {
  const TakeApart t = take_apart(notched(), sticks, {.certificates = false});
  ++totals.asked, totals.tests += t.tests, totals.states += t.states;
  totals.apart += t.verdict == Verdict::found;
  return t.verdict == Verdict::found;
}

template <class Work>
double least_seconds(const Work& work) {
  double least = 1e9;
  for (int k = 0; k < kRuns; ++k) {
    const auto start = std::chrono::steady_clock::now();
    work();
    least = std::min(least, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
  }
  return least;
}

// Returns whether the census is right.
bool print_census(const char* what, int threads, const six_sticks::ApartTest& test) {
  six_sticks::Census c;
  const double seconds = least_seconds([&] { c = six_sticks::census(six_sticks::is_connected, test, threads); });
  const bool right = c.burrs == kBurrs && c.pieces == 837 && c.pieces_in_burrs == 369;
  fmt::print("{:44} {} threads {:8.3f} s  {} burrs {}\n", what, threads, seconds, c.burrs, right ? "" : "WRONG");
  return right;
}

// Takes every burr apart as a whole, from its six sticks together.
bool print_whole_burrs(const std::vector<std::vector<Cells>>& burrs, int threads) {
  std::int64_t tests = 0, apart = 0, states = 0;
  const double seconds = least_seconds([&] {
    Totals totals;
    for_each_index(burrs.size(), threads, 64, [&](std::size_t k) { comes_apart(burrs[k], totals); });
    tests = totals.tests, apart = totals.apart, states = totals.states;
  });
  fmt::print("{:44} {} threads {:8.3f} s  {} come apart, {} states, {} tests, {:.2f} million tests a second a thread\n",
             "every burr from its six sticks", threads, seconds, apart, states, tests,
             1e-6 * static_cast<double>(tests) / seconds / threads);
  return apart == static_cast<std::int64_t>(burrs.size());
}

// Cubes that slide about in a cage and never leave it.
bool print_finite_search(int cubes) {
  const std::vector<Cells> pieces = known::caged_cubes(cubes);
  TakeApart t;
  const double seconds =
      least_seconds([&] { t = take_apart(notched(), pieces, {.states = 1'000'000, .certificates = false}); });
  SlideTable table(notched(), pieces);
  Part all;
  for (int i = 0; i <= cubes; ++i) all.pieces.push_back(i), all.at.push_back({});
  PartSearch search(table, all);
  for (std::size_t k = 0; k < search.positions(); ++k) search.expand(k);
  fmt::print("{:44} 1 threads {:8.3f} s  {} states, {} tests, {:.2f} million tests a second, {:.0f} bytes a state\n",
             fmt::format("{} cubes in a cage, every position", cubes), seconds, t.states, t.tests,
             1e-6 * static_cast<double>(t.tests) / seconds,
             static_cast<double>(search.bytes()) / static_cast<double>(search.positions()));
  return t.proof == Proof::exhausted && t.states == known::positions_of_caged_cubes(cubes);
}

}  // namespace

int main() {
  bool right = print_census("census, baseline", 1, six_sticks::plainly_comes_apart);
  Totals totals;
  const auto test = [&](const std::vector<Cells>& sticks) { return comes_apart(sticks, totals); };
  for (int threads : {1, 2}) right &= print_census("census", threads, test);
  std::vector<std::vector<Cells>> burrs;
  for (const six_sticks::Burr& b : six_sticks::burrs_that_come_apart(six_sticks::is_connected, test, 2))
    burrs.push_back(six_sticks::cells_of({six_sticks::kAllSticks, b}));
  for (int threads : {1, 2}) right &= print_whole_burrs(burrs, threads);
  right &= print_finite_search(4);
  return right ? 0 : 1;
}

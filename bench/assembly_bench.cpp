// assembly_bench - counting assemblies, against a plain exact-cover counter, same counts, same run.
// Prints seconds and ratios (how many times faster than the baseline): all covers one by one, all covers with the
// symmetry of the goal, and what a second thread brings. `assembly_bench short` leaves out what takes minutes.
#include <fmt/core.h>

#include <chrono>
#include <cmath>
#include <cstring>

#include "assembly/placements.h"
#include "baseline_cover.h"
#include "support/polycubes.h"

namespace stickwright {
namespace {

struct Instance {
  std::string name;
  Design design;
  bool takes_minutes = false;
  bool one_quadrant = false;  // the tenth piece in one quadrant only: no symmetry is left to use
};

double seconds_of(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

Piece brick(const char* name, int copies, Cells cells) {
  return {name, copies, 0, std::move(cells), {}};
}

std::vector<Piece> tetracubes() {
  auto pieces = known::seven_polycubes();
  pieces.erase(pieces.begin());  // the one of three cubes
  pieces.push_back(brick("bar", 1, known::box(1, 1, 4)));
  pieces.push_back(brick("square", 1, known::box(1, 2, 2)));
  return pieces;
}

Cells chessboard_without_its_middle() {
  Cells cells;
  for (Cell c : known::box(8, 8, 1))
    if (!((c.x == 3 || c.x == 4) && (c.y == 3 || c.y == 4))) cells.push_back(c);
  return cells;
}

std::vector<Instance> instances() {
  using known::box, known::fill, known::pentominoes;
  return {
      {"pentominoes 3x20", fill(box(3, 20, 1), pentominoes())},
      {"pentominoes 4x15", fill(box(4, 15, 1), pentominoes())},
      {"pentominoes 5x12", fill(box(5, 12, 1), pentominoes())},
      {"pentominoes 6x10", fill(box(6, 10, 1), pentominoes())},
      {"the same, X in a quadrant", fill(box(6, 10, 1), pentominoes()), false, true},
      {"pentominoes 8x8 less 2x2", fill(chessboard_without_its_middle(), pentominoes())},
      {"solid pentominoes 2x3x10", fill(box(2, 3, 10), pentominoes())},
      {"solid pentominoes 2x5x6", fill(box(2, 5, 6), pentominoes())},
      {"solid pentominoes 3x4x5", fill(box(3, 4, 5), pentominoes()), true},
      {"seven polycubes 3x3x3", fill(box(3, 3, 3), known::seven_polycubes())},
      {"tetracubes 2x4x4", fill(box(2, 4, 4), tetracubes())},
      {"bricks 3x3x3", fill(box(3, 3, 3), {brick("flat", 6, box(1, 2, 2)), brick("cube", 3, box(1, 1, 1))})},
      {"bricks 5x5x5", fill(box(5, 5, 5), {brick("long", 13, box(1, 2, 4)), brick("bar", 3, box(1, 1, 3)),
                                           brick("cube", 1, box(2, 2, 2)), brick("flat", 1, box(1, 2, 2))})},
      {"Y pentacubes 5x5x5", fill(box(5, 5, 5), {brick("Y", 25, known::drawn(".X../XXXX"))}), true},
  };
}

void keep_tenth_in_a_quadrant(Placements& p) {
  const auto outside = [&](const CoverOption& o) {
    std::int64_t x = 0, y = 0;
    for (int c : o.cells) x += p.goal[c].x, y += p.goal[c].y;
    return o.supply == 9 && (x >= 15 || y >= 25);  // the middle of the piece beyond the middle of the board
  };
  std::erase_if(p.problem.options, outside);
  p.problem.symmetries.clear();
}

// Where pieces are alike the baseline either is given no item for them (they are as many as fit) or one item each;
// then it counts every cover as often as the pieces can trade places.
struct BaselineRun {
  double seconds = 0;
  std::int64_t covers = 0;
};

BaselineRun run_baseline(const CoverProblem& p) {
  std::vector<std::vector<int>> options;
  std::vector<int> first_item;
  std::int64_t trades = 1;
  int items = p.cells;
  for (const CoverSupply& s : p.supplies) {
    const bool many = s.at_most > 3;
    first_item.push_back(many ? -1 : items);
    if (many) continue;
    items += s.at_most;
    for (int k = 2; k <= s.at_most; ++k) trades *= k;
  }
  for (const CoverOption& o : p.options)
    for (int copy = 0; copy < (first_item[o.supply] < 0 ? 1 : p.supplies[o.supply].at_most); ++copy) {
      options.push_back(o.cells);
      if (first_item[o.supply] >= 0) options.back().insert(options.back().begin(), first_item[o.supply] + copy);
    }
  bench::BaselineCover baseline(items, options);
  const double seconds = seconds_of([&] { baseline.run(); });
  return {seconds, static_cast<std::int64_t>(baseline.covers) / trades};
}

struct OurRun {
  double seconds = 0;
  CoverAnswer answer;
};

OurRun run_ours(const CoverProblem& problem, int threads) {
  OurRun best{1e30, {}};
  for (int repeat = 0; repeat < 3 && (repeat == 0 || best.seconds < 2); ++repeat) {
    OurRun run;
    run.seconds = seconds_of([&] { run.answer = solve_cover(problem, {.keep = 0, .threads = threads}); });
    if (run.seconds < best.seconds) best = run;
  }
  return best;
}

void run_all(bool short_run) {
  fmt::print("{:27} {:>8} {:>10} {:>9} {:>9} {:>9} {:>7} {:>7} {:>9}\n", "instance", "covers", "baseline s", "plain s",
             "symm. s", "2 thr. s", "plain", "symm.", "2 threads");
  double log_plain = 0, log_symmetric = 0, least = 1e30, twofold = 0, twofold_base = 0;
  int runs = 0;
  for (const Instance& i : instances()) {
    if (short_run && i.takes_minutes) continue;
    Placements p = placements_of(i.design, UpTo::reflections);
    if (i.one_quadrant) keep_tenth_in_a_quadrant(p);
    CoverProblem plain = p.problem;
    plain.symmetries.clear();
    const BaselineRun base = run_baseline(p.problem);
    const OurRun one = run_ours(plain, 1), symmetric = run_ours(p.problem, 1), two = run_ours(p.problem, 2);
    const bool same = one.answer.count == base.covers && symmetric.answer.total == base.covers &&
                      two.answer.total == base.covers && two.answer.count == symmetric.answer.count;
    if (!same) throw std::runtime_error(i.name + ": the counts differ");
    const double r_plain = base.seconds / one.seconds, r_symmetric = base.seconds / symmetric.seconds;
    fmt::print("{:27} {:>8} {:>10.4f} {:>9.4f} {:>9.4f} {:>9.4f} {:>7.1f} {:>7.1f} {:>9.2f}\n", i.name, base.covers,
               base.seconds, one.seconds, symmetric.seconds, two.seconds, r_plain, r_symmetric,
               symmetric.seconds / two.seconds);
    std::fflush(stdout);
    log_plain += std::log(r_plain), log_symmetric += std::log(r_symmetric), ++runs;
    least = std::min(least, r_symmetric);
    if (symmetric.seconds > 0.05) twofold += two.seconds, twofold_base += symmetric.seconds;
  }
  fmt::print("geometric mean: {:.1f} times the baseline one by one, {:.1f} with symmetry; least {:.1f}\n",
             std::exp(log_plain / runs), std::exp(log_symmetric / runs), least);
  if (twofold > 0) fmt::print("two threads: {:.2f} times one, over the runs that take 50 ms\n", twofold_base / twofold);
}

}  // namespace
}  // namespace stickwright

int main(int argc, char** argv) {
  stickwright::run_all(argc > 1 && std::strcmp(argv[1], "short") == 0);
}

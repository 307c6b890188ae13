// How many closed puzzles a second are judged for their play, against one warm-started solve of a linear program each.
//   build: cmake --preset bench && cmake --build build/bench --target fit_bench
//   use:   build/bench/bench/fit_bench [BATCH.toml]; the demo batch if left out
// Microseconds a sample, minimum and median of 7 rounds; in each round all contestants do samples of the same sequence
// in turn, so that whatever else the machine does hits all of them. Ratios are of the medians, over the faster of the
// two solvers on the program as it is (all rows). `on the parts`: GLPK on the programs that are left after what cannot
// bind is left out, for what that step alone brings. GLPK is GPL-3 and is linked here only.
#include <sys/resource.h>

#include <functional>

#include "batch/fit_inputs.h"
#include "closing/binding_parts.h"
#include "fit/play_tally.h"
#include "fit/puzzle_plays.h"
#include "support/gap_examples.h"
#include "timing.h"
#include "warm_solvers.h"

namespace {

using namespace stickwright;

using Sampler = std::function<void(std::size_t, std::vector<double>&)>;  // appends so many samples, row by row

constexpr std::size_t kRounds = 7, kForSolvers = 40, kForWalk = 4000;

struct Contest {
  std::vector<double> walk, glpk, clp, parts;
  double apart = 0;  // mm, greatest difference from GLPK
};

std::vector<double> of_rows(std::span<const double> h, const std::vector<int>& rows) {
  std::vector<double> out;
  for (const int r : rows) out.push_back(h[r]);
  return out;
}

// Microseconds a sample.
template <class Work>
double each(std::size_t samples, const Work& work) {
  return 1e3 * bench::milliseconds(work) / static_cast<double>(samples);
}

Contest contest(const FitProgram& program, const Sampler& sampler) {
  const std::size_t rows = program.rows();
  VertexWalk walk(program);
  bench::GlpkPrimal glpk(program.balance().rows);
  bench::ClpDual clp(program.balance().rows);
  std::vector<bench::GlpkPrimal> part_solvers;
  for (const BindingPart& p : program.parts().parts) part_solvers.emplace_back(p.matrix);
  Contest c;
  volatile double kept = 0;
  std::vector<double> plays(kForWalk);
  for (std::size_t round = 0; round <= kRounds; ++round) {
    std::vector<double> h;
    sampler(kForWalk, h);
    const auto sample = [&](std::size_t i) { return std::span<const double>(h).subspan(i * rows, rows); };
    const double w = each(kForWalk, [&] { walk.play(h, kForWalk, plays); });
    const double g = each(kForSolvers, [&] {
      for (std::size_t i = 0; i < kForSolvers; ++i)
        c.apart = std::max(c.apart, std::abs(glpk.solve(sample(i)) - plays[i]));
    });
    const double l = each(kForSolvers, [&] {
      for (std::size_t i = 0; i < kForSolvers; ++i) kept = clp.solve(sample(i));
    });
    const double p = each(kForSolvers, [&] {
      for (std::size_t i = 0; i < kForSolvers; ++i)
        for (std::size_t k = 0; k < part_solvers.size(); ++k)
          kept = part_solvers[k].solve(of_rows(sample(i), program.parts().parts[k].rows));
    });
    if (round == 0) continue;  // all of them warm up
    c.walk.push_back(w), c.glpk.push_back(g), c.clp.push_back(l), c.parts.push_back(p);
  }
  const WalkCounts n = walk.counts();
  fmt::print("  {:.2f} steps a sample, {} vertices known, {} fresh solves of {}\n",
             static_cast<double>(n.pivots) / static_cast<double>(n.samples), n.vertices, n.fresh_solves, n.samples);
  return c;
}

void report(const std::string& name, const FitProgram& program, const Sampler& sampler) {
  fmt::print("{}: {} rows, {} unknowns; parts that can bind:", name, program.rows(), program.balance().size());
  for (const BindingPart& p : program.parts().parts) {
    const PlayBy by = play_by(p);
    fmt::print(" {} x {}{}", p.matrix.rows(), p.matrix.cols(),
               by == PlayBy::list        ? " (listed)"
               : by == PlayBy::neighbors ? " (by neighbors)"
                                         : "");
  }
  fmt::print("\n");
  if (!program.can_bind()) return;
  const Contest c = contest(program, sampler);
  const bench::Times walk = bench::summary(c.walk), glpk = bench::summary(c.glpk), clp = bench::summary(c.clp),
                     parts = bench::summary(c.parts);
  const double base = std::min(glpk.median, clp.median);
  const auto line = [&](const char* what, const bench::Times& t) {
    fmt::print("  {:28} {:9.2f} {:9.2f} us  {:8.1f} times the samples\n", what, t.least, t.median, base / t.median);
  };
  line("GLPK, warm", glpk);
  line("Clp, warm", clp);
  line("GLPK on the parts, warm", parts);
  line("VertexWalk", walk);
  fmt::print("  farthest from GLPK: {:.1e} mm\n", c.apart);
}

void report(const test::GapExample& example) {
  std::mt19937_64 random(7);
  report(example.name, FitProgram(example.rows), [&](std::size_t count, std::vector<double>& h) {
    for (std::size_t i = 0; i < count; ++i) {
      const std::vector<double> one = example.sample(random);
      h.insert(h.end(), one.begin(), one.end());
    }
  });
}

double most_memory_mb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

void report_whole(const PuzzlePlays& plays) {
  std::vector<double> values, gaps;
  const double drawing = each(plays.draws().lanes() * 40, [&] {
    for (std::uint64_t bunch = 0; bunch < 40; ++bunch) plays.gaps(bunch, values, gaps);
  });
  fmt::print("  drawing and gaps, one thread: {:.2f} us a sample\n", drawing);
  for (std::int64_t samples : {100'000, 1'000'000}) {
    PlayTally tally({0, 0, 1}, plays.draws().copies());
    const double ms = bench::milliseconds(
        [&] { plays.run(samples, [&](std::uint64_t, std::span<const double> some) { tally.add(some); }); });
    fmt::print("  {} samples from drawing to distribution, all cores: {:.3f} s, {:.2f} us each; {:.1f} MB at most\n",
               tally.samples(), ms / 1000, 1000 * ms / static_cast<double>(tally.samples()), most_memory_mb());
  }
}

// The puzzles of a batch, closed, with everything that can be off in the shop: first the play alone, then the whole way
// from drawing to the distribution, on all cores.
void report_batch(const std::string& file) {
  const auto plan = plan_set_ups(file);
  if (!plan) throw std::runtime_error(plan.problem().say);
  const ShopKnown shop = shop_known(plan.value());
  for (const PuzzlePlan& puzzle : plan.value().puzzles) {
    const ClosedPuzzle closed = closed_puzzle(plan.value(), puzzle);
    const PuzzleErrors errors = puzzle_errors(closed, shop);
    const PuzzlePlays plays(errors, gap_forms(closed, errors.faces, block_contacts(closed)), puzzle.copies, 1);
    std::uint64_t bunch = 0;
    std::vector<double> values, gaps;
    report(puzzle.design.design.name, plays.program(), [&](std::size_t count, std::vector<double>& h) {
      const std::size_t enough = count * plays.program().rows();
      while (h.size() < enough) {
        plays.gaps(bunch++, values, gaps);
        h.insert(h.end(), gaps.begin(), gaps.end());
      }
      h.resize(enough);
    });
    if (plays.program().can_bind()) report_whole(plays);
  }
}

}  // namespace

int main(int argc, char** argv) {
  bench::print_heading();
  report_batch(argc > 1 ? argv[1] : STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml");
  for (const test::GapExample& example :
       {test::random_areas(11, 100, 1, {}, 1.0), test::ring_of_cubes(3), test::grown_pieces(6, 4, 1),
        test::grown_pieces(6, 4, 2), test::grown_pieces(6, 4, 3), test::grown_pieces(6, 4, 4),
        test::grown_pieces(8, 5, 1), test::random_areas(6, 24, 1), test::cubes_in_box(2)})
    report(example);
}

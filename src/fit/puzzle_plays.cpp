#include "fit/puzzle_plays.h"

#include <oneapi/tbb/enumerable_thread_specific.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <limits>

namespace stickwright {
namespace {

// Bunches worked out side by side before their plays are handed on in order.
constexpr std::uint64_t kSideBySide = 32;

// What a thread needs, kept from bunch to bunch.
struct Desk {
  explicit Desk(const FitProgram& program) : walk(program) {}
  VertexWalk walk;
  std::vector<double> values, gaps;
};

}  // namespace

PuzzlePlays::PuzzlePlays(const PuzzleErrors& errors, const GapForms& gaps, int copies, std::uint64_t seed)
    : program_(gaps.rows), table_(gaps.gap), draws_(errors, copies, seed) {}

PuzzlePlays::PuzzlePlays(const PuzzlePlays& like, const PuzzleErrors& errors, int copies)
    : program_(like.program_), table_(like.table_), draws_(errors, copies, like.draws_.seed()) {}

std::uint64_t PuzzlePlays::bunches_for(std::int64_t samples) const {
  const auto lanes = static_cast<std::int64_t>(draws_.lanes());
  return static_cast<std::uint64_t>((samples + lanes - 1) / lanes);
}

void PuzzlePlays::gaps(std::uint64_t bunch, std::vector<double>& values, std::vector<double>& out,
                       const AlterBunch& alter) const {
  values.resize(draws_.numbers() * draws_.lanes());
  draws_.draw(bunch, values);
  if (alter) alter(bunch, values);
  gaps_of(values, out);
}

void PuzzlePlays::gaps_of(std::span<double> values, std::vector<double>& out) const {
  out.resize(table_.rows() * draws_.lanes());
  draws_.derive(values);
  table_.apply(values, draws_.lanes(), out);
}

PlayCounts PuzzlePlays::run(std::int64_t samples, const TakePlays& take, const AlterBunch& alter,
                            const std::function<bool()>& go_on) const {
  const std::size_t lanes = draws_.lanes();
  const std::uint64_t bunches = bunches_for(samples);
  oneapi::tbb::enumerable_thread_specific<Desk> desks([&] { return Desk(program_); });
  std::vector<double> plays(static_cast<std::size_t>(std::min(bunches, kSideBySide)) * lanes);
  std::uint64_t done = 0;
  for (std::uint64_t from = 0; from < bunches && (!go_on || go_on()); from += kSideBySide) {
    const std::uint64_t to = std::min(from + kSideBySide, bunches);
    oneapi::tbb::parallel_for(from, to, [&](std::uint64_t bunch) {
      const auto out = std::span(plays).subspan(static_cast<std::size_t>(bunch - from) * lanes, lanes);
      if (!program_.can_bind()) {
        std::fill(out.begin(), out.end(), std::numeric_limits<double>::infinity());
        return;
      }
      Desk& desk = desks.local();
      gaps(bunch, desk.values, desk.gaps, alter);
      desk.walk.play(desk.gaps, lanes, out);
    });
    for (std::uint64_t bunch = from; bunch < to; ++bunch)
      take(bunch, std::span(plays).subspan(static_cast<std::size_t>(bunch - from) * lanes, lanes));
    done = to;
  }
  PlayCounts counts;
  counts.samples = static_cast<std::int64_t>(done * lanes);
  for (const Desk& d : desks) {
    const WalkCounts c = d.walk.counts();
    counts.pivots += c.pivots, counts.fresh_solves += c.fresh_solves;
    counts.vertices = std::max(counts.vertices, c.vertices);
  }
  return counts;
}

}  // namespace stickwright

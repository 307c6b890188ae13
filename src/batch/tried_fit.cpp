#include "batch/tried_fit.h"

#include "batch/fit_inputs.h"
#include "fit/drawn_plays.h"

namespace stickwright {
namespace {

PuzzleErrors errors_of(const BatchPlan& plan, const std::vector<StopAsRead>& read, const ClosedPuzzle& closed) {
  return puzzle_errors(closed, shop_as_read(plan, read));
}

}  // namespace

// In this order: each refers to those above it.
struct TriedFit::Impl {
  PlayAsked asked;
  PuzzleErrors errors;
  PuzzlePlays plays;
  std::vector<Dimension> sizes;
  DrawnPlays drawn;

  Impl(const BatchPlan& plan, const std::vector<StopAsRead>& read, const ClosedPuzzle& closed, std::int64_t samples)
      : asked(play_asked(plan.batch)),
        errors(errors_of(plan, read, closed)),
        plays(errors, gap_forms(closed, errors.faces, block_contacts(closed)), 1, kFitSeed),
        sizes(sizes_to_choose(plan, errors)),
        drawn(plays, plays.program().can_bind() ? samples : 0) {}
};

TriedFit::TriedFit(const BatchPlan& plan, const std::vector<StopAsRead>& read, std::size_t puzzle, std::int64_t samples)
    : impl_(std::make_unique<Impl>(plan, read, closed_puzzle(plan, plan.puzzles[puzzle]), samples)) {}
TriedFit::~TriedFit() = default;

bool TriedFit::binds() const {
  return impl_->plays.program().can_bind();
}
const std::vector<Dimension>& TriedFit::sizes() const {
  return impl_->sizes;
}
std::int64_t TriedFit::samples() const {
  return impl_->drawn.samples();
}

PlaySpread TriedFit::with(const std::vector<double>& mm) const {
  PlayTally tally(impl_->asked.window, 1);
  tally.add(impl_->drawn.altered(resized(impl_->sizes, mm, impl_->plays.draws().lanes())));
  PlaySpread spread = spread_of(tally, impl_->asked.chance);
  spread.batch_closes = {};
  return spread;
}

}  // namespace stickwright

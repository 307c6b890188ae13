// tried_fit.h - what allowances would do to the play of a puzzle, answered while somebody still chooses them.
#pragma once
#include <memory>
#include <vector>

#include "batch/fit_plan.h"

namespace stickwright {

inline constexpr std::int64_t kTriedSamples = 8'192;  // answered in some milliseconds

// One puzzle of a batch; the puzzles that plan_fit draws first. Safe to call from several threads.
class TriedFit {
 public:
  //   read    FitPlan::read, or stops_as_read
  //   puzzle  index into plan.puzzles
  TriedFit(const BatchPlan& plan, const std::vector<StopAsRead>& read, std::size_t puzzle,
           std::int64_t samples = kTriedSamples);
  ~TriedFit();
  TriedFit(const TriedFit&) = delete;
  TriedFit& operator=(const TriedFit&) = delete;

  bool binds() const;  // false: there is no play, and nothing to try
  const std::vector<Dimension>& sizes() const;
  std::int64_t samples() const;

  // With so much added to each size. How whole batches come out is not looked at: batch_closes stays 0.
  //   mm       as many as sizes()
  //   returns  what plan_fit gives for the same allowances and as many samples
  //   assumes  binds()
  PlaySpread with(const std::vector<double>& mm) const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace stickwright

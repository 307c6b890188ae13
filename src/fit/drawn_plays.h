// drawn_plays.h - some thousand puzzles drawn once and kept, to ask again and again what a change of size does to them.
#pragma once
#include <memory>
#include <vector>

#include "fit/puzzle_plays.h"

namespace stickwright {

// Safe to call from several threads. Memory: 8 bytes for each number that is off of each puzzle.
class DrawnPlays {
 public:
  //   plays    outlives this
  //   samples  as many, rounded up to whole bunches; the same puzzles as the first that plays.run() draws
  DrawnPlays(const PuzzlePlays& plays, std::int64_t samples);
  ~DrawnPlays();
  DrawnPlays(const DrawnPlays&) = delete;
  DrawnPlays& operator=(const DrawnPlays&) = delete;

  std::int64_t samples() const;

  // The plays of all, mm, in the order drawn.
  std::vector<double> altered(const AlterBunch& alter) const;

 private:
  struct Desk;
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace stickwright

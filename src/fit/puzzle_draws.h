// puzzle_draws.h - puzzles drawn at random from what is known of the shop, many at a time.
//
// Values are kept number by number, all puzzles of a bunch side by side: values[number * lanes + lane].
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "fit/puzzle_errors.h"

namespace stickwright {

class PuzzleDraws {
 public:
  //   copies  puzzles in a batch: they share what is one for the whole batch
  PuzzleDraws(const PuzzleErrors& errors, int copies, std::uint64_t seed);

  // Puzzles in one bunch: whole batches.
  std::size_t lanes() const { return lanes_; }
  int copies() const { return copies_; }
  std::uint64_t seed() const { return seed_; }
  std::size_t numbers() const { return errors_->values(); }

  // One possible bunch, the same on every call and on any thread.
  //   values  [errors.values()][lanes]
  void draw(std::uint64_t bunch, std::span<double> values) const;

  // Works out the derived numbers.
  void derive(std::span<double> values) const;

 private:
  const PuzzleErrors* errors_;
  int copies_;
  std::size_t lanes_;
  std::uint64_t seed_;
};

// Linear forms of the values, worked out for all lanes at once.
class FormTable {
 public:
  explicit FormTable(std::span<const Form> forms);
  std::size_t rows() const { return start_.size() - 1; }
  //   values  [number][lanes]
  //   out     [lanes][rows]
  void apply(std::span<const double> values, std::size_t lanes, std::span<double> out) const;

 private:
  std::vector<std::size_t> start_;
  std::vector<int> number_;
  std::vector<double> coefficient_;
};

}  // namespace stickwright

// dimensions.h - the sizes that a maker can choose, and what they do to the play.
#pragma once
#include <string>
#include <vector>

#include "fit/puzzle_plays.h"

namespace stickwright {

inline constexpr double kMostAllowance = 0.5;  // mm to either side

// One size: where it enters, all its numbers grow together.
struct Dimension {
  std::string name;  // "stop 1 of the center block", "sticks", "glue lines"
  SizeOf size_of = SizeOf::stop;
  int shape = -1, stop = -1;  // of a stop
  std::vector<int> numbers;
  double most_short = kMostAllowance;  // mm: by so much it may be made smaller
};

// Stops in the order of shapes; then the width of all sticks together; then that of all glue lines.
std::vector<Dimension> dimensions_of(const PuzzleErrors& errors);

// Adds mm[d] to dimension d.
AlterBunch resized(const std::vector<Dimension>& dimensions, const std::vector<double>& mm, std::size_t lanes);

// By how much the play of each drawn puzzle grows with one dimension, mm per mm, in the order drawn.
//   around   mm, by dimension: what has been added to each already
//   samples  puzzles for each of two runs
std::vector<double> slopes_of_plays(const PuzzlePlays& plays, const std::vector<Dimension>& dimensions, std::size_t d,
                                    const std::vector<double>& around, std::int64_t samples);

// By how much the median play grows with each dimension, mm per mm: the mean over the puzzles about the median of how
// much their own play does.
//   around   mm, by dimension: what has been added to each already
//   samples  puzzles for each of two runs a dimension
std::vector<double> median_slopes(const PuzzlePlays& plays, const std::vector<Dimension>& dimensions,
                                  const std::vector<double>& around, std::int64_t samples);

// All plays of one run, in the order drawn.
std::vector<double> plays_of(const PuzzlePlays& plays, std::int64_t samples, const AlterBunch& alter);

// Of values in any order.
double median(std::vector<double> values);

}  // namespace stickwright

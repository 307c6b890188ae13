// plot_axis.h - scales with round steps, and names that stand beside them without lying on each other.
#pragma once
#include <string>
#include <vector>

#include "packet/canvas.h"

namespace stickwright {

// A range of numbers with round steps, on a stretch of paper.
struct PlotAxis {
  double low = 0, high = 1, step = 1;
  double from = 0, to = 1;  // mm of paper of low and high
  double at(double v) const { return from + (v - low) / (high - low) * (to - from); }
  int places() const;                 // decimals that a step needs
  std::vector<double> steps() const;  // multiples of the step, from low to high
};

// 1, 2 or 5 times a power of ten, so that at most so many steps cover the range.
double round_step(double range, int steps);

// From a round number at or below `low` to one at or above `high`.
PlotAxis axis_for(double low, double high, double from, double to, int steps = 6);

// Ascending places moved apart until each is `room` from the next, and none beyond `last` as long as there is room.
std::vector<double> places_apart(std::vector<double> wanted, double room, double last);

// A line that crosses the top of a plot at that place, and its name.
struct Flag {
  double x = 0;  // mm of paper
  std::string name;
};

// Where the names of flags go: left or right of their own line, in rows that count upwards from the plot's top. No name
// lies on another, nor on the line of another, as long as every name has room on one side of its line.
struct FlagPlace {
  double left = 0, width = 0;
  std::size_t row = 0;
};

inline constexpr double kFlagRow = 3.6;  // mm

//   flags        by x
//   widths       mm, of the names
//   left, right  names stand between these
std::vector<FlagPlace> flag_places(const std::vector<Flag>& flags, const std::vector<double>& widths, double left,
                                   double right);

// returns  how much room above the plot flags take
double flags_height(const std::vector<FlagPlace>& places);

// The name of a line that ends at the right edge of a plot, at that height.
struct SideName {
  double y = 0;  // mm of paper
  std::string name;
};

// Names right of x, from top to bottom, none on another; a fine line leads from each to its height.
void draw_side_names(Canvas& canvas, double x, double last_y, std::vector<SideName> names);

}  // namespace stickwright

// bars.h - named sizes as bars, the largest first, what is small together in one hatched bar.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "packet/canvas.h"

namespace stickwright {

struct NamedBar {
  std::string name, says;  // beside it: what it is of, and how much
  double length = 0;
  double reach = 0;   // where longer than the bar, a thin line goes on to here
  bool rest = false;  // several things together: hatched
};

struct BarChart {
  std::string head;            // above, at the right
  std::vector<NamedBar> bars;  // in order
  std::optional<double> mark;  // a broken line across all bars at this length
};

// How many of the `count` things, largest first, get a bar of their own when `tells` of them are worth one and there is
// room for `most` bars, that of the rest included. A rest of one thing is named.
std::size_t bars_by_themselves(std::size_t count, std::size_t tells, std::size_t most);

// Bars that a height has room for, three at least.
std::size_t bars_within(double height);

// returns  the height it takes: a line for the head, and one for each bar
double draw_bars(Canvas& canvas, Box box, const BarChart& chart);

}  // namespace stickwright

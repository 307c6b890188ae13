// leaves.h - which feeler leaves, one on the other, make a shim.
#pragma once
#include <cstddef>
#include <functional>
#include <span>
#include <string_view>
#include <vector>

#include "quantity/estimate.h"
#include "quantity/quantity.h"
#include "quantity/result.h"

namespace stickwright {

struct Leaf {
  Nm thickness;
  double u_nm = 0;  // standard uncertainty of the thickness
};

inline constexpr std::size_t kMostLeaves = 64;  // owned
inline constexpr std::size_t kMostInShim = 3;   // used at once
// Evenly spread to either side. Common practice, no source.
inline constexpr double kLeafToleranceNm = 5000;  // a leaf as it is sold
inline constexpr double kFilmNm = 2000;           // oil, dust and burr between one leaf and the next

// A leaf known by what is printed on it, and one that the shop has measured.
Leaf printed_leaf(Nm thickness);
Leaf measured_leaf(Nm thickness, double u_nm);

// "mm 8", "mm 13", "mm 20", "inch 26".
std::vector<std::string_view> leaf_set_names();

// A set as it is sold, each leaf known by what is printed on it.
//   errors   unknown_leaf_set
//   source   trade lists, from memory
Result<std::vector<Leaf>> standard_leaves(std::string_view name);

struct Shim {
  std::vector<std::size_t> leaves;  // indices, ascending; empty where no leaf is better than any
  Nm total;
  Nm remaining;     // wanted less total: below zero when the shim is too thick
  double u_nm = 0;  // of the total: the leaves, and a film between every two
};

// The leaves whose thickness together comes nearest to what is wanted; of those the fewest; of those the first in
// order.
//   wanted   nm, >= 0
//   leaves   1..64, ascending, > 0; each used at most once
//   returns  0..3 leaves; none when that is as near as any
//   errors   bad_thickness, bad_leaves
//   exact    integer sums; every choice is covered
Result<Shim> choose_leaves(Nm wanted, std::span<const Leaf> leaves);

// True when no rule is broken: leaves of the set, each once, ascending, at most three, sums and u right. Knows only
// these rules, not how the leaves were found.
bool check_shim(const Shim& shim, Nm wanted, std::span<const Leaf> leaves);

// For all readings from `first` to `last` in steps the same shim.
struct LeafRow {
  Nm first, last;  // readings
  Nm wanted_first, wanted_last;
  std::vector<std::size_t> leaves;
  Nm total;
  double u_nm = 0;
};

// What the shop wants the table to run over.
struct LeafTableWish {
  Nm step;                       // of the readings, > 0
  Nm most;                       // the last reading at most
  std::function<Nm(Nm)> wanted;  // the thickness that a reading calls for
};

// A step that leaves can follow: the thinnest leaf, or the smallest difference between two leaves.
Nm leaf_step(std::span<const Leaf> leaves);

// The thickness that is `factor` times the reading, rounded to a nanometer.
std::function<Nm(Nm)> times(double factor);

// Reading -> leaves, to be used away from a screen: 0, step, 2 step, ... up to the most, rows of one shim joined.
//   errors   bad_table (step or most not > 0, more than 10 000 readings); as choose_leaves
Result<std::vector<LeafRow>> leaf_table(const LeafTableWish& wish, std::span<const Leaf> leaves);

}  // namespace stickwright

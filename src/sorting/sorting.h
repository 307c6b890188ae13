// sorting.h - which measured block goes into which place of which puzzle, so that the worst puzzle is as good as can
// be.
#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

// A measured block, or a glued and measured piece. Only a place of its kind takes it.
struct SortItem {
  int kind = 0;
  std::vector<double> off;  // measured deviations, mm; equally many for all items of a kind
};

struct SortPlace {
  int kind = 0;
  std::string name;
};

// A linear function of the deviations that is nowhere below the play, and equal to it where it was asked for.
struct PlayCut {
  double constant = 0;                     // mm
  std::vector<std::vector<double>> slope;  // mm of play per mm; [place][deviation]
};

// The play of one puzzle, given what stands in its places ([place][deviation]): the cut that is tight there. Asked also
// for deviations between those of the items.
//   assumes  the play is concave, so that play(x) <= cut(x) for every x; the same question gets the same answer
using PlayOracle = std::function<PlayCut(const std::vector<std::vector<double>>& off_by_place)>;

// Puzzles alike. Several designs of a batch may draw on the same items.
struct SortDesign {
  std::string name;
  std::vector<SortPlace> places;
  int puzzles = 1;
  PlayOracle play;
};

struct SortProblem {
  std::vector<SortItem> items;  // more than there are places: the rest stays on the shelf
  std::vector<SortDesign> designs;
};

inline constexpr double kSortTolerance = 1e-7;  // mm of play that nobody can tell

// Counts, not seconds, so that runs repeat.
struct SortLimits {
  int pooled_rounds = 300;          // of the linear relaxation, one cut a design each
  std::int64_t moves = 6'000'000;   // exchanges tried in all runs; new cuts can nearly triple them
  std::size_t pairs = 400'000;      // of items, where a puzzle is one pair
  int pair_rounds = 2'000;          // matchings, each with more cuts
  std::int64_t nodes = 60'000'000;  // items tried in places, in the search through all sortings
};

struct Sorted {
  Verdict verdict = Verdict::stopped;     // found: worst >= bound - kSortTolerance; stopped: between worst and bound
  std::vector<std::vector<int>> item_in;  // [puzzle][place]; the puzzles design by design
  std::vector<double> play;               // mm, by puzzle
  double worst = 0;                       // the least of them
  double bound = 0;                       // no sorting has a better worst puzzle
  std::int64_t oracle_calls = 0, nodes = 0;
};

// The greatest worst play. Cuts are asked for where they are needed, and hold for all puzzles of a design.
//   errors   bad_item, bad_design; too_few (of which kind, and how many are missing); bad_play (the oracle's answer has
//            the wrong shape, is not a number, or lies above an earlier cut: the play is not concave)
//   exact    every reported play is the oracle's. The bound is that of the linear relaxation, weighed again by weak
//            duality, or lower where all sortings above it were tried (few places) or no matching reaches it (pairs):
//            no bound relies on the linear solver's answer. All sums are floating: good to 1e-10 mm
//   assumes  the oracle's cuts are nowhere below the play by more than its own rounding, which adds to the bound
//   source   J. E. Kelley, "The cutting-plane method for solving convex programs", J. SIAM 8 (1960); pairs: threshold
//            and matching, J. E. Hopcroft, R. M. Karp, SIAM J. Comput. 2 (1973); exchanges: S. Kirkpatrick, C. D.
//            Gelatt, M. P. Vecchi, "Optimization by simulated annealing", Science 220 (1983)
Result<Sorted> sort_items(const SortProblem& problem, const SortLimits& limits = {});

// True when every place has an item of its kind, no item is used twice, the plays are what the oracles say and the
// worst is the least of them, not above the bound. Knows only the rules.
bool check_sorting(const SortProblem& problem, const Sorted& sorted);

}  // namespace stickwright

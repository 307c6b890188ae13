#include "design/fit.h"

#include <fmt/core.h>

#include <algorithm>
#include <string>
#include <vector>

#include "design/design_file.h"

namespace stickwright {
namespace {

struct Sum {
  std::size_t pieces = 0, cells = 0;
  void add(const Piece& p) {
    pieces += static_cast<std::size_t>(p.total_copies());
    cells += p.cells.size() * static_cast<std::size_t>(p.total_copies());
  }
};

struct Counts {
  Sum supplied, needed;     // needed: the pieces that are not optional
  std::size_t to_fill = 0;  // cells
};

Counts counts_of(const Design& d) {
  Counts n;
  n.to_fill = d.goal.size() - d.may_stay_empty.size();
  for (const Piece& p : d.pieces) {
    n.supplied.add(p);
    if (!p.optional) n.needed.add(p);
  }
  return n;
}

// The most pieces that the cells of the goal have room for: the smallest are put in first.
std::size_t most_used(const Design& d, const Counts& n) {
  std::vector<std::size_t> sizes;
  for (const Piece& p : d.pieces)
    if (p.optional) sizes.insert(sizes.end(), static_cast<std::size_t>(p.total_copies()), p.cells.size());
  std::sort(sizes.begin(), sizes.end());
  Sum used = n.needed;
  for (std::size_t size : sizes) {
    if (used.cells + size > d.goal.size()) break;
    used.cells += size;
    ++used.pieces;
  }
  return used.pieces;
}

// What is wrong, or "".
std::string too_large(const Design& d, const Counts& n) {
  if (n.needed.pieces > kMaxPieces || d.goal.size() > kMaxGoalCells)
    return fmt::format("{} pieces and {} cells: at most {} pieces and {} cells can be checked.", n.needed.pieces,
                       d.goal.size(), kMaxPieces, kMaxGoalCells);
  if (n.supplied.pieces > kMaxSupplied)
    return fmt::format("{} pieces are supplied and at most {} can be, so take some away.", n.supplied.pieces,
                       kMaxSupplied);
  const std::size_t most = d.pieces_used ? 0 : most_used(d, n);
  if (most > kMaxPieces)
    return fmt::format(
        "the goal has room for {} of the pieces and at most {} can be checked, so add here how many are "
        "used: pieces = {} or fewer.",
        most, kMaxPieces, kMaxPieces);
  return "";
}

std::string wrong_count(const Design& d, const Counts& n) {
  if (!d.pieces_used) return "";
  const auto used = static_cast<std::size_t>(*d.pieces_used);
  if (used < n.needed.pieces)
    return fmt::format(
        "{} pieces must be used, so give at least that number, or add optional = true to pieces that "
        "may be left out.",
        n.needed.pieces);
  if (used > n.supplied.pieces && !d.draft)
    return fmt::format("the pieces supplied number {}, so give no more than that, or supply more copies.",
                       n.supplied.pieces);
  return "";
}

std::string wrong_volume(const Design& d, const Counts& n) {
  if (n.needed.cells <= d.goal.size() && n.supplied.cells >= n.to_fill) return "";
  if (d.all_used() && d.may_stay_empty.empty())
    return fmt::format(
        "the goal has {} cells, the pieces have {} in all: they cannot fill it. Correct the copies, the "
        "pieces or the goal.",
        d.goal.size(), n.supplied.cells);
  if (n.needed.cells > d.goal.size())
    return fmt::format(
        "the pieces that must be used have {} cells and the goal has {}, so make more of them optional, "
        "or make the goal larger.",
        n.needed.cells, d.goal.size());
  return fmt::format(
      "{} cells must be filled and all supplied pieces together have {}, so supply more pieces, or let "
      "more cells stay empty.",
      n.to_fill, n.supplied.cells);
}

}  // namespace

void check_fit(const Design& d, const Table& at) {
  const Counts n = counts_of(d);
  if (const auto say = too_large(d, n); !say.empty()) return at.report(at.place(), "too_large", say);
  if (const auto say = wrong_count(d, n); !say.empty()) return at.report("pieces", "wrong_count", say);
  if (const auto say = wrong_volume(d, n); !say.empty() && !d.draft) return at.report(at.place(), "wrong_volume", say);
  if (!connected(*d.family, d.goal))
    at.report(at.place(), "piece_in_parts",
              "the goal is not in one part: some of its cells share no face with the rest.");
}

std::string unfilled_in_words(const Design& d) {
  const Counts n = counts_of(d);
  const auto cells = [](std::size_t k) { return fmt::format("{} {}", k, k == 1 ? "cell" : "cells"); };
  if (n.needed.cells > d.goal.size())
    return fmt::format("the pieces have {} more than the goal", cells(n.needed.cells - d.goal.size()));
  if (n.supplied.cells < n.to_fill)
    return fmt::format("{} of the goal {} not filled yet", cells(n.to_fill - n.supplied.cells),
                       n.to_fill - n.supplied.cells == 1 ? "is" : "are");
  if (d.pieces_used && static_cast<std::size_t>(*d.pieces_used) > n.supplied.pieces)
    return fmt::format("{} of the {} pieces that the goal asks for are there", n.supplied.pieces, *d.pieces_used);
  return "";
}

}  // namespace stickwright

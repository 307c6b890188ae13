// Every fixed shape is met once, by Redelmeier's walk, and its symmetries are counted on the spot; nothing is stored.
//
// The walk: a shape has one least cell, which a shift brings home. So for every home cell it grows the connected sets
// in which that cell is the least; a cell once passed over stays out, so no set comes twice.
//
// The symmetries: by Burnside's lemma the number of shapes up to a group is the mean, over the group, of the number of
// fixed shapes that an element keeps. That is the number of pairs (fixed shape, element that keeps it up to a shift),
// divided by the order of the group. One walk so gives all three counts. It takes no canonical forms, which makes it
// independent of the program's own shapes, and no memory, where sets of canonical shapes outgrow every cache.
//
// An element that keeps a shape up to a shift keeps the sum over the cells of (key - least key), where a key is a
// cell's name packed into one number. Few other elements do, so this quick test leaves little to look at closely. The
// sums and the least keys for all 48 elements grow with the shape, cell by cell, side by side.
#include "support/shape_counts.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <limits>
#include <map>
#include <stdexcept>

#include "support/family_cells.h"

namespace stickwright {
namespace {

constexpr int kTurns = 48, kRotations = 24;

template <typename T>
using PerTurn = std::array<T, kTurns>;

PerTurn<Turn> turns_of(const Family& family) {
  if (family.rotations().size() != kRotations || family.reflections().size() != kTurns - kRotations)
    throw std::logic_error("shapes are counted only for families with all symmetries of the cube");
  PerTurn<Turn> turns;
  std::copy(family.rotations().begin(), family.rotations().end(), turns.begin());  // the identity first
  std::copy(family.reflections().begin(), family.reflections().end(), turns.begin() + kRotations);
  return turns;
}

// The cells that a shape of at most so many cells can hold when `root` is its least; the root comes first.
struct Region {
  std::vector<Cell> cells;
  std::vector<std::vector<int>> neighbors;  // indices of cells
};

Region region_above(const Family& family, Cell root, int most) {
  Region region;
  std::map<Cell, int> index;
  const auto add = [&](Cell c) {
    if (index.try_emplace(c, static_cast<int>(region.cells.size())).second) region.cells.push_back(c);
  };
  add(root);
  std::size_t done = 0;
  for (int step = 1; step < most; ++step)
    for (const std::size_t end = region.cells.size(); done < end; ++done)
      for (Cell n : family.neighbors(region.cells[done]))
        if (root < n) add(n);
  for (Cell c : region.cells) {
    std::vector<int>& near = region.neighbors.emplace_back();
    for (Cell n : family.neighbors(c))
      if (const auto at = index.find(n); at != index.end()) near.push_back(at->second);
  }
  return region;
}

// Packs names into numbers: sums and differences of names keep their order and stay distinct.
class Packing {
 public:
  Packing(const std::vector<PerTurn<Cell>>& names, int most) {
    std::int64_t reach = 0;
    for (const auto& images : names)
      for (Cell c : images) reach = std::max({reach, std::abs(c.x), std::abs(c.y), std::abs(c.z)});
    stride_ = 4 * reach + 1;
    if (2 * most * stride_ * stride_ * stride_ > std::numeric_limits<std::int32_t>::max())
      throw std::logic_error("too many cells: the sums of packed names overflow");
  }
  std::int32_t operator()(Vec v) const { return static_cast<std::int32_t>((v.x * stride_ + v.y) * stride_ + v.z); }

 private:
  std::int64_t stride_;
};

class Walk {
 public:
  Walk(const Family& family, Cell root, int most)
      : most_(most), region_(region_above(family, root, most)), seen_(region_.cells.size()), grown_(most + 1) {
    const PerTurn<Turn> turns = turns_of(family);
    const std::vector<Cell> homes = home_cells(family);
    std::vector<PerTurn<Cell>> names(region_.cells.size());
    for (std::size_t c = 0; c < names.size(); ++c)
      for (int t = 0; t < kTurns; ++t) names[c][t] = family.moved({turns[t], {}}, region_.cells[c]);
    const Packing key(names, most);
    for (const auto& images : names) {
      auto& keys = keys_.emplace_back();
      auto& homes_of_images = homes_.emplace_back();
      for (int t = 0; t < kTurns; ++t) {
        keys[t] = key(images[t]);
        const auto at = std::find(homes.begin(), homes.end(), home_of(family, images[t]));
        homes_of_images[t] = static_cast<int>(at - homes.begin());
      }
    }
    grown_[0].least.fill(std::numeric_limits<std::int32_t>::max());
  }

  // Adds up, for each number of cells, the shapes and the pairs (shape, element that keeps it).
  struct Sums {
    std::int64_t shapes = 0, kept_by_rotations = 0, kept = 0;
  };
  void add_to(std::vector<Sums>* sums) {
    sums_ = sums;
    untried_ = {0};
    seen_[0] = true;
    grow(0, 0);
  }

 private:
  // For each element: the least key and the sum of keys of the shape's image.
  struct Grown {
    PerTurn<std::int32_t> least{}, sum{};
  };

  // Grows the shape, which has `size` cells, by every choice of the untried cells from `first` on.
  void grow(std::size_t first, int size) {
    const std::size_t end = untried_.size();
    for (std::size_t i = first; i < end; ++i) {
      put(untried_[i], size);
      tell(size + 1);
      if (size + 1 == most_) continue;
      for (int n : region_.neighbors[shape_[size]])
        if (!seen_[n]) seen_[n] = true, untried_.push_back(n);
      grow(i + 1, size + 1);
      for (; untried_.size() > end; untried_.pop_back()) seen_[untried_.back()] = false;
    }
  }

  void put(int cell, int size) {
    shape_[size] = cell;
    const Grown& before = grown_[size];
    Grown& after = grown_[size + 1];
    const PerTurn<std::int32_t>& keys = keys_[cell];
    for (int t = 0; t < kTurns; ++t) {
      after.least[t] = std::min(before.least[t], keys[t]);
      after.sum[t] = before.sum[t] + keys[t];
    }
  }

  void tell(int size) {
    const Grown& now = grown_[size];
    Sums& sums = (*sums_)[size - 1];
    PerTurn<std::int32_t> spread;
    for (int t = 0; t < kTurns; ++t) spread[t] = now.sum[t] - size * now.least[t];
    int alike = 0;
    for (int t = 0; t < kTurns; ++t) alike += spread[t] == spread[0];
    ++sums.shapes, ++sums.kept_by_rotations, ++sums.kept;  // by the identity
    for (int t = 1; alike > 1 && t < kTurns; ++t)
      if (spread[t] == spread[0] && keeps(t, size)) sums.kept_by_rotations += t < kRotations, ++sums.kept;
  }

  // Whether a shift takes the image to the shape. It can only be the one that takes the least cell to the least.
  bool keeps(int turn, int size) const {
    const auto shape_end = shape_.begin() + size;
    const std::int32_t least = grown_[size].least[turn], shift = grown_[size].least[0] - least;
    return std::all_of(shape_.begin(), shape_end, [&](int cell) {
      if (keys_[cell][turn] == least && homes_[cell][turn] != homes_[shape_[0]][0]) return false;  // not a shift
      return std::any_of(shape_.begin(), shape_end,
                         [&](int other) { return keys_[other][0] == keys_[cell][turn] + shift; });
    });
  }

  int most_;
  Region region_;
  std::vector<PerTurn<std::int32_t>> keys_;  // of each cell's images
  std::vector<PerTurn<int>> homes_;          // their translation classes
  std::vector<char> seen_;                   // in the shape, untried or passed over
  std::vector<int> untried_;
  std::vector<Grown> grown_;  // by number of cells
  std::vector<int> shape_ = std::vector<int>(most_);
  std::vector<Sums>* sums_ = nullptr;
};

// A number of pairs that is no multiple of the group's order would refute Burnside's lemma, or this program.
std::int64_t orbits(std::int64_t pairs, int order) {
  if (pairs % order != 0) throw std::logic_error("the symmetries kept do not make up whole shapes");
  return pairs / order;
}

}  // namespace

std::vector<ShapeCounts> count_shapes(const Family& family, int most) {
  std::vector<Walk::Sums> sums(most);
  for (Cell root : home_cells(family)) Walk(family, root, most).add_to(&sums);
  std::vector<ShapeCounts> counts;
  for (const Walk::Sums& s : sums)
    counts.push_back({s.shapes, orbits(s.kept_by_rotations, kRotations), orbits(s.kept, kTurns)});
  return counts;
}

}  // namespace stickwright

// cover_tables.h - a cover problem laid out for the search: every option as one set of bits.
#pragma once
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <vector>

#include "assembly/bits.h"
#include "assembly/cover.h"

namespace stickwright {

// Bits 0 to cells - 1 are the cells; after them one bit for each supply that can run out.
template <int W>
struct CoverTables {
  const CoverProblem* problem = nullptr;
  std::vector<Bits<W>> option;      // its cells, and the bit of its supply
  std::vector<Bits<W>> supply_bit;  // by supply; empty where there are always enough
  std::vector<int> size;            // by supply: cells of one option
  Bits<W> wanted;                   // what a cover has to fill: cells, and pieces of which exactly one is used
  Bits<W> cells, spare_cells;       // all cells; those that may stay empty
  std::vector<Bits<W>> neighbors;   // by cell; empty when not given
  Bits<W> dark;               // every other cell, like the dark fields of a board; empty when there is no such pattern
  std::vector<int> tilt;      // by supply: the most by which dark and light cells of one option differ
  bool exact_volume = false;  // every piece is used and every cell is filled
  bool simple = false;        // all that a cover asks for is in `wanted`

  explicit CoverTables(const CoverProblem& p) : problem(&p), size(p.supplies.size()) {
    for (const CoverOption& o : p.options) size[o.supply] = static_cast<int>(o.cells.size());
    lay_cells(p);
    lay_supplies(p);
    for (const CoverOption& o : p.options) {
      Bits<W> bits = supply_bit[o.supply];
      for (int c : o.cells) bits.set(c);
      option.push_back(bits);
    }
    lay_neighbors(p);
    lay_pattern(p);
  }

 private:
  void lay_cells(const CoverProblem& p) {
    for (int c = 0; c < p.cells; ++c) {
      cells.set(c);
      if (!p.may_stay_empty.empty() && p.may_stay_empty[c]) spare_cells.set(c);
    }
    wanted = cells - spare_cells;
  }
  void lay_supplies(const CoverProblem& p) {
    std::int64_t least = 0, most = 0;
    int bit = p.cells;
    bool each_in_wanted = true;
    for (std::size_t s = 0; s < p.supplies.size(); ++s) {
      const CoverSupply& supply = p.supplies[s];
      least += std::int64_t{supply.at_least} * size[s];
      most += std::int64_t{supply.at_most} * size[s];
      supply_bit.emplace_back();
      if (!can_run_out(p, supply, size[s])) {
        each_in_wanted &= supply.at_least == 0;
        continue;
      }
      supply_bit.back().set(bit);
      if (supply.at_least == 1 && supply.at_most == 1)
        wanted.set(bit);
      else
        each_in_wanted &= supply.at_least == 0;
      ++bit;
    }
    exact_volume = least == p.cells && most == p.cells && spare_cells.empty();
    simple = !p.chosen_in_all && spare_cells.empty() && (each_in_wanted || exact_volume);
  }
  void lay_neighbors(const CoverProblem& p) {
    for (const auto& list : p.neighbors) {
      neighbors.emplace_back();
      for (int c : list) neighbors.back().set(c);
    }
  }

  // Colors the cells so that neighbors differ, if that can be done.
  void lay_pattern(const CoverProblem& p) {
    tilt.assign(p.supplies.size(), 0);
    std::vector<int> color(p.neighbors.size(), -1);
    for (int start = 0; start < static_cast<int>(color.size()); ++start) {
      if (color[start] >= 0) continue;
      color[start] = 0;
      for (std::vector<int> open = {start}; !open.empty();) {
        const int c = open.back();
        open.pop_back();
        for (int n : p.neighbors[c]) {
          if (color[n] == color[c]) return;
          if (color[n] < 0) color[n] = 1 - color[c], open.push_back(n);
        }
      }
    }
    for (std::size_t c = 0; c < color.size(); ++c)
      if (color[c] == 1) dark.set(static_cast<int>(c));
    for (std::size_t o = 0; o < p.options.size(); ++o) {
      const int of_dark = (option[o] & dark).count(), all = static_cast<int>(p.options[o].cells.size());
      int& most = tilt[p.options[o].supply];
      most = std::max(most, std::abs(2 * of_dark - all));
    }
  }

 public:
  // More of a supply than there is room for need not be counted down.
  static bool can_run_out(const CoverProblem& p, const CoverSupply& supply, int size) {
    const int room = size == 0 ? 0 : p.cells / size;
    return (supply.at_least == 1 && supply.at_most == 1) ||
           supply.at_most < std::min(room, p.chosen_in_all.value_or(room));
  }
};

// How many bits the tables of a problem need.
inline int bits_needed(const CoverProblem& p) {
  std::vector<int> size(p.supplies.size());
  for (const CoverOption& o : p.options) size[o.supply] = static_cast<int>(o.cells.size());
  int n = p.cells;
  for (std::size_t s = 0; s < size.size(); ++s) n += CoverTables<1>::can_run_out(p, p.supplies[s], size[s]);
  return n;
}

}  // namespace stickwright

// model.h - the sorting problem with equal items merged, and the cuts that are known. Inside this room only.
#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "sorting/sorting.h"

namespace stickwright {

// Items of a kind with the same deviations: interchangeable.
struct ItemClass {
  int kind = 0;
  std::vector<double> off;
  std::vector<int> items;  // ascending
  int count() const { return static_cast<int>(items.size()); }
};

using Filled = std::vector<int>;          // the class in each place of one puzzle
using FilledBatch = std::vector<Filled>;  // by puzzle

struct SortModel {
  const SortProblem& problem;
  std::vector<ItemClass> classes;           // by kind, then by deviations
  std::map<int, std::vector<int>> of_kind;  // classes, ascending
  std::vector<int> design_of;               // by puzzle

  explicit SortModel(const SortProblem& p);
  const SortDesign& design(std::size_t d) const { return problem.designs[d]; }
  const std::vector<int>& classes_for(const SortPlace& place) const { return of_kind.at(place.kind); }
  std::size_t puzzles() const { return design_of.size(); }
};

// Asks the oracles, and keeps what they said: a cut of one puzzle holds for all puzzles of its design.
class KnownPlays {
 public:
  explicit KnownPlays(const SortModel& model);

  double play(std::size_t design, const Filled& filled);  // by the oracle
  double play_at(std::size_t design, const std::vector<std::vector<double>>& off);
  double most(std::size_t design, const Filled& filled) const;  // by the known cuts: not below the play

  std::size_t cuts(std::size_t design) const { return known_[design].cut.size(); }
  double constant(std::size_t design, std::size_t cut) const { return known_[design].cut[cut].constant; }
  // What an item of the class adds in that place: [cut].
  const std::vector<double>& adds(std::size_t design, std::size_t place, int item_class) const {
    return known_[design].adds[place][static_cast<std::size_t>(item_class)];
  }
  double largest() const { return largest_; }  // of constants and of what items add, by absolute value

  const std::optional<Problem>& problem() const { return problem_; }  // once there, nothing is asked any more
  std::int64_t calls() const { return calls_; }

 private:
  struct Known {
    std::vector<PlayCut> cut;
    std::vector<std::vector<std::vector<double>>> adds;  // [place][class][cut]
    std::map<Filled, double> played;
  };
  bool is_sound(const SortDesign& design, const PlayCut& cut) const;
  void keep(std::size_t design, PlayCut cut);

  const SortModel& model_;
  std::vector<Known> known_;
  std::optional<Problem> problem_;
  double largest_ = 0;
  std::int64_t calls_ = 0;
};

}  // namespace stickwright

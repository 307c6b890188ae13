// random_walk.h - designs that come apart only in several moves, or rattle and stay together, are rare among random
// cuts: a walk from design to design, a few cells at a time, that keeps what is harder.
#pragma once
#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "family/family.h"
#include "support/plain_search.h"

namespace stickwright::known {

// Pieces grow like snakes, from their last cells, so that they hold on to each other.
inline std::vector<Cells> cut_in_snakes(const Family& family, Cells goal, int pieces, std::mt19937& rng) {
  std::shuffle(goal.begin(), goal.end(), rng);
  std::set<Cell> left(goal.begin() + pieces, goal.end());
  std::vector<Cells> out;
  for (int i = 0; i < pieces; ++i) out.push_back({goal[i]});
  const auto grow = [&](Cells& piece) {
    for (auto c = piece.rbegin(); c != piece.rend(); ++c) {
      Cells next = family.neighbors(*c);
      std::erase_if(next, [&](Cell n) { return !left.contains(n); });
      if (next.empty()) continue;
      const Cell chosen = next[rng() % next.size()];
      left.erase(chosen);
      piece.push_back(chosen);
      return true;
    }
    return false;
  };
  for (bool grew = true; grew;) {
    grew = false;
    for (Cells& piece : out) grew |= grow(piece);
  }
  for (Cells& piece : out) std::sort(piece.begin(), piece.end());
  return out;
}

class RandomWalk {
 public:
  RandomWalk(const Family& family, Cells goal, std::vector<Cells> start, unsigned seed)
      : family_(family), goal_(std::move(goal)), now_(start), tried_(std::move(start)), rng_(seed) {}

  const std::vector<Cells>& pieces() const { return tried_; }

  // Goes on from this design, or from the one before it, and makes the next.
  void next(const plain::Answer& answer) {
    const double score = score_of(answer);
    if (score >= score_ || rng_() % 20 == 0) now_ = tried_, score_ = score;
    do {
      tried_ = now_;
      for (std::uint32_t changes = 1 + rng_() % 4; changes > 0; --changes) change_a_cell();
    } while (tried_ == now_ || !sound());
  }

 private:
  static double score_of(const plain::Answer& a) {
    if (a.first > 1) return a.first;
    if (a.first == 1) return 1.0 / (1 + a.ways_out);
    return a.positions == 1 ? 0.3 : 1.5 + 0.1 * std::log(a.positions);
  }
  // It goes to another piece, or to none.
  void change_a_cell() {
    const Cell c = goal_[rng_() % goal_.size()];
    for (Cells& piece : tried_) std::erase(piece, c);
    const std::size_t to = rng_() % (tried_.size() + 1);
    if (to == tried_.size()) return;
    tried_[to].push_back(c);
    std::sort(tried_[to].begin(), tried_[to].end());
  }
  bool sound() const {
    return std::all_of(tried_.begin(), tried_.end(),
                       [&](const Cells& piece) { return !piece.empty() && connected(family_, piece); });
  }

  const Family& family_;
  Cells goal_;
  std::vector<Cells> now_, tried_;
  std::mt19937 rng_;
  double score_ = -1;
};

}  // namespace stickwright::known

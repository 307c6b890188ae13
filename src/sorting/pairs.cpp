#include <algorithm>
#include <limits>
#include <queue>

#include "sorting/bounds.h"

namespace stickwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

std::vector<int> one_by_one(const SortModel& model, const SortPlace& place) {
  std::vector<int> items;
  for (int c : model.classes_for(place))
    items.insert(items.end(), static_cast<std::size_t>(model.classes[static_cast<std::size_t>(c)].count()), c);
  return items;
}

// Hopcroft and Karp: shortest augmenting paths, many at a time.
class Matching {
 public:
  Matching(std::size_t left, std::size_t right, const std::vector<double>& weight, double threshold)
      : right_(right), weight_(weight), threshold_(threshold), of_left_(left, -1), of_right_(right, -1), level_(left) {
    while (find_levels())
      for (std::size_t l = 0; l < left; ++l)
        if (of_left_[l] < 0 && augment(l)) ++size_;
  }
  std::size_t size() const { return size_; }
  const std::vector<int>& of_left() const { return of_left_; }

 private:
  bool joined(std::size_t l, std::size_t r) const { return weight_[l * right_ + r] >= threshold_; }

  bool find_levels() {
    std::queue<std::size_t> next;
    for (std::size_t l = 0; l < level_.size(); ++l) {
      level_[l] = of_left_[l] < 0 ? 0 : -1;
      if (level_[l] == 0) next.push(l);
    }
    bool is_open = false;
    for (; !next.empty(); next.pop()) {
      const std::size_t l = next.front();
      for (std::size_t r = 0; r < right_; ++r) {
        if (!joined(l, r)) continue;
        if (of_right_[r] < 0) {
          is_open = true;
        } else if (const auto back = static_cast<std::size_t>(of_right_[r]); level_[back] < 0) {
          level_[back] = level_[l] + 1;
          next.push(back);
        }
      }
    }
    return is_open;
  }

  bool augment(std::size_t l) {
    for (std::size_t r = 0; r < right_; ++r) {
      if (!joined(l, r)) continue;
      const int back = of_right_[r];
      if (back >= 0 &&
          (level_[static_cast<std::size_t>(back)] != level_[l] + 1 || !augment(static_cast<std::size_t>(back))))
        continue;
      of_left_[l] = static_cast<int>(r);
      of_right_[r] = static_cast<int>(l);
      return true;
    }
    level_[l] = -1;  // nothing further this way
    return false;
  }

  std::size_t right_;
  const std::vector<double>& weight_;
  double threshold_;
  std::vector<int> of_left_, of_right_, level_;
  std::size_t size_ = 0;
};

}  // namespace

bool PairMatching::takes(const SortModel& model, std::size_t most_pairs) {
  if (model.problem.designs.size() != 1) return false;
  const std::vector<SortPlace>& places = model.design(0).places;
  return places.size() == 2 && places[0].kind != places[1].kind &&
         one_by_one(model, places[0]).size() * one_by_one(model, places[1]).size() <= most_pairs;
}

PairMatching::PairMatching(const SortModel& model, KnownPlays& plays)
    : model_(model),
      plays_(plays),
      left_(one_by_one(model, model.design(0).places[0])),
      right_(one_by_one(model, model.design(0).places[1])),
      most_(left_.size() * right_.size(), kInfinite) {}

void PairMatching::learn() {
  for (; read_ < plays_.cuts(0); ++read_)
    for (std::size_t l = 0; l < left_.size(); ++l)
      for (std::size_t r = 0; r < right_.size(); ++r) {
        double& most = most_[l * right_.size() + r];
        most = std::min(
            most, plays_.constant(0, read_) + plays_.adds(0, 0, left_[l])[read_] + plays_.adds(0, 1, right_[r])[read_]);
      }
}

bool PairMatching::matches(double threshold) {
  const Matching m(left_.size(), right_.size(), most_, threshold);
  if (m.size() < model_.puzzles()) return false;
  partner_ = m.of_left();
  return true;
}

SeemingBest PairMatching::next() {
  learn();
  std::vector<double> steps = most_;
  std::sort(steps.begin(), steps.end());
  steps.erase(std::unique(steps.begin(), steps.end()), steps.end());
  std::size_t low = 0, high = steps.size();  // every pair will do for the first
  while (high - low > 1) {
    const std::size_t middle = (low + high) / 2;
    (matches(steps[middle]) ? low : high) = middle;
  }
  SeemingBest best;
  if (!matches(steps[low])) return {{}, kInfinite, 0};
  best.most = steps[low];
  for (std::size_t l = 0; l < left_.size() && best.filled.size() < model_.puzzles(); ++l) {
    if (partner_[l] < 0) continue;
    const auto r = static_cast<std::size_t>(partner_[l]);
    best.filled.push_back({left_[l], right_[r]});
    most_[l * right_.size() + r] = std::min(most_[l * right_.size() + r], plays_.play(0, best.filled.back()));
  }
  return best;
}

}  // namespace stickwright

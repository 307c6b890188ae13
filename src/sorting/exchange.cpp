#include "sorting/exchange.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

namespace stickwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr int kTrials = 200;       // exchanges that tell how warm to begin
constexpr double kCoolest = 1e-5;  // of the first temperature
constexpr double kGain = 1e-12;    // mm: less is rounding
constexpr int kShelf = -1;

// Where an item is: a place of a puzzle, or the shelf.
struct Slot {
  int puzzle;
  std::size_t place;
  int item_class;
};

class Exchanger {
 public:
  Exchanger(const SortModel& model, const KnownPlays& plays, const FilledBatch& start, const ExchangeLimits& limits)
      : model_(model), plays_(plays), target_(limits.target), random_(limits.seed) {
    lay_out(start);
    recompute();
  }

  void cool(std::int64_t moves, double share_of_change) {
    if (open_kinds_.empty()) return;
    double warm = 0;
    for (int i = 0; i < kTrials; ++i)
      if (const auto [a, b] = draw(); a != b) warm += std::abs(change(a, b)) / kTrials;
    warm *= share_of_change;
    if (!(warm > 0)) return;
    const double step = std::pow(kCoolest, 1.0 / static_cast<double>(std::max<std::int64_t>(1, moves)));
    for (std::int64_t i = 0; i < moves; ++i, warm *= step) {
      const auto [a, b] = draw();
      if (slots_[a].item_class == slots_[b].item_class) continue;
      const double c = change(a, b);
      if (c <= 0 || share() < std::exp(-c / warm)) take(a, b);
    }
    recompute();
  }

  // Any exchange of a worst puzzle that leaves both puzzles better than it was.
  void climb(std::int64_t moves) {
    for (bool better = true; better && moves > 0;) {
      better = false;
      const auto worst = static_cast<int>(std::min_element(least_.begin(), least_.end()) - least_.begin());
      for (std::size_t a = 0; a < slots_.size() && !better; ++a) {
        if (slots_[a].puzzle != worst) continue;
        for (std::size_t b : of_kind_[kind_[a]]) {
          if (slots_[b].item_class == slots_[a].item_class) continue;
          --moves;
          change(a, b);
          if (std::min(least_now(0), least_now(1)) <= least_[static_cast<std::size_t>(worst)] + kGain) continue;
          take(a, b);
          better = true;
          break;
        }
      }
    }
  }

  FilledBatch filled() const {
    FilledBatch batch(model_.puzzles());
    for (const Slot& s : slots_)
      if (s.puzzle != kShelf) batch[static_cast<std::size_t>(s.puzzle)].push_back(s.item_class);
    return batch;
  }

 private:
  // Slots puzzle by puzzle, place by place; then the shelf.
  void lay_out(const FilledBatch& start) {
    std::vector<int> left;
    for (const ItemClass& c : model_.classes) left.push_back(c.count());
    for (std::size_t k = 0; k < start.size(); ++k)
      for (std::size_t p = 0; p < start[k].size(); ++p) {
        slots_.push_back({static_cast<int>(k), p, start[k][p]});
        --left[static_cast<std::size_t>(start[k][p])];
      }
    for (std::size_t c = 0; c < left.size(); ++c)
      for (int n = 0; n < left[c]; ++n) slots_.push_back({kShelf, 0, static_cast<int>(c)});
    std::map<int, std::size_t> index;
    for (std::size_t s = 0; s < slots_.size(); ++s) {
      const int kind = model_.classes[static_cast<std::size_t>(slots_[s].item_class)].kind;
      const auto [at, is_new] = index.try_emplace(kind, of_kind_.size());
      if (is_new) of_kind_.emplace_back();
      of_kind_[at->second].push_back(s);
      kind_.push_back(at->second);
    }
    for (std::size_t s = 0; s < slots_.size(); ++s)
      if (slots_[s].puzzle != kShelf && of_kind_[kind_[s]].size() > 1) open_kinds_.push_back(s);
  }

  std::size_t design(int puzzle) const {
    return static_cast<std::size_t>(model_.design_of[static_cast<std::size_t>(puzzle)]);
  }

  void recompute() {
    value_.assign(model_.puzzles(), {});
    for (std::size_t k = 0; k < value_.size(); ++k)
      for (std::size_t j = 0; j < plays_.cuts(design(static_cast<int>(k))); ++j)
        value_[k].push_back(plays_.constant(design(static_cast<int>(k)), j));
    for (const Slot& s : slots_)
      if (s.puzzle != kShelf) add(value_[static_cast<std::size_t>(s.puzzle)], s, s.item_class, 1);
    short_.clear(), least_.clear();
    for (const auto& v : value_) {
      short_.push_back(shortfall(v));
      least_.push_back(*std::min_element(v.begin(), v.end()));
    }
  }

  void add(std::vector<double>& value, const Slot& at, int item_class, double sign) const {
    const std::vector<double>& adds = plays_.adds(design(at.puzzle), at.place, item_class);
    for (std::size_t j = 0; j < value.size(); ++j) value[j] += sign * adds[j];
  }

  // The fourth power: the worst cuts of the worst puzzles count most, but the others say where to go.
  double shortfall(const std::vector<double>& value) const {
    double sum = 0;
    for (double v : value) {
      const double s = std::max(0.0, target_ - v), square = s * s;
      sum += square * square;
    }
    return sum;
  }

  std::uint64_t below(std::uint64_t n) { return random_() % n; }
  double share() { return static_cast<double>(random_() >> 11) * 0x1p-53; }

  std::pair<std::size_t, std::size_t> draw() {
    const std::size_t a = open_kinds_[below(open_kinds_.size())];
    const std::vector<std::size_t>& others = of_kind_[kind_[a]];
    return {a, others[below(others.size())]};
  }

  // What the exchange adds to the sum of shortfalls. The values are kept in now_ until the next question.
  double change(std::size_t a, std::size_t b) {
    const Slot &s = slots_[a], &t = slots_[b];
    touched_[0] = s.puzzle, touched_[1] = t.puzzle == s.puzzle ? kShelf : t.puzzle;
    double sum = 0;
    for (int i : {0, 1}) {
      if (touched_[i] == kShelf) continue;
      now_[i] = value_[static_cast<std::size_t>(touched_[i])];
      for (const auto& [out, in] : {std::pair{&s, &t}, std::pair{&t, &s}})
        if (out->puzzle == touched_[i]) {
          add(now_[i], *out, out->item_class, -1);
          add(now_[i], *out, in->item_class, 1);
        }
      short_now_[i] = shortfall(now_[i]);
      sum += short_now_[i] - short_[static_cast<std::size_t>(touched_[i])];
    }
    return sum;
  }

  double least_now(int i) const {
    return touched_[i] == kShelf ? kInfinite : *std::min_element(now_[i].begin(), now_[i].end());
  }

  // Right after change(a, b).
  void take(std::size_t a, std::size_t b) {
    std::swap(slots_[a].item_class, slots_[b].item_class);
    for (int i : {0, 1}) {
      if (touched_[i] == kShelf) continue;
      const auto k = static_cast<std::size_t>(touched_[i]);
      short_[k] = short_now_[i];
      least_[k] = least_now(i);
      value_[k].swap(now_[i]);
    }
  }

  const SortModel& model_;
  const KnownPlays& plays_;
  double target_;
  std::mt19937_64 random_;
  std::vector<Slot> slots_;
  std::vector<std::vector<std::size_t>> of_kind_;  // slots, by kind in order of appearance
  std::vector<std::size_t> kind_, open_kinds_;     // of each slot; slots of puzzles with something to exchange
  std::vector<std::vector<double>> value_;         // [puzzle][cut]
  std::vector<double> short_, least_;              // by puzzle
  std::vector<double> now_[2];
  double short_now_[2] = {0, 0};
  int touched_[2] = {kShelf, kShelf};
};

}  // namespace

FilledBatch deal(const SortModel& model) {
  std::map<int, std::vector<int>> stack;
  for (const auto& [kind, classes] : model.of_kind)
    for (int c : classes)
      stack[kind].insert(stack[kind].end(),
                         static_cast<std::size_t>(model.classes[static_cast<std::size_t>(c)].count()), c);
  std::map<int, std::size_t> dealt;
  FilledBatch batch(model.puzzles());
  for (std::size_t k = 0; k < batch.size(); ++k)
    batch[k].resize(model.design(static_cast<std::size_t>(model.design_of[k])).places.size());
  for (std::size_t p = 0, more = 1; more > 0; ++p) {
    more = 0;
    for (std::size_t k = 0; k < batch.size(); ++k) {
      if (p >= batch[k].size()) continue;
      const int kind = model.design(static_cast<std::size_t>(model.design_of[k])).places[p].kind;
      batch[k][p] = stack[kind][dealt[kind]++];
      ++more;
    }
  }
  return batch;
}

FilledBatch exchange(const SortModel& model, const KnownPlays& plays, const FilledBatch& start,
                     const ExchangeLimits& limits) {
  Exchanger e(model, plays, start, limits);
  e.cool(limits.moves, limits.warm);
  e.climb(limits.moves);
  return e.filled();
}

}  // namespace stickwright

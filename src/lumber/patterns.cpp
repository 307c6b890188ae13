#include "lumber/patterns.h"

#include <Cbc_C_Interface.h>
#include <Clp_C_Interface.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>

#include "solver/quiet.h"

namespace stickwright {
namespace {

constexpr std::size_t kStepsPerPattern = 40;   // a walk longer than this a pattern is given up
constexpr std::int64_t kPriceScale = 1 << 24;  // one stick, in whole units of price
constexpr std::int64_t kPriceSlack = 16;       // gains below this are rounding
constexpr double kNoPattern = 1000;            // in sticks, for a part that no pattern cuts
constexpr int kPricingRounds = 400;
constexpr std::size_t kMostWays = 2'000'000;  // to fill one stick, before a filling is only bounded

__extension__ using Wide = __int128;  // worth times length

class PatternWalk {
 public:
  PatternWalk(const std::vector<Size>& sizes, std::size_t stock, std::size_t most, std::vector<Pattern>& out)
      : sizes_(sizes), stock_(stock), most_(most), out_(out), counts_(sizes.size()), rest_(sizes.size() + 1) {
    for (std::size_t i = sizes.size(); i-- > 0;) rest_[i] = rest_[i + 1] + sizes[i].demand * sizes[i].length;
  }

  // `shortest_left`: the shortest size of which more could be cut; the room that stays must be less.
  bool fill(std::size_t size, std::int64_t room, std::int64_t shortest_left) {
    if (++steps_ > most_ * kStepsPerPattern) return false;
    if (room - rest_[size] >= shortest_left) return true;  // cannot become maximal any more
    if (size == sizes_.size()) return keep();
    const Size& s = sizes_[size];
    const int fit = static_cast<int>(std::min<std::int64_t>(s.demand, room / s.length));
    for (int n = fit; n >= 0; --n) {
      counts_[size] = n;
      if (!fill(size + 1, room - n * s.length, n < s.demand ? s.length : shortest_left)) return false;
    }
    counts_[size] = 0;
    return true;
  }

 private:
  bool keep() {
    if (out_.size() == most_) return false;
    out_.push_back({stock_, counts_});
    return true;
  }

  const std::vector<Size>& sizes_;
  std::size_t stock_, most_, steps_ = 0;
  std::vector<Pattern>& out_;
  std::vector<int> counts_;
  std::vector<std::int64_t> rest_;  // length of all parts from this size on
};

// One way to fill part of a stick: the way before it, and one part more.
struct Way {
  std::int64_t length = 0, worth = 0;
  std::size_t before = 0, size = 0;
};

// Part by part, keeping of all ways only those that no other beats in both length and worth. Many ways are equal in
// worth, so these fronts stay short where a depth-first search would have to try them all.
class FillingFronts {
 public:
  FillingFronts(const std::vector<Size>& sizes, const std::vector<std::int64_t>& worth, std::int64_t room)
      : sizes_(sizes), worth_(worth), room_(room), ways_(1), front_{0} {}

  Filling run() {
    bool complete = true;
    for (std::size_t i = 0; i < sizes_.size() && complete; ++i)
      for (std::int64_t n = std::min<std::int64_t>(sizes_[i].demand, room_ / sizes_[i].length);
           n > 0 && worth_[i] > 0 && complete; --n)
        complete = add_one(i);
    Filling f{std::vector<int>(sizes_.size()), ways_[front_.back()].worth, 0};
    for (std::size_t w = front_.back(); w != 0; w = ways_[w].before) ++f.counts[ways_[w].size];
    f.most = complete ? f.worth : ceiling();
    return f;
  }

 private:
  // Merges the front with itself shifted by one part; both ascend in length and in worth.
  bool add_one(std::size_t size) {
    if (ways_.size() + front_.size() > kMostWays) return false;
    std::vector<std::size_t> merged;
    std::size_t old = 0, shifted = 0;
    const auto keep = [&](std::size_t way) { merged.push_back(way); };
    const auto best = [&] { return merged.empty() ? -1 : ways_[merged.back()].worth; };
    while (old < front_.size() || shifted < front_.size()) {
      const Way more = shifted < front_.size() ? longer(front_[shifted], size) : Way{kNever, 0};
      if (old < front_.size() && ways_[front_[old]].length <= more.length) {
        if (ways_[front_[old]].worth > best()) keep(front_[old]);
        ++old;
      } else {
        if (more.length > room_) break;
        if (more.worth > best()) ways_.push_back(more), keep(ways_.size() - 1);
        ++shifted;
      }
    }
    front_ = std::move(merged);
    return true;
  }

  Way longer(std::size_t way, std::size_t size) const {
    return {ways_[way].length + sizes_[size].length, ways_[way].worth + worth_[size], way, size};
  }

  // Filling the room at the best rate of all.
  std::int64_t ceiling() const {
    std::int64_t most = 0;
    for (std::size_t i = 0; i < sizes_.size(); ++i)
      most = std::max(most, static_cast<std::int64_t>(Wide{worth_[i]} * room_ / sizes_[i].length));
    return most;
  }

  static constexpr std::int64_t kNever = std::numeric_limits<std::int64_t>::max();
  const std::vector<Size>& sizes_;
  const std::vector<std::int64_t>& worth_;
  std::int64_t room_;
  std::vector<Way> ways_;  // the first one is the empty stick
  std::vector<std::size_t> front_;
};

// A sparse matrix by columns, as the solvers take it. Rows: one a size, one a stock length, one for the number of
// sticks.
struct Columns {
  std::vector<int> start = {0}, row;
  std::vector<double> value;
  void entry(std::size_t r, double v) {
    if (v != 0) row.push_back(static_cast<int>(r)), value.push_back(v);
  }
  void end_column() { start.push_back(static_cast<int>(row.size())); }
};

Columns columns_of(std::size_t sizes, std::size_t stocks, const std::vector<Pattern>& patterns) {
  Columns c;
  for (const Pattern& p : patterns) {
    for (std::size_t i = 0; i < sizes; ++i) c.entry(i, p.counts[i]);
    c.entry(sizes + p.stock, 1);
    c.entry(sizes + stocks, 1);
    c.end_column();
  }
  return c;
}

struct RowBounds {
  std::vector<double> low, high;
};

RowBounds rows_of(const std::vector<Size>& sizes, const std::vector<Sticks>& rack, double most_sticks) {
  RowBounds rows;
  for (const Size& s : sizes) rows.low.push_back(s.demand), rows.high.push_back(1e9);
  for (const Sticks& s : rack) rows.low.push_back(0), rows.high.push_back(s.count);
  rows.low.push_back(0), rows.high.push_back(most_sticks);
  return rows;
}

struct FreeProgram {
  void operator()(Cbc_Model* m) const { Cbc_deleteModel(m); }
};
struct FreeRelaxation {
  void operator()(Clp_Simplex* m) const { Clp_deleteModel(m); }
};

// What a part of each size is worth, and what a stick of each length costs beyond one unit because there are few.
struct Prices {
  std::vector<std::int64_t> part, rent;
};

// From the linear relaxation over these patterns; a dear column of its own for each size keeps it feasible.
//   returns  empty when the solver gives up
Prices prices(const std::vector<Size>& sizes, const std::vector<Sticks>& rack, const std::vector<Pattern>& patterns) {
  Columns c = columns_of(sizes.size(), rack.size(), patterns);
  std::vector<double> cost(patterns.size(), 1);
  for (std::size_t i = 0; i < sizes.size(); ++i) c.entry(i, 1), c.end_column(), cost.push_back(kNoPattern);
  const std::vector<double> low(cost.size(), 0), high(cost.size(), 1e9);
  const RowBounds rows = rows_of(sizes, rack, 1e9);
  const Quiet quiet;
  const std::unique_ptr<Clp_Simplex, FreeRelaxation> m(Clp_newModel());
  Clp_setLogLevel(m.get(), 0);
  Clp_loadProblem(m.get(), static_cast<int>(cost.size()), static_cast<int>(rows.low.size()), c.start.data(),
                  c.row.data(), c.value.data(), low.data(), high.data(), cost.data(), rows.low.data(),
                  rows.high.data());
  if (Clp_dual(m.get(), 0) != 0) return {};
  const double* dual = Clp_dualRowSolution(m.get());
  const auto whole = [&](double price) {
    return static_cast<std::int64_t>(std::max(0.0, price) * static_cast<double>(kPriceScale));
  };
  Prices p;
  for (std::size_t i = 0; i < sizes.size(); ++i) p.part.push_back(whole(dual[i]));
  for (std::size_t s = 0; s < rack.size(); ++s) p.rent.push_back(whole(-dual[sizes.size() + s]));
  return p;
}

std::int64_t rounded_up(std::int64_t a, std::int64_t b) {
  return (a + b - 1) / b;
}

// Weak duality: a plan of n sticks sells all parts for `income`, and no stick of stock s for more than most[s]. So n
// sticks are at least income / max(most), and at least income less the surplus over one unit of all sticks that have
// one.
int bound_from(std::int64_t income, const std::vector<std::int64_t>& most, const std::vector<Sticks>& rack, int parts) {
  std::int64_t dearest = kPriceScale, surplus = 0;
  for (std::size_t s = 0; s < rack.size(); ++s) {
    dearest = std::max(dearest, most[s]);
    surplus += std::min(rack[s].count, parts) * std::max<std::int64_t>(0, most[s] - kPriceScale);
  }
  return static_cast<int>(
      std::max(rounded_up(income, dearest), rounded_up(std::max<std::int64_t>(0, income - surplus), kPriceScale)));
}

bool answers(const std::vector<Size>& sizes, const std::vector<Sticks>& rack, const std::vector<Pattern>& patterns,
             const std::vector<int>& times) {
  std::vector<std::int64_t> cut(sizes.size()), taken(rack.size());
  for (std::size_t j = 0; j < patterns.size(); ++j) {
    if (times[j] < 0) return false;
    taken[patterns[j].stock] += times[j];
    for (std::size_t i = 0; i < sizes.size(); ++i) cut[i] += std::int64_t{times[j]} * patterns[j].counts[i];
  }
  for (std::size_t i = 0; i < sizes.size(); ++i)
    if (cut[i] < sizes[i].demand) return false;
  for (std::size_t s = 0; s < rack.size(); ++s)
    if (taken[s] > rack[s].count) return false;
  return true;
}

}  // namespace

bool add_maximal_patterns(const std::vector<Size>& sizes, const std::vector<Sticks>& rack, std::size_t most,
                          std::vector<Pattern>& out) {
  for (std::size_t s = 0; s < rack.size(); ++s)
    if (!PatternWalk(sizes, s, most, out).fill(0, rack[s].room, std::numeric_limits<std::int64_t>::max())) return false;
  return true;
}

std::vector<Pattern> fit_one_by_one(const std::vector<Size>& sizes, const std::vector<Sticks>& rack, Fit fit) {
  const auto roomiest = [&](const std::vector<int>& left, std::int64_t length) {
    std::optional<std::size_t> best;
    for (std::size_t s = 0; s < rack.size(); ++s)
      if (left[s] > 0 && rack[s].room >= length && (!best || rack[s].room > rack[*best].room)) best = s;
    return best;
  };
  std::vector<int> left;
  for (const Sticks& s : rack) left.push_back(s.count);
  std::vector<Pattern> filled;
  std::vector<std::int64_t> room;
  for (std::size_t i = 0; i < sizes.size(); ++i)
    for (int n = 0; n < sizes[i].demand; ++n) {
      std::size_t best = filled.size();
      for (std::size_t b = 0; b < filled.size() && (best == filled.size() || fit == Fit::tightest); ++b)
        if (room[b] >= sizes[i].length && (best == filled.size() || room[b] < room[best])) best = b;
      if (best == filled.size()) {
        const auto stock = roomiest(left, sizes[i].length);
        if (!stock) return {};
        --left[*stock];
        filled.push_back({*stock, std::vector<int>(sizes.size())});
        room.push_back(rack[*stock].room);
      }
      room[best] -= sizes[i].length;
      ++filled[best].counts[i];
    }
  return filled;
}

Filling best_filling(const std::vector<Size>& sizes, const std::vector<std::int64_t>& worth, std::int64_t room) {
  return FillingFronts(sizes, worth, room).run();
}

PricedPatterns price_patterns(const std::vector<Size>& sizes, const std::vector<Sticks>& rack,
                              std::vector<Pattern> start) {
  PricedPatterns priced{std::move(start), 0};
  int parts = 0;
  for (const Size& s : sizes) parts += s.demand;
  for (int round = 0; round < kPricingRounds; ++round) {
    const Prices price = prices(sizes, rack, priced.patterns);
    if (price.part.empty()) return priced;
    std::int64_t income = 0;
    for (std::size_t i = 0; i < sizes.size(); ++i) income += price.part[i] * sizes[i].demand;
    std::vector<std::int64_t> most;
    const std::size_t known = priced.patterns.size();
    for (std::size_t s = 0; s < rack.size(); ++s) {
      Filling f = best_filling(sizes, price.part, rack[s].room);
      most.push_back(f.most);
      const auto same = [&](const Pattern& p) { return p.stock == s && p.counts == f.counts; };
      if (f.worth > kPriceScale + price.rent[s] + kPriceSlack &&
          std::none_of(priced.patterns.begin(), priced.patterns.end(), same))
        priced.patterns.push_back({s, std::move(f.counts)});
    }
    priced.bound = std::max(priced.bound, bound_from(income, most, rack, parts));
    if (priced.patterns.size() == known) break;
  }
  return priced;
}

PatternAnswer choose_patterns(const std::vector<Size>& sizes, const std::vector<Sticks>& rack,
                              const std::vector<Pattern>& patterns, std::optional<int> most_sticks,
                              const SolverLimits& limits) {
  const Columns c = columns_of(sizes.size(), rack.size(), patterns);
  const RowBounds rows = rows_of(sizes, rack, most_sticks ? *most_sticks : 1e9);
  std::vector<double> cost, low(patterns.size(), 0), high(patterns.size(), 1e6);
  for (const Pattern& p : patterns) cost.push_back(most_sticks ? rack[p.stock].length_mm : 1);
  const Quiet quiet;
  const std::unique_ptr<Cbc_Model, FreeProgram> m(Cbc_newModel());
  Cbc_loadProblem(m.get(), static_cast<int>(patterns.size()), static_cast<int>(rows.low.size()), c.start.data(),
                  c.row.data(), c.value.data(), low.data(), high.data(), cost.data(), rows.low.data(),
                  rows.high.data());
  for (std::size_t j = 0; j < patterns.size(); ++j) Cbc_setInteger(m.get(), static_cast<int>(j));
  Cbc_setParameter(m.get(), "logLevel", "0");
  Cbc_setParameter(m.get(), "maxNodes", std::to_string(limits.nodes).c_str());
  if (limits.seconds > 0) Cbc_setParameter(m.get(), "sec", std::to_string(limits.seconds).c_str());
  Cbc_solve(m.get());
  PatternAnswer answer;
  if (Cbc_isProvenInfeasible(m.get())) {
    answer.proven = true;
    return answer;
  }
  const double* x = Cbc_bestSolution(m.get());
  if (!x) return answer;
  for (std::size_t j = 0; j < patterns.size(); ++j) answer.times.push_back(static_cast<int>(std::lround(x[j])));
  answer.feasible = answers(sizes, rack, patterns, answer.times);
  answer.proven = answer.feasible && Cbc_isProvenOptimal(m.get());
  return answer;
}

}  // namespace stickwright

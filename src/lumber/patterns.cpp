#include "lumber/patterns.h"

#include <Cbc_C_Interface.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numeric>

namespace stickwright {
namespace {

class PatternWalk {
 public:
  PatternWalk(const std::vector<Size>& sizes, std::size_t stock, std::size_t most, std::vector<Pattern>& out)
      : sizes_(sizes), stock_(stock), most_(most), out_(out), counts_(sizes.size()) {}

  bool fill(std::size_t size, std::int64_t room) {
    if (size == sizes_.size()) return keep(room);
    const int fit = static_cast<int>(std::min<std::int64_t>(sizes_[size].demand, room / sizes_[size].length));
    for (int n = fit; n >= 0; --n) {
      counts_[size] = n;
      if (!fill(size + 1, room - n * sizes_[size].length)) return false;
    }
    counts_[size] = 0;
    return true;
  }

 private:
  bool keep(std::int64_t room) {
    for (std::size_t i = 0; i < sizes_.size(); ++i)
      if (counts_[i] < sizes_[i].demand && sizes_[i].length <= room) return true;  // not maximal
    if (out_.size() == most_) return false;
    out_.push_back({stock_, counts_});
    return true;
  }

  const std::vector<Size>& sizes_;
  std::size_t stock_, most_;
  std::vector<Pattern>& out_;
  std::vector<int> counts_;
};

struct FreeModel {
  void operator()(Cbc_Model* m) const { Cbc_deleteModel(m); }
};
using Model = std::unique_ptr<Cbc_Model, FreeModel>;

// A sparse matrix by columns, as the solver takes it.
struct Columns {
  std::vector<int> start = {0}, row;
  std::vector<double> value;
  void entry(int r, double v) {
    if (v != 0) row.push_back(r), value.push_back(v);
  }
  void end_column() { start.push_back(static_cast<int>(row.size())); }
};

// Rows: one a size (at least its demand), one a stock length (at most its count), one for the number of sticks.
Columns columns_of(const std::vector<Size>& sizes, const std::vector<Pattern>& patterns, std::size_t stocks) {
  Columns c;
  for (const Pattern& p : patterns) {
    for (std::size_t i = 0; i < sizes.size(); ++i) c.entry(static_cast<int>(i), p.counts[i]);
    c.entry(static_cast<int>(sizes.size() + p.stock), 1);
    c.entry(static_cast<int>(sizes.size() + stocks), 1);
    c.end_column();
  }
  return c;
}

}  // namespace

bool add_maximal_patterns(const std::vector<Size>& sizes, std::size_t stock, std::int64_t room, std::size_t most,
                          std::vector<Pattern>& out) {
  return PatternWalk(sizes, stock, most, out).fill(0, room);
}

std::vector<Bin> first_fit(const std::vector<Size>& sizes, const std::vector<std::int64_t>& rooms,
                           const std::vector<int>& stock_counts) {
  std::vector<std::size_t> by_room(rooms.size());
  std::iota(by_room.begin(), by_room.end(), std::size_t{0});
  std::stable_sort(by_room.begin(), by_room.end(), [&](std::size_t a, std::size_t b) { return rooms[a] > rooms[b]; });
  std::vector<int> left = stock_counts;
  std::vector<Bin> bins;
  for (std::size_t i = 0; i < sizes.size(); ++i)
    for (int n = 0; n < sizes[i].demand; ++n) {
      auto bin = std::find_if(bins.begin(), bins.end(), [&](const Bin& b) { return b.room >= sizes[i].length; });
      if (bin == bins.end()) {
        const auto stock = std::find_if(by_room.begin(), by_room.end(),
                                        [&](std::size_t s) { return left[s] > 0 && rooms[s] >= sizes[i].length; });
        if (stock == by_room.end()) return {};
        --left[*stock];
        bin = bins.insert(bins.end(), Bin{*stock, rooms[*stock], std::vector<int>(sizes.size())});
      }
      bin->room -= sizes[i].length;
      ++bin->counts[i];
    }
  return bins;
}

PatternAnswer choose_patterns(const std::vector<Size>& sizes, const std::vector<Pattern>& patterns,
                              const std::vector<int>& stock_counts, const std::vector<double>& cost,
                              std::optional<int> sticks, int most_nodes) {
  const Columns c = columns_of(sizes, patterns, stock_counts.size());
  const std::size_t rows = sizes.size() + stock_counts.size() + 1;
  std::vector<double> row_low(rows, 0), row_high(rows, 1e9), col_low(patterns.size(), 0),
      col_high(patterns.size(), 1e6);
  for (std::size_t i = 0; i < sizes.size(); ++i) row_low[i] = sizes[i].demand;
  for (std::size_t s = 0; s < stock_counts.size(); ++s) row_high[sizes.size() + s] = stock_counts[s];
  if (sticks) row_high.back() = *sticks;
  const Model m(Cbc_newModel());
  Cbc_loadProblem(m.get(), static_cast<int>(patterns.size()), static_cast<int>(rows), c.start.data(), c.row.data(),
                  c.value.data(), col_low.data(), col_high.data(), cost.data(), row_low.data(), row_high.data());
  for (std::size_t j = 0; j < patterns.size(); ++j) Cbc_setInteger(m.get(), static_cast<int>(j));
  Cbc_setParameter(m.get(), "logLevel", "0");
  Cbc_setParameter(m.get(), "maxNodes", std::to_string(most_nodes).c_str());
  Cbc_solve(m.get());
  PatternAnswer answer;
  answer.proven = Cbc_isProvenOptimal(m.get()) != 0 || Cbc_isProvenInfeasible(m.get()) != 0;
  answer.bound = Cbc_getBestPossibleObjValue(m.get());
  const double* x = Cbc_isProvenInfeasible(m.get()) ? nullptr : Cbc_bestSolution(m.get());
  if (!x) return answer;
  for (std::size_t j = 0; j < patterns.size(); ++j) answer.times.push_back(static_cast<int>(std::lround(x[j])));
  answer.feasible = true;
  return answer;
}

}  // namespace stickwright

#include <Cbc_C_Interface.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <string>

#include "solver/quiet.h"
#include "sorting/bounds.h"

namespace stickwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr double kFree = 1e30;
// The solver's tolerances are absolute: plays of micrometers are given to it as ones, plays of meters as thousands.
constexpr double kMostUnitsPerMm = 1000, kLargestValue = 10'000;

struct FreeWhole {
  void operator()(Cbc_Model* m) const { Cbc_deleteModel(m); }
};

// Column first_[k][p] + i: the i-th class of the kind stands in place p of puzzle k. The last column is the worst play.
class WholeProgram {
 public:
  WholeProgram(const SortModel& model, const KnownPlays& plays, const WholeLimits& limits)
      : model_(model),
        plays_(plays),
        units_(std::min(kMostUnitsPerMm, kLargestValue / std::max(plays.largest(), 1e-6))) {
    for (std::size_t k = 0; k < model.puzzles(); ++k) {
      first_.emplace_back();
      for (const SortPlace& place : design(k).places) {
        first_.back().push_back(worst_);
        worst_ += model.classes_for(place).size();
      }
    }
    entries_.resize(worst_ + 1);
    place_rows();
    class_rows();
    cut_rows();
    order_rows();
    low_.assign(worst_, 0), high_.assign(worst_, 1);
    low_.push_back(limits.more_than * units_), high_.push_back(limits.bound * units_);
  }

  std::unique_ptr<Cbc_Model, FreeWhole> load() const {
    std::vector<int> start = {0}, row;
    std::vector<double> value, cost(worst_, 0);
    cost.push_back(-1);
    for (const auto& column : entries_) {
      for (const auto& [r, v] : column) row.push_back(r), value.push_back(v);
      start.push_back(static_cast<int>(row.size()));
    }
    std::unique_ptr<Cbc_Model, FreeWhole> m(Cbc_newModel());
    Cbc_loadProblem(m.get(), static_cast<int>(worst_ + 1), static_cast<int>(row_low_.size()), start.data(), row.data(),
                    value.data(), low_.data(), high_.data(), cost.data(), row_low_.data(), row_high_.data());
    for (std::size_t j = 0; j < worst_; ++j) Cbc_setInteger(m.get(), static_cast<int>(j));
    return m;
  }

  double worst_of(const double* x) const { return x[worst_] / units_; }

  // In each place the class with the greatest value.   returns  empty when more items are used than there are
  FilledBatch read(const double* x) const {
    FilledBatch batch;
    std::vector<int> used(model_.classes.size());
    for (std::size_t k = 0; k < model_.puzzles(); ++k) {
      batch.emplace_back();
      for (std::size_t p = 0; p < design(k).places.size(); ++p) {
        const std::vector<int>& classes = model_.classes_for(design(k).places[p]);
        const double* at = x + first_[k][p];
        const int c = classes[static_cast<std::size_t>(std::max_element(at, at + classes.size()) - at)];
        if (++used[static_cast<std::size_t>(c)] > model_.classes[static_cast<std::size_t>(c)].count()) return {};
        batch.back().push_back(c);
      }
    }
    return batch;
  }

 private:
  const SortDesign& design(std::size_t k) const { return model_.design(static_cast<std::size_t>(model_.design_of[k])); }

  int row(double low, double high) {
    row_low_.push_back(low), row_high_.push_back(high);
    return static_cast<int>(row_low_.size()) - 1;
  }

  // Calls f(column, class) for all classes that could stand there.
  template <class F>
  void each(std::size_t k, std::size_t p, F f) {
    std::size_t column = first_[k][p];
    for (int c : model_.classes_for(design(k).places[p])) f(entries_[column++], c);
  }

  void place_rows() {
    for (std::size_t k = 0; k < model_.puzzles(); ++k)
      for (std::size_t p = 0; p < design(k).places.size(); ++p)
        each(k, p, [r = row(1, 1)](auto& column, int) { column.emplace_back(r, 1); });
  }

  void class_rows() {
    const int first = static_cast<int>(row_low_.size());
    for (const ItemClass& c : model_.classes) row(-kFree, c.count());
    for (std::size_t k = 0; k < model_.puzzles(); ++k)
      for (std::size_t p = 0; p < design(k).places.size(); ++p)
        each(k, p, [first](auto& column, int c) { column.emplace_back(first + c, 1); });
  }

  void cut_rows() {
    for (std::size_t k = 0; k < model_.puzzles(); ++k) {
      const auto d = static_cast<std::size_t>(model_.design_of[k]);
      for (std::size_t j = 0; j < plays_.cuts(d); ++j) {
        const int r = row(-plays_.constant(d, j) * units_, kFree);
        for (std::size_t p = 0; p < design(k).places.size(); ++p)
          each(k, p, [&](auto& column, int c) {
            const double v = plays_.adds(d, p, c)[j] * units_;
            if (v != 0) column.emplace_back(r, v);
          });
        entries_[worst_].emplace_back(r, -1);
      }
    }
  }

  // Puzzles of a design are alike: in order of what stands in the place with the most to choose from.
  void order_rows() {
    for (std::size_t k = 1; k < model_.puzzles(); ++k) {
      if (model_.design_of[k] != model_.design_of[k - 1]) continue;
      const std::vector<SortPlace>& places = design(k).places;
      std::size_t p = 0;
      for (std::size_t q = 1; q < places.size(); ++q)
        if (model_.classes_for(places[q]).size() > model_.classes_for(places[p]).size()) p = q;
      const int r = row(0, kFree), base = model_.classes_for(places[p]).front();
      each(k - 1, p, [&](auto& column, int c) {
        if (c > base) column.emplace_back(r, base - c);
      });
      each(k, p, [&](auto& column, int c) {
        if (c > base) column.emplace_back(r, c - base);
      });
    }
  }

  const SortModel& model_;
  const KnownPlays& plays_;
  double units_;
  std::vector<std::vector<std::size_t>> first_;
  std::size_t worst_ = 0;
  std::vector<std::vector<std::pair<int, double>>> entries_;
  std::vector<double> low_, high_, row_low_, row_high_;
};

}  // namespace

std::size_t whole_columns(const SortModel& model) {
  std::size_t columns = 0;
  for (int d : model.design_of)
    for (const SortPlace& place : model.design(static_cast<std::size_t>(d)).places)
      columns += model.classes_for(place).size();
  return columns;
}

SeemingBest fill_whole(const SortModel& model, const KnownPlays& plays, const WholeLimits& limits) {
  const WholeProgram program(model, plays, limits);
  const Quiet quiet;
  const auto m = program.load();
  Cbc_setParameter(m.get(), "logLevel", "0");
  Cbc_setParameter(m.get(), "maxNodes", std::to_string(limits.nodes).c_str());
  Cbc_solve(m.get());
  SeemingBest best{{}, kInfinite, Cbc_getNodeCount(m.get())};
  if (Cbc_isProvenInfeasible(m.get())) {
    best.most = limits.more_than;
  } else if (const double* x = Cbc_bestSolution(m.get())) {
    best.filled = program.read(x);
    if (!best.filled.empty() && Cbc_isProvenOptimal(m.get())) best.most = program.worst_of(x);
  }
  return best;
}

}  // namespace stickwright

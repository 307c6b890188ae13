#include <Clp_C_Interface.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <numeric>

#include "solver/quiet.h"
#include "sorting/bounds.h"

namespace stickwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr double kEnough = 1e-9;      // mm: the play at the mixture is as good as the program says
constexpr double kUnitsPerMm = 1000;  // the program reckons in micrometers: its tolerances are absolute

struct FreeRelaxed {
  void operator()(Clp_Simplex* m) const { Clp_deleteModel(m); }
};

// The share of one class in one place.
struct Share {
  std::size_t design, place;
  int item_class;
};

std::vector<Share> shares_of(const SortModel& model) {
  std::vector<Share> shares;
  for (std::size_t d = 0; d < model.problem.designs.size(); ++d)
    for (std::size_t p = 0; p < model.design(d).places.size(); ++p)
      for (int c : model.classes_for(model.design(d).places[p])) shares.push_back({d, p, c});
  return shares;
}

double weighed(const KnownPlays& plays, const Weighing& w, std::size_t d, std::size_t place, int item_class) {
  return std::inner_product(w.weight[d].begin(), w.weight[d].end(), plays.adds(d, place, item_class).begin(), 0.0);
}

// By weak duality no worst play is above this: a convex combination of cuts, every place filled as the prices like
// best.
double bound_by(const SortModel& model, const KnownPlays& plays, const Weighing& w) {
  double bound = 0;
  for (std::size_t d = 0; d < w.weight.size(); ++d) {
    const SortDesign& design = model.design(d);
    for (std::size_t j = 0; j < w.weight[d].size(); ++j) bound += w.weight[d][j] * plays.constant(d, j);
    for (std::size_t p = 0; p < design.places.size(); ++p) {
      double best = -kInfinite;
      for (int c : model.classes_for(design.places[p])) {
        best = std::max(best, weighed(plays, w, d, p, c) - design.puzzles * w.rent[static_cast<std::size_t>(c)]);
      }
      bound += best;
    }
  }
  for (std::size_t c = 0; c < model.classes.size(); ++c) bound += model.classes[c].count() * w.rent[c];
  return bound;
}

// The program: shares and the worst play t as columns; places, classes and, round by round, cuts as rows.
class Relaxed {
 public:
  Relaxed(const SortModel& model, KnownPlays& plays)
      : model_(model), plays_(plays), shares_(shares_of(model)), read_(model.problem.designs.size()) {
    place_rows();
    load();
  }

  bool solve() {
    add_cuts();
    const Quiet quiet;  // not while an oracle is asked: it may solve programs of its own
    return Clp_dual(m_.get(), 0) == 0 || Clp_primal(m_.get(), 0) == 0;
  }

  double worst() const { return Clp_primalColumnSolution(m_.get())[shares_.size()] / kUnitsPerMm; }

  Weighing weighing() const {
    const double* price = Clp_dualRowSolution(m_.get());
    Weighing w{std::vector<std::vector<double>>(read_.size()), std::vector<double>(model_.classes.size())};
    for (std::size_t c = 0; c < w.rent.size(); ++c) w.rent[c] = std::max(0.0, -price[places_ + c] / kUnitsPerMm);
    double sum = 0;
    std::size_t row = places_ + w.rent.size();
    for (std::size_t d : cut_rows_) {
      w.weight[d].push_back(std::max(0.0, price[row++]));
      sum += w.weight[d].back();
    }
    for (auto& of_design : w.weight)
      for (double& v : of_design) v /= sum;
    return w;
  }

  // Asks every design at its mixture.   returns  the least play
  double ask() {
    const double* x = Clp_primalColumnSolution(m_.get());
    std::vector<std::vector<std::vector<double>>> mixed(read_.size());
    for (std::size_t d = 0; d < mixed.size(); ++d) mixed[d].resize(model_.design(d).places.size());
    for (std::size_t s = 0; s < shares_.size(); ++s) {
      const std::vector<double>& off = model_.classes[static_cast<std::size_t>(shares_[s].item_class)].off;
      std::vector<double>& into = mixed[shares_[s].design][shares_[s].place];
      into.resize(off.size());
      for (std::size_t i = 0; i < off.size(); ++i) into[i] += x[s] * off[i];
    }
    double least = kInfinite;
    for (std::size_t d = 0; d < mixed.size(); ++d) least = std::min(least, plays_.play_at(d, mixed[d]));
    return least;
  }

 private:
  void place_rows() {
    for (std::size_t s = 0; s < shares_.size(); ++s) {
      if (s > 0 && (shares_[s].place != shares_[s - 1].place || shares_[s].design != shares_[s - 1].design)) ++places_;
      row_of_.push_back(places_);
    }
    ++places_;
  }

  void load() {
    const std::size_t columns = shares_.size() + 1, rows = places_ + model_.classes.size();
    std::vector<int> start = {0}, row;
    std::vector<double> value, low(columns, 0), high(columns, 1), cost(columns, 0), least(rows, 1), most(rows, 1);
    for (std::size_t s = 0; s < shares_.size(); ++s) {
      row.push_back(static_cast<int>(row_of_[s])), value.push_back(1);
      row.push_back(static_cast<int>(places_) + shares_[s].item_class);
      value.push_back(model_.design(shares_[s].design).puzzles);
      start.push_back(static_cast<int>(row.size()));
    }
    start.push_back(start.back());
    low.back() = -1e30, high.back() = 1e30, cost.back() = -1;
    for (std::size_t c = 0; c < model_.classes.size(); ++c)
      least[places_ + c] = -1e30, most[places_ + c] = model_.classes[c].count();
    Clp_setLogLevel(m_.get(), 0);
    Clp_loadProblem(m_.get(), static_cast<int>(columns), static_cast<int>(rows), start.data(), row.data(), value.data(),
                    low.data(), high.data(), cost.data(), least.data(), most.data());
  }

  // constant + what the shares add - t >= 0.
  void add_cuts() {
    for (std::size_t d = 0; d < read_.size(); ++d)
      for (; read_[d] < plays_.cuts(d); ++read_[d]) {
        std::vector<int> column;
        std::vector<double> value;
        for (std::size_t s = 0; s < shares_.size(); ++s)
          if (shares_[s].design == d) {
            column.push_back(static_cast<int>(s));
            value.push_back(kUnitsPerMm * plays_.adds(d, shares_[s].place, shares_[s].item_class)[read_[d]]);
          }
        column.push_back(static_cast<int>(shares_.size())), value.push_back(-1);
        const int start[] = {0, static_cast<int>(column.size())};
        const double low = -kUnitsPerMm * plays_.constant(d, read_[d]), high = 1e30;
        Clp_addRows(m_.get(), 1, &low, &high, start, column.data(), value.data());
        cut_rows_.push_back(d);
      }
  }

  const SortModel& model_;
  KnownPlays& plays_;
  std::vector<Share> shares_;
  std::vector<std::size_t> row_of_;  // the place row of each share
  std::size_t places_ = 0;
  std::vector<std::size_t> read_;      // cuts in the program, by design
  std::vector<std::size_t> cut_rows_;  // the design of each, in the order of the rows
  std::unique_ptr<Clp_Simplex, FreeRelaxed> m_{Clp_newModel()};
};

// One cut of the first design, every place filled as that cut likes best.
Weighing trivial_weighing(const SortModel& model, const KnownPlays& plays) {
  Weighing w{std::vector<std::vector<double>>(model.problem.designs.size()), std::vector<double>(model.classes.size())};
  w.weight.front() = std::vector<double>(plays.cuts(0), 0);
  w.weight.front().front() = 1;
  return w;
}

}  // namespace

Pooled pooled_bound(const SortModel& model, KnownPlays& plays, int rounds) {
  Pooled pooled{0, trivial_weighing(model, plays)};
  pooled.bound = bound_by(model, plays, pooled.by);
  Relaxed relaxed(model, plays);
  for (int r = 0; r < rounds && !plays.problem(); ++r) {
    if (!relaxed.solve()) break;
    Weighing by = relaxed.weighing();
    if (const double bound = bound_by(model, plays, by); bound < pooled.bound) pooled = {bound, std::move(by)};
    if (relaxed.ask() >= relaxed.worst() - kEnough) break;
  }
  return pooled;
}

Losses::Losses(const SortModel& model, const KnownPlays& plays, const Pooled& pooled) : on_shelf_(pooled.by.rent) {
  for (std::size_t d = 0; d < model.problem.designs.size(); ++d) {
    in_place_.emplace_back();
    for (std::size_t p = 0; p < model.design(d).places.size(); ++p) {
      const std::vector<int>& classes = model.classes_for(model.design(d).places[p]);
      const auto worth = [&](int c) {
        return weighed(plays, pooled.by, d, p, c) / model.design(d).puzzles -
               pooled.by.rent[static_cast<std::size_t>(c)];
      };
      double best = -kInfinite;
      for (int c : classes) best = std::max(best, worth(c));
      in_place_.back().emplace_back(model.classes.size());
      for (int c : classes) in_place_.back().back()[static_cast<std::size_t>(c)] = best - worth(c);
    }
  }
}

}  // namespace stickwright

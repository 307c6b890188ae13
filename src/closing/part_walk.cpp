#include "closing/part_walk.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace stickwright {
namespace {

constexpr int kMostAgain = 30;                   // times that kMostExchanges are multiplied out
constexpr int kFromNothing = 4;                  // of these, the one that is computed from nothing instead
constexpr double kShare = 1e-11;                 // of force; less is none
constexpr double kBalance = 1e-11;               // a force or moment left over
constexpr double kProved = 1e-9;                 // mm
constexpr std::uint64_t kQuickly = 32;           // vertices are learned as they come
constexpr std::uint64_t kBetweenContests = 200;  // uses of a vertex
constexpr std::uint64_t kTrials = 64;            // of a basis and its rival together
constexpr std::uint64_t kSeldom = 50;            // samples a vertex afterwards
constexpr std::size_t kMostTerms = 4096;         // of force, that looking at all vertices may take

Eigen::MatrixXd basis_matrix(const BindingPart& part, const RowTable& t, const std::vector<int>& basis) {
  Eigen::MatrixXd b(t.size, t.size);
  for (int i = 0; i < t.size; ++i) b.col(i) = part.matrix.row(t.row_at[basis[i]]).transpose();
  return b;
}

}  // namespace

PartWalk::PartWalk(const BindingPart& part, std::size_t most_bytes)
    : part_(&part), complete_(play_by(part) == PlayBy::list), table_(row_table(part)), work_(table_) {
  const std::size_t inverse = sizeof(double) * static_cast<std::size_t>(table_.size * table_.height);
  const std::size_t basis = 2 * inverse + sizeof(double) * static_cast<std::size_t>(table_.places + 2 * table_.size);
  const std::size_t bytes = 2 * basis + 512;  // with a rival
  most_known_ = std::max<std::size_t>(1, most_bytes / bytes);
  std::vector<int> places;
  for (const int r : part.first_basis) places.push_back(table_.place_of[r]);
  known_.push_back(vertex_from(places));
  if (!complete()) {
    list(known_.back());
    return;
  }
  for (const ForceVertex& v : *part.all_vertices) {
    places.clear();
    for (const int r : v.rows) places.push_back(table_.place_of[r]);
    list_.add(places, v.shares);
  }
}

KnownBasis PartWalk::known_from(const std::vector<int>& basis) const {
  const int size = table_.size, height = table_.height;
  KnownBasis k{basis, Doubles(size * height), Doubles(size * height), Doubles(table_.places, 0.5)};
  const Eigen::MatrixXd inverse = basis_matrix(*part_, table_, basis).partialPivLu().inverse();
  for (int c = 0; c < size; ++c)
    for (int i = 0; i < size; ++i) k.by_column[c * height + i] = k.by_row[i * height + c] = inverse(i, c);
  const Eigen::VectorXd length = (inverse * part_->matrix.transpose()).colwise().squaredNorm();
  for (std::size_t r = 0; r < part_->rows.size(); ++r) k.weight[table_.place_of[r]] = 1 / (1 + length[r]);
  return k;
}

void PartWalk::look(const double* gap8, LeastOfEight& out) {
  if (!complete() && full() && most_known_ > 1) forget_least_used();
  least_of_eight(list_, gap8, out);
}

PartWalk::Known PartWalk::vertex_from(const std::vector<int>& basis) const {
  Known k{known_from(basis), {}, {}};
  for (int i = 0; i < table_.size; ++i)
    if (k.basis.by_column[(table_.size - 1) * table_.height + i] > kShare) k.carrying.push_back(basis[i]);
  std::sort(k.carrying.begin(), k.carrying.end());
  return k;
}

PlayBounds PartWalk::solve(int start, double enough) {
  ++samples_;
  anew_ = {};
  Known& k = known_[start];
  const bool rival = k.rival && k.uses % 2 == 1;
  ++k.uses;
  const KnownBasis& from = rival ? *k.rival : k.basis;
  PivotEnd end = pivot(table_, from, work_, enough);
  std::uint64_t steps = work_.exchanged.size();
  KnownBasis here;
  for (int again = 0; end == PivotEnd::full && again < kMostAgain; ++again) {
    // Rounding is done away with from time to time.
    here = again % kFromNothing == kFromNothing - 1 ? known_from(work_.basis)
                                                    : reached(table_, again == 0 ? from : here, work_);
    end = pivot(table_, here, work_, enough);
    steps += work_.exchanged.size();
  }
  pivots_ += steps;
  count_steps(k, rival, steps);
  if (end == PivotEnd::full || end == PivotEnd::stuck) return solve_anew();
  const PlayBounds b = bounds();
  if (end == PivotEnd::enough) return b;
  if (!(b.high - b.low <= kProved / 2)) return solve_anew();
  if (steps > 0 && !complete()) consider_learning(k);
  return b;
}

void PartWalk::count_steps(Known& k, bool rival, std::uint64_t steps) {
  if (!k.rival) return;
  (rival ? k.rival_steps : k.steps) += steps;
  if (++k.trials < kTrials) return;
  if (k.rival_steps < k.steps) k.basis = std::move(*k.rival);
  k.rival.reset();
  k.trials = k.steps = k.rival_steps = 0;
}

// Positions are any; so `low` holds whatever the steps did. Forces have to balance for `high` to hold.
PlayBounds PartWalk::bounds() {
  const double* force = work_.force.data();
  std::vector<double>& left = left_over_;
  left.assign(table_.size, 0);
  double work = 0;
  for (int i = 0; i < table_.size; ++i) {
    if (force[i] <= 0) continue;
    const int place = work_.basis[i];
    const FourRows& f = table_.fours[place / kAbreast];
    for (int c = f.first_column; c < f.first_column + f.columns; ++c)
      left[table_.columns[c]] += force[i] * table_.values[c * kAbreast + place % kAbreast];
    left.back() += force[i];
    work += force[i] * work_.gap[place];
  }
  left.back() -= 1;
  for (const double l : left)
    if (!(std::abs(l) <= kBalance)) return {work_.play() + work_.least_slack, std::numeric_limits<double>::infinity()};
  return {work_.play() + work_.least_slack, work};
}

PlayBounds PartWalk::solve_anew() {
  ++fresh_solves_;
  std::vector<double> h;
  for (std::size_t r = 0; r < part_->rows.size(); ++r) h.push_back(work_.gap[table_.place_of[r]]);
  const auto found = least_work(part_->matrix, h);
  if (!found) throw std::runtime_error("forces that balanced before do not balance");
  Eigen::VectorXd position = Eigen::Map<const Eigen::VectorXd>(found->position.data(), table_.size);
  position[table_.size - 1] = 0;
  const Eigen::VectorXd gap =
      Eigen::Map<const Eigen::VectorXd>(h.data(), part_->matrix.rows()) + part_->matrix * position;
  double high = 0;
  for (std::size_t r = 0; r < h.size(); ++r)
    if (found->force[r] > kShare) {
      high += found->force[r] * h[r];
      anew_.rows.push_back(static_cast<int>(r));
      anew_.shares.push_back(found->force[r]);
    }
  work_.position[table_.size - 1] = gap.minCoeff();
  for (std::size_t r = 0; r < h.size(); ++r)
    work_.slack[table_.place_of[r]] = gap[static_cast<Eigen::Index>(r)] - work_.position[table_.size - 1];
  if (!(std::abs(high - work_.position[table_.size - 1]) <= kProved))
    throw std::runtime_error("a closed fit is not proved");
  return {work_.position[table_.size - 1], high};
}

ForceVertex PartWalk::forces() const {
  if (!anew_.rows.empty()) return anew_;
  const double* force = work_.force.data();
  ForceVertex v;
  for (int i = 0; i < table_.size; ++i)
    if (force[i] > kShare) {
      v.rows.push_back(table_.row_at[work_.basis[i]]);
      v.shares.push_back(force[i]);
    }
  return v;
}

// An inverse from nothing costs as much as many steps, so vertices and rivals are taken up more and more slowly.
void PartWalk::consider_learning(Known& k) {
  if (k.carrying.size() < work_.basis.size() && !k.rival && k.uses > kBetweenContests * (k.contests + 1)) {
    std::vector<int> carrying;
    for (int i = 0; i < table_.size; ++i)
      if (work_.force[i] > kShare) carrying.push_back(work_.basis[i]);
    std::sort(carrying.begin(), carrying.end());
    if (carrying == k.carrying) {
      k.rival = known_from(work_.basis);
      ++k.contests;
      return;
    }
  }
  if (!full() && (learned_ < kQuickly || samples_ > kSeldom * learned_)) learn();
}

bool PartWalk::full() const {
  return known_.size() >= most_known_ || list_.place.size() > kMostTerms;
}

void PartWalk::learn() {
  ++learned_;
  std::vector<int> carrying;
  for (int i = 0; i < table_.size; ++i)
    if (work_.force[i] > kShare) carrying.push_back(work_.basis[i]);
  std::sort(carrying.begin(), carrying.end());
  if (!carrying_.insert(std::move(carrying)).second) return;
  known_.push_back(vertex_from(work_.basis));
  list(known_.back());
}

void PartWalk::list(const Known& k) {
  std::vector<int> places;
  std::vector<double> shares;
  for (int i = 0; i < table_.size; ++i)
    if (const double share = k.basis.by_column[(table_.size - 1) * table_.height + i]; share > kShare) {
      places.push_back(k.basis.places[i]);
      shares.push_back(share);
    }
  list_.add(places, shares);
  carrying_.insert(k.carrying);
}

// Half of all known: to do it one by one would mean to list the others again each time.
void PartWalk::forget_least_used() {
  std::stable_sort(known_.begin(), known_.end(), [](const Known& a, const Known& b) { return a.uses > b.uses; });
  known_.resize((known_.size() + 1) / 2);
  list_ = {};
  carrying_.clear();
  for (Known& k : known_) {
    k.uses /= 2;
    list(k);
  }
}

}  // namespace stickwright

// How long it takes to solve 200 readings for 8 unknowns, and to rank 50 further readings.
//   build: cmake --preset bench && cmake --build build/bench --target least_squares_bench
//   use:   build/bench/bench/least_squares_bench
// Minimum, median and maximum of 101 runs each. Base: the normal equations, solved by Cholesky, which say nothing about
// rank.
#include <Eigen/Dense>
#include <random>

#include "metrology/least_squares.h"
#include "metrology/most_telling.h"
#include "timing.h"

namespace {

using namespace stickwright;

constexpr std::size_t kReadings = 200, kUnknowns = 8, kCandidates = 50, kRuns = 101;

LinearSystem random_system(std::size_t rows) {
  std::mt19937_64 random(rows);
  const auto number = [&] { return static_cast<double>(random() % 20001) / 1e4 - 1; };
  LinearSystem s;
  s.unknowns.assign(kUnknowns, {"x", "mm", 1});
  for (std::size_t i = 0; i < rows; ++i) {
    LinearRow row{"reading", std::vector<double>(kUnknowns), number(), 0.01 + std::abs(number())};
    for (double& c : row.coefficients) c = number();
    s.rows.push_back(std::move(row));
  }
  return s;
}

double by_normal_equations(const LinearSystem& s) {
  Eigen::MatrixXd m = Eigen::MatrixXd::Zero(kUnknowns, kUnknowns);
  Eigen::VectorXd right = Eigen::VectorXd::Zero(kUnknowns);
  for (const LinearRow& r : s.rows) {
    const Eigen::Map<const Eigen::VectorXd> c(r.coefficients.data(), kUnknowns);
    m += c * c.transpose() / (r.u * r.u);
    right += c * (r.observed / (r.u * r.u));
  }
  return m.ldlt().solve(right).sum() + m.inverse().trace();
}

template <class Work>
bench::Times times_of(const Work& work) {
  std::vector<double> ms;
  for (std::size_t k = 0; k < kRuns; ++k) ms.push_back(bench::milliseconds(work));
  return bench::summary(ms);
}

}  // namespace

int main() {
  const LinearSystem s = random_system(kReadings);
  std::vector<CandidateRow> candidates;
  for (const LinearRow& r : random_system(kCandidates).rows) candidates.push_back({r.name, r.coefficients, r.u});
  volatile double kept = 0;
  const auto base = times_of([&] { kept = by_normal_equations(s); });
  const auto ours = times_of([&] { kept = solve(s).chi_square; });
  const auto ranked = times_of([&] { kept = most_telling(s, candidates, 0).front().variance; });
  bench::print_heading();
  bench::print_line("normal equations (base)", base, kRuns, base.median);
  bench::print_line("solve: 200 readings, 8 unknowns", ours, kRuns, base.median);
  bench::print_line("most_telling: 50 candidates", ranked, kRuns, base.median);
}

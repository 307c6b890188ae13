#include "takeapart/row_motion.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "solver/linear_program.h"
#include "takeapart/elimination.h"
#include "takeapart/whole_numbers.h"

namespace stickwright {
namespace {

using Numbers = std::vector<std::int64_t>;

// Forces f >= 0 in balance, A'f = 0, as many of them as can be reaching 1: min(f, 1) is paid for, more is free. The
// prices of the balances are the speeds that open every contact whose force must stay 0, by 1 or more.
EqualityProgram balance_program(const MotionRows& rows) {
  EqualityProgram p;
  p.right.assign(rows.columns(), 0);
  for (double upper : {1.0, kNoUpper})
    for (const MotionRow& row : rows.rows()) {
      rows.for_each_entry(row, [&](int column, std::int64_t value) { p.entry(column, static_cast<double>(value)); });
      p.end_column(upper == 1.0 ? -1 : 0, upper);
    }
  return p;
}

// The floating-point answer.
struct Guess {
  std::vector<double> speed, opening, force;
  bool opens() const {
    return std::any_of(opening.begin(), opening.end(), [](double o) { return o > 0.5; });  // 0 or at least 1
  }
};

std::optional<Guess> guess(const MotionRows& rows) {
  const ProgramAnswer answer = solve(balance_program(rows));
  if (!answer.solved) return {};
  Guess g;
  const std::size_t n = rows.rows().size();
  for (double price : answer.price) g.speed.push_back(-price);
  for (std::size_t r = 0; r < n; ++r) {
    double opening = 0;
    rows.for_each_entry(rows.rows()[r], [&](int column, std::int64_t value) {
      opening += static_cast<double>(value) * g.speed[column];
    });
    g.opening.push_back(opening);
    g.force.push_back(answer.x[r] + answer.x[n + r]);
  }
  return g;
}

bool is_motion(const MotionRows& rows, const Numbers& v) {
  return std::any_of(v.begin(), v.end(), [](std::int64_t x) { return x != 0; }) && keeps_rows(rows, v);
}

bool is_balance(const MotionRows& rows, const Numbers& force) {
  std::vector<Wide> sum(rows.columns());
  for (std::size_t r = 0; r < force.size(); ++r) {
    if (force[r] <= 0) return false;
    rows.for_each_entry(rows.rows()[r], [&](int column, std::int64_t value) { sum[column] += Wide{value} * force[r]; });
  }
  return std::all_of(sum.begin(), sum.end(), [](Wide s) { return s == 0; });
}

Numbers whole_row(const MotionRows& rows, const MotionRow& row) {
  Numbers out(rows.columns());
  rows.for_each_entry(row, [&](int column, std::int64_t value) { out[column] += value; });
  return out;
}

// The rows that the guess does not open, as equations for the speeds.
Elimination kept_rows(const MotionRows& rows, const Guess& g) {
  Elimination e(rows.columns());
  for (std::size_t r = 0; r < g.opening.size(); ++r)
    if (g.opening[r] <= 0.5) e.add(whole_row(rows, rows.rows()[r]));
  return e;
}

// The balances, as equations for the forces.
Elimination balances(const MotionRows& rows) {
  std::vector<Numbers> equations(rows.columns(), Numbers(rows.rows().size()));
  for (std::size_t r = 0; r < rows.rows().size(); ++r)
    rows.for_each_entry(rows.rows()[r], [&](int column, std::int64_t value) { equations[column][r] += value; });
  Elimination e(static_cast<int>(rows.rows().size()));
  for (const Numbers& equation : equations) e.add(equation);
  return e;
}

// Whole numbers near a multiple of the values that are `right`: by rounding each, or by rounding the free ones among
// them and solving for the others.
template <class Equations, class Right>
std::optional<Numbers> made_whole(const std::vector<double>& values, Equations equations, Right right) {
  if (auto whole = whole_numbers(values); whole && right(whole->top)) return whole->top;
  const Elimination e = equations();
  for (double scale : {1.0, 16.0, 256.0, 4096.0}) {
    Numbers rounded;
    for (double v : values) rounded.push_back(std::llround(std::clamp(v, -1e3, 1e3) * scale));
    if (auto whole = e.null_vector(rounded); whole && right(*whole)) return whole;
  }
  return {};
}

RowMotion opening(const MotionRows& rows, const Guess& g) {
  auto speed = made_whole(
      g.speed, [&] { return kept_rows(rows, g); }, [&](const Numbers& v) { return is_motion(rows, v); });
  if (!speed) return {};
  return {Verdict::found, std::move(*speed), {}};
}

// Nothing opens. Either the contacts fix everything, or there is a motion that keeps them all.
RowMotion kept_or_locked(const MotionRows& rows, const Guess& g) {
  const Elimination e = kept_rows(rows, g);
  if (!e.is_full()) {
    auto speed = e.null_vector(e.free_columns().front());
    if (!speed || !is_motion(rows, *speed)) return {};
    return {Verdict::found, std::move(*speed), {}};
  }
  auto force = made_whole(
      g.force, [&] { return balances(rows); }, [&](const Numbers& f) { return is_balance(rows, f); });
  if (!force) return {};
  return {Verdict::none_exists, {}, std::move(*force)};
}

}  // namespace

bool keeps_rows(const MotionRows& rows, std::span<const std::int64_t> speed) {
  return std::all_of(rows.rows().begin(), rows.rows().end(),
                     [&](const MotionRow& row) { return rows.opening(row, speed) >= 0; });
}

RowMotion row_motion(const MotionRows& rows) {
  const auto g = guess(rows);
  if (!g) return {};
  return g->opens() ? opening(rows, *g) : kept_or_locked(rows, *g);
}

}  // namespace stickwright

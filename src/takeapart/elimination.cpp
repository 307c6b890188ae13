#include "takeapart/elimination.h"

#include <algorithm>
#include <cstdlib>
#include <numeric>
#include <tuple>

namespace stickwright {
namespace {

constexpr std::uint64_t kPrime = (std::uint64_t{1} << 61) - 1;
constexpr std::int64_t kMostFraction = std::int64_t{1} << 29;  // top and bottom below sqrt(prime / 2): unique

std::uint64_t times(std::uint64_t a, std::uint64_t b) {
  __extension__ using Product = unsigned __int128;
  const Product p = Product{a} * b;
  const std::uint64_t sum = static_cast<std::uint64_t>(p & kPrime) + static_cast<std::uint64_t>(p >> 61);
  return sum >= kPrime ? sum - kPrime : sum;
}

std::uint64_t minus(std::uint64_t a, std::uint64_t b) {
  return a >= b ? a - b : a + kPrime - b;
}

std::uint64_t residue(std::int64_t a) {
  const auto size = static_cast<std::uint64_t>(std::abs(a)) % kPrime;
  return a < 0 ? minus(0, size) : size;
}

std::uint64_t inverse(std::uint64_t a) {  // a^(p-2)
  std::uint64_t out = 1;
  for (std::uint64_t e = kPrime - 2; e != 0; e >>= 1, a = times(a, a))
    if (e & 1) out = times(out, a);
  return out;
}

void subtract(std::vector<std::uint64_t>& row, std::uint64_t factor, const std::vector<std::uint64_t>& other) {
  for (std::size_t c = 0; c < row.size(); ++c)
    if (other[c] != 0) row[c] = minus(row[c], times(factor, other[c]));
}

struct Fraction {
  std::int64_t top = 0, bottom = 1;
};

// The fraction behind a residue: Euclid's algorithm stopped half way.
//   source  P. S. Wang, "A p-adic algorithm for univariate partial fractions", SYMSAC 1981
std::optional<Fraction> fraction_of(std::uint64_t r) {
  std::int64_t a = static_cast<std::int64_t>(kPrime), b = static_cast<std::int64_t>(r), s = 0, t = 1;
  while (b > kMostFraction) {
    const std::int64_t q = a / b;
    std::tie(a, b) = std::pair(b, a - q * b);
    std::tie(s, t) = std::pair(t, s - q * t);
  }
  if (t == 0 || std::abs(t) > kMostFraction) return {};
  return t < 0 ? Fraction{-b, -t} : Fraction{b, t};
}

}  // namespace

bool Elimination::add(std::span<const std::int64_t> whole) {
  if (is_full()) return false;
  std::vector<std::uint64_t> row(whole.size());
  std::transform(whole.begin(), whole.end(), row.begin(), residue);
  for (std::size_t c = 0; c < row.size(); ++c)
    if (row[c] != 0 && pivot_row_[c] >= 0) subtract(row, row[c], rows_[pivot_row_[c]]);
  const auto pivot = std::find_if(row.begin(), row.end(), [](std::uint64_t v) { return v != 0; });
  if (pivot == row.end()) return false;
  const std::uint64_t scale = inverse(*pivot);
  for (std::uint64_t& v : row) v = times(v, scale);
  const auto column = static_cast<std::size_t>(pivot - row.begin());
  for (auto& other : rows_)
    if (other[column] != 0) subtract(other, other[column], row);
  pivot_row_[column] = rank();
  rows_.push_back(std::move(row));
  return true;
}

std::vector<int> Elimination::free_columns() const {
  std::vector<int> out;
  for (std::size_t c = 0; c < pivot_row_.size(); ++c)
    if (pivot_row_[c] < 0) out.push_back(static_cast<int>(c));
  return out;
}

std::optional<std::vector<std::int64_t>> Elimination::null_vector(int free_column) const {
  std::vector<std::int64_t> values(pivot_row_.size());
  values[free_column] = 1;
  return null_vector(values);
}

std::optional<std::vector<std::int64_t>> Elimination::null_vector(std::span<const std::int64_t> values) const {
  const std::vector<int> free = free_columns();
  std::vector<Fraction> v(pivot_row_.size());
  std::int64_t bottom = 1;
  for (std::size_t c = 0; c < v.size(); ++c) {
    if (pivot_row_[c] < 0) {
      v[c] = {values[c], 1};
      continue;
    }
    std::uint64_t r = 0;
    for (int f : free) r = minus(r, times(rows_[pivot_row_[c]][f], residue(values[f])));
    const auto fraction = fraction_of(r);
    if (!fraction) return {};
    v[c] = *fraction;
    bottom = std::lcm(bottom, fraction->bottom);
    if (bottom > kMostFraction) return {};
  }
  std::vector<std::int64_t> out;
  for (const Fraction& f : v) out.push_back(f.top * (bottom / f.bottom));
  return out;
}

}  // namespace stickwright

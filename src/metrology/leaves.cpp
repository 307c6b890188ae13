#include "metrology/leaves.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <tuple>

#include "metrology/gauge_set.h"

namespace stickwright {
namespace {

constexpr std::int64_t kMostReadings = 10'000;

struct LeafSet {
  std::string_view name;
  std::int64_t unit_nm;
  std::vector<int> sizes;
};

const std::vector<LeafSet>& leaf_sets() {
  // Hundredths of a millimeter; half-thousandths of an inch.
  static const std::vector<LeafSet> all = {
      {"mm 8", 10'000, {5, 10, 15, 20, 25, 30, 40, 50}},
      {"mm 13", 10'000, {5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100}},
      {"mm 20", 10'000, {5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100}},
      {"inch 26", 12'700, {3,  4,  5,  6,  8,  10, 12, 14, 16, 18, 20, 22, 24,
                           26, 28, 30, 32, 34, 36, 38, 40, 42, 44, 46, 48, 50}}};
  return all;
}

std::optional<Problem> input_problem(std::span<const Leaf> leaves) {
  if (leaves.empty() || leaves.size() > kMostLeaves)
    return Problem{"bad_leaves", "", fmt::format("{} feeler leaves; 1 to {} are possible.", leaves.size(), kMostLeaves),
                   ""};
  if (leaves.front().thickness.v <= 0)
    return Problem{"bad_leaves", "", "A feeler leaf must be thicker than nothing.", ""};
  if (!std::is_sorted(leaves.begin(), leaves.end(), [](auto& a, auto& b) { return a.thickness < b.thickness; }))
    return Problem{"bad_leaves", "", "The feeler leaves must be given from the thinnest to the thickest.", ""};
  return std::nullopt;
}

// Tries every choice of up to three leaves but for the last one of each, which is looked up.
class Search {
 public:
  Search(Nm wanted, std::span<const Leaf> leaves) : leaves_(leaves), best_{wanted.v, 0, {}} {
    for (std::size_t count = 1; count <= kMostInShim; ++count) extend(count, 0, wanted.v);
  }
  const std::vector<std::size_t>& best() const { return std::get<2>(best_); }

 private:
  // The order in which answers are better: distance, number, first in order.
  using Rank = std::tuple<std::int64_t, std::size_t, std::vector<std::size_t>>;

  void extend(std::size_t count, std::size_t from, std::int64_t left) {
    if (count == 1) return add_last(from, left);
    for (std::size_t i = from; i < leaves_.size(); ++i) {
      chosen_.push_back(i);
      extend(count - 1, i + 1, left - leaves_[i].thickness.v);
      chosen_.pop_back();
    }
  }

  // The nearest leaf is the first that is thick enough, or the first of those just thinner.
  void add_last(std::size_t from, std::int64_t left) {
    const std::size_t above = first_not_below(from, left);
    offer(above, left);
    if (above > from) offer(first_not_below(from, leaves_[above - 1].thickness.v), left);
  }

  std::size_t first_not_below(std::size_t from, std::int64_t thickness) const {
    const auto found = std::partition_point(leaves_.begin() + static_cast<std::ptrdiff_t>(from), leaves_.end(),
                                            [&](const Leaf& l) { return l.thickness.v < thickness; });
    return static_cast<std::size_t>(found - leaves_.begin());
  }

  void offer(std::size_t last, std::int64_t left) {
    if (last >= leaves_.size()) return;
    const std::int64_t distance = std::abs(left - leaves_[last].thickness.v);
    if (distance > std::get<0>(best_)) return;
    chosen_.push_back(last);
    best_ = std::min(best_, Rank{distance, chosen_.size(), chosen_});
    chosen_.pop_back();
  }

  std::span<const Leaf> leaves_;
  std::vector<std::size_t> chosen_;
  Rank best_;
};

double square(double x) {
  return x * x;
}

Shim shim_of(std::vector<std::size_t> chosen, Nm wanted, std::span<const Leaf> leaves) {
  Shim s;
  double variance = 0;
  for (const std::size_t i : chosen) {
    s.total = s.total + leaves[i].thickness;
    variance += square(leaves[i].u_nm);
  }
  if (chosen.size() > 1)
    variance += static_cast<double>(chosen.size() - 1) * square(within(0, kFilmNm, Spread::rectangular, "").u);
  s.u_nm = std::sqrt(variance);
  s.remaining = wanted - s.total;
  s.leaves = std::move(chosen);
  return s;
}

std::optional<Problem> table_problem(const LeafTableWish& wish) {
  if (wish.step.v <= 0 || wish.most.v <= 0)
    return Problem{"bad_table", "", "The step and the largest reading of a leaf table must be above zero.", ""};
  if (wish.most.v / wish.step.v >= kMostReadings)
    return Problem{
        "bad_table", "",
        fmt::format("A leaf table up to {} in steps of {} would have more than {} readings. Take larger steps.",
                    show_nominal(wish.most), show_nominal(wish.step), kMostReadings),
        ""};
  return std::nullopt;
}

}  // namespace

Leaf printed_leaf(Nm thickness) {
  return {thickness, within(0, kLeafToleranceNm, Spread::rectangular, "").u};
}

Leaf measured_leaf(Nm thickness, double u_nm) {
  return {thickness, u_nm};
}

std::vector<std::string_view> leaf_set_names() {
  std::vector<std::string_view> names;
  for (const LeafSet& s : leaf_sets()) names.push_back(s.name);
  return names;
}

Result<std::vector<Leaf>> standard_leaves(std::string_view name) {
  for (const LeafSet& s : leaf_sets()) {
    if (s.name != name) continue;
    std::vector<Leaf> leaves;
    for (const int size : s.sizes) leaves.push_back(printed_leaf(Nm{s.unit_nm * size}));
    return leaves;
  }
  return Problem{"unknown_leaf_set", std::string(name),
                 fmt::format("There is no set of feeler leaves \"{}\". There are: {}. Any other set is given by its "
                             "thicknesses.",
                             name, fmt::join(leaf_set_names(), ", ")),
                 ""};
}

Result<Shim> choose_leaves(Nm wanted, std::span<const Leaf> leaves) {
  if (auto problem = input_problem(leaves)) return *problem;
  if (wanted.v < 0)
    return Problem{"bad_thickness", "",
                   fmt::format("A shim of {} cannot be: leaves only add. Move the stop the other way instead.",
                               show_nominal(wanted)),
                   ""};
  return shim_of(Search(wanted, leaves).best(), wanted, leaves);
}

Nm leaf_step(std::span<const Leaf> leaves) {
  Nm least = leaves.front().thickness;
  for (std::size_t i = 1; i < leaves.size(); ++i)
    if (const Nm gap = leaves[i].thickness - leaves[i - 1].thickness; gap.v > 0) least = std::min(least, gap);
  return least;
}

std::function<Nm(Nm)> times(double factor) {
  return [factor](Nm reading) { return Nm{std::llround(factor * static_cast<double>(reading.v))}; };
}

Result<std::vector<LeafRow>> leaf_table(const LeafTableWish& wish, std::span<const Leaf> leaves) {
  if (auto problem = table_problem(wish)) return *problem;
  std::vector<LeafRow> rows;
  for (Nm reading; reading <= wish.most; reading = reading + wish.step) {
    const Nm wanted = wish.wanted(reading);
    auto shim = choose_leaves(wanted, leaves);
    if (!shim) return shim.problem();
    if (rows.empty() || rows.back().leaves != shim.value().leaves)
      rows.push_back({reading, reading, wanted, wanted, shim.value().leaves, shim.value().total, shim.value().u_nm});
    rows.back().last = reading, rows.back().wanted_last = wanted;
  }
  return rows;
}

}  // namespace stickwright

#include "takeapart/falls.h"

#include <algorithm>

#include "solver/linear_program.h"
#include "takeapart/hindrance.h"
#include "takeapart/motion_rows.h"
#include "takeapart/whole_numbers.h"

namespace stickwright {
namespace {

using Numbers = std::vector<std::int64_t>;

// The weights, as forces on the columns.
Numbers pulls(const MotionRows& rows, int pieces, Vec down, std::span<const std::int64_t> weight) {
  Numbers out(rows.columns());
  for (int i = 0; i < pieces; ++i)
    for (int a = 0; a < 3 && rows.column(i) >= 0; ++a)
      out[rows.column(i) + a] = (weight.empty() ? 1 : weight[i]) * down[a];
  return out;
}

// Contact forces f >= 0 against the pulls, A'f + pull = 0, at the cost of what they leave unbalanced. The prices of the
// balances are speeds, at most 1, that lose the most height.
EqualityProgram support_program(const MotionRows& rows, const Numbers& pull) {
  EqualityProgram p;
  for (std::int64_t v : pull) p.right.push_back(-static_cast<double>(v));
  for (const MotionRow& row : rows.rows()) {
    rows.for_each_entry(row, [&](int column, std::int64_t value) { p.entry(column, static_cast<double>(value)); });
    p.end_column(0, kNoUpper);
  }
  for (int c = 0; c < rows.columns(); ++c)
    for (double sign : {1.0, -1.0}) p.entry(c, sign), p.end_column(1, kNoUpper);
  return p;
}

Wide height_lost(const Numbers& pull, const Numbers& v) {
  Wide sum = 0;
  for (std::size_t c = 0; c < v.size(); ++c) sum += Wide{pull[c]} * v[c];
  return sum;
}

bool is_fall(const MotionRows& rows, const Numbers& pull, const Numbers& v) {
  return height_lost(pull, v) > 0 && std::all_of(rows.rows().begin(), rows.rows().end(),
                                                 [&](const MotionRow& row) { return rows.opening(row, v) >= 0; });
}

bool holds_up(const MotionRows& rows, const Numbers& pull, const WholeNumbers& force) {
  std::vector<Wide> sum;
  for (std::int64_t v : pull) sum.push_back(Wide{v} * force.bottom);
  for (std::size_t r = 0; r < force.top.size(); ++r) {
    if (force.top[r] < 0) return false;
    rows.for_each_entry(rows.rows()[r],
                        [&](int column, std::int64_t value) { sum[column] += Wide{value} * force.top[r]; });
  }
  return std::all_of(sum.begin(), sum.end(), [](Wide s) { return s == 0; });
}

// Of two answers the one that loses more height; an open question beats a proof that nothing falls.
struct Fall {
  Falls falls;
  double height = 0;
  bool beats(const Fall& other) const {
    if (falls.verdict == Verdict::found) return other.falls.verdict != Verdict::found || height > other.height;
    return falls.verdict == Verdict::stopped && other.falls.verdict == Verdict::none_exists;
  }
};

class Search {
 public:
  Search(const Touching& touching, const std::vector<int>& held, Vec down, std::span<const std::int64_t> weight)
      : touching_(touching), held_(held), down_(down), weight_(weight), contacts_(touching.faces) {}

  // An edge contact that the fall runs into is gone around one way after the other.
  Fall best() {
    if (++cases_ > kMostCases) return {};
    Fall fall = by_faces();
    if (fall.falls.verdict != Verdict::found) return fall;
    const EdgeContact* hit = hindering_edge(touching_, fall.falls.motion);
    if (hit == nullptr) return fall;
    Fall most{{Verdict::none_exists, {}, {}, {}, 1}, 0};
    for (Vec n : hit->normals) {
      contacts_.push_back({hit->from, hit->to, n, {}, {}});
      Fall f = best();
      contacts_.pop_back();
      f.falls.force.clear();
      if (f.beats(most)) most = std::move(f);
    }
    return most;
  }

 private:
  Fall by_faces() const {
    const MotionRows rows(contacts_, touching_.pieces, held_);
    const Numbers pull = pulls(rows, touching_.pieces, down_, weight_);
    const ProgramAnswer answer = solve(support_program(rows, pull));
    if (!answer.solved) return {};
    Fall out;
    if (const auto speeds = whole_numbers(answer.price)) {
      Numbers v = speeds->top;
      for (std::int64_t& x : v) x = -x;
      if (is_fall(rows, pull, v)) {
        out.height = static_cast<double>(height_lost(pull, v)) / static_cast<double>(speeds->bottom);
        keep_fall(rows, v, out.falls);
        return out;
      }
    }
    const auto force = whole_numbers({answer.x.data(), contacts_.size()});
    if (force && holds_up(rows, pull, *force)) out.falls = {Verdict::none_exists, {}, {}, force->top, force->bottom};
    return out;
  }

  void keep_fall(const MotionRows& rows, const Numbers& v, Falls& out) const {
    out.verdict = Verdict::found;
    for (int i = 0; i < touching_.pieces; ++i) {
      const int c = rows.column(i);
      out.motion.slide.push_back(c < 0 ? Vec{} : Vec{v[c], v[c + 1], v[c + 2]});
      if (dot(down_, out.motion.slide.back()) > 0) out.pieces.push_back(i);
    }
  }

  static constexpr int kMostCases = 2'000;
  const Touching& touching_;
  const std::vector<int>& held_;
  Vec down_;
  std::span<const std::int64_t> weight_;
  std::vector<Contact> contacts_;
  int cases_ = 0;
};

}  // namespace

Falls falls(const Touching& touching, const std::vector<int>& held, Vec down, std::span<const std::int64_t> weight) {
  return Search(touching, held, down, weight).best().falls;
}

}  // namespace stickwright

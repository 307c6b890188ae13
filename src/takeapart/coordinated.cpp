#include "takeapart/coordinated.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <numeric>
#include <set>

#include "takeapart/elimination.h"
#include "takeapart/hindrance.h"
#include "takeapart/motion_rows.h"
#include "takeapart/rays.h"

namespace stickwright {
namespace {

using Numbers = std::vector<std::int64_t>;

WholeRows whole_rows(const MotionRows& rows) {
  WholeRows out;
  for (const MotionRow& row : rows.rows()) {
    out.emplace_back(rows.columns());
    rows.for_each_entry(row, [&](int column, std::int64_t value) { out.back()[column] += value; });
  }
  return out;
}

Elimination eliminated(const WholeRows& rows, int columns) {
  Elimination e(columns);
  for (const Numbers& row : rows) e.add(row);
  return e;
}

std::vector<int> all_columns(int columns) {
  std::vector<int> all(static_cast<std::size_t>(columns));
  std::iota(all.begin(), all.end(), 0);
  return all;
}

// The columns that are not free. Slides that keep all contacts can bring the free ones to zero, in one way only, so
// that motions with zeros there stand for all motions up to such slides.
std::vector<int> bound_columns(const Elimination& e, int columns) {
  const std::vector<int> free = e.free_columns();
  std::vector<int> bound = all_columns(columns);
  std::erase_if(bound, [&](int c) { return std::binary_search(free.begin(), free.end(), c); });
  return bound;
}

WholeRows only(const WholeRows& rows, const std::vector<int>& columns) {
  WholeRows out;
  for (const Numbers& row : rows) {
    out.emplace_back();
    for (int c : columns) out.back().push_back(row[c]);
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

Motion motion_of(const Numbers& ray, const std::vector<int>& columns, int pieces) {
  std::vector<std::array<std::int64_t, 3>> v(pieces);
  for (std::size_t c = 0; c < columns.size(); ++c) v[1 + columns[c] / 3][columns[c] % 3] = ray[c];
  Motion m;
  for (const auto& [x, y, z] : v) m.slide.push_back({x, y, z});
  return m;
}

// Looks for a group that, sliding along d, opens every contact in the same proportion as the motion does: then the two
// are the same motion up to slides that keep all contacts.
class TwoHandedTwin {
 public:
  TwoHandedTwin(std::span<const Contact> contacts, const Motion& m, Vec d) : contacts_(contacts), d_(d) {
    for (const Contact& c : contacts) opens_.push_back(dot(c.normal, m.slide[c.to] - m.slide[c.from]));
    step_.assign(m.slide.size(), kUnseen);
  }

  bool exists() {
    if (!find_steps()) return false;
    for (std::size_t i = 0; i < step_.size(); ++i)
      if (step_[i] == kUnseen && !spread(static_cast<int>(i))) return false;
    return true;
  }

 private:
  static constexpr int kUnseen = 99;

  // needed_[k]: does `to` move and `from` not (1), the other way round (-1), or both alike (0)?
  bool find_steps() {
    std::int64_t opens = 0, speeds = 0;  // the proportion, from the first contact that opens
    for (std::size_t k = 0; k < contacts_.size(); ++k) {
      const std::int64_t speed = dot(contacts_[k].normal, d_);
      needed_.push_back(opens_[k] == 0 ? 0 : speed > 0 ? 1 : -1);
      if (opens_[k] == 0) continue;
      if (speed == 0) return false;
      if (opens == 0) opens = opens_[k], speeds = std::abs(speed);
      if (Wide{opens_[k]} * speeds != Wide{opens} * std::abs(speed)) return false;
    }
    return opens != 0;
  }

  // Follows the contacts from one piece; steps may differ by one at most among pieces that these tie together.
  bool spread(int start) {
    std::vector<int> open = {start};
    int low = 0, high = 0;
    step_[start] = 0;
    for (std::size_t done = 0; done < open.size(); ++done)
      for (std::size_t k = 0; k < contacts_.size(); ++k) {
        const Contact& c = contacts_[k];
        if (dot(c.normal, d_) == 0 || (c.from != open[done] && c.to != open[done])) continue;
        const int other = c.from == open[done] ? c.to : c.from;
        const int step = step_[open[done]] + (c.from == open[done] ? needed_[k] : -needed_[k]);
        if (step_[other] == kUnseen) step_[other] = step, open.push_back(other);
        if (step_[other] != step) return false;
        low = std::min(low, step), high = std::max(high, step);
      }
    return high - low <= 1;
  }

  std::span<const Contact> contacts_;
  Vec d_;
  std::vector<std::int64_t> opens_;
  std::vector<int> needed_, step_;
};

bool two_hands_do(const Family& family, std::span<const Contact> contacts, const Motion& m) {
  const auto directions = family.slide_directions();
  return std::any_of(directions.begin(), directions.end(),
                     [&](Vec d) { return TwoHandedTwin(contacts, m, d).exists(); });
}

// One group along one direction.
bool is_two_handed(const Motion& m) {
  return std::set<Vec>(m.slide.begin(), m.slide.end()).size() == 2;
}

// Adds the only slide that keeps all contacts, both ways, where two hands cannot do it.
//   returns  false when it could not be found in whole numbers
bool add_slide(const Touching& touching, const MotionRows& rows, const Elimination& e, std::vector<Motion>& motions) {
  const auto v = e.null_vector(e.free_columns()[0]);
  if (!v) return false;
  for (const MotionRow& row : rows.rows())
    if (rows.opening(row, *v) != 0) return false;
  Motion m = motion_of(*v, all_columns(rows.columns()), touching.pieces);
  for (int way = 0; way < 2; ++way) {
    if (!is_two_handed(m) && hindering_edge(touching, m) == nullptr) motions.push_back(m);
    for (Vec& s : m.slide) s = -s;
  }
  return true;
}

}  // namespace

CoordinatedMotions coordinated_motions(const Family& family, const Touching& touching, const RayLimits& limits) {
  CoordinatedMotions out;
  const MotionRows rows(touching.faces, touching.pieces, {0});
  const WholeRows all = whole_rows(rows);
  const Elimination eliminated_rows = eliminated(all, rows.columns());
  const std::vector<int> bound = bound_columns(eliminated_rows, rows.columns());
  out.slides = rows.columns() - static_cast<int>(bound.size());
  if (static_cast<int>(bound.size()) > limits.columns) return out;
  const auto rays = extreme_rays(only(all, bound), bound.size(), limits.rays);
  if (!rays) return out;
  out.rays = rays->size();
  for (const Numbers& ray : *rays) {
    Motion m = motion_of(ray, bound, touching.pieces);
    if (!two_hands_do(family, touching.faces, m) && hindering_edge(touching, m) == nullptr)
      out.motions.push_back(std::move(m));
  }
  if (out.slides == 1 && !add_slide(touching, rows, eliminated_rows, out.motions)) return out;
  out.verdict = out.motions.empty() ? Verdict::none_exists : Verdict::found;
  return out;
}

}  // namespace stickwright

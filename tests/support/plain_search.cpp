#include "support/plain_search.h"

#include <algorithm>
#include <memory>
#include <numeric>
#include <set>

namespace stickwright::plain {
namespace {

std::vector<Vec> all_directions(std::int64_t longest) {
  std::vector<Vec> out;
  for (std::int64_t x : {-1, 0, 1})
    for (std::int64_t y : {-1, 0, 1})
      for (std::int64_t z : {-1, 0, 1})
        if (const std::int64_t length = x * x + y * y + z * z; length > 0 && length <= longest)
          out.push_back({x, y, z});
  return out;
}

bool share_a_cube(const std::set<Vec>& a, Vec offset, const std::set<Vec>& b) {
  return std::any_of(a.begin(), a.end(), [&](Vec c) { return b.contains(c + offset); });
}

// lo < n.u < hi for the offsets u at which two bodies overlap.
struct Slab {
  Vec n;
  std::int64_t lo, hi;
};
using Overlap = std::vector<Slab>;

// Which way along n is beside the point: it may point either way.
Vec line_of(Vec n) {
  const std::int64_t g = std::gcd(std::gcd(n.x, n.y), n.z);
  if (g == 0) return n;
  n = {n.x / g, n.y / g, n.z / g};
  return n < Vec{} ? -n : n;
}

std::vector<Vec> edges_of(const std::vector<Vec>& corners) {
  std::vector<Vec> out;
  for (Vec p : corners)
    for (Vec q : corners)
      if (p < q) out.push_back(q - p);
  return out;
}

// Two tetrahedra overlap when they overlap along the normal of every face and every product of two edges; the faces'
// normals are products of edges, too.
Overlap overlap_of(const std::vector<Vec>& a, const std::vector<Vec>& b) {
  std::vector<Vec> edges = edges_of(a);
  for (Vec e : edges_of(b)) edges.push_back(e);
  std::set<Vec> lines;
  for (Vec e : edges)
    for (Vec f : edges) lines.insert(line_of(cross(e, f)));
  lines.erase(Vec{});
  Overlap out;
  for (Vec n : lines) {
    Slab s{n, INT64_MAX, INT64_MIN};
    for (Vec p : a)
      for (Vec q : b) s.lo = std::min(s.lo, dot(n, q - p)), s.hi = std::max(s.hi, dot(n, q - p));
    out.push_back(s);
  }
  return out;
}

// The number of whole stops before u + s d gets into the overlap.
int stops_before(const Overlap& overlap, Vec u, Vec d) {
  std::int64_t from_top = 0, from_bottom = 1, to_top = kFar, to_bottom = 1;
  for (const Slab& slab : overlap) {
    const std::int64_t at = dot(slab.n, u), speed = dot(slab.n, d);
    if (speed == 0 && (at <= slab.lo || at >= slab.hi)) return kFar;
    if (speed == 0) continue;
    const std::int64_t in = speed > 0 ? slab.lo - at : at - slab.hi, out = speed > 0 ? slab.hi - at : at - slab.lo;
    const std::int64_t size = std::abs(speed);
    if (in * from_bottom > from_top * size) from_top = in, from_bottom = size;
    if (out * to_bottom < to_top * size) to_top = out, to_bottom = size;
  }
  return from_top * to_bottom < to_top * from_bottom ? static_cast<int>(from_top / from_bottom) : kFar;
}

}  // namespace

Passer cubes(const std::vector<Cells>& pieces) {
  std::vector<std::set<Vec>> sets;
  for (const Cells& c : pieces) sets.emplace_back(c.begin(), c.end());
  constexpr int kBeyond = 40;  // longer than any two pieces and places that tests use
  const auto stops = [sets](int i, int j, Vec offset, Vec direction) {
    for (int k = 0; k < kBeyond; ++k)
      if (share_a_cube(sets[i], offset + (k + 1) * direction, sets[j])) return k;
    return kFar;
  };
  return {all_directions(1), stops};
}

Passer mitered_cells(const std::vector<Cells>& pieces) {
  std::map<std::pair<int, int>, std::vector<Overlap>> overlaps;
  const auto corners_in_stops = [](Cell c) {
    std::vector<Vec> out = mitered().corners(c);
    for (Vec& p : out) p = 2 * p;
    return out;
  };
  const int n = static_cast<int>(pieces.size());
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j)
      for (Cell a : pieces[i])
        for (Cell b : pieces[j])
          if (i != j) overlaps[{i, j}].push_back(overlap_of(corners_in_stops(a), corners_in_stops(b)));
  const auto stops = [overlaps](int i, int j, Vec offset, Vec direction) {
    int least = kFar;
    for (const Overlap& o : overlaps.at({i, j})) least = std::min(least, stops_before(o, offset, direction));
    return least;
  };
  return {all_directions(3), stops};
}

struct Search::Places {
  std::map<std::vector<Vec>, int> depth;
  std::vector<std::vector<Vec>> in_order;
};

Search::Part Search::side(const Part& here, unsigned group, bool in) {
  Part out;
  for (std::size_t k = 0; k < here.pieces.size(); ++k)
    if ((group >> k & 1) == in) out.pieces.push_back(here.pieces[k]), out.at.push_back(here.at[k]);
  const Vec first = out.at[0];
  for (Vec& v : out.at) v = v - first;
  return out;
}

int Search::stops(const Part& here, unsigned group, std::size_t direction) {
  int least = kFar;
  for (std::size_t i = 0; i < here.pieces.size(); ++i)
    for (std::size_t j = 0; j < here.pieces.size(); ++j) {
      if (!(group >> i & 1) || (group >> j & 1)) continue;
      const int a = here.pieces[i], b = here.pieces[j];
      std::vector<int>& known = seen_[{{a, b}, here.at[i] - here.at[j]}];
      if (known.empty())
        for (Vec d : passer_.directions) known.push_back(passer_.stops(a, b, here.at[i] - here.at[j], d));
      least = std::min(least, known[direction]);
    }
  return least;
}

bool Search::in_the_box(const std::vector<Vec>& at) const {
  return std::all_of(at.begin(), at.end(), [&](Vec v) {
    return std::max({std::abs(v.x), std::abs(v.y), std::abs(v.z)}) <= limits_.box;
  });
}

Answer Search::solve(const Part& part) {
  if (part.pieces.size() == 1) return {.apart = true};
  if (const auto known = solved_.find(part); known != solved_.end()) return known->second;
  Answer answer;
  Places places{{{part.at, 0}}, {part.at}};
  const int least_more = static_cast<int>(part.pieces.size()) - 1;
  for (std::size_t p = 0; p < places.in_order.size(); ++p) {
    const Part here{part.pieces, places.in_order[p]};
    const int depth = places.depth[here.at];
    if (answer.apart && answer.all <= depth + least_more) break;
    if (static_cast<int>(p) >= limits_.positions) {
      answer.gave_up = true;
      break;
    }
    visit(here, depth, answer, places);
  }
  answer.positions = static_cast<int>(places.in_order.size());
  return solved_[part] = answer;
}

// Groups without the first piece are enough: with it, it is the rest that slides the other way.
void Search::visit(const Part& here, int depth, Answer& answer, Places& places) {
  for (unsigned group = 2; group < 1u << here.pieces.size(); group += 2)
    for (std::size_t d = 0; d < passer_.directions.size(); ++d) {
      const int far = stops(here, group, d);
      if (far == kFar) part(here, group, depth, answer);
      std::vector<Vec> to = here.at;
      for (int k = 1; k <= far; ++k) {
        for (std::size_t i = 0; i < to.size(); ++i)
          if (group >> i & 1) to[i] = to[i] + passer_.directions[d];
        if (far == kFar && !in_the_box(to)) break;
        if (places.depth.emplace(to, depth + 1).second) places.in_order.push_back(to);
      }
    }
}

void Search::part(const Part& here, unsigned group, int depth, Answer& answer) {
  if (answer.first == 0) answer.first = depth + 1;
  if (depth == 0) ++answer.ways_out;
  const Answer a = solve(side(here, group, true)), b = solve(side(here, group, false));
  answer.gave_up |= a.gave_up || b.gave_up;
  if (!a.apart || !b.apart) return;
  const int all = depth + 1 + a.all + b.all;
  if (!answer.apart || all < answer.all) answer.all = all;
  answer.apart = true;
}

}  // namespace stickwright::plain

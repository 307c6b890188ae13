#include <algorithm>
#include <set>
#include <tuple>

#include "takeapart/contacts.h"

namespace stickwright {
namespace {

// The extent of a cell along every separator of the family.
struct Extent {
  Cell cell;
  std::vector<std::int64_t> low, high;
};

std::vector<Extent> extents(const Family& family, const Standing& standing, std::size_t piece) {
  std::vector<Extent> out;
  for (Cell c : standing.pieces[piece]) {
    Extent e{c, {}, {}};
    const auto corners = family.corners(c);
    for (Vec n : family.separators()) {
      const auto [least, most] =
          std::minmax_element(corners.begin(), corners.end(), [&](Vec p, Vec q) { return dot(n, p) < dot(n, q); });
      const std::int64_t shift = dot(n, standing.shift(piece));
      e.low.push_back(dot(n, *least) + shift);
      e.high.push_back(dot(n, *most) + shift);
    }
    out.push_back(std::move(e));
  }
  return out;
}

// The separators n along which b begins exactly where a ends; none when some separator keeps the two apart.
std::vector<Vec> parting_planes(std::span<const Vec> separators, const Extent& a, const Extent& b) {
  for (std::size_t k = 0; k < separators.size(); ++k)
    if (a.high[k] < b.low[k]) return {};
  std::vector<Vec> tight;
  for (std::size_t k = 0; k < separators.size(); ++k)
    if (a.high[k] == b.low[k]) tight.push_back(separators[k]);
  return tight;
}

bool implied(const EdgeContact& e, const std::set<std::tuple<int, int, Vec>>& faces) {
  return std::any_of(e.normals.begin(), e.normals.end(), [&](Vec n) { return faces.contains({e.from, e.to, n}); });
}

}  // namespace

Touching touching(const Family& family, const Standing& standing) {
  Touching out{static_cast<int>(standing.pieces.size()), contacts(family, standing), {}};
  std::set<std::tuple<int, int, Vec>> faces;
  for (const Contact& c : out.faces) faces.insert({c.from, c.to, c.normal});
  std::vector<std::vector<Extent>> cells;
  for (std::size_t i = 0; i < standing.pieces.size(); ++i) cells.push_back(extents(family, standing, i));
  std::set<std::tuple<int, int, std::vector<Vec>>> seen;
  for (int i = 0; i < out.pieces; ++i)
    for (int j = i + 1; j < out.pieces; ++j)
      for (const Extent& a : cells[i])
        for (const Extent& b : cells[j]) {
          EdgeContact e{i, j, parting_planes(family.separators(), a, b), a.cell, b.cell};
          if (!e.normals.empty() && !implied(e, faces) && seen.insert({i, j, e.normals}).second)
            out.edges.push_back(std::move(e));
        }
  return out;
}

}  // namespace stickwright

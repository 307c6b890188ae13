// The checker of certificates. It shares no code with the search: contacts are looked up on the cells' own planes,
// edges are judged by separating axes made from the cells' corners.
#include <algorithm>
#include <array>

#include "takeapart/cell_axes.h"
#include "takeapart/first_motion.h"

namespace stickwright {
namespace {

__extension__ using Wide = __int128;

// Where a point is on the face of a cell that has this outward normal.
enum class Place { off, edge, inside };

Place place_on_face(const std::vector<HalfSpace>& planes, Vec normal, Vec shift, const Spot& p) {
  bool on_face = false, on_edge = false;
  for (const HalfSpace& h : planes) {
    const std::int64_t room = p.bottom * (h.c + dot(h.n, shift)) - dot(h.n, p.top);
    if (room < 0) return Place::off;
    if (h.n == normal && room == 0)
      on_face = true;
    else
      on_edge |= room == 0;
  }
  return !on_face ? Place::off : on_edge ? Place::edge : Place::inside;
}

// Some face of the piece with this normal has contact.inside within it and, when asked for, contact.at on it.
std::vector<Cell> bearing_cells(const Family& family, const Standing& standing, int piece, Vec normal, const Contact& c,
                                bool turning) {
  std::vector<Cell> out;
  const Vec shift = standing.shift(piece);
  for (Cell cell : standing.pieces[piece]) {
    const auto planes = family.planes(cell);
    if (place_on_face(planes, normal, shift, c.inside) != Place::inside) continue;
    if (!turning || place_on_face(planes, normal, shift, c.at) != Place::off) out.push_back(cell);
  }
  return out;
}

bool is_pair(int from, int to, std::size_t pieces) {
  return from >= 0 && to >= 0 && std::max(from, to) < static_cast<int>(pieces) && from != to;
}

bool is_contact(const Family& family, const Standing& standing, const Contact& c, bool turning) {
  if (!is_pair(c.from, c.to, standing.pieces.size())) return false;
  if (c.inside.bottom <= 0 || c.at.bottom <= 0) return false;
  return !bearing_cells(family, standing, c.from, c.normal, c, turning).empty() &&
         !bearing_cells(family, standing, c.to, -c.normal, c, turning).empty();
}

// Force and moment about the origin: what a unit of the contact's force does to `to`.
std::vector<std::int64_t> wrench(const Contact& c, bool turning) {
  if (!turning) return {c.normal.x, c.normal.y, c.normal.z};
  const Vec f = c.at.bottom * c.normal, m = cross(c.at.top, c.normal);
  return {f.x, f.y, f.z, m.x, m.y, m.z};
}

bool in_balance(const Certificate& certificate, std::size_t pieces) {
  std::vector<std::array<Wide, 6>> sum(pieces);
  for (std::size_t k = 0; k < certificate.contacts.size(); ++k) {
    const Contact& c = certificate.contacts[k];
    if (certificate.force[k] <= 0) return false;
    const auto w = wrench(c, certificate.turning);
    for (std::size_t a = 0; a < w.size(); ++a) {
      sum[c.to][a] += Wide{w[a]} * certificate.force[k];
      sum[c.from][a] -= Wide{w[a]} * certificate.force[k];
    }
  }
  return std::all_of(sum.begin(), sum.end(), [](const auto& s) { return s == std::array<Wide, 6>{}; });
}

constexpr std::int64_t kPrime = 2'147'483'647;

std::int64_t power(std::int64_t a, std::int64_t e) {
  std::int64_t out = 1;
  for (; e != 0; e >>= 1, a = a * a % kPrime)
    if (e & 1) out = out * a % kPrime;
  return out;
}

// The rank modulo a prime. It never exceeds the true rank, so "at least" is proved by it.
std::size_t rank(std::vector<std::vector<std::int64_t>> rows, std::size_t columns) {
  std::size_t done = 0;
  for (std::size_t c = 0; c < columns; ++c) {
    std::size_t at = done;
    while (at < rows.size() && rows[at][c] == 0) ++at;
    if (at == rows.size()) continue;
    std::swap(rows[at], rows[done]);
    const std::int64_t inverse = power(rows[done][c], kPrime - 2);
    for (std::size_t r = done + 1; r < rows.size(); ++r) {
      const std::int64_t factor = rows[r][c] * inverse % kPrime;
      for (std::size_t k = c; k < columns && factor != 0; ++k)
        rows[r][k] = ((rows[r][k] - factor * rows[done][k]) % kPrime + kPrime) % kPrime;
    }
    ++done;
  }
  return done;
}

// With all contacts kept nothing moves: the contacts fix the speeds of all pieces against the first.
bool contacts_fix_all(const Certificate& certificate, std::size_t pieces) {
  const std::size_t width = certificate.turning ? 6 : 3, columns = width * pieces;
  std::vector<std::vector<std::int64_t>> rows;
  for (const Contact& c : certificate.contacts) {
    std::vector<std::int64_t> row(columns);
    const auto w = wrench(c, certificate.turning);
    for (std::size_t a = 0; a < width; ++a) {
      const std::int64_t r = (w[a] % kPrime + kPrime) % kPrime;
      row[c.to * width + a] = r;
      row[c.from * width + a] = (kPrime - r) % kPrime;
    }
    rows.push_back(std::move(row));
  }
  // What all pieces have in common is `width` motions that every row allows.
  return rank(std::move(rows), columns) == width * (pieces - 1);
}

// n = p a + q b + r c with p, q, r >= 0, where some of them may stand alone or in pairs.
bool in_cone(Vec n, const std::vector<Vec>& normals) {
  for (Vec a : normals) {
    if (cross(n, a) == Vec{} && dot(n, a) > 0) return true;
    for (Vec b : normals) {
      const Vec m = cross(a, b);
      if (m != Vec{} && dot(n, m) == 0 && dot(cross(n, b), m) >= 0 && dot(cross(a, n), m) >= 0) return true;
      for (Vec c : normals)
        if (dot(m, c) > 0 && dot(n, cross(b, c)) >= 0 && dot(n, cross(c, a)) >= 0 && dot(n, m) >= 0) return true;
    }
  }
  return false;
}

// The two cells touch, and every motion that keeps them apart goes past one of the normals: those of all planes that
// part them now are sums of these.
bool is_edge(const Family& family, const Standing& standing, const EdgeContact& e) {
  if (!is_pair(e.from, e.to, standing.pieces.size())) return false;
  const auto stands = [&](int piece, Cell c) {
    const Cells& cells = standing.pieces[piece];
    return std::find(cells.begin(), cells.end(), c) != cells.end();
  };
  if (!stands(e.from, e.from_cell) || !stands(e.to, e.to_cell)) return false;
  const Corners a = shifted_corners(family, e.from_cell, standing.shift(e.from));
  const Corners b = shifted_corners(family, e.to_cell, standing.shift(e.to));
  const auto axes = cell_axes(a, b);
  return std::all_of(axes.begin(), axes.end(), [&](Vec n) {
    const std::int64_t g = gap(a, b, n);
    return g < 0 || (g == 0 && in_cone(n, e.normals));
  });
}

class Check {
 public:
  Check(const Family& family, const Standing& standing) : family_(family), standing_(standing) {}

  bool holds(const Certificate& c) { return c.edge ? all_cases(c) : by_forces(c); }

 private:
  bool by_forces(const Certificate& c) const {
    return c.cases.empty() && c.contacts.size() == c.force.size() &&
           std::all_of(
               c.contacts.begin(), c.contacts.end(),
               [&](const Contact& k) { return is_supposed(k) || is_contact(family_, standing_, k, c.turning); }) &&
           in_balance(c, standing_.pieces.size()) && contacts_fix_all(c, standing_.pieces.size());
  }

  // What an edge supposes says nothing about turning.
  bool all_cases(const Certificate& c) {
    if (c.turning || !c.contacts.empty() || c.cases.size() != c.edge->normals.size()) return false;
    if (!is_edge(family_, standing_, *c.edge)) return false;
    for (std::size_t k = 0; k < c.cases.size(); ++k) {
      supposed_.push_back({c.edge->from, c.edge->to, c.edge->normals[k], {}, {}});
      const bool holds_so = !c.cases[k].turning && holds(c.cases[k]);
      supposed_.pop_back();
      if (!holds_so) return false;
    }
    return true;
  }

  bool is_supposed(const Contact& k) const {
    return std::any_of(supposed_.begin(), supposed_.end(),
                       [&](const Contact& s) { return s.from == k.from && s.to == k.to && s.normal == k.normal; });
  }

  const Family& family_;
  const Standing& standing_;
  std::vector<Contact> supposed_;
};

}  // namespace

bool check_certificate(const Family& family, const Standing& standing, const Certificate& certificate) {
  return !standing.pieces.empty() && Check(family, standing).holds(certificate);
}

}  // namespace stickwright

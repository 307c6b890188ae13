#include "takeapart/contacts.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "takeapart/face_overlap.h"

namespace stickwright {
namespace {

struct Face {
  int piece = 0;
  HalfSpace plane;
  FacePolygon polygon;
};

// Faces on one plane, from either side.
struct Sides {
  std::vector<Face> below, above;  // below: the normal of the plane points out of these
};
using FacesByPlane = std::map<HalfSpace, Sides>;

bool within(const Cells& cells, Cell c) {
  return std::binary_search(cells.begin(), cells.end(), c);
}

void add_faces(const Family& family, const Standing& standing, std::size_t piece, FacesByPlane& out) {
  const Cells& cells = standing.pieces[piece];
  const Vec shift = standing.shift(piece);
  for (Cell c : cells) {
    const auto planes = family.planes(c);
    const auto neighbors = family.neighbors(c), corners = family.corners(c);
    for (std::size_t f = 0; f < planes.size(); ++f) {
      if (within(cells, neighbors[f])) continue;
      const HalfSpace plane{planes[f].n, planes[f].c + dot(planes[f].n, shift)};
      const bool below = plane.n > Vec{};
      Face face{static_cast<int>(piece), plane, face_polygon(corners, planes[f], shift)};
      Sides& sides = out[below ? plane : HalfSpace{-plane.n, -plane.c}];
      (below ? sides.below : sides.above).push_back(std::move(face));
    }
  }
}

FacesByPlane faces_by_plane(const Family& family, const Standing& standing) {
  FacesByPlane faces;
  for (std::size_t i = 0; i < standing.pieces.size(); ++i) add_faces(family, standing, i, faces);
  return faces;
}

Contact contact_between(const Face& below, const Face& above) {
  if (below.piece < above.piece) return {below.piece, above.piece, below.plane.n, {}, {}};
  return {above.piece, below.piece, above.plane.n, {}, {}};
}

// Calls use(contact, area) for all pairs of faces of different pieces on one plane; area() is empty when they only
// touch in an edge or not at all.
template <class Use>
void for_each_pair(const Sides& sides, Use use) {
  for (const Face& a : sides.below)
    for (const Face& b : sides.above)
      if (a.piece != b.piece) use(contact_between(a, b), [&] { return overlap(a.polygon, b.polygon); });
}

struct Parts {
  bool operator()(const Contact& a, const Contact& b) const {
    return std::tie(a.from, a.to, a.normal) < std::tie(b.from, b.to, b.normal);
  }
};

}  // namespace

std::vector<Contact> contacts(const Family& family, const Standing& standing) {
  std::set<Contact, Parts> found;
  for (const auto& [plane, sides] : faces_by_plane(family, standing))
    for_each_pair(sides, [&](Contact c, auto area) {
      if (found.contains(c)) return;
      const std::vector<Spot> corners = area();
      if (corners.empty()) return;
      c.inside = middle(corners);
      c.at = corners.front();
      found.insert(c);
    });
  return {found.begin(), found.end()};
}

std::vector<Contact> contact_corners(const Family& family, const Standing& standing) {
  std::vector<Contact> out;
  for (const auto& [plane, sides] : faces_by_plane(family, standing)) {
    std::map<Contact, std::map<Spot, Spot>, Parts> shared;  // corner of an area -> a point inside that area
    for_each_pair(sides, [&](const Contact& c, auto area) {
      const std::vector<Spot> corners = area();
      if (corners.empty()) return;
      for (const Spot& corner : corners) shared[c].try_emplace(corner, middle(corners));
    });
    for (const auto& [contact, corners] : shared) {
      std::vector<Spot> spots;
      for (const auto& [corner, inside] : corners) spots.push_back(corner);
      for (const Spot& corner : hull(spots, contact.normal))
        out.push_back({contact.from, contact.to, contact.normal, corners.at(corner), corner});
    }
  }
  std::stable_sort(out.begin(), out.end(), Parts{});
  return out;
}

}  // namespace stickwright

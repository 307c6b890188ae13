// contacts.h - where pieces touch: face on face, or in edges and corners only.
#pragma once
#include <span>
#include <vector>

#include "family/family.h"

namespace stickwright {

// A point top / bottom with rational coordinates; bottom > 0, in lowest terms.
struct Spot {
  Vec top;
  std::int64_t bottom = 1;
  friend constexpr auto operator<=>(const Spot&, const Spot&) = default;
};

// Pieces of a puzzle as they stand: the cells of each, and how far each has been moved from them.
//   at  one shift a piece, or empty for none; any whole numbers, also such as take no cell to a cell
struct Standing {
  std::span<const Cells> pieces;
  std::span<const Vec> at = {};
  Vec shift(std::size_t piece) const { return at.empty() ? Vec{} : at[piece]; }
};

// A face of piece `from` lies on a face of piece `to`; `normal` points from `from` to `to`, and from < to.
struct Contact {
  int from = 0, to = 0;
  Vec normal;
  Spot inside;  // a point inside both faces, on the edge of neither
  Spot at;      // a corner of the area where the two faces touch
  friend constexpr auto operator<=>(const Contact&, const Contact&) = default;
};

// Two cells that touch in an edge or a corner only: their pieces collide exactly when all the normals run into it. Such
// a touch hinders, too: of two cubes that share an edge, one cannot move diagonally through the other.
struct EdgeContact {
  int from = 0, to = 0;      // from < to
  std::vector<Vec> normals;  // the planes that part the two cells, pointing from `from` to `to`; at least one
  Cell from_cell, to_cell;
  friend auto operator<=>(const EdgeContact&, const EdgeContact&) = default;
};

// How pieces hinder each other for the first instant of a motion without turning. With speeds v they stay apart, and
// for a while at that, exactly when
//   n . (v[to] - v[from]) >= 0   for every face contact, and
//   n . (v[to] - v[from]) >= 0   for at least one normal n of every edge contact.
struct Touching {
  int pieces = 0;
  std::vector<Contact> faces;      // from contacts()
  std::vector<EdgeContact> edges;  // only those that no face contact of the same pieces implies
};

//   assumes  no two pieces overlap; coordinates below kMaxCoord
//   exact    the planes that can part two cells are the family's separators: docs/derivations/sliding.md
Touching touching(const Family& family, const Standing& standing);

// One contact for each pair of pieces and each normal: all that matters of faces for motions without turning.
//   returns  ascending by (from, to, normal)
//   assumes  no two pieces overlap; coordinates below kMaxCoord
//   exact    also for shifts that take no cell to a cell: faces on one plane touch when the polygons overlap with area
std::vector<Contact> contacts(const Family& family, const Standing& standing);

// One contact for each corner of the convex hull of all that two pieces share of one plane: what matters when pieces
// may turn, too. The speed at which two bodies part is linear along a plane, so that the corners speak for all between.
//   returns  ascending by (from, to, normal)
std::vector<Contact> contact_corners(const Family& family, const Standing& standing);

}  // namespace stickwright

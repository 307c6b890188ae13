// cell_axes.h - separating axes of two convex cells, made from their own corners. For the checkers only.
#pragma once
#include <set>
#include <vector>

#include "takeapart/contacts.h"

namespace stickwright {

using Corners = std::vector<Vec>;

Corners shifted_corners(const Family& family, Cell cell, Vec shift);

// Products of the differences of corners: among them all normals of faces and all products of edges, so that along one
// of them two cells that do not overlap are parted.  returns  both signs of each, in lowest terms
std::set<Vec> cell_axes(const Corners& a, const Corners& b);

// How far along n body b begins beyond the end of a; below zero they overlap along n.
std::int64_t gap(const Corners& a, const Corners& b, Vec n);

}  // namespace stickwright

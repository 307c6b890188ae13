#include "fit/closed_puzzle.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <set>

#include "takeapart/face_overlap.h"

namespace stickwright {
namespace {

HalfSpace moved_plane(const Isometry& by, const HalfSpace& plane) {
  const Vec n = by.turn * plane.n;
  return {n, plane.c + dot(n, by.shift)};
}

// What made each face of the block: a side of the stick, the starting miter, or a cut.
int made_by(const Program& program, const HalfSpace& plane) {
  static constexpr Vec kSides[] = {{1, 1, 0}, {-1, -1, 0}, {1, -1, 0}, {-1, 1, 0}};
  for (int k = 0; k < 4; ++k)
    if (plane.n == kSides[k]) return stick_side(k);
  for (std::size_t k = 0; k < program.cuts.size(); ++k)
    if (plane_of(program.cuts[k].miter) == plane) return static_cast<int>(k) + 1;
  assert(plane_of(program.start) == plane);
  return 0;
}

StandingBlock standing_block(const Block& shape, const Program& program, const PlacedBlock& placed,
                             const Isometry& stand) {
  StandingBlock b;
  b.shape = placed.shape;
  const Isometry to_work = to_work_frame(program), there = stand * placed.pose;
  b.from_work = there * to_work.inverse();
  for (const ExactFace& f : shape.body.faces) {
    StandingFace face{moved_plane(there, f.plane), {}, made_by(program, moved_plane(to_work, f.plane))};
    for (std::size_t i = 0; i < f.loop.size(); ++i)
      face.loop.push_back(there * shape.body.corner(f, static_cast<int>(i)));
    b.faces.push_back(std::move(face));
  }
  const Vec grain = stand.turn * axis_vec(placed.grain_axis);
  b.grain_axis = grain.x != 0 ? 0 : grain.y != 0 ? 1 : 2;
  return b;
}

int face_on(const StandingBlock& b, const HalfSpace& plane) {
  for (std::size_t f = 0; f < b.faces.size(); ++f)
    if (b.faces[f].plane == plane) return static_cast<int>(f);
  assert(false);
  return -1;
}

FacePolygon polygon_of(const StandingFace& face, std::int64_t unit, Vec shift) {
  std::vector<Vec> corners;
  for (Vec p : face.loop) corners.push_back(unit * p);
  return face_polygon(corners, {face.plane.n, unit * face.plane.c}, shift);
}

// The joints that hold the piece together, in the order in which blocks are added: each new block by the largest of
// its joints with those that are there. Further joints of a new block are filled with glue, and hold it nowhere else.
std::vector<Joint> tree_of(const GlueUp& g) {
  const std::vector<int> stages = glue_stages(g);
  std::vector<bool> there(g.blocks.size());
  there[0] = true;
  std::vector<Joint> tree;
  while (tree.size() + 1 < g.blocks.size()) {
    int best = -1;
    for (std::size_t k = 0; k < g.joints.size(); ++k) {
      const Joint& j = g.joints[k];
      if (there[j.a] == there[j.b]) continue;
      if (best < 0 || std::pair(stages[k], -j.cell_faces) < std::pair(stages[best], -g.joints[best].cell_faces))
        best = static_cast<int>(k);
    }
    Joint j = g.joints[static_cast<std::size_t>(best)];
    if (!there[j.a]) j = {j.b, j.a, {-j.plane.n, -j.plane.c}, j.cell_faces};
    there[j.b] = true;
    tree.push_back(j);
  }
  return tree;
}

StandingJoint standing_joint(const ClosedPuzzle& puzzle, int first, const Joint& joint, const Isometry& stand) {
  StandingJoint j{first + joint.a, first + joint.b, 0, 0, {}};
  const HalfSpace plane = moved_plane(stand, joint.plane);
  j.face_a = face_on(puzzle.blocks[j.a], plane);
  j.face_b = face_on(puzzle.blocks[j.b], {-plane.n, -plane.c});
  const FacePolygon a = polygon_of(puzzle.blocks[j.a].faces[j.face_a], 1, {}),
                    b = polygon_of(puzzle.blocks[j.b].faces[j.face_b], 1, {});
  j.corners = hull(overlap(a, b), plane.n);
  return j;
}

// A plate of the glue jig lies on the outermost face of the piece in its direction.
HalfSpace plate(const ClosedPuzzle& puzzle, const StandingPieceParts& piece, Vec normal) {
  HalfSpace outermost{normal, INT64_MIN};
  for (int b = piece.first_block; b < piece.first_block + piece.blocks; ++b)
    for (const StandingFace& f : puzzle.blocks[b].faces)
      if (f.plane.n == normal) outermost.c = std::max(outermost.c, f.plane.c);
  return outermost;
}

// Faces on one plane, from either side.
struct FaceHere {
  int block = 0, face = 0;
  FacePolygon polygon;
};
struct BothSides {
  std::vector<FaceHere> below, above;
};

std::map<HalfSpace, BothSides> faces_by_plane(const ClosedPuzzle& puzzle, const std::vector<Vec>& shifts,
                                              std::int64_t unit) {
  std::map<HalfSpace, BothSides> out;
  for (std::size_t b = 0; b < puzzle.blocks.size(); ++b) {
    const StandingBlock& block = puzzle.blocks[b];
    const Vec shift = shifts.empty() ? Vec{} : shifts[static_cast<std::size_t>(block.piece)];
    for (std::size_t f = 0; f < block.faces.size(); ++f) {
      const HalfSpace& p = block.faces[f].plane;
      const HalfSpace here{p.n, unit * p.c + dot(p.n, shift)};
      const bool below = here.n > Vec{};
      BothSides& sides = out[below ? here : HalfSpace{-here.n, -here.c}];
      (below ? sides.below : sides.above)
          .push_back({static_cast<int>(b), static_cast<int>(f), polygon_of(block.faces[f], unit, shift)});
    }
  }
  return out;
}

Spot over_unit(const Spot& s, std::int64_t unit) {
  return {s.top, s.bottom * unit};
}

// Whether the cell, with its faces, holds the point.
bool holds(Cell cell, const Spot& p) {
  for (const HalfSpace& h : mitered().planes(cell))
    if (dot(h.n, p.top) > h.c * p.bottom) return false;
  return true;
}

// A point of the closed puzzle is on its outside when one of the cells of space around it belongs to no piece. All
// these cells share the point, so that one gets from each to any other through faces that hold it.
class Outside {
 public:
  explicit Outside(Cells filled) : filled_(std::move(filled)) { std::sort(filled_.begin(), filled_.end()); }
  bool operator()(Cell start, const Spot& p) const {
    std::set<Cell> seen{start};
    std::vector<Cell> open{start};
    while (!open.empty()) {
      const Cell c = open.back();
      open.pop_back();
      if (!std::binary_search(filled_.begin(), filled_.end(), c)) return true;
      for (Cell n : mitered().neighbors(c))
        if (holds(n, p) && seen.insert(n).second) open.push_back(n);
    }
    return false;
  }

 private:
  Cells filled_;
};

}  // namespace

ClosedPuzzle closed_puzzle(const std::vector<StandingGlueUp>& pieces, const Split& split,
                           const std::vector<Program>& programs, double unit_mm) {
  ClosedPuzzle out;
  out.unit_mm = unit_mm;
  for (const StandingGlueUp& p : pieces) {
    StandingPieceParts parts{
        p.name, static_cast<int>(out.blocks.size()), static_cast<int>(p.glue_up->blocks.size()), {}, {}};
    for (std::size_t k = 0; k < p.glue_up->blocks.size(); ++k) {
      const PlacedBlock& placed = p.glue_up->blocks[k];
      StandingBlock b = standing_block(split.shapes[placed.shape], programs[placed.shape], placed, p.stand);
      b.piece = static_cast<int>(out.pieces.size());
      b.block = static_cast<int>(k);
      b.wood = p.woods[k];
      for (Cell c : placed.cells) b.cells.push_back(mitered().moved(p.stand, c));
      out.blocks.push_back(std::move(b));
    }
    for (const Joint& j : tree_of(*p.glue_up))
      parts.joints.push_back(standing_joint(out, parts.first_block, j, p.stand));
    for (Vec n : p.datum) parts.datum.push_back(plate(out, parts, p.stand.turn * n));
    out.pieces.push_back(std::move(parts));
  }
  return out;
}

std::vector<BlockContact> block_contacts(const ClosedPuzzle& puzzle, const std::vector<Vec>& shifts,
                                         std::int64_t unit) {
  std::vector<BlockContact> out;
  for (const auto& [plane, sides] : faces_by_plane(puzzle, shifts, unit))
    for (const FaceHere& a : sides.below)
      for (const FaceHere& b : sides.above) {
        if (puzzle.blocks[a.block].piece == puzzle.blocks[b.block].piece) continue;
        const std::vector<Spot> corners = hull(overlap(a.polygon, b.polygon), plane.n);
        if (corners.empty()) continue;
        BlockContact c{a.block, b.block, a.face, b.face, plane.n, {}};
        for (const Spot& s : corners) c.corners.push_back(over_unit(s, unit));
        out.push_back(std::move(c));
      }
  return out;
}

std::vector<std::vector<bool>> seen_from_outside(const ClosedPuzzle& puzzle,
                                                 const std::vector<BlockContact>& contacts) {
  Cells filled;
  for (const StandingBlock& b : puzzle.blocks) filled.insert(filled.end(), b.cells.begin(), b.cells.end());
  const Outside outside(std::move(filled));
  std::vector<std::vector<bool>> out;
  for (const BlockContact& c : contacts) {
    std::vector<bool> seen;
    for (const Spot& p : c.corners) {
      const Cells& cells = puzzle.blocks[c.from].cells;
      seen.push_back(outside(*std::find_if(cells.begin(), cells.end(), [&](Cell x) { return holds(x, p); }), p));
    }
    out.push_back(std::move(seen));
  }
  return out;
}

Point in_mm(const Spot& s, double unit_mm) {
  const double k = unit_mm / static_cast<double>(s.bottom);
  return {k * static_cast<double>(s.top.x), k * static_cast<double>(s.top.y), k * static_cast<double>(s.top.z)};
}

Point direction(Vec v) {
  const Point p{static_cast<double>(v.x), static_cast<double>(v.y), static_cast<double>(v.z)};
  return (1 / length(p)) * p;
}

}  // namespace stickwright

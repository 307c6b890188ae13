// family.h - a block family: the cells that space is cut into, their neighbors, outlines and symmetries.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "exact/polytope.h"
#include "exact/vec.h"

namespace stickwright {

// A cell is named by whole numbers; what they mean is the family's affair.
using Cell = Vec;
// A set of cells: sorted, distinct.
using Cells = std::vector<Cell>;

class Family {
 public:
  virtual ~Family() = default;
  virtual std::string_view name() const = 0;

  virtual bool is_cell(Cell c) const = 0;
  // What makes three whole numbers a cell, in words, for error messages.
  virtual std::string_view cell_rule() const = 0;
  virtual std::vector<Vec> corners(Cell c) const = 0;       // lattice points
  virtual std::vector<HalfSpace> planes(Cell c) const = 0;  // one a face; neighbors(c)[i] lies behind planes(c)[i]
  virtual std::vector<Cell> neighbors(Cell c) const = 0;

  virtual std::span<const Turn> rotations() const = 0;    // that keep the family's cells, identity first
  virtual std::span<const Turn> reflections() const = 0;  // the same, mirror images
  virtual bool is_shift(Vec v) const = 0;                 // translations that keep the family's cells
  // The shift that brings the cell to the chosen one of its translation class.
  virtual Vec shift_home(Cell c) const = 0;
  // The cell that an isometry of the family takes c to.
  virtual Cell moved(const Isometry& by, Cell c) const = 0;

  // Outward normals, both signs: every face of the difference of two cells {a - b} has one of these.
  // This is what makes sliding tests exact: see docs/derivations/sliding.md.
  virtual std::span<const Vec> separators() const = 0;

  // Those faces lie in planes n.x = k * step, for whole k.
  virtual std::int64_t separator_step(Vec n) const = 0;

  // One direction for each class into which the planes of the cells' faces cut the sphere of directions: whether
  // touching cells may start to slide depends on the class alone.
  virtual std::span<const Vec> slide_directions() const = 0;

  // The directions of the lines in which the separators' planes meet: a body that slides past another, touching it, can
  // get wherever it can get at all along these. See docs/derivations/taking-apart.md.
  virtual std::span<const Vec> edge_directions() const = 0;
  // How many places a lattice unit has, along an edge direction, where a slide may have to stop.
  virtual int stops_per_unit() const = 0;

  // Cuts a set of cells into convex bodies whose faces have the normals of the family's cells.
  virtual std::vector<Cells> convex_parts(const Cells& cells) const = 0;

  // Planes n.x = k * step, all k, that no cell crosses; they order cells from back to front.
  struct CutPlanes {
    Vec n;
    std::int64_t step;
  };
  virtual std::span<const CutPlanes> cut_planes() const = 0;
};

// Tetrahedral cells cut out by the planes x±y, y±z, z±x = 2k. A cell is named by four times its centroid.
const Family& mitered();

// Unit cubes named by their low corners: pieces notched out of square sticks.
const Family& notched();

std::vector<std::string> family_names();
// The family of that name, or null.
const Family* find_family(std::string_view name);

Cells moved(const Family& family, const Isometry& by, const Cells& cells);  // sorted
bool connected(const Family& family, const Cells& cells);

// A shape: a set of cells in its canonical pose, the least over all rotations and shifts. Equal shapes compare equal.
struct Shape {
  Cells cells;
  friend auto operator<=>(const Shape&, const Shape&) = default;
};
struct PosedShape {
  Shape shape;
  Isometry pose;  // takes the canonical cells to the given ones
};
PosedShape shape_of(const Family& family, const Cells& cells);
Shape mirror_of(const Family& family, const Shape& shape);
// A shape is handed when no rotation turns it into its mirror image.
bool handed(const Family& family, const Shape& shape);

// All distinct turns of a shape: cell sets moved to their home position, in a fixed order.
std::vector<PosedShape> distinct_turns(const Family& family, const Shape& shape);

}  // namespace stickwright

// solid.h - pictures of pieces and blocks: parallel projection, painted back to front, exactly.
#pragma once
#include <array>
#include <optional>
#include <vector>

#include "family/family.h"
#include "packet/canvas.h"

namespace stickwright {

// Cells that are drawn as one body: no lines inside, edges all around.
struct DrawnBody {
  Cells cells;
  Vec shift;         // a shift of the family, so that the order of painting stays exact
  double light = 1;  // 1 white wood .. 0 black
  Hatch hatch = Hatch::none;
};

struct Projection {
  At origin;         // where the lattice's origin falls on the page
  double scale = 1;  // mm on paper per lattice unit
  At operator()(double x, double y, double z) const;
  At operator()(Vec v) const {
    return (*this)(static_cast<double>(v.x), static_cast<double>(v.y), static_cast<double>(v.z));
  }
};

// Towards the eye. In general position: no face of the family is seen edge on.
inline constexpr Vec kEye = {5, 3, 2};

// The projection that centers all bodies in the box, no larger than `most_scale`.
Projection fit(const Family& family, const std::vector<DrawnBody>& bodies, Box box, double most_scale = 1e9);

void draw_solids(Canvas& canvas, const Family& family, const std::vector<DrawnBody>& bodies,
                 const Projection& projection);

// For each body a place on its visible part, well inside, for a label; nothing when other bodies hide it.
std::vector<std::optional<At>> label_spots(const Family& family, const std::vector<DrawnBody>& bodies,
                                           const Projection& projection);

// Ascending from back to front: when a ray towards the eye passes through cell p and later through cell q, then
// paint_order(p) < paint_order(q).
std::int64_t paint_order(const Family& family, Cell cell);

// The middle of a body, in lattice units.
std::array<double, 3> middle_of(const Family& family, const DrawnBody& body);

}  // namespace stickwright

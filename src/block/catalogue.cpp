#include "block/catalogue.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>

#include "block/stick.h"

namespace stickwright {
namespace {

struct TradeName {
  int cells, faces;
  bool parallel_ends;  // tells the two shapes of six cells and six faces apart
  const char* name;
};
// The words of the trade; every other block is named by its number of cells.
constexpr TradeName kTradeNames[] = {
    {1, 4, false, "tetrahedral block"}, {2, 5, false, "rhombic pyramid block"}, {3, 5, false, "prism block"},
    {4, 8, true, "squat octahedron"},   {6, 6, true, "rhombohedral block"},     {6, 6, false, "center block"},
};

bool is_end_face(const HalfSpace& plane, int axis) {
  return plane.n[axis] != 0;
}

// A pair of parallel miters at opposite ends.
bool has_parallel_ends(const Polytope& body, int axis) {
  for (const ExactFace& f : body.faces)
    for (const ExactFace& g : body.faces)
      if (is_end_face(f.plane, axis) && f.plane.n == -g.plane.n) return true;
  return false;
}

// Twice the projection of the near or far end's faces off the axis, as one vector.
Vec end_lean(const Polytope& body, int axis, int sign) {
  Vec sum;
  for (const ExactFace& f : body.faces)
    if (f.plane.n[axis] == sign) sum = sum + area_vector_times_2(body, f);
  return sum - axis_vec(axis, sum[axis]);
}

// > 0 when the miters turn like a right-hand screw. Turning the block end for end leaves it as it is.
std::int64_t screw_sense(const Polytope& body, int axis) {
  return cross(end_lean(body, axis, -1), end_lean(body, axis, +1))[axis];
}

Hand hand_of(const Cells& canonical, const Polytope& body, int axis) {
  const Shape shape{canonical}, mirror = mirror_of(mitered(), shape);
  if (shape == mirror) return Hand::none;
  const std::int64_t sense = screw_sense(body, axis);
  if (sense != 0) return sense > 0 ? Hand::right : Hand::left;
  return shape < mirror ? Hand::left : Hand::right;  // no screw sense to go by: one of the two, always the same
}

Block make_block(const Cells& canonical) {
  Block b;
  b.cells = canonical;
  b.body = body_of(canonical);
  b.stick_axes = stick_axes_of(canonical);
  b.hand = hand_of(canonical, b.body, b.stick_axes.front());
  return b;
}

const char* trade_name(const Block& b) {
  for (const TradeName& t : kTradeNames)
    if (t.cells == static_cast<int>(b.cells.size()) && t.faces == static_cast<int>(b.body.faces.size()) &&
        (t.cells != 6 || t.parallel_ends == has_parallel_ends(b.body, b.stick_axes.front())))
      return t.name;
  return nullptr;
}

using FormKey = std::pair<std::size_t, Cells>;  // faces, then the lesser of the two mirror images
FormKey form_key(const Block& b) {
  return {b.body.faces.size(), std::min(Shape{b.cells}, mirror_of(mitered(), Shape{b.cells})).cells};
}

// Names all blocks of one number of cells; a mirror pair shares its name.
void name_blocks(std::vector<Block*>& blocks) {
  std::set<FormKey> forms;
  for (const Block* b : blocks)
    if (!trade_name(*b)) forms.insert(form_key(*b));
  for (Block* b : blocks) {
    if (const char* name = trade_name(*b)) {
      b->shape = name;
      continue;
    }
    const auto form = std::distance(forms.begin(), forms.find(form_key(*b))) + 1;
    b->shape = fmt::format("{}-cell block", b->cells.size());
    if (forms.size() > 1) b->shape += fmt::format(", form {}", form);
  }
}

void name_all(std::vector<Block>& blocks) {
  std::map<std::size_t, std::vector<Block*>> by_cells;
  for (Block& b : blocks) by_cells[b.cells.size()].push_back(&b);
  for (auto& [cells, same] : by_cells) name_blocks(same);
}

}  // namespace

const char* to_string(Hand hand) {
  return hand == Hand::left ? "left" : hand == Hand::right ? "right" : "";
}

std::string Block::full_name() const {
  return hand == Hand::none ? shape : fmt::format("{}, {}-handed", shape, to_string(hand));
}

Polytope body_of(const Cells& block_cells) {
  std::map<Vec, std::int64_t> reach;  // the block's extent along each normal that a cell's face has
  for (Cell c : block_cells)
    for (const HalfSpace& h : mitered().planes(c)) reach.emplace(h.n, h.c);
  for (auto& [n, extent] : reach)
    for (Cell c : block_cells)
      for (Vec corner : mitered().corners(c)) extent = std::max(extent, dot(n, corner));
  std::vector<HalfSpace> halves;
  for (const auto& [n, extent] : reach) halves.push_back({n, extent});
  return intersect(halves).value_or(Polytope{});
}

std::vector<Block> block_catalogue(int most_cells) {
  std::set<Cells> shapes;
  for (const Cells& cells : blocks_of_any_stick(most_cells)) shapes.insert(shape_of(mitered(), cells).shape.cells);
  std::vector<Block> blocks;
  for (const Cells& cells : shapes) blocks.push_back(make_block(cells));
  name_all(blocks);
  std::sort(blocks.begin(), blocks.end(), [](const Block& a, const Block& b) {
    const auto key = [](const Block& v) { return std::tuple(v.cells.size(), form_key(v), v.hand); };
    return key(a) < key(b);
  });
  return blocks;
}

std::optional<PosedBlock> find_block(const std::vector<Block>& catalogue, const Cells& cells) {
  const PosedShape posed = shape_of(mitered(), cells);
  for (const Block& b : catalogue)
    if (b.cells == posed.shape.cells) return PosedBlock{&b, posed.pose};
  return {};
}

void for_each_block_within(const Cells& cells, const std::function<void(const Cells&)>& take) {
  std::map<StickId, Cells> by_stick;
  for (int axis = 0; axis < 3; ++axis)
    for (Cell c : cells) by_stick[stick_through(c, axis)].push_back(c);
  std::set<Cells> seen;  // a small block can lie in sticks along several axes
  for (const auto& [stick, in_stick] : by_stick) {
    const Isometry there = to_standard_stick(stick),
                   back = there.inverse();
    for (const Cells& block : blocks_of_standard_stick(moved(mitered(), there, in_stick))) {
      Cells placed = moved(mitered(), back, block);
      if (seen.insert(placed).second) take(placed);
    }
  }
}

}  // namespace stickwright

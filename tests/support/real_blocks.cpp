#include "support/real_blocks.h"

#include <algorithm>
#include <cassert>

#include "saw/forward.h"

namespace stickwright::real {
namespace {

// The place of a number of the state among the numbers that are drawn, or 0.
std::size_t place_of(const PuzzleErrors& errors, const StandingBlock& b, const std::string& name) {
  const std::string shape = " of shape " + std::to_string(b.shape), wood = " in " + b.wood;
  const std::string keys[] = {name, name + shape, name + wood, name + shape + wood,
                              name + " of block " + std::to_string(b.block) + " of piece " + std::to_string(b.piece)};
  std::size_t place = 0;
  for (std::size_t k = 0; k < errors.numbers.size(); ++k)
    if (std::find(std::begin(keys), std::end(keys), errors.numbers[k].key) != std::end(keys)) {
      assert(place == 0);
      place = k + 1;
    }
  return place;
}

SawState drawn_saw(const StandingBlock& b, const ShopState& known, const PuzzleErrors& errors,
                   std::span<const double> values) {
  SawState saw = best_values(known);
  const std::vector<Parameter> names = parameters_of(saw);
  const std::vector<double*> numbers = numbers_of(saw);
  for (std::size_t k = 0; k < numbers.size(); ++k)
    if (const std::size_t at = place_of(errors, b, names[k].name))
      *numbers[k] += values[at] - errors.numbers[at - 1].off.value;
  return saw;
}

Placement in_mm(const Isometry& m, double unit_mm) {
  Placement p;
  for (int i = 0; i < 3; ++i) {
    const Vec r = m.turn.row[i];
    p.row[i] = {static_cast<double>(r.x), static_cast<double>(r.y), static_cast<double>(r.z)};
  }
  p.shift = stickwright::in_mm({m.shift, 1}, unit_mm);
  return p;
}

}  // namespace

RealBlock moved(const Placement& by, const RealBlock& block) {
  RealBlock out{stickwright::moved(by, block.body), {}};
  for (const Plane& p : block.planes) {
    const Point n = Placement{by.row, {}} * p.n;
    out.planes.push_back({n, p.c + dot(n, by.shift)});
  }
  return out;
}

RealBlock sawn(const ClosedPuzzle& puzzle, std::size_t block, const ShopKnown& shop, const PuzzleErrors& errors,
               std::span<const double> values) {
  const StandingBlock& b = puzzle.blocks[block];
  const auto shape = static_cast<std::size_t>(b.shape);
  const auto stick =
      static_cast<std::size_t>(std::find(shop.woods.begin(), shop.woods.end(), b.wood) - shop.woods.begin());
  const SawState state = drawn_saw(b, shop.states[shape], errors, values);
  RealBlock out{saw::cut(shop.programs[shape], state, {0, stick}), {}};
  for (const StandingFace& f : b.faces) out.planes.push_back(face_made_by(out.body, f.made_by)->plane);
  return moved(in_mm(b.from_work, puzzle.unit_mm), out);
}

RealBlock exact_block(const ClosedPuzzle& puzzle, std::size_t block) {
  RealBlock out;
  for (const StandingFace& f : puzzle.blocks[block].faces) {
    BodyFace face;
    for (Vec v : f.loop) face.loop.push_back(stickwright::in_mm({v, 1}, puzzle.unit_mm));
    face.plane.n = direction(f.plane.n);
    face.plane.c = dot(face.plane.n, face.loop[0]);
    face.made_by = f.made_by;
    out.planes.push_back(face.plane);
    out.body.faces.push_back(std::move(face));
  }
  return out;
}

}  // namespace stickwright::real

#include "takeapart/slide_table.h"

#include <algorithm>
#include <bit>
#include <cassert>

#include "takeapart/two_hands.h"

namespace stickwright {

SlideTable::SlideTable(const Family& family, const std::vector<Cells>& pieces)
    : family_(family),
      edges_(family.edge_directions()),
      sweeper_(family, edges_, family.stops_per_unit()),
      slots_(256, -1) {
  assert(edges_.size() <= kMostEdges && pieces.size() <= kMostPieces);
  BodyMaker body_of(family);
  for (const Cells& cells : pieces) bodies_.push_back(body_of(cells));
  for (Vec d : edges_) {
    opposite_.push_back(static_cast<int>(std::find(edges_.begin(), edges_.end(), -d) - edges_.begin()));
    planes_.emplace_back();
    for (Vec n : family.separators())
      if (dot(n, d) > 0) planes_.back().push_back({n, family.separator_step(n) * family.stops_per_unit()});
  }
}

std::uint32_t SlideTable::opposites(std::uint32_t directions) const {
  std::uint32_t out = 0;
  for (; directions; directions &= directions - 1) out |= 1u << opposite_[std::countr_zero(directions)];
  return out;
}

SlideTable::Key SlideTable::key_of(int i, int j, Stand offset) {
  static_assert(kMostPieces <= 1 << 8, "two pieces and an offset fit a key");
  return static_cast<std::uint16_t>(offset.x) | Key{static_cast<std::uint16_t>(offset.y)} << 16 |
         Key{static_cast<std::uint16_t>(offset.z)} << 32 | static_cast<Key>(i << 8 | j) << 48;
}

std::int32_t* SlideTable::slot_of(Key key) {
  const std::size_t mask = slots_.size() - 1;
  std::size_t at = ((key ^ key >> 32) * 0x9E3779B97F4A7C15u >> 32) & mask;
  while (slots_[at] >= 0 && keys_[static_cast<std::size_t>(slots_[at])] != key) at = (at + 1) & mask;
  return &slots_[at];
}

void SlideTable::grow() {
  slots_.assign(2 * slots_.size(), -1);
  for (std::size_t k = 0; k < keys_.size(); ++k) *slot_of(keys_[k]) = static_cast<std::int32_t>(k);
}

const Passing& SlideTable::passing(int i, int j, Stand offset) {
  const Key key = key_of(i, j, offset);
  if (const std::int32_t known = *slot_of(key); known >= 0) return passings_[static_cast<std::size_t>(known)];
  if (2 * (keys_.size() + 1) > slots_.size()) grow();
  *slot_of(key) = static_cast<std::int32_t>(keys_.size());
  keys_.push_back(key);
  return passings_.emplace_back(compute(i, j, offset));
}

Passing SlideTable::compute(int i, int j, Stand offset) {
  Passing p{};
  const auto& all = sweeper_.reaches(bodies_[i], bodies_[j], {offset.x, offset.y, offset.z});
  for (std::size_t d = 0; d < all.size(); ++d) {
    const std::int64_t top = all[d].top * family_.stops_per_unit(), bottom = all[d].bottom;
    p.stops[d] = all[d].free() ? kFreeStops : static_cast<std::int16_t>(std::min<std::int64_t>(top / bottom, 1 << 12));
    if (all[d].free()) continue;
    p.ends |= 1u << d;
    if (top < bottom) p.blocked |= 1u << d;
    if (top % bottom != 0) p.between |= 1u << d;
  }
  return p;
}

Reach SlideTable::reach_of(int i, int j, FineShift offset, Vec direction) const {
  return reach(family_, bodies_[i], bodies_[j], offset, direction);
}

}  // namespace stickwright

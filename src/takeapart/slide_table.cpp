#include "takeapart/slide_table.h"

#include <algorithm>
#include <bit>

namespace stickwright {
namespace {

constexpr std::size_t kBlock = 1024;  // passings kept together

std::size_t hash_of(Stop s) {
  const std::uint64_t key = static_cast<std::uint16_t>(s.x) | std::uint64_t{static_cast<std::uint16_t>(s.y)} << 16 |
                            std::uint64_t{static_cast<std::uint16_t>(s.z)} << 32;
  return (key * 0x9E3779B97F4A7C15u) >> 32;
}

}  // namespace

SlideTable::SlideTable(const Family& family, const std::vector<Cells>& pieces)
    : family_(family), edges_(family.edge_directions()), pairs_(pieces.size() * pieces.size()) {
  for (const Cells& cells : pieces) bodies_.push_back(sweep_body(family, cells));
  for (Vec d : edges_)
    opposite_.push_back(static_cast<int>(std::find(edges_.begin(), edges_.end(), -d) - edges_.begin()));
}

std::uint32_t SlideTable::opposites(std::uint32_t directions) const {
  std::uint32_t out = 0;
  for (; directions; directions &= directions - 1) out |= 1u << opposite_[std::countr_zero(directions)];
  return out;
}

std::int32_t* SlideTable::slot_of(Pair& pair, Stop offset) const {
  const std::size_t mask = pair.slots.size() - 1;
  std::size_t at = hash_of(offset) & mask;
  while (pair.slots[at] >= 0 && pair.offsets[pair.slots[at]] != offset) at = (at + 1) & mask;
  return &pair.slots[at];
}

void SlideTable::grow(Pair& pair) const {
  pair.slots.assign(std::max<std::size_t>(16, 2 * pair.slots.size()), -1);
  for (std::size_t k = 0; k < pair.offsets.size(); ++k) *slot_of(pair, pair.offsets[k]) = static_cast<std::int32_t>(k);
}

const Passing& SlideTable::passing(int i, int j, Stop offset) {
  Pair& pair = pairs_[static_cast<std::size_t>(i) * bodies_.size() + static_cast<std::size_t>(j)];
  if (2 * (pair.offsets.size() + 1) > pair.slots.size()) grow(pair);
  std::int32_t* const slot = slot_of(pair, offset);
  if (*slot < 0) {
    *slot = static_cast<std::int32_t>(pair.offsets.size());
    pair.offsets.push_back(offset);
    pair.known.push_back(static_cast<std::int32_t>(count_));
    if (count_++ % kBlock == 0) blocks_.emplace_back().reserve(kBlock);
    blocks_.back().push_back(compute(i, j, offset));
  }
  const auto k = static_cast<std::size_t>(pair.known[*slot]);
  return blocks_[k / kBlock][k % kBlock];
}

Passing SlideTable::compute(int i, int j, Stop offset) const {
  Passing p{};
  const auto all = reaches(family_, bodies_[i], bodies_[j], {{offset.x, offset.y, offset.z}, family_.stops_per_unit()});
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

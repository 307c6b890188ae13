#include "takeapart/part_search.h"

#include <algorithm>
#include <bit>

namespace stickwright {
namespace {

constexpr std::size_t kMostGroups = 4096;  // tried along one direction of one position

std::size_t hash_of(const Stand* at, std::size_t n) {
  std::uint64_t h = 0x2545F4914F6CDD1Du;
  for (std::size_t k = 0; k < n; ++k) {
    h ^= static_cast<std::uint16_t>(at[k].x) | std::uint64_t{static_cast<std::uint16_t>(at[k].y)} << 16 |
         std::uint64_t{static_cast<std::uint16_t>(at[k].z)} << 32;
    h *= 0x9E3779B97F4A7C15u;
    h ^= h >> 29;
  }
  return h;
}

Stand moved(Stand s, Vec d, std::int64_t stops) {
  return {static_cast<std::int16_t>(s.x + stops * d.x), static_cast<std::int16_t>(s.y + stops * d.y),
          static_cast<std::int16_t>(s.z + stops * d.z)};
}

}  // namespace

PartSearch::PartSearch(SlideTable& table, const StandingPart& part)
    : table_(table),
      pieces_(part.pieces),
      n_(part.pieces.size()),
      slots_(64, -1),
      passing_(n_ * n_),
      near_(n_ * static_cast<std::size_t>(table.directions())),
      ever_(near_.size()) {
  add(part.at, 0, {});
}

bool PartSearch::crosses_a_plane(Stand offset, int direction) const {
  const auto& planes = table_.planes_crossed(direction);
  const Vec u{offset.x, offset.y, offset.z};
  return std::any_of(planes.begin(), planes.end(),
                     [&](const SlideTable::Plane& p) { return dot(p.normal, u) % p.step == 0; });
}

// Between such planes nothing changes but the place, so that stopping there opens no way that stopping before or after
// does not.
bool PartSearch::may_stop(const std::vector<Stand>& at, Group group, int direction) const {
  if (table_.family().stops_per_unit() == 1) return true;
  for (std::size_t i = 0; i < n_; ++i)
    for (std::size_t j = 0; j < n_; ++j)
      if ((group >> i & 1) && !(group >> j & 1) && crosses_a_plane(at[i] - at[j], direction)) return true;
  return false;
}

std::vector<Stand> PartSearch::at(std::size_t position) const {
  const auto first = at_.begin() + static_cast<std::ptrdiff_t>(position * n_);
  return {first, first + static_cast<std::ptrdiff_t>(n_)};
}

std::size_t PartSearch::bytes() const {
  const auto held = [](const auto& all) { return all.capacity() * sizeof(all.front()); };
  return held(at_) + held(from_) + held(depth_) + held(by_) + held(slots_);
}

bool PartSearch::add(const std::vector<Stand>& at, std::size_t from, const Slide& by) {
  const std::size_t fresh = positions();
  for (Stand s : at) at_.push_back(s - at.front());
  const Stand* const mine = &at_[fresh * n_];
  std::size_t slot = hash_of(mine, n_) & (slots_.size() - 1);
  for (; slots_[slot] >= 0; slot = (slot + 1) & (slots_.size() - 1))
    if (std::equal(mine, mine + n_, &at_[static_cast<std::size_t>(slots_[slot]) * n_])) {
      at_.resize(fresh * n_);
      return false;
    }
  slots_[slot] = static_cast<std::int32_t>(fresh);
  depth_.push_back(fresh == 0 ? 0 : depth_[from] + 1);
  from_.push_back(static_cast<std::int32_t>(from));
  by_.push_back(by);
  if (2 * positions() > slots_.size()) {
    slots_.assign(2 * slots_.size(), -1);
    for (std::size_t p = 0; p < positions(); ++p) {
      std::size_t at_slot = hash_of(&at_[p * n_], n_) & (slots_.size() - 1);
      while (slots_[at_slot] >= 0) at_slot = (at_slot + 1) & (slots_.size() - 1);
      slots_[at_slot] = static_cast<std::int32_t>(p);
    }
  }
  return true;
}

void PartSearch::look(std::size_t position) {
  if (looked_at_ == position) return;
  looked_at_ = position;
  std::fill(near_.begin(), near_.end(), 0);
  std::fill(ever_.begin(), ever_.end(), 0);
  const Stand* const at = &at_[position * n_];
  const auto mark = [&](Blocks& blocks, std::uint32_t directions, std::size_t i, std::size_t j) {
    for (; directions; directions &= directions - 1) {
      const auto d = static_cast<std::size_t>(std::countr_zero(directions));
      blocks[d * n_ + i] |= Group{1} << j;
      blocks[static_cast<std::size_t>(table_.opposite(static_cast<int>(d))) * n_ + j] |= Group{1} << i;
    }
  };
  for (std::size_t i = 0; i < n_; ++i)
    for (std::size_t j = i + 1; j < n_; ++j) {
      const bool in_order = pieces_[i] < pieces_[j];
      const std::size_t a = in_order ? i : j, b = in_order ? j : i;
      const Passing& p = table_.passing(pieces_[a], pieces_[b], at[a] - at[b]);
      passing_[a * n_ + b] = &p;
      passing_[b * n_ + a] = nullptr;
      mark(near_, p.blocked, a, b);
      mark(ever_, p.ends, a, b);
    }
}

std::int16_t PartSearch::stops_of(Group group, int direction) const {
  std::int16_t least = kFreeStops;
  for (std::size_t i = 0; i < n_; ++i)
    for (std::size_t j = 0; j < n_; ++j) {
      if (!(group >> i & 1) || (group >> j & 1)) continue;
      const Passing* p = passing_[i * n_ + j];
      least = std::min(least, p ? p->stops[direction] : passing_[j * n_ + i]->stops[table_.opposite(direction)]);
    }
  return least;
}

// Visits every group without the first piece that has nobody outside in its way, for every direction: unions of the
// least groups around each piece. With the first piece it would be the rest that slides the other way.
template <class Visit>
void PartSearch::for_each_group(const Blocks& blocks, Which which, const Visit& visit) {
  for (int d = 0; d < table_.directions(); ++d) {
    const Group* const way = &blocks[static_cast<std::size_t>(d) * n_];
    closures_.clear();
    for (std::size_t seed = 1; seed < n_; ++seed) {
      ++tests_;
      Group group = Group{1} << seed, done = 0;
      while (group != done && !(group & 1)) {
        const auto i = static_cast<std::size_t>(std::countr_zero(group & ~done));
        done |= Group{1} << i;
        group |= way[i];
      }
      if (!(group & 1) && std::find(closures_.begin(), closures_.end(), group) == closures_.end())
        closures_.push_back(group);
    }
    if (which == Which::least) {
      for (Group g : closures_) visit(g, d);
      continue;
    }
    groups_.clear();
    for (Group c : closures_) {
      const std::size_t before = groups_.size();
      groups_.push_back(c);
      for (std::size_t k = 0; k < before && groups_.size() < kMostGroups; ++k) groups_.push_back(groups_[k] | c);
      left_out_ |= groups_.size() >= kMostGroups;  // before duplicates go: these may have taken the place of others
      std::sort(groups_.begin(), groups_.end());
      groups_.erase(std::unique(groups_.begin(), groups_.end()), groups_.end());
    }
    for (Group g : groups_) visit(g, d);
  }
}

std::vector<Slide> PartSearch::ways_out(std::size_t position, Which which) {
  look(position);
  std::vector<Slide> out;
  for_each_group(ever_, which, [&](Group g, int d) { out.push_back({g, d, kFreeStops}); });
  const auto hand = [&](const Slide& s) {
    const auto size = static_cast<std::size_t>(std::popcount(s.group));
    return std::min(size, n_ - size);
  };
  std::stable_sort(out.begin(), out.end(), [&](const Slide& a, const Slide& b) { return hand(a) < hand(b); });
  return out;
}

void PartSearch::expand(std::size_t position) {
  look(position);
  const std::vector<Stand> at = this->at(position);
  std::vector<Stand> to;
  for_each_group(near_, Which::all, [&](Group g, int d) {
    const std::int16_t stops = stops_of(g, d);
    if (stops == kFreeStops) return;  // that is a way out
    for (std::int16_t k = 1; k <= stops; ++k) {
      to = at;
      for (std::size_t i = 0; i < n_; ++i)
        if (g >> i & 1) to[i] = moved(to[i], table_.direction(d), k);
      if (may_stop(to, g, d)) add(to, position, {g, d, k});
    }
  });
  for (const Passing* p : passing_) left_out_ |= p && p->between;
}

}  // namespace stickwright

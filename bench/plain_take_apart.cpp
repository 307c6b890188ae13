#include "plain_take_apart.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>

#include "support/six_sticks_groups.h"

namespace stickwright::six_sticks {
namespace {

// A piece as lines of cubes. Line (u, v) of axis a runs along it, at u on axis a + 1 and v on axis a + 2; all count
// from the corner of the box that holds the burr.
struct Lines {
  std::array<std::array<std::array<std::uint8_t, kSpan>, kSpan>, 3> bits{};
  Cube from{kSpan, kSpan, kSpan}, to{};  // the box of the piece
};

Lines lines_of(const Cells& cells) {
  Lines lines;
  for (Cell cell : cells) {
    const Cube c = {static_cast<int>(cell.x) + 3, static_cast<int>(cell.y) + 3, static_cast<int>(cell.z) + 3};
    for (int a = 0; a < 3; ++a) {
      lines.from[a] = std::min(lines.from[a], c[a]);
      lines.to[a] = std::max(lines.to[a], c[a] + 1);
      lines.bits[a][c[(a + 1) % 3]][c[(a + 2) % 3]] |= static_cast<std::uint8_t>(1u << c[a]);
    }
  }
  return lines;
}

// What keeps p from sliding along an axis: whether q stops its first step up or down, or any later one.
struct Hindrance {
  bool up = false, down = false, ever_up = false, ever_down = false;
};

int lowest(std::uint32_t line) {
  return std::countr_zero(line);
}
int highest(std::uint32_t line) {
  return 31 - std::countl_zero(line);
}

Hindrance hindrance(const Lines& p, const Lines& q, const Cube& q_from_p, int axis) {
  const int b = (axis + 1) % 3, c = (axis + 2) % 3;
  const int u_from = std::max(p.from[b], q.from[b] + q_from_p[b]), u_to = std::min(p.to[b], q.to[b] + q_from_p[b]);
  const int v_from = std::max(p.from[c], q.from[c] + q_from_p[c]), v_to = std::min(p.to[c], q.to[c] + q_from_p[c]);
  constexpr int kClear = kSpan + 1;  // so far off two lines do not touch, and farther makes no difference
  const int lift = kClear + std::clamp(q_from_p[axis], -kClear, kClear);
  Hindrance found;
  for (int u = u_from; u < u_to; ++u) {
    for (int v = v_from; v < v_to; ++v) {
      const std::uint32_t mine = std::uint32_t{p.bits[axis][u][v]} << kClear;
      const std::uint32_t other = std::uint32_t{q.bits[axis][u - q_from_p[b]][v - q_from_p[c]]} << lift;
      if (mine == 0 || other == 0) continue;
      found.up |= (mine << 1 & other) != 0;
      found.down |= (mine & other << 1) != 0;
      found.ever_up |= highest(other) > lowest(mine);
      found.ever_down |= highest(mine) > lowest(other);
    }
  }
  return found;
}

// Decides whether the pieces of a part can be slid, cube by cube and group by group, until each is alone. What has left
// is in nobody's way and every slide can be undone, so any group that has a free way out may leave at once.
class PlainTakeApart {
 public:
  bool operator()(const std::vector<Cells>& sticks) const {
    Pieces pieces;
    for (std::size_t i = 0; i < sticks.size(); ++i) pieces[i] = lines_of(sticks[i]);
    return comes_apart(pieces, (1u << sticks.size()) - 1, {});
  }

 private:
  using Pieces = std::array<Lines, kSticks>;
  using Position = std::array<Cube, kSticks>;  // how far each piece is from its place, next to the first of the part

  struct Ways {
    Slides step, leave;
  };

  static bool comes_apart(const Pieces& pieces, Group part, const Position& start) {
    if (std::has_single_bit(part)) return true;
    std::vector<Position> seen{start};
    for (std::size_t k = 0; k < seen.size(); ++k) {
      const Position at = seen[k];
      const Ways ways = ways_from(pieces, part, at);
      for (Groups out : ways.leave) {
        if (out == 0) continue;
        const auto group = static_cast<Group>(std::countr_zero(out));
        return comes_apart(pieces, group, at) && comes_apart(pieces, part & ~group, at);
      }
      for (int axis = 0; axis < 3; ++axis) {
        for (Groups left = ways.step[axis]; left != 0; left &= left - 1) {
          const Position next = slid(at, part, static_cast<Group>(std::countr_zero(left)), axis);
          if (std::find(seen.begin(), seen.end(), next) == seen.end()) seen.push_back(next);
        }
      }
    }
    return false;
  }

  static Ways ways_from(const Pieces& pieces, Group part, const Position& at) {
    Ways ways{all_slides(part), all_slides(part)};
    for (int p = 0; p < kSticks; ++p) {
      for (int q = p + 1; q < kSticks; ++q) {
        if (!holds(part, p) || !holds(part, q)) continue;
        const Cube q_from_p = {at[q][0] - at[p][0], at[q][1] - at[p][1], at[q][2] - at[p][2]};
        for (int axis = 0; axis < 3; ++axis) {
          const Hindrance h = hindrance(pieces[p], pieces[q], q_from_p, axis);
          if (h.up) ways.step[axis] &= unhindered(p, q);
          if (h.down) ways.step[axis] &= unhindered(q, p);
          if (h.ever_up) ways.leave[axis] &= unhindered(p, q);
          if (h.ever_down) ways.leave[axis] &= unhindered(q, p);
        }
      }
    }
    return ways;
  }

  static Position slid(Position at, Group part, Group group, int axis) {
    const int first = std::countr_zero(part);
    for (int i = 0; i < kSticks; ++i) {
      if (holds(part, i)) at[i][axis] += holds(group, i) - holds(group, first);
    }
    return at;
  }
};

}  // namespace

bool plainly_comes_apart(const std::vector<Cells>& sticks) {
  return PlainTakeApart()(sticks);
}

}  // namespace stickwright::six_sticks

#include "support/six_sticks_sides.h"

#include "support/in_parallel.h"
#include "support/six_sticks_groups.h"

namespace stickwright::six_sticks {
namespace {

// `group` slides up `axis`, away from the others.
// The closed burr is convex along every line of cubes. So when a group can slide by one cube, each line has the cubes
// of the others first and then those of the group, and the group can slide on for ever: every first move parts the
// burr. Whether the two sides come apart then depends on nothing but each of them.
struct Split {
  int axis = 0;
  Group group = 0;
  friend bool operator==(const Split&, const Split&) = default;
};

Split moved(const Action& action, const Split& split) {
  const int axis = action.symmetry.axis(split.axis);
  const Group group = moved(action, split.group);
  return {axis, holds(action.symmetry.over, axis) ? kAllSticks & ~group : group};  // the group down is the others up
}

// One of each set of splits that can be turned into one another.
std::vector<Split> different_splits() {
  std::vector<Split> found;
  for (int axis = 0; axis < 3; ++axis) {
    for (Group group = 1; group < kAllSticks; ++group) {
      const bool known = std::any_of(actions().begin(), actions().begin() + kTurns, [&](const Action& turn) {
        return std::find(found.begin(), found.end(), moved(turn, Split{axis, group})) != found.end();
      });
      if (!known) found.push_back({axis, group});
    }
  }
  return found;
}

// The six sticks while their cubes are being given away.
class OpenBurr {
 public:
  explicit OpenBurr(const PieceChoice& choice) : choice_(&choice) {}

  // Among the sticks of `part`, only the `takers` may still get contested cube n; a single one has it.
  // Returns whether each stick can still become an allowed piece.
  bool decide(int n, Group part, Group takers) {
    const ContestedCube& cube = arrangement().contested[n];
    takers &= cube.owners & part;
    bool possible = true;
    for (Group left = cube.owners & part; left != 0; left &= left - 1) {
      const int i = std::countr_zero(left), place = PieceChoice::kPlace[cube.number[i]];
      if (!holds(takers, i)) digits_[i] += PieceChoice::kGone * place;
      if (takers == 1u << i) {
        digits_[i] += PieceChoice::kHere * place;
        kept_[i] |= static_cast<Kept>(1u << cube.number[i]);
      }
      possible &= choice_->possible(digits_[i]);
    }
    return possible;
  }

  const Burr& kept() const { return kept_; }

 private:
  const PieceChoice* choice_;
  std::array<int, kSticks> digits_{};  // for the PieceChoice
  Burr kept_{};
};

// The contested cubes on one side of a split, one bit each.
using Side = std::uint32_t;

// All ways to draw the boundary of a split: the contested cubes that go with its group.
class Boundaries {
 public:
  Boundaries(const Split& split, const PieceChoice& choice) : split_(split), start_(choice) {
    for (int b = 0; b < kBox; ++b) {
      const Group owners = arrangement().owners[b];
      side_[b] = (owners & split.group) == 0 ? kOthers : (owners & ~split.group) == 0 ? kGroup : kOpen;
    }
  }

  std::vector<Side> all() {
    const auto& touches = arrangement().touches;
    found_.clear();
    if (std::all_of(touches.begin(), touches.end(), [&](const Touch& t) { return parts(t); })) draw(0, 0, start_);
    return found_;
  }

 private:
  enum Where : std::uint8_t { kOpen, kGroup, kOthers };

  bool parts(const Touch& t) const {
    return t.axis != split_.axis || side_[t.lower] != kGroup || side_[t.upper] != kOthers;
  }

  void draw(int n, Side side, const OpenBurr& burr) {
    if (n == kContested) {
      found_.push_back(side);
      return;
    }
    const ContestedCube& cube = arrangement().contested[n];
    const auto& touches = arrangement().touches_of[n];
    Where& here = side_[box_index(cube.at)];
    const Where before = here;
    for (Where where : {kGroup, kOthers}) {
      const Group takers = cube.owners & (where == kGroup ? split_.group : ~split_.group);
      if (takers == 0) continue;
      here = where;
      OpenBurr next = burr;
      if (std::all_of(touches.begin(), touches.end(), [&](const Touch& t) { return parts(t); }) &&
          next.decide(n, kAllSticks, takers)) {
        draw(n + 1, side | Side{where == kGroup} << n, next);
      }
    }
    here = before;
  }

  Split split_;
  OpenBurr start_;
  std::array<Where, kBox> side_{};  // by box index
  std::vector<Side> found_;
};

// All ways to share the cubes of one side among its sticks so that each becomes an allowed piece and some group of them
// can make a first step.
class Sharings {
 public:
  Sharings(Group part, Side cubes, const PieceChoice& choice)
      : part_(part), cubes_(cubes), burr_(choice), slides_(all_slides(part)) {
    owner_.fill(kNobody);
    for (int b = 0; b < kBox; ++b) {
      const Group owners = arrangement().owners[b];
      if (std::has_single_bit(owners) && (owners & part) != 0) owner_[b] = std::countr_zero(owners);
    }
    for (const Touch& t : arrangement().touches) hinder(t, slides_);
  }

  std::vector<Part> all() {
    found_.clear();
    share(0, burr_, slides_);
    return found_;
  }

 private:
  void hinder(const Touch& t, Slides& slides) const {
    const int p = owner_[t.lower], q = owner_[t.upper];
    if (p != q && p != kNobody && q != kNobody) slides[t.axis] &= unhindered(p, q);
  }

  bool may_move(const Slides& slides) const {
    return std::has_single_bit(part_) || (slides[0] | slides[1] | slides[2]) != 0;
  }

  void share(int n, const OpenBurr& burr, const Slides& slides) {
    if (n == kContested) {
      found_.push_back({part_, burr.kept()});
      return;
    }
    const ContestedCube& cube = arrangement().contested[n];
    if (!holds(cubes_, n)) {
      OpenBurr next = burr;
      if (next.decide(n, part_, 0)) share(n + 1, next, slides);
      return;
    }
    int& owner = owner_[box_index(cube.at)];
    const int before = owner;
    for (Group left = cube.owners & part_; left != 0; left &= left - 1) {
      owner = std::countr_zero(left);
      Slides still = slides;
      for (const Touch& t : arrangement().touches_of[n]) hinder(t, still);
      OpenBurr next = burr;
      if (may_move(still) && next.decide(n, part_, 1u << owner)) share(n + 1, next, still);
    }
    owner = before;
  }

  Group part_;
  Side cubes_;
  OpenBurr burr_;
  Slides slides_;
  std::array<int, kBox> owner_{};  // of the cubes of this side that are decided, by box index
  std::vector<Part> found_;
};

// One place to draw a boundary, with what its two sides can be.
struct Drawn {
  Split split;
  Side side = 0;
  TwoSides sides;
};

}  // namespace

std::vector<TwoSides> two_sides(const PieceChoice& choice, int threads) {
  const std::vector<Split> splits = different_splits();
  std::vector<std::vector<Side>> boundaries(splits.size());
  for_each_index(splits.size(), threads, 1,
                 [&](std::size_t k) { boundaries[k] = Boundaries(splits[k], choice).all(); });
  std::vector<Drawn> drawn;
  for (std::size_t k = 0; k < splits.size(); ++k) {
    for (Side side : boundaries[k]) drawn.push_back({splits[k], side, {}});
  }
  for_each_index(drawn.size(), threads, 64, [&](std::size_t k) {
    auto& [split, side, sides] = drawn[k];
    sides.group = Sharings(split.group, side, choice).all();
    if (!sides.group.empty()) sides.others = Sharings(kAllSticks & ~split.group, ~side, choice).all();
  });
  std::vector<TwoSides> found;
  for (Drawn& d : drawn) {
    if (!d.sides.others.empty()) found.push_back(std::move(d.sides));
  }
  return found;
}

}  // namespace stickwright::six_sticks

#include "support/six_sticks_pieces.h"

#include <set>

namespace stickwright::six_sticks {

namespace {

int shape_bit(const Cube& c) {
  return (c[0] + 3) * 4 + (c[1] + 1) * 2 + c[2] + 2;
}

int first_open(int digits) {
  int k = 0;
  while (k < kLoose && digits / PieceChoice::kPlace[k] % 3 != PieceChoice::kOpen) ++k;
  return k;
}

Kept kept_of(int digits) {
  Kept kept = 0;
  for (int k = 0; k < kLoose; ++k) {
    if (digits / PieceChoice::kPlace[k] % 3 == PieceChoice::kHere) kept |= static_cast<Kept>(1u << k);
  }
  return kept;
}

}  // namespace

StickShape shape_of(Kept kept) {
  StickShape shape = (1u << 24) - 1;
  for (int k = 0; k < kLoose; ++k) {
    if (!holds(kept, k)) shape &= ~(1u << shape_bit(sticks()[0].loose[k]));
  }
  return shape;
}

bool is_connected(StickShape shape) {
  constexpr StickShape kNear = 0x333333, kLow = 0x555555;  // the half with across = -1; that with deep = -2
  StickShape reached = shape & -shape;
  for (StickShape before = 0; before != reached;) {
    before = reached;
    reached |= reached << 4 | reached >> 4 | (reached & kNear) << 2 | (reached >> 2 & kNear) | (reached & kLow) << 1 |
               (reached >> 1 & kLow);
    reached &= shape;
  }
  return reached == shape;
}

bool is_notchable(StickShape shape) {
  for (int slice = 0; slice < kSpan; ++slice) {
    const StickShape gone = ~(shape >> 4 * slice) & 15u;
    StickShape sawn = 0;
    for (StickShape row : {0b0011u, 0b1100u, 0b0101u, 0b1010u}) {
      if ((gone & row) == row) sawn |= row;
    }
    if (sawn != gone) return false;
  }
  return true;
}

StickShape piece_of(StickShape shape) {
  StickShape least = ~0u;
  for (int turn = 0; turn < 8; ++turn) {
    StickShape turned = 0;
    for (Cube c : sticks()[0].cubes) {
      if (!holds(shape, shape_bit(c))) continue;
      for (int quarter = 0; quarter < turn % 4; ++quarter) c = {c[0], c[2] + 1, -2 - c[1]};
      if (turn >= 4) c = {-1 - c[0], -1 - c[1], c[2]};
      turned |= 1u << shape_bit(c);
    }
    least = std::min(least, turned);
  }
  return least;
}

Cells cells_of(StickShape shape) {
  Cells out;
  for (const Cube& c : sticks()[0].cubes) {
    if (holds(shape, shape_bit(c))) out.push_back({c[0], c[1], c[2]});
  }
  return out;
}

std::vector<StickShape> pieces(const PieceTest& allowed) {
  std::set<StickShape> found;
  for (int kept = 0; kept < kLooseSets; ++kept) found.insert(piece_of(shape_of(static_cast<Kept>(kept))));
  std::erase_if(found, [&](StickShape piece) { return !allowed(piece); });
  return {found.begin(), found.end()};
}

PieceChoice::PieceChoice(const PieceTest& allowed) : possible_(3 * kPlace.back()) {
  for (int digits = static_cast<int>(possible_.size()) - 1; digits >= 0; --digits) {
    const int k = first_open(digits);
    possible_[digits] = k == kLoose ? allowed(piece_of(shape_of(kept_of(digits))))
                                    : possible(digits + kGone * kPlace[k]) || possible(digits + kHere * kPlace[k]);
  }
}

}  // namespace stickwright::six_sticks

// six_sticks_pieces.h - what a stick of the burr can be cut to.
#pragma once
#include <functional>
#include <vector>

#include "support/six_sticks_arrangement.h"

namespace stickwright::six_sticks {

// Bit along * 4 + across * 2 + deep of the first stick, all counted from their least.
using StickShape = std::uint32_t;

StickShape shape_of(Kept kept);
bool is_connected(StickShape shape);
// A saw cut goes straight across a face: what is missing of each slice of the stick is made of whole rows of two.
bool is_notchable(StickShape shape);
// One name for a piece however it is turned: the least over the eight ways to lay a square stick into its place.
StickShape piece_of(StickShape shape);
// The cubes of the piece where the first stick lies.
Cells cells_of(StickShape shape);

// Whether a piece, told by its name, may be used.
using PieceTest = std::function<bool(StickShape)>;
// Every piece that a stick can be cut to, one for all its turns, for which the test says yes; ascending.
std::vector<StickShape> pieces(const PieceTest& allowed);

// What may become of a stick whose loose cubes are decided one by one. Such a stick is a number in base three, one
// digit a loose cube. The pieces to choose from are told by their names, so each may be laid in every way.
class PieceChoice {
 public:
  static constexpr int kOpen = 0, kGone = 1, kHere = 2;
  static constexpr std::array<int, kLoose> kPlace = {1, 3, 9, 27, 81, 243, 729, 2187, 6561, 19683, 59049, 177147};

  explicit PieceChoice(const PieceTest& allowed);

  // Whether some decision of the open cubes makes an allowed piece.
  bool possible(int digits) const { return possible_[digits] != 0; }

 private:
  std::vector<std::uint8_t> possible_;
};

}  // namespace stickwright::six_sticks

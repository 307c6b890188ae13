// turn.h - an error of the saw was found: which leaf turns it away, where it goes, and when to leave it alone.
#pragma once
#include <optional>
#include <span>
#include <string>

#include "metrology/leaves.h"
#include "truing/align.h"

namespace stickwright {

// How the shop turns what is off: a leaf of thickness h at lever arm D turns it by h / D.
struct TurnMeans {
  std::optional<Mm> lever;
  std::string at;  // where a leaf takes a positive error away, in the maker's words; may be empty
};

// leaf: put it in. leave: turning would come out no nearer. no_lever: the shop file names none for this. unseen: the
// readings do not tell it.
enum class TurnAdvice { leaf, leave, no_lever, unseen };
const char* to_string(TurnAdvice advice);

struct TurnBack {
  TurnAdvice advice = TurnAdvice::unseen;
  Mm wanted;                                      // leaf thickness, >= 0
  Shim shim;                                      // of the leaves owned
  std::string at;                                 // where it goes: for a negative error on the other side of the pivot
  double remaining_rad = 0, u_remaining_rad = 0;  // of the leaf, too, when one is put in
  std::optional<int> repeats;  // when it is left for its uncertainty: as many readings of each kind would decide
  std::string why;
};

// What to do about one of the four errors.
//   readings, known  those that the alignment was found from
//   advice           leave when what would be left, its uncertainty in it, is in mean square no less than the error
//                    as it is
//   source           docs/derivations/truing.md
TurnBack advise_turn(const Alignment& found, Error error, const TurnMeans& means, std::span<const Leaf> leaves,
                     std::span<const Observation> readings, const TruingKnowledge& known);

}  // namespace stickwright

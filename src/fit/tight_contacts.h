// tight_contacts.h - which contacts bind, and how wide every contact is in the closed puzzle.
#pragma once
#include <span>
#include <vector>

#include "fit/puzzle_plays.h"

namespace stickwright {

// One contact of the closed puzzle.
struct ContactFit {
  int contact = 0;     // index into the puzzle's contacts
  double gap_mm = 0;   // the least over its corners, below 0: pressed; the puzzle pushed together as well as it goes
  double pressed = 0;  // share of the balanced forces that keep the play from growing
  double often = 0;    // share of those forces, the mean over many puzzles
};

struct TightContacts {
  double play_mm = 0;                // of the puzzle shown: the one in the middle of many
  double widest_mm = 0;              // of its joints, as seen from outside
  std::vector<ContactFit> contacts;  // every contact, those most pressed first
};

// The contacts of the puzzle that has the median play among those drawn, with the forces that prove its play.
//   seen     by row: that corner can be seen from outside
//   samples  puzzles drawn
//   assumes  the contacts bind
TightContacts tight_contacts(const GapForms& gaps, const std::vector<bool>& seen, const PuzzlePlays& plays,
                             const AlterBunch& alter, std::int64_t samples);

// The widest joints that can be seen in many puzzles, each pushed together as well as it goes.
struct OpenJoints {
  double median_mm = 0, p95_mm = 0;
};
OpenJoints open_joints(const GapForms& gaps, const std::vector<bool>& seen, const PuzzlePlays& plays,
                       const AlterBunch& alter, std::int64_t samples);

// True when the forces balance on every piece and add up to 1, all gaps are at least the play, and the forces times
// the gaps they press on give the play: then no other way to stand has more. Knows only the rules.
//   h  mm, [rows]: the gaps before any piece is moved
bool check_closed_fit(const GapRows& rows, std::span<const double> h, const ClosedFit& fit);

}  // namespace stickwright

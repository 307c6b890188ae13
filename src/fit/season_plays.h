// season_plays.h - puzzles whose wood has swollen or shrunk since its pieces were glued.
#pragma once
#include "fit/puzzle_errors.h"

namespace stickwright {

// The same puzzles, their wood having taken up so many percent of moisture since they were made.
//   assumes   all blocks take up the same; in one puzzle a wood moves by one figure between its radial and its
//             tangential one; blocks that are glued crosswise swell freely: docs/derivations/fit.md
PuzzleErrors swollen(PuzzleErrors errors, double percent);

}  // namespace stickwright

// contrast.h - which copy of a piece, hence which wood, stands where in the puzzle, so that neighbors differ.
#pragma once
#include "batch/plan.h"

namespace stickwright {

// Faces of cells at which two pieces touch that show the same wood, for the copies as they stand.
int like_wood_contacts(const PuzzlePlan& puzzle);

// Exchanges copies of one piece among their places until no single exchange lowers like_wood_contacts, and renames
// them.
//   returns  the contacts left
//   not for  promising the least of all: from every start only single exchanges are tried
int contrast_woods(PuzzlePlan& puzzle);

}  // namespace stickwright

// cover_cases.h - symmetry breaking: a problem with symmetries falls into cases, most of them without.
#pragma once
#include "assembly/cover.h"

namespace stickwright {

// Of the covers that a case admits, one of each class under `symmetries` counts.
struct CoverCase {
  std::vector<char> allowed;                 // by option
  std::vector<std::vector<int>> symmetries;  // the identity first; alone when the case has no other
};

// Cases whose classes are those of the problem: each class of covers belongs to one case.
//   source  orbit and stabilizer: every cover holds exactly one option of a set that the symmetries keep (the places of
//           a single piece, or what covers a cell that stays where it is), so that one may be taken to lie in a chosen
//           place of its orbit, and only the symmetries that keep it there are left
std::vector<CoverCase> cover_cases(const CoverProblem& problem);

// True when no symmetry takes the cover to a smaller one.
bool least_of_its_class(const Cover& cover, const std::vector<std::vector<int>>& symmetries);

// How many symmetries take the cover to itself.
int symmetries_of(const Cover& cover, const std::vector<std::vector<int>>& symmetries);

}  // namespace stickwright

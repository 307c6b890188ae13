// fit_wording.h - what the fit says, in words that are the same on the screen and on paper.
#pragma once
#include <string>
#include <vector>

#include "batch/fit_plan.h"

namespace stickwright {

const char* to_string(AllowanceVerdict v);  // "found", "sticks too", "out of reach", "never binds"

// The puzzle that closes least often.
std::size_t tightest_puzzle(const FitPlan& fit);

// "99.2 of 100", "9 of 10"; a share with its uncertainty where that matters.
std::string share_in_words(const ShareFound& s);

// "arm 2 and arm 5: rhombic pyramid block on squat octahedron"
std::string contact_in_words(const BatchPlan& plan, const PuzzleFit& p, int contact);

// What there is to know first, one sentence each: whether it closes, what to set otherwise, what the spread comes from,
// which contacts bind, whether it slides, the year.
std::vector<std::string> fit_in_words(const BatchPlan& plan, const FitPlan& fit, const PuzzleFit& p);

// "set stop 1 of the squat octahedron 0.012 mm shorter"
std::string allowance_in_words(const Dimension& size, double mm);

std::string month_name(std::size_t month);  // 0: January

}  // namespace stickwright

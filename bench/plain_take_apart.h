// plain_take_apart.h - the baseline: a take-apart of up to six sticks of the burr and of nothing else, on one thread.
#pragma once
#include <vector>

#include "family/family.h"

namespace stickwright::six_sticks {

// Whether the sticks can be slid, cube by cube and group by group, until each is alone. It keeps no steps, takes the
// first way out it meets, and knows that everything fits a box of 6 x 6 x 6.
bool plainly_comes_apart(const std::vector<Cells>& sticks);

}  // namespace stickwright::six_sticks
